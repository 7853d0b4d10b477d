"""Measured cells that are not alike: how to stand them in rows and blocks so that they share well.

Rows share well if their EMFs agree; blocks if the cells in each do. The grouping is found by dealing out the sorted
cells and swapping pairs while that helps; how good it can be at all is bounded beside it.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from math import sqrt
from typing import Any, Final

from boardproof.pack.wiring import Bank, Wiring, shares
from boardproof.record import record

__all__ = ["Grouping", "current_bound", "grouped"]

MOST_SWEEPS: Final = 12


@record
class Grouping:
    """Cells in their places.

    Parameters
    ----------
    wiring : {"rows", "blocks"}
        Which are joined first.
    places : tuple of tuple of int
        For each row the cells in it, by their number in the list.
    current : float
        Through the load.
    bound : float
        No arrangement of these cells drives more.
    worst, least : float
        Largest and smallest current out of a cell.
    at_rest : float
        Largest current through a cell with no load.
    before : float
        What `worst` was in the order in which the cells were listed.
    """

    wiring: Wiring
    places: tuple[tuple[int, ...], ...]
    current: float
    bound: float
    worst: float
    least: float
    at_rest: float
    before: float


def current_bound(cells: Sequence[tuple[Fraction, Fraction]], load: Fraction) -> float:
    """More current than any arrangement of these cells can drive through a load.

    Parameters
    ----------
    cells : sequence of (EMF, resistance)
        All of them.
    load : Fraction
        Above nought.

    Notes
    -----
    A cell gives at most E^2/(4 r) to what is outside it, so I^2 R <= sum of E^2/(4 r); and I R is at most the sum of
    all EMFs. The smaller of the two bounds.

    Examples
    --------
    >>> round(current_bound([(Fraction(2), Fraction(1))] * 4, Fraction(1)), 6)
    2.0
    """
    power = sum((emf * emf / (4 * ohms) for emf, ohms in cells), Fraction(0))
    return min(sqrt(power / load), float(sum(abs(emf) for emf, _ in cells) / load))


def grouped(
    cells: Sequence[tuple[Fraction, Fraction]], series: int, rows: int, wiring: Wiring, load: Fraction
) -> Grouping:
    """A good grouping of unequal cells.

    Parameters
    ----------
    cells : sequence of (EMF, resistance)
        ``series * rows`` of them.
    series, rows : int
        Counts.
    wiring : {"rows", "blocks"}
        Which are joined first.
    load : Fraction
        Resistance of the load.

    Examples
    --------
    Four cells, two rows of two: the strongest goes with the weakest.

    >>> cells = [(Fraction(n, 10), Fraction(1, 5)) for n in (16, 15, 14, 13)]
    >>> grouped(cells, 2, 2, "rows", Fraction(3)).places
    ((0, 3), (1, 2))
    """
    import numpy as np  # heavy, and most lessons never come here

    emf, ohms = (np.array([float(each[k]) for each in cells]) for k in (0, 1))

    def cost(order: Any) -> float:
        found = shares(Bank(emf[order], ohms[order]), wiring, resistance=float(load))
        return float(found.cells.max())

    listed = np.arange(len(cells)).reshape(rows, series)
    order = _dealt(np.argsort(-emf, kind="stable"), series, rows, wiring, np)
    best, improved = cost(order), True
    for _ in range(MOST_SWEEPS):
        if not improved:
            break
        improved = False
        for i in range(len(cells)):
            for j in range(i + 1, len(cells)):
                trial = order.copy()
                trial.flat[i], trial.flat[j] = trial.flat[j], trial.flat[i]
                value = cost(trial)
                if value < best - 1e-12:
                    order, best, improved = trial, value, True
    made = shares(Bank(emf[order], ohms[order]), wiring, resistance=float(load))
    rest = shares(Bank(emf[order], ohms[order]), wiring)
    return Grouping(
        wiring,
        tuple(tuple(int(each) for each in row) for row in order),
        float(made.current),
        current_bound(cells, load),
        float(made.cells.max()),
        float(made.cells.min()),
        float(np.abs(rest.cells).max()),
        cost(listed),
    )


def _dealt(ranked: Any, series: int, rows: int, wiring: Wiring, np: Any) -> Any:
    """Rows: dealt out there and back, so that sums agree. Blocks: neighbours in rank side by side."""
    columns = ranked.reshape(series, rows)
    if wiring == "blocks":
        return columns.T.copy()
    return np.stack([row if k % 2 == 0 else row[::-1] for k, row in enumerate(columns)], axis=1)
