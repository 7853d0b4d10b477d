"""What if one cell is turned, dead, open, shorted, weak or warmer: what it does to the load, and to one cell."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, Final, Literal

from boardproof.pack.wiring import Bank, Wiring, like_cells, shares
from boardproof.record import record

__all__ = ["FAULTS", "Fault", "WhatIf", "what_if"]

Fault = Literal["turned", "dead", "open", "shorted", "weak", "warmer"]
FAULTS: Final[tuple[Fault, ...]] = ("turned", "dead", "open", "shorted", "weak", "warmer")
WEAK_EMF, WEAK_RESISTANCE, WARM_RESISTANCE = 0.8, 2.0, 0.7
"""What weak and warm mean here: a fifth less EMF and twice the resistance; a third less resistance (our own choice)."""
REST: Final = 1e-9


@record
class WhatIf:
    """One thing that may be wrong.

    Parameters
    ----------
    fault : Fault
        What happened to the cells.
    wiring : {"rows", "blocks"}
        How the pack is wired.
    count : int
        How many cells, all in one row.
    load : float
        Change of the load's current, as a share.
    worst : float
        The largest current through any cell, over the current of each cell of the sound pack.
    worst_current : float
        The same in amperes, below nought if it enters at plus.
    charged : int
        Cells that current enters at plus, though they are the right way round.
    at_rest : float
        Largest current through a cell with no load.
    heat : float
        Most heat in one cell, in watts.
    """

    fault: Fault
    wiring: Wiring
    count: int
    load: float
    worst: float
    worst_current: float
    charged: int
    at_rest: float
    heat: float

    @property
    def name(self) -> str:
        """In words."""
        return f"{'one cell' if self.count == 1 else f'{self.count} cells of one row'} {self.fault}"


def what_if(series: int, rows: int, emf: float, resistance: float, load: float) -> tuple[WhatIf, ...]:
    """Every fault of one cell, and of two in one row, in either wiring; the worst for a cell first.

    Parameters
    ----------
    series, rows : int
        Of the pack.
    emf, resistance : float
        Of each cell with its contacts.
    load : float
        Resistance of the load with its cable.

    Examples
    --------
    >>> found = what_if(10, 4, 1.5, 0.4, 4.0)
    >>> turned = next(each for each in found if (each.fault, each.wiring, each.count) == ("turned", "rows", 1))
    >>> round(turned.load, 3), round(turned.worst, 3)
    (-0.05, 1.2)
    """
    sound = shares(like_cells(series, rows, emf, resistance), "rows", resistance=load)
    wirings: tuple[Wiring, ...] = ("rows", "blocks") if rows > 1 and series > 1 else ("rows",)
    found = [
        _judged(bank, fault, wiring, count, float(sound.current), rows, load)
        for wiring in wirings
        for fault in FAULTS
        for count in (1, 2)
        if count <= series
        for bank in _broken(fault, series, rows, emf, resistance, count)
    ]
    return tuple(sorted(found, key=lambda each: (-each.worst, each.load, each.name, each.wiring)))


def _broken(
    fault: Fault, series: int, rows: int, emf: float, resistance: float, count: int
) -> Iterator[Bank]:
    import numpy as np  # heavy, and most lessons never come here

    bank = like_cells(series, rows, emf, resistance)
    marked = np.zeros((rows, series), bool)
    marked[0, :count] = True
    match fault:
        case "turned":
            bank.emf[marked] = -emf
        case "dead":
            bank.emf[marked] = 0.0
        case "weak":
            bank.emf[marked] *= WEAK_EMF
            bank.resistance[marked] *= WEAK_RESISTANCE
        case "warmer":
            bank.resistance[marked] *= WARM_RESISTANCE
        case "open":
            bank = Bank(bank.emf, bank.resistance, opened=marked)
        case "shorted":
            bank = Bank(bank.emf, bank.resistance, shorted=marked)
    yield bank


def _judged(
    bank: Bank, fault: Fault, wiring: Wiring, count: int, sound: float, rows: int, load: float
) -> WhatIf:
    import numpy as np  # as above

    made = shares(bank, wiring, resistance=load)
    rest = shares(bank, wiring)
    flat: Any = made.cells.ravel()
    at = int(np.argmax(np.abs(flat)))
    charged = int(np.count_nonzero((made.cells < -REST) & (bank.emf > 0)))
    return WhatIf(
        fault,
        wiring,
        count,
        float(made.current) / sound - 1,
        abs(float(flat[at])) * rows / sound,
        float(flat[at]),
        charged,
        float(np.abs(rest.cells).max()),
        float((made.cells**2 * bank.resistance).max()),
    )
