"""What a pack must do: the window of p.d., the currents, the energy, the limits, and the cells at hand."""

from __future__ import annotations

from dataclasses import field
from fractions import Fraction
from typing import Final, Literal

from boardproof.pack.cell import CellType
from boardproof.record import record

__all__ = ["AIMS", "Aim", "PackBrief", "Supply"]

Aim = Literal["fewest cells", "least mass", "least cost", "least sag"]
AIMS: Final[tuple[Aim, ...]] = ("fewest cells", "least mass", "least cost", "least sag")
NOUGHT, ONE = Fraction(0), Fraction(1)


@record
class Supply:
    """One kind of cell at hand.

    Parameters
    ----------
    cell : CellType
        Its figures.
    at_most : int or None
        How many there are.
    contact : Fraction
        Resistance of the contacts and links that each cell brings along.
    cable : Fraction
        Resistance of the leads to the load and back.
    """

    cell: CellType
    at_most: int | None = None
    contact: Fraction = NOUGHT
    cable: Fraction = NOUGHT

    @property
    def resistance(self) -> Fraction:
        """Of a cell with its contacts."""
        return self.cell.resistance + self.contact


@record
class PackBrief:
    """A brief, in SI units.

    Parameters
    ----------
    least : Fraction
        P.d. at the load that must be left at the peak current.
    current : Fraction
        Steady current.
    supplies : tuple of Supply
        Kinds of cells, each tried by itself.
    purpose : str
        What for.
    at_charge : Fraction
        Share of the charge at which `least` must still be met; 1 is full.
    most : Fraction or None
        P.d. that must not be passed when full with no load.
    most_at_load : Fraction or None
        The same at the load, when full, at the steady current.
    peak : Fraction or None
        Peak current; None for the steady one.
    peak_seconds, seconds : Fraction or None
        How long the peak and the steady current last.
    energy : Fraction or None
        That must reach the load, in joules.
    each_cell : Fraction or None
        Most current through a cell; the cell's own limit holds as well.
    sag, sag_share : Fraction or None
        Most fall of the p.d. from no load to the peak, in volts or as a share.
    mass, cost : Fraction or None
        At most.
    aim : Aim
        What "best" means.
    """

    least: Fraction
    current: Fraction
    supplies: tuple[Supply, ...]
    purpose: str = ""
    at_charge: Fraction = ONE
    most: Fraction | None = None
    most_at_load: Fraction | None = None
    peak: Fraction | None = None
    peak_seconds: Fraction | None = None
    seconds: Fraction | None = None
    energy: Fraction | None = None
    each_cell: Fraction | None = None
    sag: Fraction | None = None
    sag_share: Fraction | None = None
    mass: Fraction | None = None
    cost: Fraction | None = None
    aim: Aim = field(default="fewest cells")

    @property
    def greatest(self) -> Fraction:
        """The current at which the pack is judged."""
        return self.current if self.peak is None else self.peak

    def limit_of(self, supply: Supply) -> Fraction | None:
        """Most current through one of these cells.

        Parameters
        ----------
        supply : Supply
            Of this brief.
        """
        limits = [each for each in (self.each_cell, supply.cell.most) if each is not None]
        return min(limits, default=None)
