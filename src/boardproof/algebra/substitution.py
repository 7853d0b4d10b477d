"""Numbers or ratios put for the letters of a polynomial."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from boardproof.algebra.product import powered, times
from boardproof.algebra.ring import Numeric, constant_in, lift, powers_of, ring

__all__ = ["Compiled", "compiled", "composed", "value_at"]

Compiled = tuple[tuple[int, tuple[tuple[str, int], ...]], ...]


def compiled(poly: Any) -> Compiled:
    """Numbers and powers of letters, term by term.

    Parameters
    ----------
    poly : fmpz_mpoly
        Any polynomial.
    """
    return tuple((int(number), tuple(powers_of(exponents).items())) for exponents, number in poly.terms())


def value_at(terms: Compiled, values: Mapping[str, Numeric]) -> Numeric:
    """The value of a polynomial.

    Parameters
    ----------
    terms : Compiled
        The polynomial.
    values : mapping of str to int or Fraction
        A number for each of its letters.

    Examples
    --------
    >>> value_at(((2, (("r", 2),)), (1, ())), {"r": 3})
    19
    """
    total: Numeric = 0
    for number, powers in terms:
        term: Numeric = number
        for letter, power in powers:
            exact = values[letter]
            term *= (exact.numerator if exact.denominator == 1 else exact) ** power
        total += term
    return total


def composed(poly: Any, put: Mapping[int, tuple[Any, Any]]) -> tuple[Any, Any]:
    """A polynomial with ratios put for letters: over one common denominator, each power once.

    Parameters
    ----------
    poly : fmpz_mpoly
        Any polynomial.
    put : mapping of int to (fmpz_mpoly, fmpz_mpoly)
        By the letter's slot, what stands above and below.

    Returns
    -------
    (fmpz_mpoly, fmpz_mpoly)
        Above and below, of one ring; they may have a common factor.
    """
    size = max([poly.context().nvars(), *(over.context().nvars() for over, _ in put.values())])
    poly = lift(poly, size)
    degrees = [int(degree) for degree in poly.degrees()]
    used = [place for place in put if place < len(degrees) and degrees[place] > 0]
    one, whole = constant_in(1, size), ring(size)
    powers = {
        place: [
            [powered(lift(side, size), power, one) for power in range(degrees[place] + 1)]
            for side in put[place]
        ]
        for place in used
    }
    grouped: dict[tuple[int, ...], dict[tuple[int, ...], Any]] = {}
    for exponents, number in poly.terms():
        key = tuple(int(exponents[place]) for place in used)
        rest = tuple(0 if place in put else each for place, each in enumerate(exponents))
        grouped.setdefault(key, {})[rest] = number
    total = whole.constant(0)
    for key, part in grouped.items():
        term = whole.from_dict(part)
        for place, power in zip(used, key, strict=True):
            above, below = powers[place]
            term = times(times(term, above[power]), below[degrees[place] - power])
        total += term
    under = one
    for place in used:
        under = times(under, powers[place][1][degrees[place]])
    return total, under
