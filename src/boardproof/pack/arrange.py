"""Every sensible arrangement of like cells, each limit with its margin, and the best under each aim.

Rows first from the current: p >= I/I_most. Then s cells in a row, from s (E - I r/p) - I R_cable >= V. The slogan
"series until the voltage is reached, rows until the current is" counts V/E and forgets I r/p.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from math import ceil, floor
from typing import Final

from boardproof.pack.brief import AIMS, Aim, PackBrief, Supply
from boardproof.quantities import AMPERE, JOULE, PURE, SECOND, VOLT, Dimension
from boardproof.record import record

__all__ = ["MOST_CELLS", "Arrangement", "Check", "arrangements", "best", "judged", "slogan"]

MOST_CELLS: Final = 10_000
LISTED_ROWS: Final = 400
ENERGY: Final = "energy at the load"
NOUGHT: Final = Fraction(0)


@record
class Check:
    """One limit of the brief: what the pack gives, what is asked, and how much is left over (below nought: missed).

    Parameters
    ----------
    limit : str
        In words.
    value, bound : Fraction
        In SI units.
    is_least : bool
        Whether `bound` must be reached or must not be passed.
    dimension : Dimension
        Of both.
    unit : str
        What is written where the dimension has no unit: "kg", or nothing.
    """

    limit: str
    value: Fraction
    bound: Fraction
    is_least: bool
    dimension: Dimension
    unit: str = ""

    @property
    def margin(self) -> Fraction:
        """How far it is on the good side."""
        return self.value - self.bound if self.is_least else self.bound - self.value

    @property
    def is_met(self) -> bool:
        """Whether the limit is kept."""
        return self.margin >= 0


@record
class Arrangement:
    """`series` cells in a row, `rows` rows.

    Parameters
    ----------
    series, rows : int
        Counts.
    supply : Supply
        The cells.
    checks : tuple of Check
        Each limit of the brief.
    sag : Fraction
        Fall of the p.d. from no load to the peak current.
    """

    series: int
    rows: int
    supply: Supply
    checks: tuple[Check, ...] = ()
    sag: Fraction = NOUGHT

    @property
    def cells(self) -> int:
        """How many."""
        return self.series * self.rows

    @property
    def name(self) -> str:
        """As circuits are written."""
        return f"{self.series}s{self.rows}p"

    @property
    def is_good(self) -> bool:
        """Whether every limit is kept."""
        return all(each.is_met for each in self.checks)

    def voltage(self, current: Fraction, charge: Fraction) -> Fraction:
        """P.d. at the load.

        Parameters
        ----------
        current : Fraction
            Of the load.
        charge : Fraction
            Share of the charge left.
        """
        left = self.supply.cell.emf_at(charge) - current * self.supply.resistance / self.rows
        return self.series * left - current * self.supply.cable

    @property
    def resistance(self) -> Fraction:
        """Of the pack with its leads."""
        return self.series * self.supply.resistance / self.rows + self.supply.cable


def judged(brief: PackBrief, supply: Supply, series: int, rows: int) -> Arrangement:
    """An arrangement with each limit of the brief and its margin.

    Parameters
    ----------
    brief : PackBrief
        What is asked.
    supply : Supply
        Of which cells.
    series, rows : int
        Counts, 1 at least.

    Examples
    --------
    >>> from boardproof.pack.cell import CellType
    >>> A = Supply(CellType("A", Fraction("1.5"), Fraction("1.5"), Fraction("0.4")), 60)
    >>> brief = PackBrief(Fraction(12), Fraction(3), (A,), each_cell=Fraction("0.75"))
    >>> [check.is_met for check in judged(brief, A, 10, 4).checks], judged(brief, A, 8, 4).is_good
    ([True, True, True], False)
    """
    made = Arrangement(series, rows, supply)
    sag = brief.greatest * made.resistance
    return Arrangement(series, rows, supply, tuple(_checks(brief, made, sag)), sag)


def _checks(brief: PackBrief, made: Arrangement, sag: Fraction) -> Iterator[Check]:
    supply, cell, rows = made.supply, made.supply.cell, made.rows
    full = made.series * cell.full
    yield Check("p.d. at the load", made.voltage(brief.greatest, brief.at_charge), brief.least, True, VOLT)
    if brief.most is not None:
        yield Check("p.d. when full, no load", full, brief.most, False, VOLT)
    if brief.most_at_load is not None:
        value = made.voltage(brief.current, Fraction(1))
        yield Check("p.d. at the load when full", value, brief.most_at_load, False, VOLT)
    limit = brief.limit_of(supply)
    if limit is not None:
        yield Check("current through each cell", brief.greatest / rows, limit, False, AMPERE)
    if brief.sag is not None:
        yield Check("sag", sag, brief.sag, False, VOLT)
    if brief.sag_share is not None:
        yield Check("sag as a share", sag / full, brief.sag_share, False, PURE)
    if cell.capacity is not None:
        if brief.seconds is not None:
            yield Check(
                "time at the steady current",
                rows * cell.capacity / brief.current,
                brief.seconds,
                True,
                SECOND,
            )
        if brief.energy is not None:
            # At a steady current the p.d. falls evenly, so its mean is that at half charge.
            mean = made.voltage(brief.current, Fraction(1, 2))
            yield Check(ENERGY, rows * cell.capacity * mean, brief.energy, True, JOULE)
    if brief.mass is not None and cell.mass is not None:
        yield Check("mass of the cells", made.cells * cell.mass, brief.mass, False, PURE, "kg")
    if brief.cost is not None and cell.cost is not None:
        yield Check("cost of the cells", made.cells * cell.cost, brief.cost, False, PURE)
    if supply.at_most is not None:
        yield Check("number of cells", Fraction(made.cells), Fraction(supply.at_most), False, PURE)


def arrangements(brief: PackBrief) -> tuple[Arrangement, ...]:
    """Every sensible arrangement: for each number of rows, the shortest rows that meet the whole brief.

    Parameters
    ----------
    brief : PackBrief
        What is asked.

    Returns
    -------
    tuple of Arrangement
        Fewest cells first; empty if the brief cannot be met. Longer rows than the shortest only add p.d. beyond the
        one asked for, so they are sensible where they bring what shorter ones lack (energy), and only then.

    Examples
    --------
    >>> from boardproof.pack.cell import CellType
    >>> A = Supply(CellType("A", Fraction("1.5"), Fraction("1.5"), Fraction("0.4")), 60)
    >>> brief = PackBrief(Fraction(12), Fraction(3), (A,), each_cell=Fraction("0.75"))
    >>> [each.name for each in arrangements(brief)]
    ['10s4p', '10s5p', '10s6p']
    """
    found = [each for supply in brief.supplies for each in _of(brief, supply)]
    return tuple(sorted(found, key=lambda each: (each.cells, each.sag, each.supply.cell.name)))


def _of(brief: PackBrief, supply: Supply) -> Iterator[Arrangement]:
    limit = brief.limit_of(supply)
    fewest = max(1, ceil(brief.greatest / limit)) if limit else 1
    most = min(supply.at_most or MOST_CELLS, MOST_CELLS)
    for rows in range(fewest, min(most, fewest + LISTED_ROWS) + 1):
        shortest = _shortest(brief, supply, rows)
        if shortest is None:
            continue
        for series in range(shortest, min(most // rows, _longest(brief, supply, most)) + 1):
            made = judged(brief, supply, series, rows)
            if made.is_good:
                yield made
            if all(each.is_met or each.limit == ENERGY for each in made.checks) and not made.is_good:
                continue  # only longer rows bring more energy; whatever else is missed they miss by more
            break


def _shortest(brief: PackBrief, supply: Supply, rows: int) -> int | None:
    """The fewest cells in a row that reach the least p.d.; None if each loses all it has."""
    left = supply.cell.emf_at(brief.at_charge) - brief.greatest * supply.resistance / rows
    if left <= 0:
        return None
    return max(1, ceil((brief.least + brief.greatest * supply.cable) / left))


def _longest(brief: PackBrief, supply: Supply, most: int) -> int:
    return most if brief.most is None else floor(brief.most / supply.cell.full)


def best(
    brief: PackBrief, aim: Aim | None = None, listed: Sequence[Arrangement] | None = None
) -> Arrangement | None:
    """The best arrangement under an aim; None if the brief cannot be met.

    Parameters
    ----------
    brief : PackBrief
        What is asked.
    aim : Aim, optional
        Instead of the brief's own.
    listed : sequence of Arrangement, optional
        What `arrangements` gave, if it is known.

    Notes
    -----
    Cells, mass and cost fall with each cell left out, so the shortest rows are best; sag I (s r/p + R_cable) is least
    with the most rows of the shortest kind. Ties go to fewer cells.

    Examples
    --------
    >>> from boardproof.pack.cell import CellType
    >>> A = Supply(CellType("A", Fraction("1.5"), Fraction("1.5"), Fraction("0.4")), 60)
    >>> brief = PackBrief(Fraction(12), Fraction(3), (A,), each_cell=Fraction("0.75"))
    >>> best(brief).name, best(brief, "least sag").name
    ('10s4p', '10s6p')
    """
    every = arrangements(brief) if listed is None else listed
    found = [each for each in every if _size(each, aim or brief.aim) is not None]
    return min(found, key=lambda each: (_size(each, aim or brief.aim) or NOUGHT, each.cells), default=None)


def _size(made: Arrangement, aim: Aim) -> Fraction | None:
    cell = made.supply.cell
    match AIMS.index(aim):
        case 0:
            return Fraction(made.cells)
        case 1:
            return None if cell.mass is None else made.cells * cell.mass
        case 2:
            return None if cell.cost is None else made.cells * cell.cost
        case _:
            return made.sag


def slogan(brief: PackBrief, supply: Supply) -> Arrangement:
    """What the slogan builds: cells in a row until the EMFs reach the p.d., rows until the currents do.

    Parameters
    ----------
    brief : PackBrief
        What is asked.
    supply : Supply
        Of which cells.

    Examples
    --------
    >>> from boardproof.pack.cell import CellType
    >>> A = Supply(CellType("A", Fraction("1.5"), Fraction("1.5"), Fraction("0.4")), 60)
    >>> brief = PackBrief(Fraction(12), Fraction(3), (A,), each_cell=Fraction("0.75"))
    >>> slogan(brief, A).name, slogan(brief, A).checks[0].is_met
    ('8s4p', False)
    """
    limit = brief.limit_of(supply)
    rows = max(1, ceil(brief.greatest / limit)) if limit else 1
    return judged(brief, supply, max(1, ceil(brief.least / supply.cell.emf_at(brief.at_charge))), rows)
