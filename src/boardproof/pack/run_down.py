"""A pack running down at its steady current: EMFs fall with the charge given, until the p.d. reaches its end."""

from __future__ import annotations

from typing import Any, Final

from boardproof.pack.arrange import Arrangement
from boardproof.pack.spread import drawn
from boardproof.pack.wiring import Bank, Wiring, shares
from boardproof.record import record

__all__ = ["RunDown", "run_down"]

STEPS: Final = 240


@record
class RunDown:
    """How the p.d. falls with time.

    Parameters
    ----------
    seconds, voltage : tuple of float
        At the load, step by step.
    ends : float or None
        Seconds until the p.d. reaches the end; None if a cell is empty first.
    first_empty : float or None
        Seconds until the first cell is empty, if that is before the end.
    energy : float
        Given to the load until then, in joules.
    spread_of_charge : float
        Difference between the fullest and the emptiest cell then, as a share.
    """

    seconds: tuple[float, ...]
    voltage: tuple[float, ...]
    ends: float | None
    first_empty: float | None
    energy: float
    spread_of_charge: float


def run_down(
    made: Arrangement, wiring: Wiring, *, current: float, end: float, alike: bool = True, seed: int = 1
) -> RunDown:
    """Run a full pack down.

    Parameters
    ----------
    made : Arrangement
        Which pack; its cells have a capacity.
    wiring : {"rows", "blocks"}
        Which are joined first.
    current : float
        Steady, in amperes.
    end : float
        P.d. at the load at which it stops.
    alike : bool
        Whether the cells are alike, or drawn once from their spread.
    seed : int
        Where chance starts.

    Notes
    -----
    The EMF is a straight line between empty and full; steps of equal time by the midpoint rule, whose error here
    falls with the square of the step.

    Examples
    --------
    Like cells give their EMF's mean, so the time is capacity over current until the end of the line:

    >>> from fractions import Fraction
    >>> from boardproof.pack.brief import Supply
    >>> from boardproof.pack.cell import CellType
    >>> A = CellType("A", Fraction(2), Fraction(1), Fraction(1, 10), capacity=Fraction(3600))
    >>> found = run_down(Arrangement(2, 1, Supply(A)), "rows", current=1.0, end=2.8)
    >>> round(found.ends), round(found.energy / 3600, 2)
    (1800, 1.65)
    """
    import numpy as np  # heavy, and most lessons never come here

    cell = made.supply.cell
    if cell.capacity is None:
        raise ValueError("a cell without a capacity never runs down")
    rng = np.random.default_rng(seed)
    fresh = drawn(made, 1.0, 1, rng)
    shape = (made.rows, made.series)
    lift = fresh.emf[0] - float(cell.full) if not alike else np.zeros(shape)
    ohms = fresh.resistance[0] if not alike else np.full(shape, float(made.supply.resistance))
    stored = np.full(shape, float(cell.capacity))
    if not alike:
        stored *= 1 + float(cell.spread) * rng.standard_normal(shape)

    def state(left: Any) -> tuple[float, Any]:
        emf = float(cell.empty) + float(cell.full - cell.empty) * left + lift
        found = shares(Bank(emf, ohms), wiring, current=current)
        return float(found.voltage) - current * float(made.supply.cable), found.cells

    step = made.rows * float(cell.capacity) / current / STEPS
    return _stepped(np.ones(shape), stored, state, step, current, end)


def _stepped(left: Any, stored: Any, state: Any, step: float, current: float, end: float) -> RunDown:
    """Steps until the end, or until a cell is empty; the last step is cut where it happens."""
    voltage, cells = state(left)
    times, heights, energy = [0.0], [voltage], 0.0
    while voltage > end:
        _, middle = state(left - cells * step / 2 / stored)
        after = left - middle * step / stored
        below, flows = state(after)
        share = 1.0
        if after.min() < 0:
            share = float((left / (left - after).clip(1e-300)).min())
        if below < end:
            share = min(share, (voltage - end) / (voltage - below))
        left, reached = left + (after - left) * share, voltage + (below - voltage) * share
        energy += current * step * share * (voltage + reached) / 2
        times.append(times[-1] + step * share)
        heights.append(reached)
        voltage, cells = reached, flows
        if share < 1:
            break
    at_end = voltage <= end * (1 + 1e-12)
    return RunDown(
        tuple(times),
        tuple(heights),
        times[-1] if at_end else None,
        None if at_end else times[-1],
        energy,
        float(left.max() - left.min()),
    )
