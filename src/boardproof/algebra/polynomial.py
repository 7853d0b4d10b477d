"""Exact ratios of polynomials in named letters."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from boardproof.algebra.letter_order import natural
from boardproof.algebra.product import powered, times
from boardproof.algebra.ring import (
    LETTERS,
    Numeric,
    constant_in,
    irreducible,
    lift,
    number_of,
    one_sign,
    powers_of,
    ring,
    share,
)
from boardproof.algebra.substitution import compiled, composed, value_at

__all__ = ["RationalFunction", "reduced"]


@dataclass(frozen=True, slots=True, eq=False)
class RationalFunction:
    """An immutable ratio of two coprime integer polynomials in named letters.

    Make one with `letter` and `constant`; calculate with ``+ - * / **`` among each other, int and Fraction.
    Equality and hash go by value.

    Parameters
    ----------
    over, under : fmpz_mpoly
        For this module only: coprime, `under` with a positive leading coefficient.
    over_mask, under_mask : int
        For this module only: bit k is set if the letter in slot k may occur.

    Examples
    --------
    >>> r_1, r_2 = RationalFunction.letter("r_1"), RationalFunction.letter("r_2")
    >>> 1 / (1 / r_1 + 1 / r_2) == r_1 * r_2 / (r_1 + r_2)
    True
    """

    over: Any
    under: Any
    over_mask: int
    under_mask: int

    @staticmethod
    def letter(name: str) -> RationalFunction:
        """The letter itself; any text is a letter."""
        slot = LETTERS.slot(name)
        size = LETTERS.size
        return RationalFunction(ring(size).gen(slot), constant_in(1, size), 1 << slot, 0)

    @staticmethod
    def constant(value: Numeric) -> RationalFunction:
        """A number."""
        exact, size = Fraction(value), LETTERS.size
        return RationalFunction(
            ring(size).constant(exact.numerator), ring(size).constant(exact.denominator), 0, 0
        )

    def _with(self, other: RationalFunction) -> tuple[Any, Any, Any, Any]:
        """Both ratios in one ring."""
        if self.over.context() is other.over.context():
            return self.over, self.under, other.over, other.under
        size = max(self.over.context().nvars(), other.over.context().nvars())
        return (
            lift(self.over, size),
            lift(self.under, size),
            lift(other.over, size),
            lift(other.under, size),
        )

    def __add__(self, other: RationalFunction | Numeric) -> RationalFunction:
        """The sum (one gcd, of the denominators; a second only if they share a factor)."""
        other = _as_function(other)
        a, b, c, d = self._with(other)
        over_mask, under_mask = (
            self.over_mask | other.over_mask | self.under_mask | other.under_mask,
            self.under_mask | other.under_mask,
        )
        if b == d:
            over = a + c
            over, under = share(over, over_mask, b, under_mask)
        else:
            b_rest, d_rest = share(b, self.under_mask, d, other.under_mask)
            over = times(a, d_rest) + times(c, b_rest)
            under = times(b, d_rest)
            if b_rest is not b:
                over, under = share(over, over_mask, under, under_mask)
        return _made(over, under, over_mask, under_mask)

    def __mul__(self, other: RationalFunction | Numeric) -> RationalFunction:
        """The product (common factors are taken out crosswise before multiplying)."""
        other = _as_function(other)
        a, b, c, d = self._with(other)
        a, d = share(a, self.over_mask, d, other.under_mask)
        c, b = share(c, other.over_mask, b, self.under_mask)
        return _made(
            times(a, c), times(b, d), self.over_mask | other.over_mask, self.under_mask | other.under_mask
        )

    def reciprocal(self) -> RationalFunction:
        """One over it; ZeroDivisionError if it is nought."""
        if self.is_zero:
            raise ZeroDivisionError("one over nought")
        return _made(self.under, self.over, self.under_mask, self.over_mask)

    def __truediv__(self, other: RationalFunction | Numeric) -> RationalFunction:
        """The quotient; ZeroDivisionError if `other` is nought."""
        return self * _as_function(other).reciprocal()

    def __neg__(self) -> RationalFunction:
        """Minus this."""
        return RationalFunction(-self.over, self.under, self.over_mask, self.under_mask)

    def __sub__(self, other: RationalFunction | Numeric) -> RationalFunction:
        """The difference."""
        return self + -_as_function(other)

    def __pow__(self, exponent: int) -> RationalFunction:
        """A whole power; ZeroDivisionError for a negative power of nought."""
        base = self if exponent >= 0 else self.reciprocal()
        one = constant_in(1, base.over.context().nvars())
        size = abs(exponent)
        return _made(
            powered(base.over, size, one), powered(base.under, size, one), base.over_mask, base.under_mask
        )

    def __radd__(self, other: Numeric) -> RationalFunction:
        """A number plus this."""
        return self + other

    def __rsub__(self, other: Numeric) -> RationalFunction:
        """A number less this."""
        return -self + other

    def __rmul__(self, other: Numeric) -> RationalFunction:
        """A number times this."""
        return self * other

    def __rtruediv__(self, other: Numeric) -> RationalFunction:
        """A number over this."""
        return self.reciprocal() * other

    def __eq__(self, other: object) -> bool:
        """Equal as ratios."""
        if isinstance(other, int | Fraction):
            other = RationalFunction.constant(other)
        if not isinstance(other, RationalFunction):
            return NotImplemented
        a, b, c, d = self._with(other)
        return bool(a == c and b == d)

    def __hash__(self) -> int:
        """Hash by value, whichever ring it was made in."""
        return hash((self._key(self.over), self._key(self.under)))

    @staticmethod
    def _key(poly: Any) -> frozenset[tuple[tuple[tuple[str, int], ...], int]]:
        return frozenset(
            (tuple(powers_of(exponents).items()), int(number)) for exponents, number in poly.terms()
        )

    def __bool__(self) -> bool:
        """Whether it is anything but nought."""
        return not self.is_zero

    def __repr__(self) -> str:
        """For programmers and failing tests."""
        over, under = _text(self.over), _text(self.under)
        return over if under == "1" else f"({over})/({under})"

    @property
    def is_zero(self) -> bool:
        """Whether it is nought for all values."""
        return bool(self.over.is_zero())

    @property
    def numerator(self) -> RationalFunction:
        """The polynomial above."""
        return RationalFunction(self.over, constant_in(1, self.over.context().nvars()), self.over_mask, 0)

    @property
    def denominator(self) -> RationalFunction:
        """The polynomial below; its leading coefficient is positive."""
        return RationalFunction(self.under, constant_in(1, self.under.context().nvars()), self.under_mask, 0)

    @property
    def letters(self) -> frozenset[str]:
        """The letters that occur."""
        return frozenset(
            LETTERS.names[place]
            for poly in (self.over, self.under)
            for place, power in enumerate(poly.degrees())
            if power > 0  # nought has degree -1 in every letter
        )

    @property
    def as_number(self) -> Fraction | None:
        """Its value if it holds no letter, else None."""
        if self.over.is_constant() and self.under.is_constant():
            return Fraction(number_of(self.over), number_of(self.under))
        return None

    def terms(self) -> tuple[tuple[Mapping[str, int], int], ...]:
        """Terms of the numerator: powers of letters and the whole number before them, highest first."""
        return tuple((powers_of(exponents), int(number)) for exponents, number in self.over.terms())

    def evaluator(self) -> Callable[[Mapping[str, Numeric]], Fraction | None]:
        """A function of the letters' values, quick for many points; None where something is over nought."""
        above, below = compiled(self.over), compiled(self.under)

        def at(values: Mapping[str, Numeric]) -> Fraction | None:
            under = value_at(below, values)
            return Fraction(value_at(above, values)) / under if under else None

        return at

    def evaluate(self, values: Mapping[str, Numeric]) -> Fraction:
        """Its value with numbers for letters.

        Raises
        ------
        ZeroDivisionError
            If the denominator is nought there.
        KeyError
            If a letter has no value.
        """
        return Fraction(value_at(compiled(self.over), values)) / Fraction(
            value_at(compiled(self.under), values)
        )

    def substitute(self, values: Mapping[str, RationalFunction | Numeric]) -> RationalFunction:
        """The same with letters replaced, all at once.

        Raises
        ------
        ZeroDivisionError
            If the denominator becomes nought.
        """
        ratios = ((LETTERS.slot(name), _as_function(value)) for name, value in values.items())
        put = {slot: (ratio.over, ratio.under) for slot, ratio in ratios}
        if not any((self.over_mask | self.under_mask) >> place & 1 for place in put):
            return self
        return reduced(*composed(self.over, put)) / reduced(*composed(self.under, put))

    def factors(self) -> tuple[Fraction, tuple[tuple[RationalFunction, int], ...]]:
        """A number and the irreducible factors of the numerator with their powers, shortest first.

        Notes
        -----
        The number also carries the sign, and the denominator if that has no letter. Each factor has a positive
        coefficient before its first term in writing order.

        Examples
        --------
        >>> x, y = RationalFunction.letter("x"), RationalFunction.letter("y")
        >>> (2 * x**2 - 2 * y**2).factors()
        (Fraction(2, 1), ((x + y, 1), (x - y, 1)))
        """
        if self.over.is_zero():
            return Fraction(0), ()
        one = constant_in(1, self.over.context().nvars())
        sign, found = irreducible(self.over)
        result = [(RationalFunction(factor, one, _mask(factor), 0), power) for factor, power in found]
        if len(result) > 1:
            result.sort(key=lambda pair: (len(pair[0].over), repr(pair[0])))
        under = number_of(self.under) if self.under.is_constant() else 1
        return Fraction(sign, under), tuple(result)

    @property
    def one_signed(self) -> int:
        """+1 or -1 if all coefficients make it so for all positive values, else 0."""
        return one_sign(self.over) * one_sign(self.under)

    def derivative(self, letter: str) -> RationalFunction:
        """The derivative with respect to a letter."""
        slot = LETTERS.slot(letter)
        if not (self.over_mask | self.under_mask) >> slot & 1:
            return RationalFunction.constant(0)
        a, b = self.over, self.under
        above = times(a.derivative(slot), b) - times(a, b.derivative(slot))
        mask = self.over_mask | self.under_mask
        over, under = share(above, mask, times(b, b), mask)
        return _made(over, under, mask, mask)

    def degree(self, letter: str) -> int:
        """The highest power of a letter in the numerator."""
        slot = LETTERS.slot(letter)
        degrees = self.over.degrees()
        return int(degrees[slot]) if slot < len(degrees) and not self.over.is_zero() else 0

    def coefficients(self, letter: str) -> tuple[RationalFunction, ...]:
        """The numerator as a polynomial in one letter: coefficients from power 0 up, free of the letter.

        Examples
        --------
        >>> R, r = RationalFunction.letter("R"), RationalFunction.letter("r")
        >>> ((R + r) ** 2).coefficients("R")
        (r^2, 2*r, 1)
        """
        slot, whole = LETTERS.slot(letter), self.over.context()
        parts: list[dict[tuple[int, ...], Any]] = [{} for _ in range(self.degree(letter) + 1)]
        for exponents, number in self.over.terms():
            power = int(exponents[slot]) if slot < len(exponents) else 0
            rest = tuple(0 if place == slot else each for place, each in enumerate(exponents))
            parts[power][rest] = number
        one = constant_in(1, whole.nvars())
        return tuple(RationalFunction(whole.from_dict(part), one, self.over_mask, 0) for part in parts)


def _as_function(value: RationalFunction | Numeric) -> RationalFunction:
    return value if isinstance(value, RationalFunction) else RationalFunction.constant(value)


def _made(over: Any, under: Any, over_mask: int, under_mask: int) -> RationalFunction:
    """A ratio of coprime polynomials with the sign above."""
    if int(under.leading_coefficient()) < 0:
        over, under = -over, -under
    if over.is_zero():
        return RationalFunction(over, constant_in(1, over.context().nvars()), 0, 0)
    return RationalFunction(over, under, over_mask, under_mask)


def _text(poly: Any) -> str:
    """A polynomial in plain ASCII, in writing order of its letters (for programmers)."""
    pieces: list[tuple[tuple[object, ...], str, int]] = []
    for exponents, number in poly.terms():
        powers = sorted(powers_of(exponents).items(), key=lambda pair: natural(pair[0]))
        degree = sum(power for _, power in powers)
        key: tuple[object, ...] = (-degree, tuple((natural(name), -power) for name, power in powers))
        letters = [name if power == 1 else f"{name}^{power}" for name, power in powers]
        size = abs(int(number))
        pieces.append(
            (key, "*".join(([str(size)] if size != 1 or not letters else []) + letters), int(number))
        )
    pieces.sort(key=lambda piece: piece[0])
    text = "".join((" + " if number > 0 else " - ") + piece for _, piece, number in pieces)
    return ("-" + text[3:] if text.startswith(" - ") else text[3:]) or "0"


def _mask(poly: Any) -> int:
    """The letters that occur, one bit each."""
    return sum(1 << place for place, power in enumerate(poly.degrees()) if power > 0)


def reduced(over: Any, under: Any) -> RationalFunction:
    """A ratio of polynomials of one ring, in lowest terms.

    Parameters
    ----------
    over, under : fmpz_mpoly
        Of one ring.
    """
    mask = (1 << over.context().nvars()) - 1
    above, below = share(over, mask, under, mask)
    return _made(above, below, mask, mask)
