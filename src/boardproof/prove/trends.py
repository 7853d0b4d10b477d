"""How one thing goes with another: rises, falls, does not depend, is greatest or least at a place."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Final, Self

from boardproof.algebra.answer import Always, Answer, Never, Undecided
from boardproof.algebra.expression import Comparison, Expression, Name
from boardproof.algebra.ground import Fact
from boardproof.algebra.meaning import Unknown
from boardproof.algebra.points import Point
from boardproof.algebra.polynomial import RationalFunction
from boardproof.algebra.show import plain
from boardproof.algebra.sigma import sums_of
from boardproof.algebra.sign import sign_of
from boardproof.algebra.tidy import balanced
from boardproof.prove.bench import Ruling
from boardproof.prove.claim_bench import Quantity, Stop, ready
from boardproof.prove.claim_language import Extreme, Steady, Trend
from boardproof.prove.claim_verdicts import ClaimVerdicts, brief
from boardproof.prove.conditions import Cases
from boardproof.quantities import shown
from boardproof.record import record

__all__ = ["Change", "Trends", "put_into"]

STEPS: Final = tuple(Fraction(step) for step in ("2", "1/2", "3", "1/3", "4", "1/4", "3/2"))
SIDES: Final[tuple[Comparison, ...]] = ("<", ">")


@record
class Change:
    """What is changed in a trend: a letter, whether it counts, and what else changes with it."""

    letter: str
    counts: bool
    put: Mapping[str, RationalFunction]

    def slope(self, function: RationalFunction) -> RationalFunction:
        """The derivative, or for a count the next value less this one."""
        if self.counts:
            return function.substitute({self.letter: RationalFunction.letter(self.letter) + 1}) - function
        return function.derivative(self.letter)


@dataclass(frozen=True)
class Trends(ClaimVerdicts):
    """Judges trends by the sign of a slope, places of a greatest or least value by its sign on both sides."""

    def trend_cases(self, claim: Trend | Steady, change: Change) -> Cases:
        """A trend as a fact: the sign of its slope."""
        slope = self.slope(claim, change)
        sign: Comparison = "=" if isinstance(claim, Steady) else ">" if claim.rises else "<"
        return (((slope, sign),),)

    def slope(self, claim: Trend | Steady, change: Change) -> RationalFunction:
        """How the thing changes with the other."""
        what = self.slope_of(claim.what, change)
        if claim.by is None or isinstance(claim, Steady):
            return what
        by = self.slope_of(claim.by, change)
        if by.is_zero:
            raise self.stop(f"{self.said(claim.by)} does not change with {change.letter}")
        return what * by

    def slope_of(self, side: Expression, change: Change) -> RationalFunction:
        """How one quantity changes."""
        function = self.worth(side).substitute(change.put)
        if any((atom := sums_of(letter)) and atom[1] == change.letter for letter in function.letters):
            raise self.stop(f"{self.said(side)} adds up unlike parts, and what the next part is like is open")
        return change.slope(function)

    def change(self, claim: Trend | Steady | Extreme) -> Change:
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
        return Change(letter, letter in self.counts and not put, put)

    def load_letter(self) -> str:
        """The one letter of the load."""
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

    def trend(self, claim: Trend | Steady, change: Change, premises: Cases, when: str) -> Ruling:
        """A trend as the sign of a slope, wherever one of the premises holds."""
        aims, premises = self.trend_cases(claim, change), put_into(premises, change.put)
        judged = self.with_change(change)
        (slope, sign) = aims[0][0]
        answers = [
            sign_of(slope, sign, counts=judged.counts, given=(*judged.facts, *premise))
            for premise in judged.possible(premises)
        ]
        if all(isinstance(each, Always) for each in answers):
            text = self.slope_words(claim, change, slope, when)
            return self.proved([each for each in answers if isinstance(each, Always)], aims, text)
        fails = judged.trend_search(claim, change, premises)
        return self.refuted(answers, fails, ()) if fails else self.undecided(answers)

    def with_change(self, change: Change) -> Self:
        """The hypotheses with what is fixed put in; what was whole then varies without steps."""
        if not change.put:
            return self
        facts = put_into((self.facts,), change.put)[0]
        whole = self.counts - {change.letter} - set(change.put)
        positive: tuple[Fact, ...] = tuple((made, ">") for made in change.put.values() if not made.one_signed)
        return replace(self, facts=(*facts, *positive), counts=whole)

    def slope_words(self, claim: Trend | Steady, change: Change, slope: RationalFunction, when: str) -> str:
        """How one sees the sign of a slope."""
        what, own = self.said(claim.what), self.slope_of(claim.what, change)
        if slope.is_zero:
            return f"{change.letter} cancels out of {what}."
        first = f"For each step of {change.letter}" if change.counts else f"Per unit of {change.letter}"
        text = f"{first}, {what} changes by {brief(own)}"
        if claim.by is None or slope == own:
            side = "above" if isinstance(claim, Trend) and claim.rises else "below"
            return f"{text}, {side} nought{self.where(when)}."
        agree = "agree" if isinstance(claim, Trend) and claim.rises else "differ"
        return (
            f"{text}, {self.said(claim.by)} by {brief(self.slope_of(claim.by, change))}: the signs {agree}."
        )

    def trend_search(
        self, claim: Trend | Steady, change: Change, premises: Cases
    ) -> tuple[Point, str] | None:
        """Two values of what is changed between which the trend is another one."""
        what = self.shown(claim.what, change.put)
        by = what if isinstance(claim, Steady) or claim.by is None else self.shown(claim.by, change.put)
        letters = (what.value.letters | by.value.letters | {change.letter} | self.letters_of(premises)) - set(
            self.values
        )
        wanted = 0 if isinstance(claim, Steady) else 1 if claim.rises else -1
        here, there = what.value.evaluator(), by.value.evaluator()
        tests = ready(premises)
        tie: tuple[Point, str] | None = None
        for point in self.points(letters, premises):
            for more in (1, 2, 3):
                far = {**point, change.letter: point[change.letter] + more}
                if not (
                    self.is_point(point, change) and self.is_point(far, change) and self.meets(far, tests)
                ):
                    continue
                first, last, low, high = here(point), here(far), there(point), there(far)
                if first is None or last is None or low is None or high is None:
                    continue
                up = _sign(last - first) * (1 if by is what else _sign(high - low))
                if up == -wanted or (up and not wanted):
                    return point, self.two_values(point, far, change, what)
                if up != wanted:
                    tie = tie or (point, self.two_values(point, far, change, what))
        return tie

    def two_values(self, point: Point, far: Point, change: Change, what: Quantity) -> str:
        """Two values of what is changed, and what they give."""
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
            before, after = (plain(balanced(place, side)) for side in SIDES)
            text = (
                f"When {change.letter} changes, {self.said(claim.what)} {ways[0]} as long as {before}, "
                f"and {ways[1]} once {after}."
            )
            return self.proved([each for each in answers if isinstance(each, Always)], (), text)
        fails = judged.extreme_search(claim, change, place)
        if fails is None:
            return self.undecided(answers)
        ruling = self.refuted([Undecided("")], fails, ())
        return replace(ruling, verdict=replace(ruling.verdict, right=judged.better(claim, change, slope)))

    def oriented(self, function: RationalFunction, change: Change) -> RationalFunction:
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
        """The slope's sign before the place and after it."""
        return [
            sign_of(slope, sign, counts=self.counts, given=(*self.facts, (place, side)))
            for side, sign in zip(SIDES, reversed(SIDES), strict=True)
        ]

    def better(self, claim: Extreme, change: Change, slope: RationalFunction) -> str | None:
        """The place at which it is greatest or least, if there is one plain one."""
        for factor, _ in slope.factors()[1]:
            if factor.one_signed or change.letter not in factor.letters:
                continue
            try:
                place = self.oriented(factor, change)
            except Stop:
                continue
            if all(isinstance(each, Always) for each in self.around(slope, place)):
                word = "greatest" if claim.greatest else "least"
                return f"{self.said(claim.what)} is {word} when {plain(balanced(place, '='))}"
        return None

    def extreme_search(
        self, claim: Extreme, change: Change, place: RationalFunction
    ) -> tuple[Point, str] | None:
        """A value at the place, and a greater (or less) one elsewhere."""
        what = self.shown(claim.what, change.put)
        here = what.value.evaluator()
        plain_ones = [each for each in sorted(place.letters) if place.degree(each) == 1]
        if not plain_ones:
            return None
        solved = change.letter if change.letter in plain_ones else plain_ones[0]
        low, high = place.numerator.coefficients(solved)
        for point in self.points((what.value.letters | place.letters) - {solved}, ((),)):
            below, above = low.evaluate(point), high.evaluate(point)
            if not above or -below / above <= 0:
                continue
            at = {**point, solved: -below / above}
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

    def is_point(self, point: Point, change: Change) -> bool:
        """Whether what is counted is whole, what is positive is so, and the hypotheses hold."""
        whole = dict(point)
        for name, made in change.put.items():
            whole[name] = made.evaluate(point)
        fine = all(
            value > 0 and (name not in self.whole or value.denominator == 1) for name, value in whole.items()
        )
        return fine and self.meets(point, ((),))


def put_into(cases: Cases, put: Mapping[str, RationalFunction]) -> Cases:
    """Cases with letters replaced.

    Parameters
    ----------
    cases : Cases
        Facts.
    put : mapping of str to RationalFunction
        What stands in place of each letter.

    Examples
    --------
    >>> m, n, N = (RationalFunction.letter(name) for name in ("m", "n", "N"))
    >>> put_into((((m - n, ">"),),), {"n": N / m})
    ((((m^2 - N)/(m), '>'),),)
    """
    return tuple(tuple((function.substitute(put), sign) for function, sign in case) for case in cases)


def _sign(value: Fraction) -> int:
    return (value > 0) - (value < 0)
