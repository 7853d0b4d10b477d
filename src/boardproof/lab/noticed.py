"""What the readings themselves say against a straight line: a drift with time, a bend, one reading far off.

Each test adds one term to the weighted line and asks by Student's t whether it is needed (Draper and Smith, Applied
Regression Analysis, on added variables and outliers). A term counts as noticed where chance would bring it in fewer
than one class in a hundred; for the reading that lies farthest off, the chance is that of the worst of n
(Bonferroni). Nothing is ever left out because of a test.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final, Literal

from boardproof.lab.chance import student_above
from boardproof.lab.result import Result
from boardproof.record import record

__all__ = ["Noticed", "bend", "drift", "far_off", "noticed"]

RARE: Final = 0.01
TOO_ALIKE: Final = 0.95


@record
class Noticed:
    """One test.

    Parameters
    ----------
    name : {"drift", "bend", "far off"}
        What it looks for.
    statistic : float
        t value; nought where the test can't be made.
    chance : float
        How often pure chance would bring as much.
    found : bool
        Whether it is rare enough to be told as a fact.
    sentence : str
        For a class.
    row : int
        Row of the reading that lies farthest off; 0 in other tests.
    """

    name: Literal["drift", "bend", "far off"]
    statistic: float
    chance: float
    found: bool
    sentence: str
    row: int = 0


def noticed(result: Result) -> tuple[Noticed, ...]:
    """All tests of a result, in a fixed order.

    Parameters
    ----------
    result : Result
        A line through readings; fewer than four can't be tested.

    Examples
    --------
    >>> from fractions import Fraction as F
    >>> from boardproof.lab.readings import Reading
    >>> from boardproof.lab.result import measure
    >>> off = (0, 1, -1, 1, 0, -1, 1, 0)
    >>> run = [Reading(n, F(n, 10), F(3, 2) - F(n, 25) + F(off[n - 1], 1000)) for n in range(1, 9)]
    >>> [each.found for each in noticed(measure(run))]
    [False, False, False]
    """
    return (drift(result), bend(result), far_off(result))


def drift(result: Result) -> Noticed:
    """Whether the p.d. sank or rose with the order of reading.

    Parameters
    ----------
    result : Result
        Its readings in the order taken.
    """
    order = [float(n) for n in range(len(result.points))]
    currents = [point.x for point in result.points]
    if len(order) < 4:
        return Noticed("drift", 0.0, 1.0, found=False, sentence="Too few readings to tell a drift.")
    if abs(_alike(order, currents)) > TOO_ALIKE:
        told = (
            "The readings were taken in the order of their currents, so a cell that runs down can't be told from "
            "a larger r. Next time mix the order, and read the first load again at the end."
        )
        return Noticed("drift", 0.0, 1.0, found=False, sentence=told)
    slope, t, chance = _added(result, order)
    if chance >= RARE:
        return Noticed("drift", t, chance, found=False, sentence="No drift with the order of reading.")
    way = "sinks" if slope < 0 else "rises"
    why = "The cell is running down or polarising" if slope < 0 else "The cell recovers, or warms up"
    told = (
        f"The p.d. {way} by {abs(slope) * 1000:.2g} mV from reading to reading, whatever the load. {why}: "
        "switch on only to read, and wait between readings."
    )
    return Noticed("drift", t, chance, found=True, sentence=told)


def bend(result: Result) -> Noticed:
    """Whether the line bends.

    Parameters
    ----------
    result : Result
        Any.
    """
    if len(result.points) < 4:
        return Noticed("bend", 0.0, 1.0, found=False, sentence="Too few readings to tell a bend.")
    slope, t, chance = _added(result, [point.x**2 for point in result.points])
    if chance >= RARE:
        told = "No bend to see: a straight line is enough here."
        return Noticed("bend", t, chance, found=False, sentence=told)
    told = (
        "The line bends down: at large currents the p.d. falls faster than the line, so r grows with the current "
        "(polarisation). Keep to smaller currents, or say for which currents r holds."
        if slope < 0
        else "The line flattens at large currents: r gets smaller as the current grows, as in a cell that warms up. "
        "Keep to smaller currents, or say for which currents r holds."
    )
    return Noticed("bend", t, chance, found=True, sentence=told)


def far_off(result: Result) -> Noticed:
    """The reading that lies farthest off the line through the others.

    Parameters
    ----------
    result : Result
        Any.
    """
    count = len(result.points)
    if count < 4:
        return Noticed("far off", 0.0, 1.0, found=False, sentence="Too few readings to suspect one.")
    ones = [(abs(t), point.row, t) for point, t in zip(result.points, _off(result), strict=True)]
    size, row, t = max(ones)
    chance = min(1.0, count * student_above(size, count - 3))
    found = chance < RARE
    where = "above" if t > 0 else "below"
    told = (
        f"The reading in row {row} lies far {where} the line that the others make. It is kept. Look at it again: "
        "a slip, a range, a loose contact? Leave it out only for a reason that you write down."
        if found
        else "No reading lies suspiciously far from the line."
    )
    return Noticed("far off", t, chance, found, told, row if found else 0)


def _alike(first: Sequence[float], second: Sequence[float]) -> float:
    """Correlation of two columns."""
    a, b = sum(first) / len(first), sum(second) / len(second)
    both = sum((x - a) * (y - b) for x, y in zip(first, second, strict=True))
    size = math.sqrt(sum((x - a) ** 2 for x in first) * sum((y - b) ** 2 for y in second))
    return both / size if size else 1.0


def _cleared(column: Sequence[float], result: Result) -> list[float]:
    """What of a column no straight line in the current explains."""
    weights, places = result.line.weights, [point.x for point in result.points]
    whole = sum(weights)
    x0 = sum(w * x for w, x in zip(weights, places, strict=True)) / whole
    z0 = sum(w * z for w, z in zip(weights, column, strict=True)) / whole
    spread = sum(w * (x - x0) ** 2 for w, x in zip(weights, places, strict=True))
    both = sum(w * (x - x0) * (z - z0) for w, x, z in zip(weights, places, column, strict=True))
    return [z - z0 - both / spread * (x - x0) for z, x in zip(column, places, strict=True)]


def _added(result: Result, column: Sequence[float]) -> tuple[float, float, float]:
    """Coefficient, t value and chance of one more term in the line."""
    weights, left = result.line.weights, _cleared(column, result)
    misses = _cleared([point.y for point in result.points], result)
    spread = sum(w * z * z for w, z in zip(weights, left, strict=True))
    scale = sum(w * z * z for w, z in zip(weights, column, strict=True))
    if spread <= 1e-12 * scale:  # three different currents at least, or there is no bend to ask for
        return 0.0, 0.0, 1.0
    slope = sum(w * z * m for w, z, m in zip(weights, left, misses, strict=True)) / spread
    rest = sum(w * (m - slope * z) ** 2 for w, z, m in zip(weights, left, misses, strict=True))
    degrees = len(column) - 3
    rest = max(rest, _floor(result, degrees))
    t = slope * math.sqrt(spread * degrees / rest) if rest else math.copysign(math.inf, slope)
    return slope, t, student_above(t, degrees)


def _floor(result: Result, degrees: int) -> float:
    """Least sum of squares that steps leave: rounding alone never proves anything."""
    has_steps = bool(result.bench.voltmeter.ranges or result.bench.ammeter.ranges)
    if has_steps:
        return 0.5 * degrees
    largest = max(abs(point.y) for point in result.points)
    return sum(w * (1e-12 * largest) ** 2 for w in result.line.weights)


def _off(result: Result) -> list[float]:
    """Each reading's distance from the line through the others, as a t value."""
    weights, places = result.line.weights, [point.x for point in result.points]
    whole, count = sum(weights), len(places)
    x0 = sum(w * x for w, x in zip(weights, places, strict=True)) / whole
    spread = sum(w * (x - x0) ** 2 for w, x in zip(weights, places, strict=True))
    misses = _cleared([point.y for point in result.points], result)
    squares = sum(w * m * m for w, m in zip(weights, misses, strict=True))
    found = []
    for w, x, m in zip(weights, places, misses, strict=True):
        free = 1 - w / whole - w * (x - x0) ** 2 / spread
        own = w * m * m / free if free > 1e-9 else 0.0
        rest = max((squares - own) / (count - 3), _floor(result, 1))
        found.append(math.copysign(math.sqrt(own / rest), m) if rest else 0.0)
    return found
