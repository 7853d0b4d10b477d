"""Whether a line of an argument follows from the lines and rules it names, and what is missing if it doesn't.

The line and its premises must be true already (that is `check`'s work); here it is asked whether one leads to the
other. A "yes" is always an exact elimination. A "not-yet" shows a second solution: values for which every premise
and every rule named holds, and the line doesn't.
"""

from __future__ import annotations

import time
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from itertools import combinations
from types import MappingProxyType
from typing import Final, Literal, Protocol

from boardproof.algebra import meaning
from boardproof.algebra.expression import Expression, Number, Relation, names_in
from boardproof.algebra.polynomial import RationalFunction, TooLarge
from boardproof.circuit.model import Circuit, CircuitId, Item, has_cells, leaves, members
from boardproof.circuit.quantity import QuantityRef
from boardproof.prove.alike import Roles, alike, roles
from boardproof.prove.eliminate import ONE, Elimination, OutOfTime, Poly, added, eliminate, scaled, times
from boardproof.prove.rules import RULES, Scope, Unknowns
from boardproof.prove.wiring import Entry, wiring

__all__ = ["Established", "Following", "Premise", "Surroundings", "follows"]

SEARCH_SECONDS: Final = 0.2
SMALL: Final = (2, 3, 5, 7, 11, 13, 17, 19, 23, 29, 31, 37)
NONE: Final[Mapping[str, str]] = MappingProxyType({})


class Surroundings(Protocol):
    """What names mean at one place of a lesson, and which circuits they speak of."""

    @property
    def circuit(self) -> Circuit:
        """The circuit at hand."""

    @property
    def imagined(self) -> Circuit | None:
        """The circuit imagined just now (shorted, or with EMFs taken out)."""

    def means(self, name: str) -> QuantityRef | Expression | None:
        """The quantity that a name means, or the expression it stands for; None if nobody knows."""

    def circuit_of(self, circuit: CircuitId) -> Circuit | None:
        """The circuit with this hash, if it is the one at hand or that of a definition."""


@dataclass(frozen=True, slots=True)
class Premise:
    """A line that a step may lean on.

    Parameters
    ----------
    relation : Relation
        The line; an equation.
    world : Surroundings
        What its names mean where it stands.
    number : int
        The step's number.
    """

    relation: Relation
    world: Surroundings
    number: int


@dataclass(frozen=True, slots=True)
class Established:
    """A result that a name stands for: what was shown, and on which circuit."""

    relations: tuple[Relation, ...]
    world: Surroundings


@dataclass(frozen=True, slots=True)
class Following:
    """Whether a line follows.

    Parameters
    ----------
    kind : {"yes", "not-yet", "unknown"}
        "unknown": neither a way nor a counterexample was found.
    missing : tuple of str
        With these it would follow: rules by name, lines as "line 2".
    conditions : tuple of RationalFunction
        It follows only if none of these is nought.
    second_solution : mapping of str to str
        Values of the names for which all that was named holds and the line doesn't; exact.
    repeats : int or None
        Number of the premise that says the same.
    too_few : (int, int) or None
        Unknowns asked and independent lines, if there are fewer lines.
    used : tuple of str
        Rules and lines that the proof went through.
    """

    kind: Literal["yes", "not-yet", "unknown"]
    missing: tuple[str, ...] = ()
    conditions: tuple[RationalFunction, ...] = ()
    second_solution: Mapping[str, str] = field(default_factory=lambda: NONE)
    repeats: int | None = None
    too_few: tuple[int, int] | None = None
    used: tuple[str, ...] = ()


class _Unread(Exception):
    """Ends the reading of one relation."""


class _Argument:
    """One question: its unknowns, its circuits, and how names are read."""

    def __init__(self, world: Surroundings, *, with_numbers: bool) -> None:
        self.world, self.with_numbers = world, with_numbers
        self.unknowns = Unknowns()
        self.scopes: dict[CircuitId, Scope] = {}
        self.shown: dict[str, Poly] = {}
        self.scope(world.circuit)
        if world.imagined is not None:
            self.scope(world.imagined)

    def scope(self, circuit: Circuit) -> Scope:
        found = self.scopes.get(circuit.id)
        if found is None:
            found = Scope(wiring(circuit.item, circuit.zero), len(self.scopes), self.unknowns)
            self.scopes[circuit.id] = found
        return found

    def elsewhere(self, circuit: CircuitId, world: Surroundings) -> Scope | None:
        found = world.circuit_of(circuit)
        return None if found is None else self.scope(found)

    def name(self, name: str, world: Surroundings) -> RationalFunction:
        """A name as a ratio in letters; unknowns have letters of their own."""
        what = world.means(name)
        if what is None:
            raise _Unread(name)
        if not isinstance(what, QuantityRef):
            return self.value(what, world)
        scope = self.scopes.get(what.circuit) or self.elsewhere(what.circuit, world)
        poly = None if scope is None else scope.quantity(what)
        if poly is None:
            raise _Unread(name)
        self.shown.setdefault(name, poly)
        return self.valued(_joined(poly))

    def valued(self, ratio: RationalFunction) -> RationalFunction:
        """With this place's values put in, if numbers are named."""
        return ratio.substitute(self.world.circuit.values) if self.with_numbers else ratio

    def value(self, expression: Expression, world: Surroundings) -> RationalFunction:
        found = meaning.value(expression, lambda name: self.name(name, world))
        if isinstance(found, meaning.Unknown):
            raise _Unread(found.reason)
        return found

    def equation(self, relation: Relation, world: Surroundings) -> tuple[Poly, Poly]:
        """Numerator and denominator of left less right."""
        if relation.sign not in ("=", "≈"):
            raise _Unread(relation.sign)
        gap = self.value(relation.left, world) - self.value(relation.right, world)
        return self.split(gap.numerator), self.split(gap.denominator)

    def split(self, over: RationalFunction) -> Poly:
        """A polynomial parted into monomials of unknowns and what stands before them."""
        if over.is_zero:
            return {}
        letters = sorted((int(each[1:]), each) for each in over.letters if each.startswith("?"))
        parts: Poly = {(): over}
        for number, letter in letters:
            parts = {
                (*monomial, *(number,) * power): part
                for monomial, before in parts.items()
                for power, part in enumerate(before.coefficients(letter))
                if part
            }
        return parts

    def instances(self, rule: str) -> Iterator[Poly]:
        for scope in list(self.scopes.values()):
            for poly in scope.instances(rule):
                if self.with_numbers:
                    poly = {each: self.valued(number) for each, number in poly.items()}  # noqa: PLW2901 - same poly
                yield {each: number for each, number in poly.items() if number}


def _joined(poly: Poly) -> RationalFunction:
    """A polynomial as one ratio, each unknown a letter."""
    total = RationalFunction.constant(0)
    for monomial, number in poly.items():
        term = number
        for unknown in monomial:
            term = term * RationalFunction.letter(f"?{unknown}")
        total = total + term
    return total


@dataclass(frozen=True, slots=True)
class _Question:
    """A line with all that may be used for it."""

    line: Relation
    premises: tuple[Premise, ...]
    rules: tuple[str, ...]
    world: Surroundings
    established: Mapping[str, Established]
    given: tuple[Relation, ...]


def follows(
    line: Relation,
    premises: Sequence[Premise],
    rules: Sequence[str],
    world: Surroundings,
    *,
    others: Sequence[Premise] = (),
    established: Mapping[str, Established] = MappingProxyType({}),
    taught: Sequence[str] = RULES,
    given: Sequence[Relation] = (),
    limit_seconds: float = 0.5,
) -> Following:
    """Whether a true line follows from true premises by the rules named.

    Parameters
    ----------
    line : Relation
        The line; inequalities are left to claims ("unknown").
    premises : sequence of Premise
        The lines it names, else all above.
    rules : sequence of str
        Rules and established results by name; "definition", "algebra" and "numbers" too.
    world : Surroundings
        Where the line stands.
    others : sequence of Premise
        Earlier lines it doesn't name; tried only to say what is missing.
    established : mapping of str to Established
        Results that may be named, and those that the class knows.
    taught : sequence of str
        Rules that the class knows.
    given : sequence of Relation
        Conditions the line is said under; equations between letters.
    limit_seconds : float
        For the proof itself; the search for what is missing has 0.2 s of its own.

    Returns
    -------
    Following
    """
    asked = _Question(line, tuple(premises), tuple(rules), world, established, tuple(given))
    found = _decided(asked, limit_seconds)
    if found.kind == "yes":
        same = (
            each.number
            for each in premises
            if alike(each.relation, line) and each.world.circuit == world.circuit
        )
        return replace(found, repeats=next(same, None))
    usable = [*taught, "definition", *(name for name in established if name not in taught)]
    return replace(found, missing=_missing(asked, others, usable))


def _decided(asked: _Question, seconds: float) -> Following:
    try:
        return _tried(asked, seconds)
    except (_Unread, OutOfTime, TooLarge, ZeroDivisionError):
        return Following("unknown")


def _tried(asked: _Question, seconds: float) -> Following:
    argument = _Argument(asked.world, with_numbers="numbers" in asked.rules)
    line, under = argument.equation(asked.line, asked.world)
    labels: list[str] = []
    hypotheses: list[Poly] = []
    divisors = [under]

    def take(polys: Iterable[Poly], label: str) -> None:
        for poly in polys:
            if poly:
                hypotheses.append(poly)
                labels.append(label)

    read: list[tuple[Poly, str]] = []
    for premise in asked.premises:
        poly, below = argument.equation(premise.relation, premise.world)
        divisors.append(below)
        read.append((poly, f"line {premise.number}"))
    for poly, label in read:
        take([poly], label)
        if "definition" in asked.rules:
            take(_equivalents(poly, argument, line), label)
    for rule in ("", *asked.rules):
        if rule in asked.established and rule not in RULES:
            take(_instances_of(asked.established[rule], argument), rule)
    for rule in ("", *asked.rules):
        take(argument.instances(rule), rule)
    line, hypotheses = _with_given(
        line, hypotheses, [argument.equation(each, asked.world)[0] for each in asked.given]
    )
    if _is_near(line, asked.line, argument):
        return Following("yes")
    result = eliminate(line, hypotheses, positive=frozenset(argument.unknowns.positive), seconds=seconds)
    if result.follows or _is_rounded(result, asked.line, under):
        used = tuple(dict.fromkeys(labels[number] for number in sorted(result.rest.used) if labels[number]))
        conditions = set(result.rest.conditions) | _divided_by(divisors)
        return Following("yes", conditions=tuple(sorted(conditions, key=repr)), used=used)
    divided = _divided_by_a_current(line, hypotheses, argument, seconds)
    if divided:
        return Following("yes", conditions=divided)
    if not result.is_decided:
        return Following("unknown")
    return Following(
        "not-yet",
        second_solution=_second(result, argument),
        too_few=_too_few(result, line),
    )


def _divided_by_a_current(
    line: Poly, hypotheses: Sequence[Poly], argument: _Argument, seconds: float
) -> tuple[RationalFunction, ...]:
    """Unknowns that a hypothesis holds in every term; if dividing by them helps, they must not be nought."""
    doubtful: dict[int, str] = {}
    for poly in hypotheses:
        for unknown in set.intersection(*(set(monomial) for monomial in poly)) - argument.unknowns.positive:
            name = next((name for name, shown in argument.shown.items() if set(shown) == {(unknown,)}), None)
            if name is not None and len(poly) > 1:
                doubtful[unknown] = name
    if not doubtful:
        return ()
    positive = frozenset(argument.unknowns.positive | set(doubtful))
    if not eliminate(line, hypotheses, positive=positive, seconds=seconds).follows:
        return ()
    return tuple(RationalFunction.letter(name) for name in sorted(doubtful.values()))


def _divided_by(divisors: Iterable[Poly]) -> set[RationalFunction]:
    """Factors without unknowns that were divided by and could be nought."""
    found: set[RationalFunction] = set()
    for poly in divisors:
        if set(poly) == {()} and not poly[()].one_signed:
            found |= {factor for factor, _ in poly[()].factors()[1] if not factor.one_signed}
    return found


def _with_given(line: Poly, hypotheses: list[Poly], given: Sequence[Poly]) -> tuple[Poly, list[Poly]]:
    """Conditions between letters put into everything: each is solved for a letter that stands in it once."""
    for condition in given:
        ratio = condition.get(())
        if ratio is None or len(condition) > 1:
            continue
        for letter in sorted(ratio.letters):
            parts = ratio.coefficients(letter)
            if len(parts) == 2 and parts[1].one_signed:
                put = {letter: -parts[0] / parts[1]}
                line = _put(line, put)
                hypotheses = [_put(poly, put) for poly in hypotheses]
                break
    return line, [poly for poly in hypotheses if poly]


def _put(poly: Poly, values: Mapping[str, RationalFunction]) -> Poly:
    changed = {monomial: number.substitute(values) for monomial, number in poly.items()}
    return {monomial: number for monomial, number in changed.items() if number}


# Numbers: a rounded one is as good as the digits it shows.


def _half_place(line: Relation) -> Fraction:
    return (
        max((side.place for side in (line.left, line.right) if isinstance(side, Number)), default=Fraction(0))
        / 2
    )


def _is_near(line: Poly, relation: Relation, argument: _Argument) -> bool:
    return bool(argument.with_numbers and set(line) == {()} and _fits(line[()], relation))


def _is_rounded(result: Elimination, relation: Relation, under: Poly) -> bool:
    rest = result.rest.poly
    return set(rest) == {()} and set(under) == {()} and _fits(rest[()] / under[()], relation)


def _fits(gap: RationalFunction, relation: Relation) -> bool:
    number = gap.as_number
    return number is not None and 0 < _half_place(relation) >= abs(number)


# What "equivalent" says.


def _equivalents(premise: Poly, argument: _Argument, line: Poly) -> Iterator[Poly]:
    """A premise V = ... holds for every current, so it is compared with V = E - I r power by power of I.

    Only where no letter or unknown of the load stands in it.
    """
    wanted = {unknown for monomial in line for unknown in monomial}
    for scope in argument.scopes.values():
        for entry in scope.wired.entries.values():
            own = _own_unknowns(entry.item, argument)
            if not (wanted & own) or not has_cells(entry.item):
                continue
            yield from _compared(premise, scope, entry, own)


def _own_unknowns(item: Item, argument: _Argument) -> set[int]:
    numbers = argument.unknowns.numbers
    keys = [("emf", item), ("resistance", item)]
    return {numbers[key] for key in keys if key in numbers}


def _compared(premise: Poly, scope: Scope, entry: Entry, own: set[int]) -> Iterator[Poly]:
    pd, current = scope.pd(entry), scope.current(entry)
    resistance = scope.resistance(entry.item)
    if len(pd) != 1 or len(current) != 1 or resistance is None:
        return
    (voltage,), (flow,) = next(iter(pd)), next(iter(current))
    constants = {
        number
        for key, number in scope.unknowns.numbers.items()
        if isinstance(key, tuple) and key[0] in ("emf", "resistance", "short", "one over")
    }
    if not {unknown for monomial in premise for unknown in monomial} <= constants | own | {voltage, flow}:
        return
    letters = {worth.letter for leaf in leaves(entry.item) for worth in leaf.part.worths()}
    letters |= _counts(entry.item)
    if not {letter for number in premise.values() for letter in number.letters} <= letters:
        return
    # pd and current may be counted against the group's own directions: -1 before the unknown turns them.
    worth = scaled(added(scope.emf(entry.item), times(current, resistance), -ONE), pd[voltage,])
    compared: Poly = {}
    for monomial, number in premise.items():
        rest = tuple(each for each in monomial if each != voltage)
        term: Poly = {rest: number}
        for _ in range(len(monomial) - len(rest)):
            term = times(term, worth)
        compared = added(compared, term)
    by_power: dict[int, dict[tuple[int, ...], RationalFunction]] = {}
    for monomial, number in compared.items():
        power = monomial.count(flow)
        by_power.setdefault(power, {})[tuple(each for each in monomial if each != flow)] = number
    yield from by_power.values()


def _counts(item: Item) -> set[str]:
    return {run.count for run in getattr(item, "runs", ()) if isinstance(run.count, str)}


# Established results, letters matched by role.


def _instances_of(result: Established, argument: _Argument) -> Iterator[Poly]:
    """What was shown there, said of everything here that has the same shape."""
    world = result.world
    names = {name.text for relation in result.relations for name in names_in(relation)}
    refs = [ref for name in names if isinstance(ref := world.means(name), QuantityRef)]
    base = _shown_on(refs, world)
    if base is None:
        return
    for scope in list(argument.scopes.values()):
        paths = {id(entry.item): path for path, entry in scope.wired.entries.items()}
        for entry in list(scope.wired.entries.values()):
            found = roles(base, entry.item)
            if found is None:
                continue
            read = _Reading(argument, world, scope, found, paths)
            for relation in result.relations:
                try:
                    gap = read.value(relation.left) - read.value(relation.right)
                except _Unread:
                    continue
                yield argument.split(gap.numerator)


def _shown_on(refs: Sequence[QuantityRef], world: Surroundings) -> Item | None:
    """The smallest group, of the circuits that the names speak of, that holds all their parts."""
    circuits = [
        world.circuit,
        *(found for ref in refs if (found := world.circuit_of(ref.circuit)) is not None),
    ]
    letters = {ref.of[0] for ref in refs if ref.kind == "letter"}
    paths = {
        ref.of[0] for ref in refs if ref.kind not in ("letter", "count", "potential") and len(ref.of) == 1
    }
    for circuit in circuits:
        items = [entry.item for entry in wiring(circuit.item, circuit.zero).entries.values()]
        items.sort(key=lambda item: sum(1 for _ in leaves(item)))
        for item in items:
            own = {worth.letter for leaf in leaves(item) for worth in leaf.part.worths()}
            if letters <= own and paths <= _paths(item):
                return item
    return None


def _paths(item: Item) -> set[str]:
    found = {item.path}
    for member in members(item):
        found |= _paths(member)
    return found


@dataclass(frozen=True, slots=True)
class _Reading:
    """Reads the names of a result by the roles that they play here."""

    argument: _Argument
    world: Surroundings
    scope: Scope
    roles: Roles
    paths: Mapping[int, str]

    def value(self, expression: Expression) -> RationalFunction:
        found = meaning.value(expression, self.name)
        if isinstance(found, meaning.Unknown):
            raise _Unread(found.reason)
        return found

    def name(self, name: str) -> RationalFunction:
        what = self.world.means(name)
        if what is None:
            raise _Unread(name)
        if not isinstance(what, QuantityRef):
            return self.value(what)
        if what.kind in ("letter", "count"):
            if what.of[0] not in self.roles.letters:
                raise _Unread(name)
            return self.argument.valued(self.roles.letters[what.of[0]] * what.sense)
        here = [self.paths.get(id(self.roles.items[path])) for path in what.of if path in self.roles.items]
        poly = (
            self.scope.quantity(replace(what, of=tuple(map(str, here))))
            if None not in here and here
            else None
        )
        if poly is None:
            raise _Unread(name)
        return self.argument.valued(_joined(poly))


# What is missing.


def _missing(asked: _Question, others: Sequence[Premise], taught: Sequence[str]) -> tuple[str, ...]:
    """The smallest addition with which the line follows: one rule or line, then two."""
    end = time.monotonic() + SEARCH_SECONDS
    additions: list[tuple[str, Premise | str]] = [(rule, rule) for rule in taught if rule not in asked.rules]
    additions += [(f"line {each.number}", each) for each in others]
    for size in (1, 2):
        for chosen in combinations(additions, size):
            left = end - time.monotonic()
            if left <= 0:
                return ()
            premises = tuple(each for _, each in chosen if isinstance(each, Premise))
            rules = tuple(each for _, each in chosen if isinstance(each, str))
            wider = replace(asked, premises=asked.premises + premises, rules=asked.rules + rules)
            if _decided(wider, left).kind == "yes":
                return tuple(name for name, _ in chosen)
    return ()


def _too_few(result: Elimination, line: Poly) -> tuple[int, int] | None:
    """Unknowns that the line and what reaches it speak of, against independent equations for them."""
    left = {unknown for monomial in result.rest.poly for unknown in monomial}
    if not left:
        return None
    solved = {unknown for unknown, _ in result.solved}
    touched = {unknown for monomial in line for unknown in monomial} | solved
    touched |= {unknown for _, row in result.solved for monomial in row.poly for unknown in monomial}
    return (len(touched), len(solved)) if len(touched) > len(solved) else None


def _second(result: Elimination, argument: _Argument) -> Mapping[str, str]:
    """Values with which all hypotheses hold and the line fails."""
    rows = [row.poly for _, row in result.solved]
    letters = sorted(
        {
            letter
            for poly in (*rows, result.rest.poly, *argument.shown.values())
            for n in poly.values()
            for letter in n.letters
        }
    )
    values: dict[str, Fraction] = {}
    for place, letter in enumerate(letters):
        values[letter] = argument.world.circuit.values.get(letter, Fraction(SMALL[place % len(SMALL)]))
    free = {unknown for poly in (*rows, result.rest.poly) for monomial in poly for unknown in monomial}
    free |= {unknown for poly in argument.shown.values() for monomial in poly for unknown in monomial}
    try:
        for start in range(1, 4):
            found = {unknown: Fraction(start + place) for place, unknown in enumerate(sorted(free))}
            for unknown, row in reversed(result.solved):
                found[unknown] = found.get(unknown, Fraction(0)) - _at(row.poly, values, {**found})
            if _at(result.rest.poly, values, found) != 0:
                return {name: str(_at(poly, values, found)) for name, poly in argument.shown.items()}
    except ZeroDivisionError:
        return NONE
    return NONE


def _at(poly: Poly, values: Mapping[str, Fraction], unknowns: Mapping[int, Fraction]) -> Fraction:
    total = Fraction(0)
    for monomial, number in poly.items():
        term = number.evaluate(values)
        for unknown in monomial:
            term *= unknowns.get(unknown, Fraction(0))
        total += term
    return total
