"""Readings as a class might take them, for a rehearsal: a true cell, meters off by what their makers allow, scatter.

Every number drawn comes from one seed, so a rehearsal can be repeated; whoever shows such readings says that they are
simulated.
"""

from __future__ import annotations

import random
from collections.abc import Sequence
from fractions import Fraction

from boardproof.lab.bench import Bench
from boardproof.lab.instrument import Meter
from boardproof.lab.readings import Reading
from boardproof.record import record

__all__ = ["Truth", "simulated", "true_readings"]


@record
class Truth:
    """A cell as it really is: EMF in volts, internal resistance in ohms, and scatter of a p.d. in volts."""

    emf: float
    internal: float
    scatter: float = 0.0


def simulated(truth: Truth, loads: Sequence[float], bench: Bench, *, seed: int) -> tuple[Reading, ...]:
    """One run of readings.

    Parameters
    ----------
    truth : Truth
        The cell.
    loads : sequence of float
        In ohms, in the order taken.
    bench : Bench
        Meters; each is off by one gain and one zero through the run, evenly within its maker's limits.
    seed : int
        Equal seeds give equal readings.

    Examples
    --------
    >>> [each] = simulated(Truth(1.5, 0.5), [2.5], Bench(), seed=1)
    >>> float(each.current), float(each.pd)
    (0.5, 1.25)
    """
    chance = random.Random(seed)  # noqa: S311  # a rehearsal, no secret
    off_v = (chance.uniform(-1, 1), chance.uniform(-1, 1))
    off_i = (chance.uniform(-1, 1), chance.uniform(-1, 1))
    found = []
    for row, load in enumerate(loads, 1):
        pd, current = _true(truth, load, bench)
        pd += chance.gauss(0, truth.scatter)
        found.append(Reading(row, _seen(current, bench.ammeter, off_i), _seen(pd, bench.voltmeter, off_v)))
    return tuple(found)


def true_readings(truth: Truth, loads: Sequence[float], bench: Bench) -> tuple[Reading, ...]:
    """What ideal meters with these resistances would show.

    Parameters
    ----------
    truth : Truth
        The cell.
    loads : sequence of float
        In ohms.
    bench : Bench
        Only resistances and places count.

    Examples
    --------
    >>> [each] = true_readings(Truth(1.5, 0.5), [2.5], Bench())
    >>> float(each.pd)
    1.25
    """
    found = []
    for row, load in enumerate(loads, 1):
        pd, current = _true(truth, load, bench)
        found.append(Reading(row, _fine(current), _fine(pd)))
    return tuple(found)


def _fine(value: float) -> Fraction:
    return Fraction(value).limit_denominator(10**12)


def _true(truth: Truth, load: float, bench: Bench) -> tuple[float, float]:
    """What ideal meters would show at these places, the real ones' resistances in the circuit."""
    inner, leak = bench.ammeter.resistance or 0.0, 1 / (bench.voltmeter.resistance or float("inf"))
    if bench.across == "load":
        joined = 1 / (1 / load + leak)
        current = truth.emf / (truth.internal + inner + joined)
        return current * joined, current
    branch = load + inner
    pd = truth.emf / (1 + truth.internal * (1 / branch + leak))
    return pd, pd / branch


def _seen(true: float, meter: Meter, off: tuple[float, float]) -> Fraction:
    """What a meter shows: gain, zero, then rounded to its step."""
    used = meter.range_for(true)
    shown = true * (1 + off[0] * meter.gain) + off[1] * meter.zero(true)
    if used is None:
        return _fine(shown)
    step = Fraction(str(used.step))
    return round(shown / used.step) * step
