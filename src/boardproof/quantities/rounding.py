"""Rounding by ISO 80000-1, annex B: half up by default, half to even on request."""

from __future__ import annotations

from fractions import Fraction
from typing import Literal

__all__ = ["Half", "agrees", "last_place", "round_figures", "round_to_place"]

Half = Literal["up", "even"]


def round_to_place(value: Fraction, place: Fraction, half: Half = "up") -> Fraction:
    """`value` rounded to a multiple of `place` (ISO 80000-1, annex B); "up" means away from nought.

    Parameters
    ----------
    value : Fraction
        The exact value.
    place : Fraction
        What the result is a multiple of.
    half : {"up", "even"}
        What becomes of a half.

    Examples
    --------
    >>> tenth = Fraction(1, 10)
    >>> round_to_place(Fraction(1, 4), tenth), round_to_place(Fraction(1, 4), tenth, "even")
    (Fraction(3, 10), Fraction(1, 5))
    """
    units, rest = divmod(abs(value) / place, 1)
    doubled = rest * 2
    up = doubled > 1 or (doubled == 1 and (half == "up" or units % 2 == 1))
    return (units + up) * place * (-1 if value < 0 else 1)


def last_place(value: Fraction, figures: int) -> Fraction:
    """Place of the last of `figures` significant figures of `value`, which is not nought.

    Parameters
    ----------
    value : Fraction
        Any value but nought.
    figures : int
        Significant figures.

    Examples
    --------
    >>> last_place(Fraction(16, 3), 3)
    Fraction(1, 100)
    """
    size = abs(value)
    power = len(str(size.numerator)) - len(str(size.denominator))
    while Fraction(10) ** power > size:
        power -= 1
    while Fraction(10) ** (power + 1) <= size:
        power += 1
    return Fraction(10) ** (power - figures + 1)


def round_figures(value: Fraction, figures: int, half: Half = "up") -> tuple[Fraction, Fraction]:
    """`value` rounded to significant figures, with the place of the last of them.

    Parameters
    ----------
    value : Fraction
        The exact value.
    figures : int
        Significant figures to keep.
    half : {"up", "even"}
        What becomes of a half.

    Examples
    --------
    >>> round_figures(Fraction(9996, 1000), 3)
    (Fraction(10, 1), Fraction(1, 10))
    """
    if not value:
        return value, Fraction(1)
    rounded = round_to_place(value, last_place(value, figures), half)
    return rounded, last_place(rounded, figures)


def agrees(exact: Fraction, typed: Fraction, place: Fraction, half: Half = "up") -> bool:
    """Whether a typed number is the exact value, or the exact value correctly rounded to the typed place.

    Parameters
    ----------
    exact : Fraction
        The right value.
    typed : Fraction
        What was typed.
    place : Fraction
        Place of its last figure; 0 if it is exact by nature.
    half : {"up", "even"}
        What becomes of a half.

    Examples
    --------
    >>> agrees(Fraction(16, 3), Fraction(533, 100), Fraction(1, 100))
    True
    >>> agrees(Fraction(16, 3), Fraction(534, 100), Fraction(1, 100))
    False
    """
    return typed == exact or (place > 0 and round_to_place(exact, place, half) == typed)
