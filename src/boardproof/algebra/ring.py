"""Rings of polynomials with whole numbers before their terms: the only door to python-flint.

All letters share one ring that grows; a polynomial made in a smaller ring is lifted when it meets one from a larger.
Two polynomials without a common letter have no common factor but a number, so none is looked for. Products beyond
`TERMS_AT_MOST` terms are refused before they are made (flint cannot be interrupted). Only `polynomial` and `linear`
know this module; everybody else calculates with `RationalFunction`.
"""

from __future__ import annotations

import math
import threading
from collections.abc import Iterable, Sequence
from fractions import Fraction
from functools import cache
from typing import Any, Final

import flint

from boardproof.algebra.letter_order import natural

__all__ = [
    "LETTERS",
    "Letters",
    "Numeric",
    "constant_in",
    "irreducible",
    "lift",
    "number_of",
    "one_sign",
    "powers_of",
    "raw_matrix",
    "ring",
    "share",
]

FIRST_RING: Final = 24
Numeric = int | Fraction


class Letters:
    """The letters met so far and the ring that holds them."""

    def __init__(self) -> None:
        """No letter was met."""
        self.index: dict[str, int] = {}
        self.names: list[str] = []
        self.size = FIRST_RING
        self.lock = threading.Lock()

    def slot(self, letter: str) -> int:
        """The place of a letter among the generators, the next free one for a new letter."""
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


LETTERS: Final = Letters()


@cache
def ring(size: int) -> Any:
    """The ring with generators x0 ... (flint keeps only the names that tell rings apart).

    Parameters
    ----------
    size : int
        Number of letters.

    Examples
    --------
    >>> ring(24) is ring(24)
    True
    """
    return flint.fmpz_mpoly_ctx.get(tuple(f"x{place}" for place in range(size)), flint.Ordering.degrevlex)


def lift(poly: Any, size: int) -> Any:
    """A polynomial in the ring of so many letters.

    Parameters
    ----------
    poly : fmpz_mpoly
        Of that ring or a smaller one.
    size : int
        Number of letters.
    """
    wanted = ring(size)
    return poly if poly.context() is wanted else poly.project_to_context(wanted)


@cache
def constant_in(number: int, size: int) -> Any:
    """A whole number as a polynomial.

    Parameters
    ----------
    number, size : int
        The number, and the ring's number of letters.

    Examples
    --------
    >>> constant_in(3, FIRST_RING)
    3
    """
    return ring(size).constant(number)


def share(left: Any, left_mask: int, right: Any, right_mask: int) -> tuple[Any, Any]:
    """Both polynomials without their common factor.

    Parameters
    ----------
    left, right : fmpz_mpoly
        Of one ring.
    left_mask, right_mask : int
        Bit k is set if the letter in slot k may occur.
    """
    if right.is_one() or left.is_one():
        return left, right
    if left_mask & right_mask:
        common = left.gcd(right)
        if common.is_one():
            return left, right
        return left / common, right / common
    number = (
        math.gcd(int(left.content()), int(right.content()))
        if left_mask or right_mask
        else math.gcd(int(number_of(left)), int(number_of(right)))
    )
    return (left, right) if number in {0, 1} else (left / number, right / number)


def number_of(poly: Any) -> int:
    """Value of a polynomial without letters.

    Parameters
    ----------
    poly : fmpz_mpoly
        A constant.
    """
    return 0 if poly.is_zero() else int(poly.leading_coefficient())


def powers_of(exponents: Iterable[Any]) -> dict[str, int]:
    """Powers of the letters of one term.

    Parameters
    ----------
    exponents : iterable of int
        One a letter of the ring, as flint gives them.
    """
    return {LETTERS.names[place]: int(power) for place, power in enumerate(exponents) if power}


def _slots(poly: Any) -> tuple[int, ...]:
    """Slots of the letters that occur, in writing order."""
    used = (place for place, power in enumerate(poly.degrees()) if power)
    return tuple(sorted(used, key=lambda place: natural(LETTERS.names[place])))


def irreducible(poly: Any) -> tuple[int, list[tuple[Any, int]]]:
    """A number and the irreducible factors with their powers.

    Parameters
    ----------
    poly : fmpz_mpoly
        Not nought.

    Notes
    -----
    Each factor has a positive coefficient before its first term in writing order; the number carries the sign.
    """
    used, whole = _slots(poly), poly.context()
    small = flint.fmpz_mpoly_ctx.get(tuple(f"x{place}" for place in used) or ("x0",), flint.Ordering.lex)
    number, found = poly.project_to_context(small).factor()
    sign, factors = int(number), []
    for factor, power in found:
        turned = int(factor.leading_coefficient()) < 0
        sign *= -1 if turned and power % 2 else 1
        factors.append(((-factor if turned else factor).project_to_context(whole), int(power)))
    return sign, factors


def one_sign(poly: Any) -> int:
    """+1 or -1 if all coefficients have that sign, else 0.

    Parameters
    ----------
    poly : fmpz_mpoly
        Any polynomial.
    """
    signs = {1 if number > 0 else -1 for number in poly.coeffs()}
    return signs.pop() if len(signs) == 1 else 0


def raw_matrix(rows: Sequence[Sequence[Fraction]]) -> Any:
    """A matrix of exact numbers.

    Parameters
    ----------
    rows : sequence of rows
        Exact numbers.
    """
    return flint.fmpq_mat([[flint.fmpq(entry.numerator, entry.denominator) for entry in row] for row in rows])
