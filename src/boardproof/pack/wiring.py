"""Rows first or blocks first: the current through every cell, for many cases of one pack at once.

Rows first: cells are joined into rows, the rows side by side. Blocks first: the cells of one place are joined side by
side, the blocks behind each other. With like cells the two do the same; with unlike ones they do not.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Literal

__all__ = ["Bank", "Shares", "Wiring", "like_cells", "shares"]

Wiring = Literal["rows", "blocks"]


@dataclass(frozen=True, slots=True, eq=False)
class Bank:
    """Cells of a pack, as float arrays of shape (..., rows, cells in a row).

    Parameters
    ----------
    emf, resistance : float array
        Of each cell with its contacts; a turned cell has its EMF below nought.
    opened, shorted : bool array or None
        Cells that let nothing through; cells whose ends a wire joins.
    """

    emf: Any
    resistance: Any
    opened: Any = None
    shorted: Any = None


@dataclass(frozen=True, slots=True, eq=False)
class Shares:
    """What a pack does.

    Parameters
    ----------
    voltage, current : float array of shape (...)
        At the load and through it.
    cells : float array of shape (..., rows, cells in a row)
        Current out of each cell's plus; below nought it is charged (or, if turned, driven).
    """

    voltage: Any
    current: Any
    cells: Any


def like_cells(series: int, rows: int, emf: float, resistance: float) -> Bank:
    """A bank of like cells.

    Parameters
    ----------
    series, rows : int
        Counts.
    emf, resistance : float
        Of each.

    Examples
    --------
    >>> float(shares(like_cells(10, 4, 1.5, 0.4), "rows", resistance=4.0).current)
    3.0
    """
    import numpy as np  # heavy, and most lessons never come here

    return Bank(np.full((rows, series), float(emf)), np.full((rows, series), float(resistance)))


def shares(
    bank: Bank, wiring: Wiring, *, resistance: float | None = None, current: float | None = None
) -> Shares:
    """Currents and p.d. of a pack with a load.

    Parameters
    ----------
    bank : Bank
        Its cells.
    wiring : {"rows", "blocks"}
        Which are joined first.
    resistance : float, optional
        Of the load with its cable.
    current : float, optional
        Drawn, instead of a resistance; with neither the pack is at rest.

    Notes
    -----
    Rows: V = (sum of E/r - I) / (sum of 1/r) over rows. Blocks: V = sum of (E_k - I r_k). Linear in time and memory.

    Examples
    --------
    One of forty cells turned, as a lesson has it:

    >>> bank = like_cells(10, 4, 1.5, 0.4)
    >>> bank.emf[1, 2] = -1.5
    >>> made = shares(bank, "rows", resistance=4.0)
    >>> round(float(made.voltage), 6), made.cells[:, 0].round(6).tolist()
    (11.4, [0.9, 0.15, 0.9, 0.9])
    """
    import numpy as np  # as above

    with np.errstate(divide="ignore", invalid="ignore"):
        fold = _rows if wiring == "rows" else _blocks
        return fold(np, bank, resistance, current)


def _masked(np: Any, bank: Bank) -> tuple[Any, Any]:
    """EMFs and resistances with the shorted cells taken out of their rows."""
    if bank.shorted is None:
        return bank.emf, bank.resistance
    return np.where(bank.shorted, 0.0, bank.emf), np.where(bank.shorted, 0.0, bank.resistance)


def _rows(np: Any, bank: Bank, resistance: float | None, current: float | None) -> Shares:
    emf, ohms = _masked(np, bank)
    row_emf, row_ohms = emf.sum(axis=-1), ohms.sum(axis=-1)
    siemens = 1.0 / row_ohms
    if bank.opened is not None:
        siemens = np.where(bank.opened.any(axis=-1), 0.0, siemens)
    drives, total = (np.where(row_ohms > 0, row_emf * siemens, 0.0)).sum(axis=-1), siemens.sum(axis=-1)
    if current is not None:
        voltage = (drives - current) / total
        through = np.full_like(voltage, current)
    else:
        load = 0.0 if resistance is None else 1.0 / resistance
        voltage = np.where(total + load > 0, drives / (total + load), 0.0)
        voltage = np.where(np.isinf(total), 0.0, voltage)
        through = voltage * load
    flows = siemens * (row_emf - voltage[..., None])
    cells = np.broadcast_to(flows[..., None], bank.emf.shape)
    return Shares(voltage, through, _own_loops(np, bank, cells))


def _blocks(np: Any, bank: Bank, resistance: float | None, current: float | None) -> Shares:
    siemens = 1.0 / bank.resistance
    if bank.opened is not None:
        siemens = np.where(bank.opened, 0.0, siemens)
    total = siemens.sum(axis=-2)
    emf, ohms = (bank.emf * siemens).sum(axis=-2) / total, 1.0 / total
    if bank.shorted is not None:
        dead = bank.shorted.any(axis=-2)
        emf, ohms = np.where(dead, 0.0, emf), np.where(dead, 0.0, ohms)
    is_broken = np.isinf(ohms)
    emf = np.where(is_broken, 0.0, emf)
    whole, inside = emf.sum(axis=-1), ohms.sum(axis=-1)
    if current is not None:
        through = np.full_like(whole, current)
    else:
        through = whole / (inside + resistance) if resistance is not None else np.zeros_like(whole)
        through = np.where(np.isinf(inside), 0.0, through)
    each = emf - np.where(is_broken, 0.0, through[..., None] * ohms)
    cells = siemens * (bank.emf - each[..., None, :])
    voltage = through * resistance if resistance is not None and current is None else each.sum(axis=-1)
    return Shares(voltage, through, _own_loops(np, bank, cells))


def _own_loops(np: Any, bank: Bank, cells: Any) -> Any:
    """A shorted cell drives E/r round the wire across it."""
    return cells if bank.shorted is None else np.where(bank.shorted, bank.emf / bank.resistance, cells)
