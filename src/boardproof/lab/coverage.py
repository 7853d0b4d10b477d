"""How far an interval must reach to cover a share of the cases, whatever shapes its causes have.

A few large causes that are even between limits make an interval shorter than a normal one; few readings make it
longer. So the shapes themselves are put together (propagation of distributions, JCGM 101:2008), here without chance:
the scatter's distribution is smoothed by each even cause in turn.
"""

from __future__ import annotations

import math
from itertools import accumulate, pairwise

from boardproof.lab.chance import student_above, student_factor
from boardproof.lab.uncertain import Uncertain

__all__ = ["half_width"]

STEPS = 200


def half_width(value: Uncertain, share: float = 0.95) -> float:
    """Half of the interval about a value that covers a share of the cases.

    Parameters
    ----------
    value : Uncertain
        With its causes.
    share : float
        Such as 0.95.

    Notes
    -----
    Normal causes of one name count together, with their degrees of freedom; several names with few degrees are joined
    by Welch and Satterthwaite. An even cause between -a and a turns a distribution F(x) into the mean of F from x - a
    to x + a.

    Examples
    --------
    >>> from boardproof.lab.uncertain import measured
    >>> round(half_width(measured(0.0, 1.0, "gain", shape="even")), 3), round(0.95 * math.sqrt(3), 3)
    (1.645, 1.645)
    >>> round(half_width(measured(0.0, 1.0, "scatter", degrees=6)), 2)
    2.45
    """
    spread, degrees = _chance(value)
    even = sorted(abs(each) * math.sqrt(3) for cause, each in value.parts.items() if cause.shape == "even")
    even = [each for each in even if each > 1e-6 * value.u]
    if not even:
        return student_factor(share, degrees) * spread
    reach = sum(even) + student_factor(share, degrees) * spread
    width = (reach + sum(even)) / STEPS
    far = [width * n for n in range(STEPS + 1)]
    below = [1.0 - _above(each, spread, degrees) / 2 for each in far]
    for half in even:
        below = _smoothed(below, half / width)
    return _where(below, (1 + share) / 2) * width


def _chance(value: Uncertain) -> tuple[float, float]:
    """Standard uncertainty and degrees of freedom of all that is spread by chance."""
    squares: dict[tuple[str, float], float] = {}
    for cause, each in value.parts.items():
        if cause.shape == "normal":
            key = (cause.name, cause.degrees)
            squares[key] = squares.get(key, 0.0) + each * each
    whole = sum(squares.values())
    below = sum(each * each / degrees for (_, degrees), each in squares.items())
    return math.sqrt(whole), whole * whole / below if below else math.inf


def _above(x: float, spread: float, degrees: float) -> float:
    if not spread:
        return 1.0 if x == 0 else 0.0
    return student_above(x / spread, degrees)


def _smoothed(below: list[float], half: float) -> list[float]:
    """Means of a distribution over a window; it is given for x >= 0 and is F(-x) = 1 - F(x) below."""
    areas = [0.0, *accumulate((a + b) / 2 for a, b in pairwise(below))]
    last = len(below) - 1

    def area(x: float) -> float:
        """Integral of F from 0 to x, in steps of the grid."""
        if x < 0:
            return area(-x) + x
        if x >= last:
            return areas[last] + (x - last) * below[last]
        n = int(x)
        part = x - n
        return areas[n] + part * below[n] + part * part * (below[n + 1] - below[n]) / 2

    return [(area(n + half) - area(n - half)) / (2 * half) for n in range(last + 1)]


def _where(below: list[float], wanted: float) -> float:
    """Place on the grid where a rising distribution reaches a share."""
    for n, (a, b) in enumerate(pairwise(below)):
        if b >= wanted:
            return n + (wanted - a) / (b - a) if b > a else float(n)
    return float(len(below) - 1)
