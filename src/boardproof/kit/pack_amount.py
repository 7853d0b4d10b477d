"""Amounts in what is said of a pack: a module of its own, because every check of a lesson loads it."""

from __future__ import annotations

from fractions import Fraction

from boardproof.quantities import Dimension, Style, shown

__all__ = ["amount"]


def amount(value: float | Fraction, dimension: Dimension, figures: int = 3) -> str:
    r"""A value as people write it, never as a fraction.

    Parameters
    ----------
    value : float or Fraction
        In SI units.
    dimension : Dimension
        Which.
    figures : int
        How many, where it does not end before.

    Examples
    --------
    >>> from boardproof.quantities import AMPERE
    >>> amount(0.75, AMPERE)
    '0.75\u202fA'
    """
    exact = value if isinstance(value, Fraction) else Fraction(f"{value:.6g}")
    style = Style(figures=figures)
    text = shown(abs(exact), dimension, style)
    if "/" in text:
        text = shown(abs(exact), dimension, style, figures=figures)
    return ("−" if exact < 0 else "") + text
