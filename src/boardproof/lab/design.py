"""Which loads to read a cell at: currents as wide apart as meters and the cell's warmth allow, evenly between.

The farther apart the currents, the surer is the slope; the greatest current is the least of what the ammeter shows,
what warms the cell by no more than a quarter of a watt, and what takes a third of the EMF (there no small cell
follows a straight line). These limits are our own cautious choice. Loads are taken from the E12 series of preferred
values (IEC 60063), so that a school finds them in the drawer.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

from boardproof.lab.bench import Bench, points_of
from boardproof.lab.result import measure
from boardproof.lab.simulate import Truth, true_readings
from boardproof.record import record

__all__ = ["HEAT", "Design", "design", "preferred"]

E12: Final = (1.0, 1.2, 1.5, 1.8, 2.2, 2.7, 3.3, 3.9, 4.7, 5.6, 6.8, 8.2, 10.0)
HEAT: Final = 0.25
SHARE_OF_EMF: Final = 1 / 3
READINGS: Final = 8
LEAST_SHARE: Final = 0.12


@record
class Design:
    """Loads for a run.

    Parameters
    ----------
    loads : tuple of float
        In ohms, in the order to be read: mixed, so that a drift can be told from r; the first comes again at the end.
    currents, pds : tuple of float
        To be expected at each.
    most : float
        Greatest current, in amperes.
    why : str
        What sets it.
    heat : float
        In the cell at that current, in watts.
    u_E, u_r : float
        What the meters alone leave uncertain with these loads.
    """

    loads: tuple[float, ...]
    currents: tuple[float, ...]
    pds: tuple[float, ...]
    most: float
    why: str
    heat: float
    u_E: float
    u_r: float


def preferred(resistance: float) -> float:
    """The nearest preferred value (E12), by ratio.

    Parameters
    ----------
    resistance : float
        In ohms, above nought.

    Examples
    --------
    >>> preferred(5.2), preferred(0.95), preferred(930)
    (5.6, 1.0, 1000.0)
    """
    power = 10.0 ** math.floor(math.log10(resistance))
    best = min(E12, key=lambda each: abs(math.log(each * power / resistance)))
    return float(f"{best * power:.3g}")


def design(truth: Truth, bench: Bench, *, count: int = READINGS) -> Design:
    """Loads for a cell of about this EMF and internal resistance.

    Parameters
    ----------
    truth : Truth
        What is expected.
    bench : Bench
        Meters.
    count : int
        Readings, three at least; the last repeats the first.

    Examples
    --------
    >>> made = design(Truth(1.5, 0.4), Bench())
    >>> round(made.most, 2), made.why, made.loads[0] == made.loads[-1]
    (0.79, 'the cell must not warm up', True)
    """
    limits = [
        (math.sqrt(HEAT / truth.internal), "the cell must not warm up"),
        (
            SHARE_OF_EMF * truth.emf / truth.internal,
            "at larger currents no small cell follows a straight line",
        ),
    ]
    if bench.ammeter.ranges and math.isfinite(bench.ammeter.ranges[-1].most):
        limits.append((bench.ammeter.ranges[-1].most, "the ammeter shows no more"))
    most, why = min(limits)
    least = LEAST_SHARE * most
    wanted = [least + (most - least) * n / (count - 2) for n in range(count - 1)]
    inner = bench.ammeter.resistance or 0.0
    loads = sorted({_not_below(truth, each, inner, most) for each in wanted})
    mixed = _mixed(loads)
    order = (*mixed, mixed[0])
    read = true_readings(truth, order, bench)
    result = measure(read, bench)
    currents = tuple(each.x for each in points_of(read, bench))
    top = max(currents)
    pds = tuple(float(each.pd) for each in read)
    return Design(order, currents, pds, most, why, top * top * truth.internal, result.E.u, result.r.u)


def _not_below(truth: Truth, current: float, inner: float, most: float) -> float:
    """The preferred load for a current; the next larger one if it would drive more than is allowed."""
    exact = max(truth.emf / current - truth.internal - inner, 1e-3)
    load = preferred(exact)
    while truth.emf / (load + truth.internal + inner) > most * (1 + 1e-9):
        load = preferred(load * 1.21)
    return load


def _mixed(loads: Sequence[float]) -> tuple[float, ...]:
    """Loads in an order that goes up and down, so that order and current are hardly alike."""
    middle = (len(loads) + 1) // 2
    low, high = list(loads[:middle]), list(loads[middle:])
    woven = [each for pair in zip(high, low, strict=False) for each in pair]
    woven += low[len(high) :]
    return tuple(woven)
