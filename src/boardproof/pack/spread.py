"""Cells are not alike: a pack drawn many times from the spread of its cells, told in percentiles."""

from __future__ import annotations

from typing import Any, Final

from boardproof.pack.arrange import Arrangement
from boardproof.pack.wiring import Bank, Wiring, shares
from boardproof.record import record

__all__ = ["PERCENTILES", "Spread", "drawn", "spread_of"]

PERCENTILES: Final = (5, 50, 95)
MOST_NUMBERS: Final = 400_000
"""Cells at a time: the draws go through in pieces, so that memory stays small."""


@record
class Spread:
    """What comes out of many packs of one kind.

    Parameters
    ----------
    wiring : {"rows", "blocks"}
        How they are wired.
    packs : int
        How many were drawn.
    voltage, worst, at_rest : tuple of float
        P.d. at the load, the largest current through a cell, and the largest with no load, at `PERCENTILES`.
    met : float
        Share of packs that keep the least p.d. and each cell's limit.
    shares : tuple of float
        Currents of all cells of one pack, the first that was drawn.
    """

    wiring: Wiring
    packs: int
    voltage: tuple[float, ...]
    worst: tuple[float, ...]
    at_rest: tuple[float, ...]
    met: float
    shares: tuple[float, ...]


def drawn(made: Arrangement, charge: float, packs: int, rng: Any) -> Bank:
    """Packs of cells as they come from the box.

    Parameters
    ----------
    made : Arrangement
        Of which cells.
    charge : float
        Share of the charge left.
    packs : int
        How many.
    rng : numpy.random.Generator
        Where chance comes from.

    Notes
    -----
    EMFs are normal; resistances are log-normal with the stated mean, so that none is below nought.
    """
    import numpy as np  # heavy, and most lessons never come here

    cell, shape = made.supply.cell, (packs, made.rows, made.series)
    middle = float(cell.empty + (cell.full - cell.empty) * charge) if charge < 1 else float(cell.full)
    emf = middle * (1 + float(cell.spread) * rng.standard_normal(shape))
    sigma = np.sqrt(np.log1p(float(cell.spread_of_resistance) ** 2))
    own = float(cell.resistance) * np.exp(sigma * rng.standard_normal(shape) - sigma**2 / 2)
    return Bank(emf, own + float(made.supply.contact))


def spread_of(
    made: Arrangement,
    wiring: Wiring,
    *,
    current: float,
    least: float,
    limit: float | None = None,
    charge: float = 1.0,
    packs: int = 2000,
    seed: int = 1,
) -> Spread:
    """Draw packs and tell what they do.

    Parameters
    ----------
    made : Arrangement
        Which pack.
    wiring : {"rows", "blocks"}
        Which are joined first.
    current : float
        Drawn by the load.
    least : float
        P.d. that must be left at the load.
    limit : float, optional
        Most current through a cell.
    charge : float
        Share of the charge left.
    packs, seed : int
        How many, and where chance starts.

    Examples
    --------
    >>> from fractions import Fraction
    >>> from boardproof.pack.brief import Supply
    >>> from boardproof.pack.cell import CellType
    >>> A = Supply(CellType("A", Fraction("1.5"), Fraction("1.5"), Fraction("0.4")))
    >>> found = spread_of(Arrangement(10, 4, A), "rows", current=3.0, least=11.5, packs=200)
    >>> 11.9 < found.voltage[1] < 12.1, found.worst[0] > 0.75
    (True, True)
    """
    import numpy as np  # as above

    rng = np.random.default_rng(seed)
    at_a_time = max(1, min(packs, MOST_NUMBERS // made.cells))
    columns: list[Any] = []
    one: Any = None
    for start in range(0, packs, at_a_time):
        bank = drawn(made, charge, min(at_a_time, packs - start), rng)
        busy, idle = shares(bank, wiring, current=current), shares(bank, wiring)
        one = busy.cells[0].ravel() if one is None else one
        ends = busy.voltage - current * float(made.supply.cable)
        columns.append((ends, busy.cells.max(axis=(-2, -1)), np.abs(idle.cells).max(axis=(-2, -1))))
    voltage, worst, rest = (np.concatenate(each) for each in zip(*columns, strict=True))
    good = (voltage >= least) & (True if limit is None else worst <= limit)
    told = [
        tuple(float(each) for each in np.percentile(column, PERCENTILES)) for column in (voltage, worst, rest)
    ]
    return Spread(
        wiring, packs, told[0], told[1], told[2], float(good.mean()), tuple(float(each) for each in one)
    )
