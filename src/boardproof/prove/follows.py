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
from typing import Final, Literal

from boardproof.algebra.expression import Number, Relation
from boardproof.algebra.polynomial import RationalFunction
from boardproof.algebra.product import TooLarge
from boardproof.prove.alike import alike
from boardproof.prove.eliminate import Elimination, OutOfTime, Poly, eliminate
from boardproof.prove.equations import Equations, Surroundings, Unspoken, shown_elsewhere
from boardproof.prove.equivalent import compared
from boardproof.prove.rules import RULES
from boardproof.record import record

__all__ = ["Established", "Following", "Premise", "follows"]

SEARCH_SECONDS: Final = 0.2
SMALL: Final = (2, 3, 5, 7, 11, 13, 17, 19, 23, 29, 31, 37)
NONE: Final[Mapping[str, str]] = MappingProxyType({})


@record
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


@record
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


@record
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
    except (Unspoken, OutOfTime, TooLarge, ZeroDivisionError):
        return Following("unknown")


def _tried(asked: _Question, seconds: float) -> Following:
    argument = Equations(asked.world, with_numbers="numbers" in asked.rules)
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
            take(compared(poly, argument, line), label)
    for rule in ("", *asked.rules):
        if rule in asked.established and rule not in RULES:
            take(_shown(asked.established[rule], argument), rule)
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
    line: Poly, hypotheses: Sequence[Poly], argument: Equations, seconds: float
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


def _is_near(line: Poly, relation: Relation, argument: Equations) -> bool:
    return bool(argument.with_numbers and set(line) == {()} and _fits(line[()], relation))


def _is_rounded(result: Elimination, relation: Relation, under: Poly) -> bool:
    rest = result.rest.poly
    return set(rest) == {()} and set(under) == {()} and _fits(rest[()] / under[()], relation)


def _fits(gap: RationalFunction, relation: Relation) -> bool:
    number = gap.as_number
    return number is not None and 0 < _half_place(relation) >= abs(number)


def _shown(result: Established, argument: Equations) -> Iterator[Poly]:
    return shown_elsewhere(result.relations, result.world, argument)


# What is missing.


def _missing(asked: _Question, others: Sequence[Premise], taught: Sequence[str]) -> tuple[str, ...]:
    """The smallest addition with which the line follows: one rule or line, then two."""
    end = time.process_time() + SEARCH_SECONDS
    additions: list[tuple[str, Premise | str]] = [(rule, rule) for rule in taught if rule not in asked.rules]
    lines: list[tuple[str, Premise | str]] = [(f"line {each.number}", each) for each in others]
    # Who only calculates has forgotten a line; who names a rule, another rule.
    is_working = set(asked.rules) <= {"algebra", "definition", "numbers"}
    additions = [*lines, *additions] if is_working else [*additions, *lines]
    for size in (1, 2):
        for chosen in combinations(additions, size):
            left = end - time.process_time()
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


def _second(result: Elimination, argument: Equations) -> Mapping[str, str]:
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
