"""A cell as a designer knows it, and a library of published typical figures, each with its source."""

from __future__ import annotations

from fractions import Fraction
from typing import Final, Literal

from boardproof.record import record

__all__ = ["LIBRARY", "CellType", "Chemistry", "cell_called"]

Chemistry = Literal["primary", "rechargeable", "lithium", "lead-acid"]
PRACTICE: Final = "common practice, no source"


@record
class CellType:
    """One kind of cell; values in SI units, None where nobody said.

    Parameters
    ----------
    name : str
        As people call it.
    full, empty : Fraction
        EMF when full, and when it counts as empty; between them it falls evenly with the charge given.
    resistance : Fraction
        Internal resistance, taken to stay as it is.
    most : Fraction or None
        Greatest current it may give, in amperes.
    capacity : Fraction or None
        Charge from full to empty, in coulombs.
    mass, cost : Fraction or None
        In kilograms; in whatever money is counted in.
    spread : Fraction
        Standard deviation of EMF and capacity from cell to cell, as a share.
    spread_of_resistance : Fraction
        The same of the resistance.
    chemistry : {"primary", "rechargeable", "lithium", "lead-acid"}
        Decides about cautions.
    source : str
        Where the figures are from.
    """

    name: str
    full: Fraction
    empty: Fraction
    resistance: Fraction
    most: Fraction | None = None
    capacity: Fraction | None = None
    mass: Fraction | None = None
    cost: Fraction | None = None
    spread: Fraction = Fraction(1, 100)
    spread_of_resistance: Fraction = Fraction(1, 10)
    chemistry: Chemistry = "primary"
    source: str = ""

    def emf_at(self, charge: Fraction) -> Fraction:
        """EMF with this share of its charge left, from 0 to 1.

        Parameters
        ----------
        charge : Fraction
            1 is full.
        """
        return self.empty + (self.full - self.empty) * charge


def _cell(name: str, figures: str, chemistry: Chemistry, source: str) -> CellType:
    """A row of the library: full, empty, r, most, ampere hours, grams; a stroke where no source says."""
    full, empty, r, most, hours, grams = (None if f == "-" else Fraction(f) for f in figures.split())
    assert full is not None
    assert empty is not None
    assert r is not None
    capacity = None if hours is None else hours * 3600
    mass = None if grams is None else grams / 1000
    return CellType(name, full, empty, r, most, capacity, mass, chemistry=chemistry, source=source)


LIBRARY: Final = tuple(
    _cell(*row)
    for row in (
        (
            "AA alkaline", "1.58 0.9 0.214 0.5 2 23", "primary",
            ("r: Energizer bulletin 1.1.0 (2005), 5 to 505 mA pulse; 1.58 V: OpenStax College Physics 21.2; "
            f"0.9 V, 0.5 A, 2 A h, 23 g: {PRACTICE}"),
        ),
        (
            "zinc-carbon cell", "1.54 0.9 0.1 0.3 - -", "primary",
            f"1.54 V, 0.1 Ω: OpenStax College Physics 21.2; 0.9 V, 0.3 A: {PRACTICE}",
        ),
        (
            "NiMH AA", "1.35 1 0.03 2 2 27", "rechargeable",
            f"1.2 V nominal: maker's sheet; full 1.3 to 1.4 V, empty, 0.03 Ω, 2 A, 2 A h, 27 g: {PRACTICE}",
        ),
        (
            "lead-acid 12 V 7 Ah", "12.6 10.8 0.025 7 7 -", "lead-acid",
            ("12.6 V full, 10.8 V flat limit, 0.025 Ω: a stored page quoting a maker (L. Allen); "
            f"7 A: {PRACTICE}"),
        ),
        (
            "Li-ion 18650", "4.2 3 0.08 5 2.5 45", "lithium",
            f"4.2 V, 2.5 to 3.0 V, below 80 mΩ at 1 kHz: makers' sheets; 5 A, 2.5 A h, 45 g: {PRACTICE}",
        ),
        (
            "coin cell CR2032", "3.2 2 15 0.003 0.22 3", "lithium",
            f"3.0 V nominal: IEC letter C; 3.2 V, 2 V, 15 Ω, 3 mA, 0.22 A h, 3 g: {PRACTICE}",
        ),
        (
            "9 V block 6LR61", "9.5 5.4 1.5 0.1 0.5 45", "primary",
            f"9 V nominal; everything else: {PRACTICE}",
        ),
    )
)  # fmt: skip
"""Typical figures, none of them a promise: read the maker's sheet of the cell in your hand."""


def cell_called(name: str) -> CellType | None:
    """The library's cell of this name, whatever the case.

    Parameters
    ----------
    name : str
        As typed.

    Examples
    --------
    >>> float(cell_called("aa alkaline").resistance)
    0.214
    """
    wanted = " ".join(name.casefold().split())
    return next((each for each in LIBRARY if each.name.casefold() == wanted), None)
