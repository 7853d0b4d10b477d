"""What one line of a claim is judged with: its maths as facts, and small points that refute it."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from functools import cached_property
from typing import Final

from boardproof.algebra.answer import Answer, Never, When
from boardproof.algebra.dimension import Mismatch, dimensioned
from boardproof.algebra.expression import (
    Call,
    Comparison,
    Expression,
    Negative,
    Relation,
    Statement,
    names_in,
)
from boardproof.algebra.ground import Fact
from boardproof.algebra.meaning import Unknown
from boardproof.algebra.points import Point, small_points
from boardproof.algebra.polynomial import RationalFunction
from boardproof.algebra.show import plain
from boardproof.algebra.sign import sign_of
from boardproof.findings import Evidence
from boardproof.prove.bench import Bench, Ruling, compares
from boardproof.prove.claim_language import Claimed, Extreme, Joined, Phrases, Scope, Steady, Trend, WhenClaim
from boardproof.prove.conditions import OPPOSITE, Cases, Conditions
from boardproof.prove.kinds import finding
from boardproof.prove.verdict import GROUND, Verdict
from boardproof.quantities import PURE, Dimension, dimension_words
from boardproof.record import record
from boardproof.source import Span

__all__ = [
    "POINTS",
    "ClaimBench",
    "Quantity",
    "Stop",
    "leaves_of",
    "ready",
    "relations_in",
    "without_size",
]

POINTS: Final = 400
CASES_AT_MOST: Final = 16
NO_SCOPE: Final = Scope()
NOWHERE: Final = Span("", 0, 0)
TURNED: Final[dict[Comparison, Comparison]] = {"<": ">", ">": "<", "≤": "≥", "≥": "≤"}
Test = tuple[Callable[[Point], Fraction | None], Comparison]
Ready = tuple[tuple[Test, ...], ...]


class Stop(Exception):  # ends the judging of one line with its ruling; `claims` catches it
    """The line's ruling is clear already; carries it."""

    def __init__(self, ruling: Ruling) -> None:
        super().__init__(ruling.verdict.kind)
        self.ruling = ruling


@record
class Quantity:
    """A thing whose values a counterexample shows: its words and what it is."""

    words: str
    value: RationalFunction
    dimension: Dimension


@dataclass(frozen=True)
class ClaimBench(Bench):
    """The judging of one line."""

    phrases: Phrases | None = None
    scope: Scope = NO_SCOPE
    span: Span = NOWHERE
    whole: frozenset[str] = frozenset()  # letters that count
    counts: frozenset[str] = frozenset()  # those of them that go up in steps here
    values: dict[str, Fraction] = field(default_factory=dict)  # the scene's, where a number asks for them

    # What is said

    def said(self, tree: Expression | Relation) -> str:
        """Maths for people, with phrases in place of their names."""
        assert self.phrases is not None
        return self.phrases.said(plain(tree))

    def joined_words(self, joined: Joined) -> str:
        """Comparisons joined, for people."""
        return f" {joined.word} ".join(
            self.joined_words(part) if isinstance(part, Joined) else self.said(part)  # type: ignore[arg-type]  # limits never get here
            for part in joined.parts
        )

    @property
    def ground(self) -> str:
        """What the line is proved for."""
        parts = [self.said(each) for each in self.scope.conditions]
        parts += [f"{name} from {first} up" for name, first in self.scope.least if first > 1]
        parts += [f"{name} fixed" for name in self.scope.fixed]
        parts += [f"{letter} as in this scene" for letter in sorted(self.values)]
        return f"{GROUND} with {', '.join(parts)}" if parts else GROUND

    def stop(self, reason: str) -> Stop:
        """Not checked, and why."""
        return Stop(self.unchecked(reason, self.span))

    # From maths to facts

    def worth(self, side: Expression) -> RationalFunction:
        """The exact ratio that an expression stands for."""
        found = self.value(side)
        if isinstance(found, Unknown):
            raise self.stop(found.reason)
        return found.substitute(self.values) if self.values else found

    def checked(self, relation: Relation) -> None:
        """Names and units of one comparison."""
        troubles = {name.text: self.world.trouble(name) for name in names_in(relation)}
        found = tuple(trouble for trouble in troubles.values() if trouble)
        if found:
            placed = tuple(each if each.span.source else replace(each, span=self.span) for each in found)
            unknown = self.unchecked("a name in it means nothing here", self.span, said=False)
            raise Stop(replace(unknown, findings=placed))
        left, right = (dimensioned(side, self.world.dimension) for side in (relation.left, relation.right))
        for side in (left, right):
            if isinstance(side, Mismatch):
                self.differ("unlike-terms", side.left, side.right, side.span)
        if isinstance(left, Dimension) and isinstance(right, Dimension) and left != right:
            self.differ("units-differ", dimension_words(left), dimension_words(right), relation.span)

    def differ(self, code: str, left: str, right: str, span: Span | None) -> None:
        """Stop: the units differ."""
        evidence = (Evidence("dimensions", f"{left} beside {right}"),)
        verdict = Verdict("units-differ", evidence=evidence, decided_by="dimensions")
        facts = {"left": left, "right": right}
        raise Stop(Ruling(verdict, (finding(code, span or self.span, evidence=evidence, facts=facts),)))

    def named(self, side: Expression) -> None:
        """Names of one quantity."""
        self.checked(Relation(side, "=", side, span=side.span))

    def fact(self, relation: Relation) -> Fact:
        """A comparison as the sign of a difference."""
        self.checked(relation)
        return self.worth(relation.left) - self.worth(relation.right), relation.sign

    def cases(self, joined: Joined) -> Cases:
        """A tree of and/or as cases."""
        parts: list[Cases] = []
        for part in joined.parts:
            if isinstance(part, Joined):
                parts.append(self.cases(part))
            elif isinstance(part, Relation):
                plainer = without_size(part)
                parts.append(self.cases(plainer) if plainer else ((self.fact(part),),))
            else:
                raise self.stop("a limit can't be joined to a condition")
        if joined.word == "or":
            return tuple(case for each in parts for case in each)
        return tuple(tuple(itertools.chain(*picks)) for picks in itertools.product(*parts))

    def clauses(self, cases: Cases) -> Cases:
        """The same as clauses: all of them hold, each by one of its facts."""
        count = 1
        for case in cases:
            count *= len(case)
        if count > CASES_AT_MOST:
            raise self.stop("it joins too many comparisons")
        return tuple(tuple(dict.fromkeys(picks)) for picks in itertools.product(*cases))

    def possible(self, premises: Cases) -> Cases:
        """The premises that can happen; nothing follows from the others, and nothing is asked of them."""
        found: list[tuple[Fact, ...]] = []
        for premise in premises:
            given = self.facts
            for function, sign in premise:
                if isinstance(sign_of(function, sign, counts=self.counts, given=given), Never):
                    break
                given = (*given, (function, sign))
            else:
                found.append(premise)
        if not found:
            raise self.stop("its condition never happens")
        return tuple(found)

    def negated(self, fact: Fact) -> Fact:
        """The fact that holds where this one doesn't."""
        return fact[0], OPPOSITE[fact[1]]

    def hypotheses(self) -> tuple[Fact, ...]:
        """What the claim is said for, as hypotheses; stops if that never happens."""
        facts: list[Fact] = []
        for name, first in self.scope.least:
            letter = self.world.in_letters(name)
            if letter != RationalFunction.letter(name) or name not in self.counts:
                raise self.stop(f"{name} is no count here")
            if first > 1:
                facts.append((RationalFunction.letter(name) - first, "≥"))
        for each in self.scope.conditions:
            fact = self.fact(each)
            met = sign_of(fact[0], fact[1], counts=self.counts, given=tuple(facts))
            if isinstance(met, Never):
                words = self.said(each)
                empty = finding("empty-condition", each.span or self.span, facts={"condition": words})
                reason = (Evidence("factors", f"{words} never happens"),)
                raise Stop(Ruling(Verdict("not-checked", evidence=reason), (empty,)))
            if not fact[0].is_zero:
                facts.append(fact)
        return tuple(facts)

    def exact(self, cases: Cases, premise: Sequence[Fact] = ()) -> Cases | None:
        """The cases in which a joined statement holds under a premise; None if that can't be decided."""
        return Conditions(self.counts, (*self.facts, *premise)).simple(cases)

    # Counterexamples

    def shown(self, side: Expression, put: Mapping[str, RationalFunction] | None = None) -> Quantity:
        """A side of a comparison, ready to be shown with a value."""
        dimension = dimensioned(side, self.world.dimension)
        return Quantity(
            self.said(side),
            self.worth(side).substitute(put or {}),
            dimension if isinstance(dimension, Dimension) else PURE,
        )

    def shown_in(self, joined: Joined) -> tuple[Quantity, ...]:
        """Both sides of each comparison."""
        found: dict[str, Quantity] = {}
        for relation in relations_in(joined):
            for whole in (relation.left, relation.right):
                side = whole.of if isinstance(whole, Call) and whole.function == "abs" else whole
                if any(True for _ in names_in(side)):
                    found.setdefault(self.said(side), self.shown(side))
        return tuple(found.values())

    def letters_of(self, cases: Cases) -> frozenset[str]:
        """Letters of the cases and of the hypotheses."""
        return frozenset(
            letter for case in (*cases, self.facts) for function, _ in case for letter in function.letters
        )

    def meets(self, point: Point, premises: Ready) -> bool:
        """Whether the hypotheses and one of the premises hold at a point."""
        return _hold(self.ready, point) and any(_hold(premise, point) for premise in premises)

    @cached_property
    def ready(self) -> tuple[Test, ...]:
        """The hypotheses, ready to be tried."""
        return ready((self.facts,))[0]

    def points(self, letters: frozenset[str], premises: Cases) -> Iterator[Point]:
        """Small points that meet the hypotheses; an equation among them fixes one of its letters."""
        wanted = letters | self.letters_of(premises)
        fixed: dict[str, RationalFunction] = {}
        for function, sign in (*self.facts, *(premises[0] if len(premises) == 1 else ())):
            free = [each for each in sorted(function.letters - set(fixed)) if function.degree(each) == 1]
            if sign == "=" and free:
                low, high = function.numerator.substitute(fixed).coefficients(free[0])
                fixed[free[0]] = -low / high
        counts = set(self.counts) & wanted
        tests = ready(premises)
        makers = [(name, made.evaluator()) for name, made in reversed(fixed.items())]
        for point in small_points(wanted - set(fixed), counts - set(fixed), at_most=POINTS):
            whole = dict(point)
            for name, made in makers:
                whole[name] = made(whole) or Fraction(0)
            good = all(
                value > 0 and (name not in counts or value.denominator == 1) for name, value in whole.items()
            )
            if good and self.meets(whole, tests):
                yield whole

    def search(self, premises: Cases, aims: Cases, answers: Sequence[Answer]) -> tuple[Point, str] | None:
        """A point at which a premise holds and the aims don't."""
        letters = self.letters_of(premises) | self.letters_of(aims)
        tried: list[Point] = [each.fails for each in answers if isinstance(each, When | Never) and each.fails]
        first, wanted = ready(premises), ready(aims)
        tie: Point | None = None
        for point in itertools.chain(self.points(letters, premises), tried):
            if not letters <= set(point) or not self.meets(point, first):
                continue
            values = [at(point) for case in wanted for at, _ in case]
            if None in values or any(_hold(case, point) for case in wanted):
                continue
            if any(sign in {"<", ">"} and at(point) == 0 for case in wanted for at, sign in case):
                tie = tie or point  # two equal numbers refute, but two different ones are seen more easily
                continue
            return point, ""
        return (tie, "") if tie else None

    def listed(self, point: Point) -> str:
        """Letters with their values."""
        each = [f"{name} = {self.shown_letter(name, value)}" for name, value in sorted(point.items())]
        return " and ".join((", ".join(each[:-1]), each[-1])) if len(each) > 1 else "".join(each)


def leaves_of(joined: Joined) -> Iterator[Statement]:
    """Every statement that is joined.

    Parameters
    ----------
    joined : Joined
        A tree of and/or.

    Examples
    --------
    >>> from boardproof.algebra.expression import Name
    >>> a = Relation(Name("V"), "<", Name("E"))
    >>> list(leaves_of(Joined("or", (Joined("and", (a,)), a)))) == [a, a]
    True
    """
    for part in joined.parts:
        if isinstance(part, Joined):
            yield from leaves_of(part)
        else:
            yield part


def without_size(relation: Relation) -> Joined | None:
    """``abs(X) < Y`` as ``X < Y and -X < Y``, ``abs(X) > Y`` as ``X > Y or -X > Y``; None without such a size.

    Parameters
    ----------
    relation : Relation
        With a size alone on one of its sides.

    Examples
    --------
    >>> from boardproof.algebra.expression import Call, Name
    >>> without_size(Relation(Call("abs", Name("I_2")), "<", Name("I"))).word
    'and'
    """
    match relation:
        case Relation(left=Call(function="abs", of=inner), sign=sign, right=other):
            pass
        case Relation(left=other, sign=sign, right=Call(function="abs", of=inner)) if sign in TURNED:
            sign = TURNED[sign]
        case _:
            return None
    if sign not in TURNED:
        return None
    both = tuple(
        Relation(side, sign, other, span=relation.span) for side in (inner, Negative(inner, inner.span))
    )
    return Joined("and" if sign in {"<", "≤"} else "or", both)


def relations_in(claimed: Claimed) -> tuple[Relation, ...]:
    """Every comparison in a claim.

    Parameters
    ----------
    claimed : Claimed
        One line of a claim.

    Examples
    --------
    >>> from boardproof.algebra.expression import Name
    >>> less = Relation(Name("V"), "<", Name("E"))
    >>> relations_in(Joined("and", (less, less))) == (less, less)
    True
    """
    match claimed:
        case Joined():
            return tuple(each for each in leaves_of(claimed) if isinstance(each, Relation))
        case Extreme(at=at):
            return relations_in(at)
        case WhenClaim(of=of, given=given):
            return (*relations_in(of), *relations_in(given))
        case Trend() | Steady():
            return ()


def ready(cases: Cases) -> Ready:
    """Cases that are quick to try at many points.

    Parameters
    ----------
    cases : Cases
        Facts as ratios compared with nought.
    """
    return tuple(tuple((function.evaluator(), sign) for function, sign in case) for case in cases)


def _hold(tests: Sequence[Test], point: Point) -> bool:
    for at, sign in tests:
        value = at(point)
        if value is None or not compares(value, sign, Fraction(0)):
            return False
    return True
