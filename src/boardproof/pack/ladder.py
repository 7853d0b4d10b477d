"""Packs whose links have resistance: rails between neighbouring rows, and in blocks between neighbouring cells.

The load hangs between opposite corners, so that every path through the pack passes equally many links.
"""

from __future__ import annotations

from typing import Any

from boardproof.pack.wiring import Bank, Shares, Wiring

__all__ = ["shares_with_links"]


def shares_with_links(bank: Bank, wiring: Wiring, *, link: float, resistance: float) -> Shares:
    """Currents of one pack whose neighbours are joined by links with resistance.

    Parameters
    ----------
    bank : Bank
        One pack, of shape (rows, cells in a row), no cell opened or shorted.
    wiring : {"rows", "blocks"}
        Rows meet at their ends only; in blocks neighbours meet at every cell.
    link : float
        Resistance between two neighbours, more than nought.
    resistance : float
        Of the load with its cable.

    Notes
    -----
    The junction rule gives a banded matrix, at most as wide as the shorter side of the pack. It is factored once for
    the cells' EMFs and for one ampere through the load; the two answers are added.

    Examples
    --------
    >>> from boardproof.pack.wiring import like_cells
    >>> made = shares_with_links(like_cells(2, 2, 1.5, 0.5), "rows", link=1e-9, resistance=2.5)
    >>> round(float(made.current), 6)
    1.0
    """
    import numpy as np  # heavy, and most lessons never come here

    emf, ohms = bank.emf, bank.resistance
    if wiring == "rows":
        emf, ohms = emf.sum(axis=1, keepdims=True), ohms.sum(axis=1, keepdims=True)
    flows, current = _mesh(np, emf, 1.0 / ohms, 1.0 / link, resistance)
    return Shares(current * resistance, current, np.broadcast_to(flows, bank.emf.shape))


def _mesh(np: Any, emf: Any, siemens: Any, link: float, resistance: float) -> tuple[Any, Any]:
    """Currents of the cells, by a banded factoring over (cells + 1) x rows nodes."""
    from scipy.linalg import cho_solve_banded, cholesky_banded  # 0.3 s to load

    rows, series = emf.shape
    across = rows <= series + 1  # number nodes so that neighbours are near: the band is the shorter side
    step_cell, step_link = (rows, 1) if across else (1, series + 1)
    count, width = rows * (series + 1), max(step_cell, step_link)
    place = np.arange(rows)[:, None] * step_link + np.arange(series + 1)[None, :] * step_cell
    band = np.zeros((width + 1, count))
    for tail, head, step, each in (
        (place[:, :-1], place[:, 1:], step_cell, siemens),
        (place[:-1, :], place[1:, :], step_link, np.full((max(0, rows - 1), series + 1), link)),
    ):
        np.add.at(band[0], tail.ravel(), each.ravel())
        np.add.at(band[0], head.ravel(), each.ravel())
        np.subtract.at(band[step], tail.ravel(), each.ravel())
    minus, plus = place[0, 0], place[-1, -1]
    band[0, minus] += siemens.max()  # pins the potential there to nought; no current flows in it
    drives = (emf * siemens).ravel()
    right = np.zeros((count, 2))
    right[:, 0] = np.bincount(place[:, 1:].ravel(), drives, count) - np.bincount(
        place[:, :-1].ravel(), drives, count
    )
    right[plus, 1], right[minus, 1] = -1.0, 1.0
    found = cho_solve_banded(
        (cholesky_banded(band, lower=True, check_finite=False), True), right, check_finite=False
    )
    open_voltage, per_ampere = found[plus] - found[minus]
    current = open_voltage / (resistance - per_ampere)
    potential = found[:, 0] + current * found[:, 1]
    return siemens * (emf - (potential[place[:, 1:]] - potential[place[:, :-1]])), current
