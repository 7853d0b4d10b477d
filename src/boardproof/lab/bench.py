"""Readings and the meters they were taken with, made into points of the cell's V-I line.

Where a meter stands decides what it falsifies. A voltmeter across the cell draws a current that the ammeter does not
show; a voltmeter across the load misses what the ammeter drops. Both are put right where the meter's resistance is
known; else the finding about it says which way the result is off.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from types import MappingProxyType
from typing import Final, Literal

from boardproof.lab.instrument import Meter
from boardproof.lab.readings import Reading
from boardproof.lab.uncertain import Cause
from boardproof.lab.york import Point
from boardproof.record import record

__all__ = ["Across", "Bench", "causes", "points_of"]

Across = Literal["cell", "load"]
NOTHING: Final[Mapping[str, float]] = MappingProxyType({})


@record
class Bench:
    """Meters and how they are wired.

    Parameters
    ----------
    voltmeter, ammeter : Meter
        With empty ranges if nothing is known of them.
    across : {"cell", "load"}
        What the voltmeter stands across; the ammeter is in line with the load.
    load_share : float
        Limit of the loads' error, as a share (tolerance), where the current comes from V/R.
    """

    voltmeter: Meter = Meter("voltmeter")
    ammeter: Meter = Meter("ammeter")
    across: Across = "cell"
    load_share: float = 0.0


def causes(bench: Bench, readings: Iterable[Reading]) -> tuple[tuple[Cause, str, float], ...]:
    """Errors that stay the same through a run: cause, short key, and limit (a share, or 1 for a whole zero error).

    Parameters
    ----------
    bench : Bench
        Its meters.
    readings : iterable of Reading
        Decide whether the ammeter or the loads take part.

    Examples
    --------
    >>> [key for _, key, _ in causes(Bench(Meter("voltmeter", gain=0.005)), ())]
    ['V gain']
    """
    from_load = any(each.load is not None for each in readings)
    found = [("gain of the voltmeter", "V gain", bench.voltmeter.gain)]
    found.append(("zero of the voltmeter", "V zero", float(_has_zero(bench.voltmeter))))
    if from_load:
        found.append(("tolerance of the loads", "R gain", bench.load_share))
    else:
        found.append(("gain of the ammeter", "I gain", bench.ammeter.gain))
        found.append(("zero of the ammeter", "I zero", float(_has_zero(bench.ammeter))))
    return tuple((Cause(name, "even"), key, limit) for name, key, limit in found if limit)


def _has_zero(meter: Meter) -> bool:
    return bool(meter.ranges) and bool(meter.digits or (meter.of_range and meter.ranges[-1].most < math.inf))


def points_of(
    readings: Sequence[Reading], bench: Bench, off: Mapping[str, float] = NOTHING
) -> tuple[Point, ...]:
    """Points (current through the cell, terminal p.d.) with what the meters' steps leave open.

    Parameters
    ----------
    readings : sequence of Reading
        As read.
    bench : Bench
        Meters and their places.
    off : mapping of str to float
        What the meters are taken to be off by, by the keys of `causes`: gains as shares, zeros as shares of their
        limit.

    Notes
    -----
    A step leaves its reading open evenly over one step: u = step/sqrt(12) (GUM F.2.2.1). Where the current comes from
    V/R its error is the p.d.'s own, so the two are correlated.

    Examples
    --------
    >>> from fractions import Fraction
    >>> [point] = points_of([Reading(1, Fraction(1, 2), Fraction(3, 2))], Bench())
    >>> point.x, point.y
    (0.5, 1.5)
    """
    return tuple(_point(each, bench, off) for each in readings)


def _step(meter: Meter, value: float) -> float:
    used = meter.range_for(value) or (meter.ranges[-1] if meter.ranges else None)
    return used.step / math.sqrt(12) if used else 0.0


def _point(reading: Reading, bench: Bench, off: Mapping[str, float]) -> Point:
    voltmeter, ammeter = bench.voltmeter, bench.ammeter
    shown = float(reading.pd)
    pd = (shown - off.get("V zero", 0.0) * voltmeter.zero(shown)) / (1 + off.get("V gain", 0.0))
    u_y = _step(voltmeter, shown)
    leak = 1 / voltmeter.resistance if voltmeter.resistance else 0.0
    if reading.load is not None:
        load = float(reading.load) / (1 + off.get("R gain", 0.0))
        along = 1 / load + leak
        # across the load the ammeter, if there is one, lies between; its drop belongs to the cell's side
        drop = (ammeter.resistance or 0.0) * along if bench.across == "load" else 0.0
        return Point(reading.row, pd * along, pd * (1 + drop), u_y * along, u_y or 1.0, 1.0 if u_y else 0.0)
    seen = float(reading.current)
    current = (seen - off.get("I zero", 0.0) * ammeter.zero(seen)) / (1 + off.get("I gain", 0.0))
    u_x = _step(ammeter, seen)
    if bench.across == "load":
        pd += current * (ammeter.resistance or 0.0)
    else:
        current += pd * leak
    return Point(reading.row, current, pd, u_x, u_y or (0.0 if u_x else 1.0))
