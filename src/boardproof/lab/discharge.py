"""A capacitor running down through a resistor: the time constant from the straight line of ln V against time.

A step of the voltmeter weighs more at the end, where V is small: u(ln V) = u(V)/V, so late readings count less.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from types import MappingProxyType

from boardproof.lab.uncertain import Cause, Uncertain, derived
from boardproof.lab.york import Line, Point, york_line
from boardproof.record import record

__all__ = ["Discharge", "capacitance", "discharge"]


@record
class Discharge:
    """Time constant in seconds, p.d. at the start in volts, and the line of ln(V) against time."""

    time_constant: Uncertain
    start: Uncertain
    line: Line


def discharge(times: Sequence[float], pds: Sequence[float], *, u_pd: float, u_time: float = 0.0) -> Discharge:
    """Time constant of a discharge.

    Parameters
    ----------
    times : sequence of float
        In seconds, three at least.
    pds : sequence of float
        In volts, each above nought.
    u_pd, u_time : float
        Standard uncertainties of a reading.

    Raises
    ------
    ValueError
        If there are fewer than three readings or a p.d. is not above nought.

    Examples
    --------
    >>> times = [0.0, 5.0, 10.0, 15.0, 20.0]
    >>> made = discharge(times, [6 * math.exp(-t / 10) for t in times], u_pd=0.01)
    >>> round(made.time_constant.value, 6), round(made.start.value, 6)
    (10.0, 6.0)
    """
    if len(times) < 3 or min(pds) <= 0:
        raise ValueError("a discharge needs three readings above nought")
    points = [
        Point(n, t, math.log(V), u_time, u_pd / V) for n, (t, V) in enumerate(zip(times, pds, strict=True), 1)
    ]
    line = york_line(points)
    along = line.covariance / line.u_a
    rest = math.sqrt(max(0.0, line.u_b**2 - along**2))
    first, second = Cause("readings of the discharge"), Cause("readings of the discharge", axis=1)
    height = Uncertain(line.a, MappingProxyType({first: line.u_a}))
    slope = Uncertain(line.b, MappingProxyType({first: along, second: rest}))
    start = derived(lambda a: math.e**a, height)
    return Discharge(derived(lambda b: -1 / b, slope), start, line)


def capacitance(time_constant: Uncertain, resistance: Uncertain, voltmeter: float | None = None) -> Uncertain:
    """Capacitance from a time constant: C = tau/R, the voltmeter in parallel with R where its resistance is known.

    Parameters
    ----------
    time_constant : Uncertain
        In seconds.
    resistance : Uncertain
        In ohms.
    voltmeter : float, optional
        Its resistance in ohms; left out, C comes out too small by R over the voltmeter's resistance.

    Examples
    --------
    >>> from boardproof.lab.uncertain import measured
    >>> C = capacitance(measured(10.0, 0.1, "tau"), measured(1e5, 1e3, "R"))
    >>> f"{C.value:.3g}", f"{C.u:.2g}"
    ('0.0001', '1.4e-06')
    """
    leak = 1 / voltmeter if voltmeter else 0.0
    return derived(lambda tau, R: tau * (1 / R + leak), time_constant, resistance)
