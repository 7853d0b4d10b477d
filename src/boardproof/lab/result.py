"""EMF and internal resistance out of readings, with all that makes them uncertain.

York's line gives the values. Its standard errors are taken from the scatter about the line with n - 2 degrees of
freedom (type A of the GUM): that holds rounding to a step and everything else that differs from reading to reading.
Only where the points lie closer to the line than their steps allow (one class in a hundred) do the steps speak. What
the meters may be off by stays the same through the run, so it is carried beside the scatter and not in it (type B).
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from types import MappingProxyType
from typing import Final, Literal

from boardproof.lab.bench import Bench, causes, points_of
from boardproof.lab.chance import chi_square_above
from boardproof.lab.coverage import half_width
from boardproof.lab.readings import Reading
from boardproof.lab.uncertain import Cause, Uncertain, correlation
from boardproof.lab.york import Line, Point, york_line
from boardproof.record import record

__all__ = ["METHOD", "Result", "measure"]

METHOD: Final = (
    "York, adjusted points; scatter as found, n - 2 degrees of freedom; meters' errors apart (GUM)"
)
TOO_GOOD: Final = 0.99
Scatter = Literal["as found", "by the steps", "not known"]


@record
class Result:
    """What readings of one cell give.

    Parameters
    ----------
    E, r : Uncertain
        EMF in volts, internal resistance in ohms.
    line : Line
        York's line through `points`.
    points : tuple of Point
        Current through the cell and terminal p.d.
    readings : tuple of Reading
        As read.
    bench : Bench
        Meters.
    scatter : {"as found", "by the steps", "not known"}
        Where the part of chance comes from.
    scale : float
        What stated step uncertainties are multiplied by.
    """

    E: Uncertain
    r: Uncertain
    line: Line
    points: tuple[Point, ...]
    readings: tuple[Reading, ...]
    bench: Bench
    scatter: Scatter
    scale: float

    @property
    def degrees(self) -> int:
        """Readings less the two that any line needs."""
        return len(self.points) - 2

    @property
    def correlation(self) -> float:
        """Between E and r."""
        return correlation(self.E, self.r)

    def reach(self, value: Uncertain) -> float | None:
        """Half of the 95 % interval of a value made from E and r; None where chance is not known."""
        return None if self.scatter == "not known" else half_width(value)

    def spread(self, point: Point) -> float:
        """Standard uncertainty of a point along V, by chance: as wide as the scatter says."""
        place = self.points.index(point)
        return self.scale / math.sqrt(self.line.weights[place])

    def height(self, current: float) -> Uncertain:
        """Terminal p.d. on the line at a current."""
        parts = {
            cause: self.E.parts.get(cause, 0.0) - current * self.r.parts.get(cause, 0.0)
            for cause in {**self.E.parts, **self.r.parts}
        }
        return Uncertain(self.E.value - current * self.r.value, MappingProxyType(parts))


def measure(
    readings: Sequence[Reading], bench: Bench | None = None, *, run: str = "", own: bool = False
) -> Result:
    """E and r from readings.

    Parameters
    ----------
    readings : sequence of Reading
        Two at different currents at least.
    bench : Bench, optional
        Meters and their places.
    run : str
        Tells the scatter of this run apart from that of others.
    own : bool
        Whether the run had meters of its own; else all runs share the meters' errors.

    Raises
    ------
    ValueError
        If all readings share one current: `line_through` tells the teacher first.

    Examples
    --------
    >>> from fractions import Fraction as F
    >>> pairs = ((1, F("1.462")), (2, F("1.419")), (3, F("1.381")), (4, F("1.338")))
    >>> found = measure([Reading(n, F(n, 10), pd) for n, pd in pairs])
    >>> round(found.E.value, 4), round(found.r.value, 3), round(found.r.u, 4)
    (1.5025, 0.41, 0.0071)
    """
    bench = bench or Bench()
    points = points_of(readings, bench)
    line = york_line(points)
    knows_steps = bool(bench.voltmeter.ranges or bench.ammeter.ranges)
    scale, degrees, scatter = _scale(line, len(points) - 2, knows_steps=knows_steps)
    parts = [*_chance(line, scale, degrees, run), *_meters(readings, bench, line, run if own else "")]
    E = Uncertain(line.a, MappingProxyType({cause: e for cause, e, _ in parts if e}))
    r = Uncertain(-line.b, MappingProxyType({cause: each for cause, _, each in parts if each}))
    return Result(E, r, line, points, tuple(readings), bench, scatter, scale)


def _scale(line: Line, degrees: int, *, knows_steps: bool) -> tuple[float, float, Scatter]:
    """What the stated uncertainties are multiplied by, with the degrees of freedom behind that."""
    if degrees < 1:
        return (1.0, math.inf, "by the steps") if knows_steps else (0.0, math.inf, "not known")
    if knows_steps and chi_square_above(line.squares, degrees) > TOO_GOOD:
        return 1.0, math.inf, "by the steps"
    return math.sqrt(line.squares / degrees), float(degrees), "as found"


def _chance(line: Line, scale: float, degrees: float, run: str) -> Iterator[tuple[Cause, float, float]]:
    """Scatter as two independent parts, so that the covariance of E and r is kept."""
    name = "scatter of the readings" + (f" of {run}" if run else "")
    along = line.covariance / line.u_a
    yield Cause(name, "normal", degrees, 0), scale * line.u_a, -scale * along
    rest = math.sqrt(max(0.0, line.u_b**2 - along**2))
    yield Cause(name, "normal", degrees, 1), 0.0, scale * rest


def _meters(
    readings: Sequence[Reading], bench: Bench, line: Line, whose: str
) -> Iterator[tuple[Cause, float, float]]:
    """What one standard uncertainty of each meter error moves E and r by: the line is drawn anew for each."""
    for cause, key, limit in causes(bench, readings):
        size = limit / math.sqrt(3)
        up, down = (york_line(points_of(readings, bench, {key: off}), start=line.b) for off in (size, -size))
        own = replace(cause, name=f"{cause.name} of {whose}") if whose else cause
        yield own, (up.a - down.a) / 2, (down.b - up.b) / 2
