"""Products of polynomials, with a limit on their terms: flint cannot be interrupted."""

from __future__ import annotations

from typing import Any, Final

__all__ = ["TERMS_AT_MOST", "TooLarge", "allow_terms", "powered", "times"]

TERMS_AT_MOST: Final = 5000


_limit = [TERMS_AT_MOST]


class TooLarge(Exception):  # a state of the calculation, not a slip of a programmer
    """The result would have more terms than `TERMS_AT_MOST`; callers say so in a finding."""


def times(left: Any, right: Any) -> Any:
    """A product.

    Parameters
    ----------
    left, right : fmpz_mpoly
        Of one ring.

    Raises
    ------
    TooLarge
        If it has more terms than are allowed, or would take long to make.
    """
    if len(left) * len(right) > 40 * _limit[0]:
        raise TooLarge
    product = left * right
    if len(product) > _limit[0]:
        raise TooLarge
    return product


def allow_terms(most: int = TERMS_AT_MOST) -> None:
    """Set the number of terms at which products are refused; more only in a process that may be killed.

    Parameters
    ----------
    most : int
        From now on.
    """
    _limit[0] = most


def powered(base: Any, exponent: int, one: Any) -> Any:
    """A power, multiplied out.

    Parameters
    ----------
    base : fmpz_mpoly
        Any polynomial.
    exponent : int
        From 0.
    one : fmpz_mpoly
        The ring's one.
    """
    result = one
    for _ in range(exponent):
        result = times(result, base)
    return result
