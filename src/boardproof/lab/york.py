"""The straight line through points with errors in both directions.

D. York, N. M. Evensen, M. L. Martinez, J. De Basabe Delgado, American Journal of Physics 72 (2004) 367: unified
equations; standard errors from the adjusted points. The other school takes the observed curvature; the two differ by
about one per cent.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from boardproof.record import record

__all__ = ["Line", "Point", "york_line"]

ROUNDS = 200


@record
class Point:
    """A reading as a point: its row, place, standard uncertainties and their correlation."""

    row: int
    x: float
    y: float
    u_x: float = 0.0
    u_y: float = 1.0
    correlation: float = 0.0


@record
class Line:
    """y = a + b x with what its points' own uncertainties make of it.

    Parameters
    ----------
    a, b : float
        Height at x = 0 and slope.
    u_a, u_b, covariance : float
        By the points' stated uncertainties, not scaled by their scatter.
    squares : float
        Weighted sum of squared distances.
    weights : tuple of float
        Of each point along y, errors of x included.
    residuals : tuple of float
        y less the line.
    """

    a: float
    b: float
    u_a: float
    u_b: float
    covariance: float
    squares: float
    weights: tuple[float, ...]
    residuals: tuple[float, ...]


def york_line(points: Sequence[Point], *, start: float | None = None) -> Line:
    """York's line.

    Parameters
    ----------
    points : sequence of Point
        Two at different x at least; each with some uncertainty.
    start : float, optional
        A slope near the result; the unweighted line's if none is known.

    Raises
    ------
    ValueError
        If all points share one x: whoever calls has told the teacher before.

    Examples
    --------
    >>> line = york_line([Point(1, 0.0, 1.0), Point(2, 1.0, 3.0), Point(3, 2.0, 5.0)])
    >>> round(line.a, 9), round(line.b, 9)
    (1.0, 2.0)
    """
    b = _plain_slope(points) if start is None else start
    for _ in range(ROUNDS):
        weights, shifts, mean_x, mean_y = _adjusted(points, b)
        over = sum(w * s * (p.y - mean_y) for w, s, p in zip(weights, shifts, points, strict=True))
        under = sum(w * s * (p.x - mean_x) for w, s, p in zip(weights, shifts, points, strict=True))
        before, b = b, over / under
        if abs(b - before) <= 1e-14 * max(abs(b), 1e-300):
            break
    weights, shifts, mean_x, mean_y = _adjusted(points, b)
    whole = sum(weights)
    places = [mean_x + each for each in shifts]
    middle = sum(w * x for w, x in zip(weights, places, strict=True)) / whole
    spread = sum(w * (x - middle) ** 2 for w, x in zip(weights, places, strict=True))
    a = mean_y - b * mean_x
    residuals = tuple(p.y - a - b * p.x for p in points)
    return Line(
        a,
        b,
        math.sqrt(1 / whole + middle * middle / spread),
        math.sqrt(1 / spread),
        -middle / spread,
        sum(w * each * each for w, each in zip(weights, residuals, strict=True)),
        tuple(weights),
        residuals,
    )


def _adjusted(points: Sequence[Point], b: float) -> tuple[list[float], list[float], float, float]:
    """Weights W_i, adjusted x less the mean (beta_i), and the weighted means, for a slope."""
    variances = [p.u_y**2 + b * b * p.u_x**2 - 2 * b * p.correlation * p.u_x * p.u_y for p in points]
    weights = [1 / each for each in variances]
    whole = sum(weights)
    mean_x = sum(w * p.x for w, p in zip(weights, points, strict=True)) / whole
    mean_y = sum(w * p.y for w, p in zip(weights, points, strict=True)) / whole
    shifts = []
    for w, p in zip(weights, points, strict=True):
        along, up = p.x - mean_x, p.y - mean_y
        both = p.correlation * p.u_x * p.u_y
        shifts.append(w * (along * p.u_y**2 + b * up * p.u_x**2 - (b * along + up) * both))
    return weights, shifts, mean_x, mean_y


def _plain_slope(points: Sequence[Point]) -> float:
    mean_x = sum(p.x for p in points) / len(points)
    mean_y = sum(p.y for p in points) / len(points)
    spread = sum((p.x - mean_x) ** 2 for p in points)
    if not spread:
        raise ValueError("all points share one x")
    return sum((p.x - mean_x) * (p.y - mean_y) for p in points) / spread
