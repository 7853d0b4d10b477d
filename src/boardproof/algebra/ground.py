"""What is known of letters when a sign is asked: all positive, counts from 1, and hypotheses."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Final

from boardproof.algebra.expression import Comparison
from boardproof.algebra.points import Point, small_points
from boardproof.algebra.polynomial import RationalFunction

__all__ = ["POINTS_AT_FIRST", "POINTS_AT_MOST", "Fact", "Ground", "holds"]

POINTS_AT_FIRST: Final = 40
POINTS_AT_MOST: Final = 300
Fact = tuple[RationalFunction, Comparison]
"""A hypothesis: this ratio, compared with nought."""
At = Callable[[Point], Fraction | None]


@dataclass(slots=True)
class Ground:
    """What is known of the letters.

    Parameters
    ----------
    counts : frozenset of str
        Letters that are whole numbers from 1.
    given : tuple of Fact
        Hypotheses.
    """

    counts: frozenset[str]
    given: tuple[Fact, ...]
    put: dict[str, RationalFunction] = field(default_factory=dict)  # letters written as positive rests
    weak: set[str] = field(default_factory=set)  # rests that may be nought
    same: dict[str, RationalFunction] = field(default_factory=dict)  # letters that an equation fixes
    above: list[RationalFunction] = field(default_factory=list)  # hypotheses that are above nought
    known: dict[RationalFunction, int] = field(default_factory=dict)  # factors whose sign is given
    tests: list[tuple[At, Comparison]] = field(default_factory=list)  # the hypotheses, ready to be evaluated

    def __post_init__(self) -> None:
        self.tests = [(function.evaluator(), sign) for function, sign in self.given]
        for function, sign in self.given:
            self._take(function, sign)
        for count in self.counts:
            if count not in self.put:
                rest = RationalFunction.letter(f"δ{count}")
                self.put[count] = rest + 1
                self.weak.add(f"δ{count}")

    def _take(self, function: RationalFunction, sign: Comparison) -> None:
        number, factors = (function.numerator * function.denominator).factors()
        if sign in {"<", "≤"}:
            number, sign = -number, ">" if sign == "<" else "≥"
        rest = RationalFunction.constant(1 if number > 0 else -1)
        for factor, power in factors:
            rest = rest * factor ** (0 if factor.one_signed else power)
        if sign == "=":
            self._fix(rest)
        elif sign in {">", "≥"}:
            before, inner = rest.factors()
            if sign == ">" and [power for _, power in inner] == [1]:
                self.known[inner[0][0]] = 1 if before > 0 else -1
            if sign == ">":
                self.above.append(rest)
            self._order(rest, weak=sign == "≥")

    def _fix(self, rest: RationalFunction) -> None:
        """Solve ``rest = 0`` for a letter; no value of `same` holds a letter that another one fixes."""
        rest = rest.substitute(self.same).numerator
        for letter in sorted(rest.letters):
            low, *high = rest.coefficients(letter)
            if len(high) == 1 and high[0].one_signed:
                put = {letter: -low / high[0]}
                self.same = {name: each.substitute(put) for name, each in self.same.items()} | put
                return

    def _order(self, rest: RationalFunction, *, weak: bool) -> None:
        """Write a letter of ``rest > 0`` as what it must exceed and a positive rest."""
        rest = rest.substitute(self.put)
        for letter in sorted(rest.letters):
            low, *high = rest.numerator.coefficients(letter)
            below = -low
            if letter not in self.put and len(high) == 1 and high[0].one_signed > 0 and below.one_signed > 0:
                extra = f"δ{len(self.put) + 1}"
                self.put = {
                    name: each.substitute({letter: (RationalFunction.letter(extra) + below) / high[0]})
                    for name, each in self.put.items()
                }
                self.put[letter] = (RationalFunction.letter(extra) + below) / high[0]
                if weak:
                    self.weak.add(extra)
                return

    def signed(self, factor: RationalFunction) -> tuple[int, bool] | None:
        """The sign of a factor, and whether it is never nought; None if it is not plain."""
        if sign := factor.one_signed:
            return sign, True
        if factor in self.known:
            return self.known[factor], True
        put = factor.substitute(self.put)
        sign = put.one_signed
        if not sign:
            return None
        strict = any(not (set(powers) & self.weak) for powers, _ in put.terms())
        return sign, strict

    def accepts(self, point: Point) -> bool:
        """Whether the hypotheses hold at a point."""
        return all(holds(at(point), sign) for at, sign in self.tests)

    def points(self, function: RationalFunction) -> Iterator[Point]:
        """Small points that meet the hypotheses, with equations put in."""
        letters = function.letters | {letter for each, _ in self.given for letter in each.letters}
        fixed = {letter: each.evaluator() for letter, each in self.same.items() if each.letters <= letters}
        for point in small_points(letters - set(fixed), self.counts & letters, at_most=POINTS_AT_MOST):
            whole = dict(point)
            for letter, at in fixed.items():
                whole[letter] = at(whole) or Fraction(0)
            if min(whole.values(), default=Fraction(1)) > 0 and self.accepts(whole):
                yield whole


def holds(value: Fraction | None, sign: Comparison) -> bool:
    """Whether a value stands in a relation to nought; never where it has none.

    Parameters
    ----------
    value : Fraction or None
        The value.
    sign : str
        The relation.

    Examples
    --------
    >>> holds(Fraction(1), ">"), holds(None, ">")
    (True, False)
    """
    if value is None:
        return False
    match sign:
        case "=" | "≈":
            return value == 0
        case "≠":
            return value != 0
        case ">":
            return value > 0
        case "<":
            return value < 0
        case "≥":
            return value >= 0
        case "≤":
            return value <= 0
