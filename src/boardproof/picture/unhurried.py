"""The pace of a movement: quick at first, coming to rest slowly."""

from __future__ import annotations

from typing import Final

__all__ = ["MOVES", "eased"]

MOVES: Final = (0.2, 0.0, 0.0, 1.0)  # control points of the curve, as style sheets write it


def eased(share: float) -> float:
    """How far a movement has come at a share of its time.

    Parameters
    ----------
    share : float
        From 0 to 1.

    Notes
    -----
    The cubic curve with control points (0.2, 0) and (0, 1), solved for time by halving.

    Examples
    --------
    >>> eased(0.0), eased(1.0), round(eased(0.25), 2)
    (0.0, 1.0, 0.61)
    """
    if share <= 0 or share >= 1:
        return float(share >= 1)
    low, high = 0.0, 1.0
    for _ in range(40):
        middle = (low + high) / 2
        if _cubic(middle, MOVES[0], MOVES[2]) < share:
            low = middle
        else:
            high = middle
    return _cubic(low, MOVES[1], MOVES[3])


def _cubic(u: float, one: float, two: float) -> float:
    return 3 * (1 - u) ** 2 * u * one + 3 * (1 - u) * u**2 * two + u**3
