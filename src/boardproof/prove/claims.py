"""Claims: general statements, proved for all positive values or refuted with numbers a class can check by head.

A claim becomes signs of exact differences: ``V < E`` that of V - E, ``P rises with R`` that of dP/dR (for a count that of
P at n + 1 less P at n), ``X when Y`` that of X with Y given. Proofs are `algebra.compare`'s; a grid of small whole
numbers only ever refutes.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from typing import Final

from boardproof.algebra import meaning
from boardproof.algebra.compare import Always, Answer, Fact, Never, Undecided, When, sign_of
from boardproof.algebra.expression import (
    Comparison,
    Condition,
    Expression,
    Name,
    Relation,
    Statement,
    names_in,
)
from boardproof.algebra.meaning import Mismatch, Unknown, sums_of
from boardproof.algebra.points import Point, small_points
from boardproof.algebra.polynomial import RationalFunction, TooLarge
from boardproof.algebra.show import plain
from boardproof.algebra.tidy import balanced, to_expression
from boardproof.circuit.names import known_names
from boardproof.findings import Evidence, Finding
from boardproof.lesson.course import Policy
from boardproof.prove.bench import Bench, Ruling, case_words, compares, has_units
from boardproof.prove.claim_language import (
    Claimed,
    Extreme,
    Joined,
    Phrases,
    Scope,
    Steady,
    Trend,
    WhenClaim,
    read_claim,
    read_scope,
)
from boardproof.prove.judge import judge
from boardproof.prove.kinds import finding
from boardproof.prove.verdict import GROUND, Verdict
from boardproof.prove.world import World
from boardproof.quantities import PURE, Dimension, Style, dimension_words, shown
from boardproof.source import Slice, Span

__all__ = ["judge_claim"]

POINTS: Final = 400
CASES_AT_MOST: Final = 16
STEPS: Final = (
    Fraction(2),
    Fraction(1, 2),
    Fraction(3),
    Fraction(1, 3),
    Fraction(4),
    Fraction(1, 4),
    Fraction(3, 2),
)
OPPOSITE: Final[dict[Comparison, Comparison]] = {
    "<": "≥",
    ">": "≤",
    "≤": ">",
    "≥": "<",
    "=": "≠",
    "≠": "=",
    "≈": "≠",
}
Cases = tuple[tuple[Fact, ...], ...]
"""One of the cases holds; a case holds if all its facts do."""


def judge_claim(
    means: Sequence[Slice],
    for_: Slice | None,
    world: World,
    *,
    decimal: str = ".",
    style: Style | None = None,
) -> tuple[tuple[Slice, Ruling], ...]:
    """Judge a claim, line by line; it is true if every line is.

    Parameters
    ----------
    means : sequence of Slice
        Its lines in symbols.
    for_ : Slice or None
        What it is said for; None means all positive values.
    world : World
        Where it stands.
    decimal : str
        The course's decimal mark.
    style : Style, optional
        How values are shown.

    Returns
    -------
    tuple of (Slice, Ruling)
        "true", "true-only-when" with its condition, "wrong", "units-differ" or "not-checked", with the findings
        ``refuted-claim``, ``undecided-claim`` and the reader's.

    Examples
    --------
    >>> from boardproof.circuit.read import read_circuit
    >>> from boardproof.prove.worlds import Worlds
    >>> from boardproof.source import Source
    >>> read = read_circuit(Source("x", "A = cell; R = resistor; main = A across R").slice())
    >>> world = Worlds(read.definitions).of(read.at_hand)
    >>> [(_, ruling)] = judge_claim([Source("x", "V falls with I").slice()], None, world)
    >>> ruling.verdict.kind
    'true'
    """
    return tuple((line, _judge(line, for_, world, decimal, style or Style())) for line in means)


def _judge(line: Slice, for_: Slice | None, world: World, decimal: str, style: Style) -> Ruling:
    phrases = Phrases(world, known_names(world.definitions, world.at_hand), decimal, {})
    claimed, scope = read_claim(line, phrases), read_scope(for_, phrases)
    for read in (claimed, scope):
        if isinstance(read, Finding):
            reason = Evidence("machine", "it can't be read")
            return Ruling(Verdict("not-checked", evidence=(reason,)), (read,))
    assert not isinstance(claimed, Finding)
    assert not isinstance(scope, Finding)
    here = phrases.world_with()
    whole = frozenset(world.counts)
    proof = _Claim(here, None, None, Policy(), style, (), line.span, phrases, scope, whole, whole)
    try:
        return proof.judge(claimed)
    except _Stop as stopped:
        return stopped.ruling
    except (TooLarge, ZeroDivisionError):
        return proof.unchecked("it has too many terms", line.span)


class _Stop(Exception):  # ends the judging of one line with its ruling; caught in `_judge`
    def __init__(self, ruling: Ruling) -> None:
        super().__init__(ruling.verdict.kind)
        self.ruling = ruling


@dataclass(frozen=True, slots=True)
class _Change:
    """What is changed in a trend: a letter, whether it counts, and what else changes with it."""

    letter: str
    counts: bool
    put: Mapping[str, RationalFunction]

    def slope(self, function: RationalFunction) -> RationalFunction:
        """The derivative, or for a count the next value less this one."""
        if self.counts:
            return function.substitute({self.letter: RationalFunction.letter(self.letter) + 1}) - function
        return function.derivative(self.letter)


@dataclass(frozen=True, slots=True)
class _Shown:
    """A thing whose values a counterexample shows: its words and what it is."""

    words: str
    value: RationalFunction
    dimension: Dimension


@dataclass(frozen=True)
class _Claim(Bench):
    """The judging of one line."""

    span: Span = field(default_factory=lambda: Span("", 0, 0))
    phrases: Phrases | None = None
    scope: Scope = Scope()
    whole: frozenset[str] = frozenset()  # letters that count
    counts: frozenset[str] = frozenset()  # those of them that go up in steps here
    values: dict[str, Fraction] = field(default_factory=dict)  # the scene's, where a number asks for them

    # What is said

    def said(self, tree: Expression | Relation) -> str:
        """Maths for people, with phrases in place of their names."""
        assert self.phrases is not None
        return self.phrases.said(plain(tree))

    def joined_words(self, joined: Joined) -> str:
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

    def stop(self, reason: str) -> _Stop:
        """Not checked, and why."""
        return _Stop(self.unchecked(reason, self.span))

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
            raise _Stop(replace(unknown, findings=placed))
        left, right = (
            meaning.dimension(side, self.world.dimension) for side in (relation.left, relation.right)
        )
        for side in (left, right):
            if isinstance(side, Mismatch):
                self.differ("unlike-terms", side.left, side.right, side.span)
        if isinstance(left, Dimension) and isinstance(right, Dimension) and left != right:
            self.differ("units-differ", dimension_words(left), dimension_words(right), relation.span)

    def differ(self, code: str, left: str, right: str, span: Span | None) -> None:
        evidence = (Evidence("dimensions", f"{left} beside {right}"),)
        verdict = Verdict("units-differ", evidence=evidence, decided_by="dimensions")
        facts = {"left": left, "right": right}
        raise _Stop(Ruling(verdict, (finding(code, span or self.span, evidence=evidence, facts=facts),)))

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
                parts.append(((self.fact(part),),))
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

    def negated(self, fact: Fact) -> Fact:
        return fact[0], OPPOSITE[fact[1]]

    # Judging

    def judge(self, claimed: Claimed) -> Ruling:
        """Judge one line."""
        if isinstance(claimed, Joined) and not all(isinstance(each, Relation) for each in _leaves(claimed)):
            return self.by_the_judge(claimed)
        prepared = replace(self, values=self.scene_values(claimed))
        return replace(prepared, facts=prepared.given()).of_kind(claimed)

    def of_kind(self, claimed: Claimed) -> Ruling:
        match claimed:
            case Joined():
                return self.implied(((),), self.cases(claimed), self.shown_in(claimed))
            case Trend() | Steady():
                return self.trend(claimed, ((),))
            case Extreme():
                return self.extreme(claimed)
            case WhenClaim(of=of, word=word, given=given):
                cases = self.cases(given)
                if word == "when" and isinstance(of, Trend | Steady):
                    return self.trend(of, cases)
                aims = self.cases(of) if isinstance(of, Joined) else self.trend_cases(of)
                seen = self.shown_in(of) if isinstance(of, Joined) else ()
                match word:
                    case "when":
                        return self.implied(cases, aims, seen)
                    case "only when":
                        return self.implied(aims, cases, seen)
                    case _:
                        return self.exactly(aims, cases, seen, claimed)

    def by_the_judge(self, joined: Joined) -> Ruling:
        """Limits and approximations go where every line of maths goes."""
        condition = Condition("if", self.scope.conditions) if self.scope.conditions else None
        rulings = [judge(each, self.world, condition=condition, style=self.style) for each in _leaves(joined)]
        if joined.word == "or":
            return self.unchecked("a limit can't be joined by “or”", self.span)
        return next((each for each in rulings if each.verdict.kind != "true"), rulings[0])

    def scene_values(self, claimed: Claimed) -> dict[str, Fraction]:
        """The scene's values of all letters but those compared with a number, if a number with a unit is in it."""
        relations = [each for each in _relations(claimed) if has_units(each.left) or has_units(each.right)]
        if not relations:
            return {}
        free = {name.text for each in relations for name in names_in(each)}
        free |= (
            {claimed.letter} if isinstance(claimed, Trend | Steady | Extreme) and claimed.letter else set()
        )
        return {name: value for name, value in self.scene().items() if name not in free}

    def scene(self) -> Mapping[str, Fraction]:
        """The scene's values."""
        return self.world.values() if isinstance(self.world, World) else {}

    def given(self) -> tuple[Fact, ...]:
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
                raise _Stop(Ruling(Verdict("not-checked", evidence=reason), (empty,)))
            if not fact[0].is_zero:
                facts.append(fact)
        return tuple(facts)

    def implied(self, premises: Cases, aims: Cases, seen: tuple[_Shown, ...]) -> Ruling:
        """Whether the aims hold wherever one of the premises does."""
        answers: list[Answer] = []
        for premise in premises:
            given = (*self.facts, *premise)
            if any(
                isinstance(sign_of(f, s, counts=self.counts, given=self.facts), Never) for f, s in premise
            ):
                continue  # nothing follows from what never happens, and nothing is asked of it
            answers += [self.clause(clause, given) for clause in self.clauses(aims)]
        if not answers:
            return self.unchecked("its condition never happens", self.span)
        if all(isinstance(each, Always) for each in answers):
            return self.proved([each for each in answers if isinstance(each, Always)], aims)
        fails = self.search(premises, aims, answers)
        return self.refuted(answers, fails, seen) if fails else self.undecided(answers)

    def clause(self, clause: Sequence[Fact], given: Sequence[Fact]) -> Answer:
        """One of the facts must hold."""
        answers: list[Answer] = []
        for place, (function, sign) in enumerate(clause):
            others = [self.negated(each) for at, each in enumerate(clause) if at != place]
            answer = sign_of(function, sign, counts=self.counts, given=(*given, *others))
            if isinstance(answer, Always):
                return answer
            answers.append(answer)
        if len(answers) == 1:
            return answers[0]
        return Undecided("No one of the cases could be shown where the others fail")

    def exactly(self, aims: Cases, cases: Cases, seen: tuple[_Shown, ...], claimed: WhenClaim) -> Ruling:
        """Both ways; where the two differ by a positive factor that is the whole proof."""
        if len(aims) == len(cases) == len(aims[0]) == len(cases[0]) == 1:
            (one, sign), (other, opposite) = aims[0][0], cases[0][0]
            turned = (1 if sign in {">", "≥", "=", "≠"} else -1) * (
                1 if opposite in {">", "≥", "=", "≠"} else -1
            )
            alike = (
                {sign, opposite} in ({"="}, {"≠"})
                or ({sign, opposite} <= {"<", ">"})
                or ({sign, opposite} <= {"≤", "≥"})
            )
            if alike and not other.is_zero:
                factor = one / other * turned
                answer = sign_of(factor, ">", counts=self.counts, given=self.facts)
                if isinstance(answer, Always):
                    text = f"{self.joined_words(claimed.given)} and the other differ only by the factor {_brief(factor)}, which is positive."
                    evidence = (Evidence("factors", text),)
                    return Ruling(
                        Verdict("true", evidence=evidence, decided_by=answer.decided_by, ground=self.ground)
                    )
        there, back = self.implied(cases, aims, seen), self.implied(aims, cases, seen)
        bad = next((each for each in (there, back) if each.verdict.kind in {"true-only-when", "wrong"}), None)
        if bad is None:
            return there if there.verdict.kind != "true" else back
        return self.not_exactly(bad, aims, claimed)

    def not_exactly(self, bad: Ruling, aims: Cases, claimed: WhenClaim) -> Ruling:
        """Refuted one way; what would be right is the condition itself."""
        right = None
        if len(aims) == len(aims[0]) == 1:
            answer = sign_of(aims[0][0][0], aims[0][0][1], counts=self.counts, given=self.facts)
            right = case_words(answer) if isinstance(answer, When) else None
        words = self.joined_words(claimed.of) if isinstance(claimed.of, Joined) else "it"
        verdict = replace(
            bad.verdict,
            kind="wrong",
            condition=None,
            right=f"{words} exactly when {right}" if right else None,
        )
        facts = {key: value for key, value in bad.findings[0].facts.items() if key != "condition"}
        facts |= {"condition": right} if right else {}
        return Ruling(verdict, (replace(bad.findings[0], facts=facts),))

    # Trends

    def trend_cases(self, claim: Trend | Steady) -> Cases:
        change = self.change(claim)
        slope = self.slope(claim, change)
        sign: Comparison = "=" if isinstance(claim, Steady) else ">" if claim.rises else "<"
        return (((slope, sign),),)

    def slope(self, claim: Trend | Steady, change: _Change) -> RationalFunction:
        """How the thing changes with the other."""
        what = self.slope_of(claim.what, change)
        if claim.by is None or isinstance(claim, Steady):
            return what
        by = self.slope_of(claim.by, change)
        if by.is_zero:
            raise self.stop(f"{self.said(claim.by)} does not change with {change.letter}")
        return what * by

    def slope_of(self, side: Expression, change: _Change) -> RationalFunction:
        function = self.worth(side).substitute(change.put)
        if any((atom := sums_of(letter)) and atom[1] == change.letter for letter in function.letters):
            raise self.stop(f"{self.said(side)} adds up unlike parts, and what the next part is like is open")
        return change.slope(function)

    def change(self, claim: Trend | Steady | Extreme) -> _Change:
        """What is changed: the letter that is named, the other thing if it is a letter, else the load."""
        self.named(claim.what)
        by = None if isinstance(claim, Extreme) else claim.by
        if by is not None:
            self.named(by)
        if claim.letter:
            letter = claim.letter
        elif isinstance(by, Name) and self.world.in_letters(by.text) == RationalFunction.letter(by.text):
            letter = by.text
        elif isinstance(claim, Extreme):
            letter = self.changed_in(claim)
        else:
            letter = self.load_letter()
        if self.world.in_letters(letter) != RationalFunction.letter(letter):
            raise self.stop(f"{letter} is no letter of a part, so it can't be changed by itself")
        put = self.fixed(letter)
        return _Change(letter, letter in self.counts and not put, put)

    def load_letter(self) -> str:
        letters = sorted(self.world.load_letters)
        if len(letters) != 1:
            what = "the load has several letters" if letters else "there is no load to change"
            raise self.stop(f"{what}; say what is changed, with `by changing NAME`")
        return letters[0]

    def changed_in(self, claim: Extreme) -> str:
        """The letter that is changed to find the greatest or least."""
        letters = {letter for case in self.cases(claim.at) for fact, _ in case for letter in fact.letters}
        for name in self.scope.fixed:
            held = self.world.in_letters(name)
            inside = held.letters if isinstance(held, RationalFunction) else frozenset()
            if len(inside) > 1:
                return min(inside & letters or inside)
            letters -= inside
        load = letters & self.world.load_letters
        if len(load) == 1:
            return min(load)
        if len(letters) == 1:
            return min(letters)
        raise self.stop("it is not clear what is changed; say it with `by changing NAME`")

    def fixed(self, letter: str) -> dict[str, RationalFunction]:
        """What else changes when a letter does, so that the names said to be fixed stay so."""
        put: dict[str, RationalFunction] = {}
        for name in self.scope.fixed:
            held = self.world.in_letters(name)
            if isinstance(held, Unknown):
                raise self.stop(held.reason)
            held = held.substitute(put)
            if letter not in held.letters:
                continue
            others = sorted(
                each
                for each in held.letters - {letter, name}
                if held.degree(each) == 1 and each not in held.denominator.letters
            )
            if not others:
                raise self.stop(f"{name} can't stay fixed while {letter} changes")
            low, high = held.numerator.coefficients(others[0])
            made = (RationalFunction.letter(name) * held.denominator - low) / high
            put = {each: value.substitute({others[0]: made}) for each, value in put.items()} | {
                others[0]: made
            }
        return put

    def trend(self, claim: Trend | Steady, premises: Cases) -> Ruling:
        """A trend as the sign of a slope."""
        change = self.change(claim)
        slope = self.slope(claim, change)
        sign: Comparison = "=" if isinstance(claim, Steady) else ">" if claim.rises else "<"
        judged = self.with_change(change)
        answers = [judged.clause(((slope, sign),), (*judged.facts, *premise)) for premise in premises]
        if all(isinstance(each, Always) for each in answers):
            text = self.slope_words(claim, change, slope)
            return self.proved(
                [each for each in answers if isinstance(each, Always)], (((slope, sign),),), text
            )
        fails = judged.trend_search(claim, change, premises)
        if fails is None:
            return self.undecided(answers)
        return self.refuted(answers, fails, ())

    def with_change(self, change: _Change) -> _Claim:
        """The hypotheses with what is fixed put in; what was whole then varies without steps."""
        if not change.put:
            return self
        facts = tuple((function.substitute(change.put), sign) for function, sign in self.facts)
        whole = self.counts - {change.letter} - set(change.put)
        positive = tuple((made, ">") for made in change.put.values() if not made.one_signed)
        return replace(self, facts=(*facts, *positive), counts=whole)

    def slope_words(self, claim: Trend | Steady, change: _Change, slope: RationalFunction) -> str:
        words = f"{change.letter} + 1 for {change.letter}" if change.counts else f"{change.letter}"
        if slope.is_zero:
            return f"{self.said(claim.what)} stays the same when {change.letter} changes: it cancels out."
        first = f"With {words} changed, {self.said(claim.what)} changes by {_brief(self.slope_of(claim.what, change))}"
        if not isinstance(claim, Trend) or claim.by is None or slope == self.slope_of(claim.what, change):
            return f"{first}: one sign for all positive values."
        return f"{first}, {self.said(claim.by)} by {_brief(self.slope_of(claim.by, change))}: the signs {'agree' if claim.rises else 'differ'}."

    def trend_search(
        self, claim: Trend | Steady, change: _Change, premises: Cases
    ) -> tuple[Point, str] | None:
        """Two values of what is changed between which the trend is another one."""
        what = self.shown(claim.what, change.put)
        by = what if isinstance(claim, Steady) or claim.by is None else self.shown(claim.by, change.put)
        letters = (what.value.letters | by.value.letters | {change.letter} | self.letters_of(premises)) - set(
            self.values
        )
        wanted = 0 if isinstance(claim, Steady) else 1 if claim.rises else -1
        here, there = what.value.evaluator(), by.value.evaluator()
        for point in self.points(letters, premises):
            for more in (1, 2, 3):
                far = {**point, change.letter: point[change.letter] + more}
                ends = here(point), here(far), there(point), there(far)
                if any(end is None for end in ends) or not self.meets(far, premises):
                    continue
                up = _sign(ends[1] - ends[0]) * (1 if by is what else _sign(ends[3] - ends[2]))  # type: ignore[operator]  # None was sorted out
                if up != wanted:
                    return point, self.two_values(point, far, change, what)
        return None

    def two_values(self, point: Point, far: Point, change: _Change, what: _Shown) -> str:
        rest = {name: value for name, value in point.items() if name != change.letter}
        values = [
            f"{change.letter} = {self.shown_letter(change.letter, each[change.letter])} gives {what.words} = "
            f"{shown(what.value.evaluate(each), what.dimension, self.style)}"
            for each in (point, far)
        ]
        held = f"with {self.listed(rest)}, " if rest else ""
        return f"{held}{values[0]}, {values[1]}"

    # Greatest and least

    def extreme(self, claim: Extreme) -> Ruling:
        """Rises below the place and falls above it (for a least value the other way round)."""
        change = self.change(claim)
        judged = self.with_change(change)
        cases = self.cases(claim.at)
        if len(cases) != 1 or len(cases[0]) != 1 or cases[0][0][1] != "=":
            raise self.stop("a greatest or least value is reached at an equation such as R = r")
        place = judged.oriented(cases[0][0][0].substitute(change.put), change)
        slope = self.slope_of(claim.what, change) * (1 if claim.greatest else -1)
        answers = judged.around(slope, place)
        if all(isinstance(each, Always) for each in answers):
            ways = ("rises", "falls") if claim.greatest else ("falls", "rises")
            text = (
                f"When {change.letter} changes, {self.said(claim.what)} {ways[0]} as long as {plain(balanced(place, '<'))}, "
                f"and {ways[1]} once {plain(balanced(place, '>'))}."
            )
            return self.proved([each for each in answers if isinstance(each, Always)], (), text)
        fails = judged.extreme_search(claim, change, place)
        if fails is None:
            return self.undecided(answers)
        ruling = self.refuted([Undecided("")], fails, ())
        return replace(ruling, verdict=replace(ruling.verdict, right=judged.better(claim, change, slope)))

    def oriented(self, function: RationalFunction, change: _Change) -> RationalFunction:
        """What is below nought before the place and above it after."""
        if function.is_zero or change.letter not in function.letters:
            raise self.stop(f"the place does not depend on {change.letter}")
        factors = [factor for factor, _ in function.factors()[1] if not factor.one_signed]
        if not factors:
            raise self.stop("the place it names is never reached")
        if len(factors) > 1:
            raise self.stop("it names more than one place")
        up = sign_of(factors[0].derivative(change.letter), ">", counts=self.counts, given=self.facts)
        if isinstance(up, Always):
            return factors[0]
        if isinstance(up, Never):
            return -factors[0]
        raise self.stop("it is not clear on which side of the place a value lies")

    def around(self, slope: RationalFunction, place: RationalFunction) -> list[Answer]:
        sides: tuple[tuple[Comparison, Comparison], ...] = (("<", ">"), (">", "<"))
        return [
            sign_of(slope, sign, counts=self.counts, given=(*self.facts, (place, side)))
            for side, sign in sides
        ]

    def better(self, claim: Extreme, change: _Change, slope: RationalFunction) -> str | None:
        """The place at which it is greatest or least, if there is one plain one."""
        for factor, _ in slope.factors()[1]:
            if factor.one_signed or change.letter not in factor.letters:
                continue
            try:
                place = self.oriented(factor, change)
            except _Stop:
                continue
            if all(isinstance(each, Always) for each in self.around(slope, place)):
                word = "greatest" if claim.greatest else "least"
                return f"{self.said(claim.what)} is {word} when {plain(balanced(place, '='))}"
        return None

    def extreme_search(
        self, claim: Extreme, change: _Change, place: RationalFunction
    ) -> tuple[Point, str] | None:
        """A value at the place, and a greater (or less) one elsewhere."""
        what = self.shown(claim.what, change.put)
        here = what.value.evaluator()
        if place.degree(change.letter) != 1:
            return None
        low, high = place.numerator.coefficients(change.letter)
        for point in self.points(what.value.letters | place.letters, ((),)):
            below, above = low.evaluate(point), high.evaluate(point)
            if not above or -below / above <= 0:
                continue
            at = {**point, change.letter: -below / above}
            for step in STEPS:
                far = {**at, change.letter: at[change.letter] * step}
                if not all(self.is_point(each, change) for each in (at, far)):
                    continue
                ends = here(at), here(far)
                if (
                    ends[0] is None
                    or ends[1] is None
                    or (ends[1] > ends[0]) is not claim.greatest
                    or ends[0] == ends[1]
                ):
                    continue
                return at, self.two_values(at, far, change, what)
        return None

    def is_point(self, point: Point, change: _Change) -> bool:
        """Whether what is counted is whole, what is positive is so, and the hypotheses hold."""
        whole = dict(point)
        for name, made in change.put.items():
            whole[name] = made.evaluate(point)
        fine = all(
            value > 0 and (name not in self.whole or value.denominator == 1) for name, value in whole.items()
        )
        return fine and self.meets(point, ((),))

    # Counterexamples

    def shown(self, side: Expression, put: Mapping[str, RationalFunction] | None = None) -> _Shown:
        dimension = meaning.dimension(side, self.world.dimension)
        return _Shown(
            self.said(side),
            self.worth(side).substitute(put or {}),
            dimension if isinstance(dimension, Dimension) else PURE,
        )

    def shown_in(self, joined: Joined) -> tuple[_Shown, ...]:
        """Both sides of each comparison."""
        found: dict[str, _Shown] = {}
        for relation in _relations(joined):
            for side in (relation.left, relation.right):
                if any(True for _ in names_in(side)):
                    found.setdefault(self.said(side), self.shown(side))
        return tuple(found.values())

    def letters_of(self, cases: Cases) -> frozenset[str]:
        return frozenset(
            letter for case in (*cases, self.facts) for function, _ in case for letter in function.letters
        )

    def meets(self, point: Point, premises: Cases) -> bool:
        """Whether the hypotheses and one of the premises hold at a point."""
        return _hold(self.facts, point) and any(_hold(premise, point) for premise in premises)

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
        for point in small_points(wanted - set(fixed), counts - set(fixed), at_most=POINTS):
            whole = dict(point)
            for name, made in reversed(fixed.items()):
                whole[name] = made.evaluator()(whole) or Fraction(0)
            good = all(
                value > 0 and (name not in counts or value.denominator == 1) for name, value in whole.items()
            )
            if good and self.meets(whole, premises):
                yield whole

    def search(self, premises: Cases, aims: Cases, answers: Sequence[Answer]) -> tuple[Point, str] | None:
        """A point at which a premise holds and the aims don't."""
        letters = self.letters_of(premises) | self.letters_of(aims)
        tried: list[Point] = [each.fails for each in answers if isinstance(each, When | Never) and each.fails]
        for point in itertools.chain(self.points(letters, premises), tried):
            if not letters <= set(point) or not self.meets(point, premises):
                continue
            if all(_defined(case, point) for case in aims) and not any(_hold(case, point) for case in aims):
                return point, ""
        return None

    def listed(self, point: Point) -> str:
        return ", ".join(
            f"{name} = {self.shown_letter(name, value)}" for name, value in sorted(point.items())
        )

    # Verdicts

    def proved(self, answers: Sequence[Always], aims: Cases, text: str = "") -> Ruling:
        order = ("identity", "factors", "squares", "order")
        hardest = max(
            answers, key=lambda each: order.index(each.decided_by) if each.decided_by in order else 9
        )
        by = hardest.decided_by
        kind = by if by in {"identity", "factors"} else "certificate"
        if not text:
            text = (
                " ".join(dict.fromkeys(self.difference_words(fact) for case in aims for fact in case))
                or hardest.text
            )
        if by in {"squares", "order"}:
            text += f" Proved by {'a sum of squares' if by == 'squares' else 'cases of which letter is larger'}, checked exactly."
        return Ruling(Verdict("true", evidence=(Evidence(kind, text),), decided_by=by, ground=self.ground))

    def difference_words(self, fact: Fact) -> str:
        function, sign = fact
        if function.is_zero:
            return "Both sides are the same expression."
        turned, word = (-function, "above") if sign in {"<", "≤"} else (function, "above")
        given = " with what is given" if self.facts else ""
        if sign in {"=", "≠"}:
            return f"The difference of the two sides is {_brief(turned)}, {'never nought' if sign == '≠' else 'nought'}{given}."
        return f"The larger side less the smaller is {_brief(turned)}, {word} nought{given}."

    def refuted(
        self, answers: Sequence[Answer], fails: tuple[Point, str], seen: tuple[_Shown, ...]
    ) -> Ruling:
        point, text = fails
        if not text:
            ends = ", ".join(
                f"{each.words} = {shown(each.value.evaluate(point), each.dimension, self.style)}"
                for each in seen
                if each.value.letters <= set(point) and each.words not in point
            )
            text = f"{self.listed(point)} give {ends}" if ends else f"it fails at {self.listed(point)}"
        values = {name: self.shown_letter(name, value) for name, value in point.items()}
        evidence = (Evidence("counterexample", f"{text[:1].upper()}{text[1:]}.", values),)
        condition = self.condition_of(answers)
        kind = "true-only-when" if condition else "wrong"
        by = next((each.decided_by for each in answers if isinstance(each, When | Never)), "grid")
        verdict = Verdict(kind, None, condition, None, evidence, by, ground=self.ground)
        facts = {"counterexample": text} | ({"condition": condition} if condition else {})
        return Ruling(verdict, (finding("refuted-claim", self.span, evidence=evidence, facts=facts),))

    def condition_of(self, answers: Sequence[Answer]) -> str | None:
        """The condition under which every part holds; None if there is none, or none is known."""
        if any(isinstance(each, Never | Undecided) for each in answers):
            return None
        words = list(dict.fromkeys(case_words(each) for each in answers if isinstance(each, When)))
        if len(words) > 1:
            words = [f"({each})" if " or " in each else each for each in words]
        return " and ".join(words) or None

    def undecided(self, answers: Sequence[Answer]) -> Ruling:
        reason = next((each.reason for each in answers if isinstance(each, Undecided)), "no proof was found")
        tries = max((each.tries for each in answers if isinstance(each, Undecided)), default=0) or POINTS
        evidence = (Evidence("machine", reason),)
        facts = {"reason": reason[:1].lower() + reason[1:], "tries": str(tries)}
        note = finding("undecided-claim", self.span, evidence=evidence, facts=facts)
        return Ruling(Verdict("not-checked", evidence=evidence, decided_by="grid"), (note,))


def _leaves(joined: Joined) -> Iterator[Statement]:
    for part in joined.parts:
        if isinstance(part, Joined):
            yield from _leaves(part)
        else:
            yield part


def _relations(claimed: Claimed) -> tuple[Relation, ...]:
    """Every comparison in a claim."""
    joined = {
        Joined: lambda: (claimed,),
        Extreme: lambda: (claimed.at,),
        WhenClaim: lambda: (claimed.of, claimed.given),
    }.get(type(claimed), tuple)()
    return tuple(
        each
        for one in joined
        if isinstance(one, Joined)
        for each in _leaves(one)
        if isinstance(each, Relation)
    )


def _hold(facts: Sequence[Fact], point: Point) -> bool:
    for function, sign in facts:
        value = function.evaluator()(point)
        if value is None or not compares(value, sign, Fraction(0)):
            return False
    return True


def _defined(facts: Sequence[Fact], point: Point) -> bool:
    return all(function.evaluator()(point) is not None for function, _ in facts)


def _sign(value: Fraction) -> int:
    return (value > 0) - (value < 0)


def _brief(function: RationalFunction) -> str:
    """A ratio in a readable length."""
    text = plain(to_expression(function))
    return text if len(text) <= 160 else f"{text[:150]}…"
