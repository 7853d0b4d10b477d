"""Exact ratios of polynomials in named letters: the only door to python-flint.

All letters share one ring that grows; a polynomial made in a smaller ring is lifted when it meets one from a
larger. Two polynomials without a common letter have no common factor but a number, so none is looked for.
Products beyond `TERMS_AT_MOST` terms are refused before they are made (flint cannot be interrupted).
"""

from __future__ import annotations

import math
import re
import threading
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cache, lru_cache
from typing import Any, Final

import flint

__all__ = [
    "TERMS_AT_MOST",
    "RationalFunction",
    "TooLarge",
    "allow_terms",
    "natural",
    "raw_matrix",
    "raw_rows",
    "reduced",
]

TERMS_AT_MOST: Final = 5000
_limit = [TERMS_AT_MOST]
FIRST_RING: Final = 24


class TooLarge(Exception):  # a state of the calculation, not a slip of a programmer
    """The result would have more terms than `TERMS_AT_MOST`; callers say so in a finding."""


@lru_cache(maxsize=4096)
def natural(letter: str) -> tuple[object, ...]:
    """Key that puts letters into writing order: counts, then E, I, V, U, P, then r, R; subscripts ascending.

    Parameters
    ----------
    letter : str
        A name in normal form.

    Examples
    --------
    >>> sorted(["R", "r_10", "r_2", "E_1", "n"], key=natural)
    ['n', 'E_1', 'r_2', 'r_10', 'R']
    """
    stem, _, subscript = letter.partition("_")
    group = (
        0
        if len(stem) == 1 and stem in "kmnps"
        else {"E": 1, "I": 2, "U": 3, "V": 3, "P": 4, "r": 6, "R": 7}.get(stem, 5)
    )
    parts = tuple(
        (0, int(piece), "") if piece.isdigit() else (1, 0, piece)
        for piece in re.split(r"([0-9]+)", subscript)
        if piece
    )
    return (group, stem, parts)


class _Letters:
    """The letters met so far and the ring that holds them."""

    def __init__(self) -> None:
        self.index: dict[str, int] = {}
        self.names: list[str] = []
        self.size = FIRST_RING
        self.lock = threading.Lock()

    def slot(self, letter: str) -> int:
        found = self.index.get(letter)
        if found is not None:
            return found
        with self.lock:
            found = self.index.get(letter)
            if found is None:
                found = len(self.names)
                self.names.append(letter)
                while found >= self.size:
                    self.size *= 2
                self.index[letter] = found
        return found


LETTERS: Final = _Letters()


@cache
def _ring(size: int) -> Any:
    """The ring with generators x0 ... (flint keeps only the names that tell rings apart)."""
    return flint.fmpz_mpoly_ctx.get(tuple(f"x{place}" for place in range(size)), flint.Ordering.degrevlex)


def _lift(poly: Any, size: int) -> Any:
    ring = _ring(size)
    return poly if poly.context() is ring else poly.project_to_context(ring)


@cache
def _constant(number: int, size: int) -> Any:
    return _ring(size).constant(number)


def _times(left: Any, right: Any) -> Any:
    if len(left) * len(right) > 40 * _limit[0]:
        raise TooLarge
    product = left * right
    if len(product) > _limit[0]:
        raise TooLarge
    return product


def allow_terms(most: int = TERMS_AT_MOST) -> None:
    """Set the number of terms at which products are refused; more only in a process that may be killed."""
    _limit[0] = most


def _powered(base: Any, exponent: int, one: Any) -> Any:
    result = one
    for _ in range(exponent):
        result = _times(result, base)
    return result


def _share(left: Any, left_mask: int, right: Any, right_mask: int) -> tuple[Any, Any]:
    """Both polynomials without their common factor."""
    if left_mask & right_mask:
        common = left.gcd(right)
        if common.is_one():
            return left, right
        return left / common, right / common
    number = (
        math.gcd(int(left.content()), int(right.content()))
        if left_mask or right_mask
        else math.gcd(int(_number(left)), int(_number(right)))
    )
    return (left, right) if number in {0, 1} else (left / number, right / number)


def _number(poly: Any) -> int:
    """Value of a polynomial without letters."""
    return 0 if poly.is_zero() else int(poly.leading_coefficient())


Numeric = int | Fraction


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
        return RationalFunction(_ring(size).gen(slot), _constant(1, size), 1 << slot, 0)

    @staticmethod
    def constant(value: Numeric) -> RationalFunction:
        """A number."""
        exact, size = Fraction(value), LETTERS.size
        return RationalFunction(
            _ring(size).constant(exact.numerator), _ring(size).constant(exact.denominator), 0, 0
        )

    def _with(self, other: RationalFunction) -> tuple[Any, Any, Any, Any]:
        """Both ratios in one ring."""
        if self.over.context() is other.over.context():
            return self.over, self.under, other.over, other.under
        size = max(self.over.context().nvars(), other.over.context().nvars())
        return (
            _lift(self.over, size),
            _lift(self.under, size),
            _lift(other.over, size),
            _lift(other.under, size),
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
            over, under = _share(over, over_mask, b, under_mask)
        else:
            b_rest, d_rest = _share(b, self.under_mask, d, other.under_mask)
            over = _times(a, d_rest) + _times(c, b_rest)
            under = _times(b, d_rest)
            if b_rest is not b:
                over, under = _share(over, over_mask, under, under_mask)
        return _made(over, under, over_mask, under_mask)

    def __mul__(self, other: RationalFunction | Numeric) -> RationalFunction:
        """The product (common factors are taken out crosswise before multiplying)."""
        other = _as_function(other)
        a, b, c, d = self._with(other)
        a, d = _share(a, self.over_mask, d, other.under_mask)
        c, b = _share(c, other.over_mask, b, self.under_mask)
        return _made(
            _times(a, c), _times(b, d), self.over_mask | other.over_mask, self.under_mask | other.under_mask
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
        one = _constant(1, base.over.context().nvars())
        size = abs(exponent)
        return _made(
            _powered(base.over, size, one), _powered(base.under, size, one), base.over_mask, base.under_mask
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
    def _key(poly: Any) -> frozenset[tuple[tuple[tuple[int, int], ...], int]]:
        return frozenset((_sparse(exponents), int(number)) for exponents, number in poly.terms())

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
        return RationalFunction(self.over, _constant(1, self.over.context().nvars()), self.over_mask, 0)

    @property
    def denominator(self) -> RationalFunction:
        """The polynomial below; its leading coefficient is positive."""
        return RationalFunction(self.under, _constant(1, self.under.context().nvars()), self.under_mask, 0)

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
            return Fraction(_number(self.over), _number(self.under))
        return None

    def terms(self) -> tuple[tuple[Mapping[str, int], int], ...]:
        """Terms of the numerator: powers of letters and the whole number before them, highest first."""
        return tuple((_powers(exponents), int(number)) for exponents, number in self.over.terms())

    def evaluator(self) -> Callable[[Mapping[str, Numeric]], Fraction | None]:
        """A function of the letters' values, quick for many points; None where something is over nought."""
        above, below = _compiled(self.over), _compiled(self.under)

        def at(values: Mapping[str, Numeric]) -> Fraction | None:
            under = _at(below, values)
            return Fraction(_at(above, values)) / under if under else None

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
        return Fraction(_at(_compiled(self.over), values)) / Fraction(_at(_compiled(self.under), values))

    def substitute(self, values: Mapping[str, RationalFunction | Numeric]) -> RationalFunction:
        """The same with letters replaced, all at once.

        Raises
        ------
        ZeroDivisionError
            If the denominator becomes nought.
        """
        put = {LETTERS.slot(name): _as_function(value) for name, value in values.items()}
        if not any((self.over_mask | self.under_mask) >> place & 1 for place in put):
            return self
        return _composed(self.over, put) / _composed(self.under, put)

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
        slots = _slots(self.over)
        size = self.over.context().nvars()
        small = flint.fmpz_mpoly_ctx.get(tuple(f"x{place}" for place in slots) or ("x0",), flint.Ordering.lex)
        number, found = self.over.project_to_context(small).factor()
        sign, result = int(number), []
        for irreducible, power in found:
            turned = int(irreducible.leading_coefficient()) < 0
            poly = -irreducible if turned else irreducible
            sign *= -1 if turned and power % 2 else 1
            mask = sum(1 << place for place in slots)
            factor = RationalFunction(poly.project_to_context(_ring(size)), _constant(1, size), mask, 0)
            result.append((factor, int(power)))
        if len(result) > 1:
            result.sort(key=lambda pair: (len(pair[0].over), repr(pair[0])))
        under = _number(self.under) if self.under.is_constant() else 1
        return Fraction(sign, under), tuple(result)

    @property
    def one_signed(self) -> int:
        """+1 or -1 if all coefficients make it so for all positive values, else 0."""
        return _one_sign(self.over) * _one_sign(self.under)

    def derivative(self, letter: str) -> RationalFunction:
        """The derivative with respect to a letter."""
        slot = LETTERS.slot(letter)
        if not (self.over_mask | self.under_mask) >> slot & 1:
            return RationalFunction.constant(0)
        a, b = self.over, self.under
        above = _times(a.derivative(slot), b) - _times(a, b.derivative(slot))
        mask = self.over_mask | self.under_mask
        over, under = _share(above, mask, _times(b, b), mask)
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
        slot, ring = LETTERS.slot(letter), self.over.context()
        parts: list[dict[tuple[int, ...], Any]] = [{} for _ in range(self.degree(letter) + 1)]
        for exponents, number in self.over.terms():
            power = int(exponents[slot]) if slot < len(exponents) else 0
            rest = tuple(0 if place == slot else each for place, each in enumerate(exponents))
            parts[power][rest] = number
        one = _constant(1, ring.nvars())
        return tuple(RationalFunction(ring.from_dict(part), one, self.over_mask, 0) for part in parts)


def _as_function(value: RationalFunction | Numeric) -> RationalFunction:
    return value if isinstance(value, RationalFunction) else RationalFunction.constant(value)


def _made(over: Any, under: Any, over_mask: int, under_mask: int) -> RationalFunction:
    """A ratio of coprime polynomials with the sign above."""
    if int(under.leading_coefficient()) < 0:
        over, under = -over, -under
    if over.is_zero():
        return RationalFunction(over, _constant(1, over.context().nvars()), 0, 0)
    return RationalFunction(over, under, over_mask, under_mask)


def _sparse(exponents: Iterable[Any]) -> tuple[tuple[int, int], ...]:
    return tuple((place, int(power)) for place, power in enumerate(exponents) if power)


def _powers(exponents: Iterable[Any]) -> dict[str, int]:
    return {LETTERS.names[place]: power for place, power in _sparse(exponents)}


def _slots(poly: Any) -> tuple[int, ...]:
    """Slots of the letters that occur, in writing order."""
    used = (place for place, power in enumerate(poly.degrees()) if power)
    return tuple(sorted(used, key=lambda place: natural(LETTERS.names[place])))


def _one_sign(poly: Any) -> int:
    signs = {1 if number > 0 else -1 for number in poly.coeffs()}
    return signs.pop() if len(signs) == 1 else 0


Compiled = tuple[tuple[int, tuple[tuple[str, int], ...]], ...]


def _compiled(poly: Any) -> Compiled:
    """Numbers and powers of letters, term by term."""
    return tuple((int(number), tuple(_powers(exponents).items())) for exponents, number in poly.terms())


def _at(terms: Compiled, values: Mapping[str, Numeric]) -> Numeric:
    total: Numeric = 0
    for number, powers in terms:
        term: Numeric = number
        for letter, power in powers:
            exact = values[letter]
            term *= (exact.numerator if exact.denominator == 1 else exact) ** power
        total += term
    return total


def _composed(poly: Any, put: Mapping[int, RationalFunction]) -> RationalFunction:
    """A polynomial with ratios put for letters: over one common denominator, each power once."""
    size = max([poly.context().nvars(), *(value.over.context().nvars() for value in put.values())])
    poly = _lift(poly, size)
    degrees = poly.degrees()
    used = [place for place in put if place < len(degrees) and degrees[place] > 0]
    one, ring = _constant(1, size), _ring(size)
    above = {
        place: [
            _powered(_lift(put[place].over, size), power, one) for power in range(int(degrees[place]) + 1)
        ]
        for place in used
    }
    below = {
        place: [
            _powered(_lift(put[place].under, size), power, one) for power in range(int(degrees[place]) + 1)
        ]
        for place in used
    }
    grouped: dict[tuple[int, ...], dict[tuple[int, ...], Any]] = {}
    for exponents, number in poly.terms():
        key = tuple(int(exponents[place]) for place in used)
        rest = tuple(0 if place in put else each for place, each in enumerate(exponents))
        grouped.setdefault(key, {})[rest] = number
    total = ring.constant(0)
    for key, part in grouped.items():
        term = ring.from_dict(part)
        for place, power in zip(used, key, strict=True):
            term = _times(_times(term, above[place][power]), below[place][int(degrees[place]) - power])
        total += term
    under = one
    for place in used:
        under = _times(under, below[place][int(degrees[place])])
    mask = (1 << size) - 1
    over, under = _share(total, mask, under, mask)
    return _made(over, under, mask, mask)


def _text(poly: Any) -> str:
    """A polynomial in plain ASCII, in writing order of its letters (for programmers)."""
    pieces: list[tuple[tuple[object, ...], str, int]] = []
    for exponents, number in poly.terms():
        powers = sorted(_powers(exponents).items(), key=lambda pair: natural(pair[0]))
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


def raw_rows(rows: Sequence[Sequence[RationalFunction]]) -> tuple[list[list[Any]], Any, Any]:
    """Rows as polynomials of one ring (each row times its denominators), how to multiply there, and its one.

    Only for `linear`.

    Parameters
    ----------
    rows : sequence of rows
        Entries of a matrix.
    """
    size = max((entry.over.context().nvars() for row in rows for entry in row), default=LETTERS.size)
    result = []
    for row in rows:
        common = RationalFunction.constant(1)
        for entry in row:
            common = common * (entry.denominator / common).numerator
        result.append([_lift((entry * common).over, size) for entry in row])
    return result, _times, _constant(1, size)


def reduced(over: Any, under: Any) -> RationalFunction:
    """A ratio of polynomials of one ring, in lowest terms. Only for `linear`.

    Parameters
    ----------
    over, under : fmpz_mpoly
        Of one ring.
    """
    mask = (1 << over.context().nvars()) - 1
    above, below = _share(over, mask, under, mask)
    return _made(above, below, mask, mask)


def raw_matrix(rows: Sequence[Sequence[Fraction]]) -> Any:
    """A matrix of exact numbers. Only for `linear`.

    Parameters
    ----------
    rows : sequence of rows
        Exact numbers.
    """
    return flint.fmpq_mat([[flint.fmpq(entry.numerator, entry.denominator) for entry in row] for row in rows])
