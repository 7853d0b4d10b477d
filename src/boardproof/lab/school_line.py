"""The way by ruler: the best line, and the steepest and shallowest that still pass through every bar.

Each reading gets a bar as long as the largest miss of the best line, or half a step of the voltmeter where that is
more. Half the difference between the two extreme lines is the school's uncertainty. It is no standard uncertainty: it
says what could just be, where that says what is usual.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from boardproof.lab.result import Result
from boardproof.record import record

__all__ = ["Ruled", "SchoolLines", "school_lines"]

MOST = 60


@record
class Ruled:
    """One ruled line: EMF in volts and internal resistance in ohms."""

    E: float
    r: float


@record
class SchoolLines:
    """Best, steepest and shallowest line, the bars' half length in volts, and half the differences."""

    best: Ruled
    steepest: Ruled
    shallowest: Ruled
    bar: float

    @property
    def E_give_or_take(self) -> float:
        """Half of what the extreme lines' EMFs differ by."""
        return abs(self.steepest.E - self.shallowest.E) / 2

    @property
    def r_give_or_take(self) -> float:
        """Half of what the extreme lines' resistances differ by."""
        return abs(self.steepest.r - self.shallowest.r) / 2


def school_lines(result: Result) -> SchoolLines | None:
    """The lines that a class rules; None for fewer than three readings or more than sixty.

    Parameters
    ----------
    result : Result
        Its points are used; its weights are not.

    Examples
    --------
    >>> from fractions import Fraction as F
    >>> from boardproof.lab.readings import Reading
    >>> from boardproof.lab.result import measure
    >>> heights = ("1.46", "1.42", "1.39", "1.34")
    >>> ruled = school_lines(measure([Reading(n, F(n, 10), F(pd)) for n, pd in enumerate(heights, 1)]))
    >>> round(ruled.best.r, 3), round(ruled.r_give_or_take, 3), round(ruled.bar, 4)
    (0.39, 0.03, 0.007)
    """
    points = [(point.x, point.y) for point in result.points]
    if not 3 <= len(points) <= MOST:
        return None
    best = _best(points)
    miss = max(abs(y - best.E + best.r * x) for x, y in points)
    used = [result.bench.voltmeter.range_for(y) for _, y in points]
    bar = max([miss, *(each.step / 2 for each in used if each)])
    slopes = [*_through(points, bar, best), best]
    return SchoolLines(best, max(slopes, key=lambda each: each.r), min(slopes, key=lambda each: each.r), bar)


def _best(points: Sequence[tuple[float, float]]) -> Ruled:
    count = len(points)
    x0, y0 = sum(x for x, _ in points) / count, sum(y for _, y in points) / count
    slope = sum((x - x0) * (y - y0) for x, y in points) / sum((x - x0) ** 2 for x, _ in points)
    return Ruled(y0 - slope * x0, -slope)


def _through(points: Sequence[tuple[float, float]], bar: float, best: Ruled) -> Iterator[Ruled]:
    """Lines through an end of one bar and the other end of another that miss no bar: the extremes are among them."""
    slack = bar * 1e-9 + 1e-15 * abs(best.E)
    for x1, y1 in points:
        for x2, y2 in points:
            if x2 <= x1:
                continue
            for sign in (1, -1):
                slope = (y2 - y1 - 2 * sign * bar) / (x2 - x1)
                emf = y1 + sign * bar - slope * x1
                if all(abs(y - emf - slope * x) <= bar + slack for x, y in points):
                    yield Ruled(emf, -slope)
