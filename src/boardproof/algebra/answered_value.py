"""Arithmetic in a typed answer: sums, products, powers, roots, parts side by side; exact wherever it can be."""

from __future__ import annotations

import math
from fractions import Fraction
from itertools import product
from typing import Final, NamedTuple

from boardproof.algebra.answered_numbers import Written, check_size
from boardproof.algebra.answered_text import Unclear
from boardproof.algebra.answered_tokens import Piece
from boardproof.algebra.answered_units import Kind, TypedUnit, times_kind
from boardproof.algebra.answered_words import HIGHER, LOWER
from boardproof.record import record

__all__ = ["NONE", "Number", "Reading", "power_of", "root_of", "size_of", "values_of"]

Number = Fraction | float
NONE: Final[Kind] = (0, 0, 0, 0, 0)
DEEPEST: Final = 60


class Reading(NamedTuple):
    """One reading of a whole answer.

    Parameters
    ----------
    value : Fraction or float
        The number before its unit; exact unless a root, a logarithm or a broken power stands in it.
    unit : TypedUnit or None
        As typed; None if there was none.
    least, most : int
        Significant figures; nought if not counted.
    prefix : Fraction or None
        Of a prefix that stands where a unit should.
    """

    value: Number
    unit: TypedUnit | None = None
    least: int = 0
    most: int = 0
    prefix: Fraction | None = None

    def value_in(self, asked: TypedUnit) -> Number:
        """The number in the unit asked for; without a unit it is taken to be in it.

        Parameters
        ----------
        asked : TypedUnit
            What the question asks for.
        """
        if self.unit is not None:
            same = self.unit.scale == asked.scale
            return self.value if same else self.value * (self.unit.scale / asked.scale)
        return self.value if self.prefix is None else self.value * (self.prefix / asked.scale)


@record
class _Measured:
    value: Number
    kind: Kind = NONE


def values_of(pieces: tuple[Piece, ...]) -> tuple[Reading, ...]:
    """Every fair reading of one answer.

    Parameters
    ----------
    pieces : tuple of Piece
        Numbers, units and signs; empty words may stand among them.

    Raises
    ------
    Unclear
        If they are no value.

    Examples
    --------
    >>> from boardproof.algebra.answered_tokens import pieces_of
    >>> [str(each.value) for each in values_of(pieces_of("12 V / 8 ohm"))]
    ['3/2']
    """
    pieces = tuple(each for each in pieces if not (each.kind == "word" and each.text in {"a", "i", "I", "."}))
    if not pieces:
        raise Unclear("no number is written")
    negated = False
    while pieces and pieces[-1].text in {LOWER, HIGHER}:
        negated = negated or pieces[-1].text == LOWER
        pieces = pieces[:-1]
    if len(pieces) > 1 and pieces[0].kind == "unit":
        after = pieces[-1].kind in {"unit", "prefix"}
        pieces = pieces[1:] if after else (*pieces[1:], pieces[0])
    if negated and pieces and pieces[0].text in {"-", "+"}:
        negated = False
    numbers = [at for at, each in enumerate(pieces) if each.kind == "number"]
    found = []
    for chosen in product(*(pieces[at].readings for at in numbers)):
        reading = _value(pieces, dict(zip(numbers, chosen, strict=True)))
        if negated:
            reading = Reading(-reading.value, reading.unit, reading.least, reading.most, reading.prefix)
        found.append(reading)
    return tuple(found)


def _value(pieces: tuple[Piece, ...], chosen: dict[int, Written]) -> Reading:
    """One reading with one choice for each doubtful number."""
    unit, prefix = None, None
    last = pieces[-1]
    units = [at for at, each in enumerate(pieces) if each.kind == "unit"]
    if last.kind == "prefix":
        prefix, pieces = last.unit.scale if last.unit else None, pieces[:-1]
    elif units == [len(pieces) - 1]:
        unit, pieces, units = last.unit, pieces[:-1], []
    elif units:
        _each_carries(pieces)
    if prefix is not None and units:
        raise Unclear("a unit stands on some of its numbers only")
    single = pieces[1:] if pieces and pieces[0].text in {"-", "+"} else pieces
    if len(single) == 1 and single[0].kind == "endless":
        return Reading(math.inf if pieces[0].text != "-" else -math.inf, unit, prefix=prefix)
    made = _Sum(pieces, chosen).whole()
    if units:
        unit = TypedUnit(made.kind)
    counted = (
        chosen[len(pieces) - 1] if len(single) == 1 and single[0].kind == "number" else Written(Fraction(0))
    )
    return Reading(made.value, unit, counted.least, counted.most, prefix)


def _each_carries(pieces: tuple[Piece, ...]) -> None:
    """Stop unless a unit stands behind every number that is no power."""
    for at, each in enumerate(pieces):
        if each.kind != "number":
            continue
        power = at and (pieces[at - 1].text == "^" or (at > 1 and pieces[at - 2].text == "^"))
        power = power or (at > 2 and pieces[at - 2].text == "(" and pieces[at - 3].text == "^")
        if not power and (at + 1 == len(pieces) or pieces[at + 1].kind != "unit"):
            raise Unclear("a unit stands on some of its numbers only")


class _Sum:
    """Recursive descent with a bound: power, then side by side, then product, then sum."""

    def __init__(self, pieces: tuple[Piece, ...], chosen: dict[int, Written]) -> None:
        self.pieces = pieces
        self.chosen = chosen
        self.at = 0
        self.depth = 0

    def whole(self) -> _Measured:
        found = self.sum()
        if self.at != len(self.pieces):
            raise Unclear("something behind the number is no unit and no sign")
        return found

    def text(self) -> str:
        if self.at == len(self.pieces):
            return ""
        piece = self.pieces[self.at]
        return piece.text.lower().strip() if piece.kind in {"sign", "function"} else f" {piece.kind}"

    def sum(self) -> _Measured:
        self.depth += 1
        if self.depth > DEEPEST:
            raise Unclear("it is nested too deeply")
        found = self.product()
        while (sign := self.text()) in {"+", "-"}:
            self.at += 1
            other = self.product(first=False)
            if other.kind != found.kind:
                raise Unclear("it adds unlike quantities")
            found = self.sized(
                found.value + other.value if sign == "+" else found.value - other.value, found.kind
            )
        self.depth -= 1
        return found

    def product(self, *, first: bool = True) -> _Measured:
        found = self.beside(signed=first)
        while True:
            sign = self.text()
            if sign in {"*", "x", "/"}:
                self.at += 1
                other = self.beside(signed=True)
            elif sign in {"(", "sqrt", "√", "ln", "exp"}:
                sign, other = "*", self.beside(signed=False)
            else:
                return found
            found = self.times(found, other, over=sign == "/")

    def times(self, one: _Measured, other: _Measured, *, over: bool) -> _Measured:
        kind = times_kind(one.kind, other.kind, -1 if over else 1)
        if over and not other.value:
            raise Unclear("it divides by nought")
        value = one.value / other.value if over else one.value * other.value
        return self.sized(value, kind)

    def beside(self, *, signed: bool) -> _Measured:
        found = self.signed(signed=signed)
        while self.text() in {"||", "//"}:
            self.at += 1
            other = self.signed(signed=True)
            if other.kind != found.kind:
                raise Unclear("it sets unlike quantities side by side")
            total = found.value + other.value
            if not total:
                raise Unclear("it divides by nought")
            found = self.sized(found.value * other.value / total, found.kind)
        return found

    def signed(self, *, signed: bool) -> _Measured:
        if self.text() in {"+", "-"}:
            if not signed:
                raise Unclear("two signs stand in a row")
            negative = self.text() == "-"
            self.at += 1
            if self.text() in {"+", "-"}:
                raise Unclear("two signs stand in a row")
            found = self.power()
            return _Measured(-found.value, found.kind) if negative else found
        return self.power()

    def power(self) -> _Measured:
        self.depth += 1
        if self.depth > DEEPEST:
            raise Unclear("it is nested too deeply")
        found = self.primary()
        if self.text() == "^":
            self.at += 1
            exponent = self.signed(signed=True)
            if exponent.kind != NONE:
                raise Unclear("a power has a unit")
            found = self.raised(found, exponent.value)
        if self.at < len(self.pieces) and self.pieces[self.at].kind == "unit":
            found = self.measured(found)
        self.depth -= 1
        return found

    def measured(self, found: _Measured) -> _Measured:
        unit = self.pieces[self.at].unit
        assert unit is not None
        self.at += 1
        return self.times(found, _Measured(unit.scale, unit.kind), over=False)

    def raised(self, base: _Measured, exponent: Number) -> _Measured:
        value = power_of(base.value, exponent)
        if base.kind == NONE:
            return self.sized(value)
        if exponent == Fraction(1, 2) and not any(each % 2 for each in base.kind):
            volt, ampere, second, metre, degree = base.kind
            return self.sized(value, (volt // 2, ampere // 2, second // 2, metre // 2, degree // 2))
        if exponent != int(exponent):
            raise Unclear("a unit has a broken power")
        return self.sized(value, times_kind(NONE, base.kind, int(exponent)))

    def primary(self) -> _Measured:
        if self.at == len(self.pieces):
            raise Unclear("it ends where a number should stand")
        piece = self.pieces[self.at]
        self.at += 1
        if piece.kind == "number":
            found = _Measured(self.chosen[self.at - 1].value)
            follows = self.at < len(self.pieces) and self.pieces[self.at].kind == "unit"
            return self.measured(found) if follows else found
        if piece.text == "(":
            found = self.sum()
            if self.text() != ")":
                raise Unclear("a bracket is not closed")
            self.at += 1
            return found
        if piece.kind == "function":
            return self.function(piece.text.lower())
        raise Unclear("a word or a sign stands where a number should")

    def function(self, name: str) -> _Measured:
        inner = self.power()
        if name in {"sqrt", "√"}:
            return self.raised(_Measured(inner.value, inner.kind), Fraction(1, 2))
        if inner.kind != NONE:
            raise Unclear("a logarithm or exponential has a unit")
        if name == "ln":
            if inner.value <= 0:
                raise Unclear("it takes the logarithm of what is not above nought")
            return self.sized(math.log(inner.value))
        if size_of(inner.value) > 230:
            raise Unclear("a number on the way is too large or too small")
        return self.sized(math.exp(inner.value))

    @staticmethod
    def sized(value: Number, kind: Kind = NONE) -> _Measured:
        check_size(value)
        return _Measured(value, kind)


def size_of(value: Number) -> Number:
    """The size without the sign.

    Parameters
    ----------
    value : Fraction or float
        Any number.

    Examples
    --------
    >>> size_of(Fraction(-3, 2))
    Fraction(3, 2)
    """
    return -value if value < 0 else value


def root_of(value: Number) -> Number:
    """The square root: exact if there is an exact one.

    Parameters
    ----------
    value : Fraction or float
        Not below nought.

    Examples
    --------
    >>> root_of(Fraction(9, 4)), root_of(Fraction(2))
    (Fraction(3, 2), 1.4142135623730951)
    """
    if value < 0:
        raise Unclear("it takes the root of a negative number")
    if isinstance(value, Fraction):
        top, bottom = math.isqrt(value.numerator), math.isqrt(value.denominator)
        if top * top == value.numerator and bottom * bottom == value.denominator:
            return Fraction(top, bottom)
    return math.sqrt(value)


def power_of(base: Number, exponent: Number) -> Number:
    """A power; its size is estimated before it is worked out.

    Parameters
    ----------
    base, exponent : Fraction or float
        Any numbers.

    Raises
    ------
    Unclear
        If it is too large or too small, or none.

    Examples
    --------
    >>> power_of(Fraction(2), Fraction(-2))
    Fraction(1, 4)
    """
    if not base:
        if exponent < 0:
            raise Unclear("it divides by nought")
        return Fraction(0 if exponent else 1)
    magnitude = size_of(base)
    if size_of(magnitude - 1) > 1e-15 and abs(float(exponent)) * abs(math.log10(magnitude)) > 100.5:
        raise Unclear("a power is too large or too small")
    if exponent == Fraction(1, 2):
        return root_of(base)
    if isinstance(base, Fraction) and isinstance(exponent, Fraction) and exponent.denominator == 1:
        bits = max(base.numerator.bit_length(), base.denominator.bit_length())
        if bits * abs(exponent.numerator) <= 4000:
            raised: Fraction = base**exponent.numerator
            return raised
        if abs(exponent.numerator) > 10**9:
            raise Unclear("a power is too large or too small")
        return float(base) ** exponent.numerator
    if base < 0:
        raise Unclear("it takes the root of a negative number")
    root: float = float(base) ** float(exponent)
    return root
