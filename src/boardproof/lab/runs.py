"""Runs of readings out of a table: one a group or cell, and what is wrong with the readings left."""

from __future__ import annotations

import re
from collections.abc import Mapping
from fractions import Fraction
from types import MappingProxyType
from typing import Final

from boardproof.findings import Finding
from boardproof.lab.heading import Column, Role
from boardproof.lab.kinds import finding
from boardproof.lab.layout import Block, Layout, lay_out
from boardproof.lab.number import Amount, Unsure, mark_of, read_amount
from boardproof.lab.readings import Reading
from boardproof.lab.sheet import Grid
from boardproof.quantities import AMPERE, OHM, VOLT, Dimension
from boardproof.record import record
from boardproof.source import Slice, Span

__all__ = ["Run", "Runs", "read_runs"]

LEFT_OUT: Final = re.compile(r"(?:left out|leave out|omit(?:ted)?|ignore[d]?)\s*[:,-]?\s*(.*)", re.IGNORECASE)
GROUP: Final = re.compile(r"(?:group|team|class|table)(?: .*)?", re.IGNORECASE)
WANTED: Final[Mapping[Role, Dimension]] = MappingProxyType({"pd": VOLT, "current": AMPERE, "load": OHM})


@record
class Run:
    """Readings of one cell by one group.

    Parameters
    ----------
    name : str
        Empty if the table holds one run only.
    readings : tuple of Reading
        In the order taken.
    left_out : tuple of (Reading, str)
        Those that the teacher left out, with the reason.
    steps : mapping of str to Fraction
        Smallest step typed, in SI units, of "pd" and "current".
    own : bool
        Whether it had meters of its own, as groups of a class have.
    """

    name: str
    readings: tuple[Reading, ...]
    left_out: tuple[tuple[Reading, str], ...]
    steps: Mapping[str, Fraction]
    own: bool = False


@record
class Runs:
    """All runs of a table, what is to be said, the decimal mark in use, and the place of the headings."""

    runs: tuple[Run, ...]
    findings: tuple[Finding, ...]
    mark: str
    span: Span


def read_runs(grid: Grid, *, decimal: str | None = None, default: str = ".") -> Runs:
    r"""Read all runs.

    Parameters
    ----------
    grid : Grid
        Cells as typed.
    decimal : str, optional
        The decimal mark, if the teacher said it; else the table's own cells settle it.
    default : str
        The mark if nothing settles it.

    Examples
    --------
    >>> from boardproof.lab.sheet import read_grid
    >>> from boardproof.source import Source
    >>> made = read_runs(read_grid(Source("a.csv", "I / mA,V / V\n100,1.46\n12:03,1.42\n")))
    >>> made.runs[0].readings[0].current, [each.facts["what"] for each in made.findings]
    (Fraction(1, 10), ['12:03 is a time'])
    """
    said = grid.fields.get("decimal")
    layout, found = lay_out(grid)
    span = _heading_span(grid)
    if layout is None:
        return Runs((), found, decimal or default, span)
    known = decimal or (said.text if said and said.text in {".", ","} else None)
    numbers = {place for block in layout.blocks for role, place in block.places.items() if role in WANTED}
    cells = (row[place].text for _, row in layout.rows for place in numbers if place < len(row))
    mark = known or mark_of(cells, default)
    reader = _Reader(grid, layout, mark)
    return Runs(reader.runs(), (*found, *reader.findings), mark, span)


def _heading_span(grid: Grid) -> Span:
    row = next((cells for _, cells in grid.rows if any(cell.text for cell in cells)), ())
    return row[0].span.to(row[-1].span) if row else Span(grid.source.name, 0, 0)


class _Reader:
    """Goes through the rows once, gathering readings by run and findings by place."""

    def __init__(self, grid: Grid, layout: Layout, mark: str) -> None:
        self.grid, self.layout, self.mark = grid, layout, mark
        self.heads = dict(enumerate(layout.heads))
        self.findings: list[Finding] = []
        self.kept: dict[str, list[Reading]] = {}
        self.out: dict[str, list[tuple[Reading, str]]] = {}
        self.steps: dict[str, dict[str, Fraction]] = {}

    def runs(self) -> tuple[Run, ...]:
        for number, cells in self.layout.rows:
            if not any(cell.text for cell in cells):
                self.findings.append(finding("empty-row", self._place(cells), row=str(number)))
                continue
            for block in self.layout.blocks:
                self._row(number, cells, block)
        return tuple(
            Run(
                name,
                tuple(self.kept.get(name, ())),
                tuple(self.out.get(name, ())),
                self.steps[name],
                GROUP.match(name) is not None,
            )
            for name in self.steps
        )

    def _place(self, cells: tuple[Slice, ...]) -> Span:
        return cells[0].span.to(cells[-1].span) if cells else Span(self.grid.source.name, 0, 0)

    def _text(self, cells: tuple[Slice, ...], block: Block, role: Role) -> str:
        place = block.places.get(role)
        return cells[place].text if place is not None and place < len(cells) else ""

    def _name(self, cells: tuple[Slice, ...], block: Block) -> str:
        """Name of a row's run; "group 3" where the column is headed group and the cell says 3."""
        own = self._text(cells, block, "group")
        if own and GROUP.fullmatch(self.heads.get(block.places["group"], "")) and not GROUP.match(own):
            own = f"{self.heads[block.places['group']]} {own}"
        return " ".join(filter(None, (block.name, own)))[:60]

    def _row(self, number: int, cells: tuple[Slice, ...], block: Block) -> None:
        across: Role = "current" if "current" in block.places else "load"
        if len(self.layout.blocks) > 1 and not self._text(cells, block, across) + self._text(
            cells, block, "pd"
        ):
            return  # groups side by side need not have equally many readings
        values = {role: self._value(number, cells, block, role) for role in (across, "pd")}
        first, pd = values[across], values["pd"]
        if first is None or pd is None:
            return
        if across == "load" and first <= 0:
            self._trouble(
                number, block.places["load"], cells, f"{cells[block.places['load']].text} is no load"
            )
            return
        load = first if across == "load" else None
        reading = Reading(number, pd / first if load else first, pd, load, self._place(cells))
        name = self._name(cells, block)
        self.steps.setdefault(name, {})
        self._keep_steps(name, cells, block, across)
        why = LEFT_OUT.fullmatch(self._text(cells, block, "note"))
        if why:
            reason = why[1].strip() or "no reason given"
            self.out.setdefault(name, []).append((reading, reason))
            self.findings.append(finding("left-out", self._place(cells), row=str(number), reason=reason))
        else:
            self.kept.setdefault(name, []).append(reading)

    def _value(self, number: int, cells: tuple[Slice, ...], block: Block, role: Role) -> Fraction | None:
        place = block.places[role]
        read = read_amount(cells[place].text if place < len(cells) else "", self.mark)
        if isinstance(read, Unsure):
            self._unsure(number, place, cells, read)
            return None
        column = self.layout.columns[place]
        what = _unit_trouble(read, column, WANTED[role])
        unit = column.unit or read.unit
        if what or unit is None:
            self._trouble(number, place, cells, what)
            return None
        return read.value * unit.scale

    def _keep_steps(self, name: str, cells: tuple[Slice, ...], block: Block, across: Role) -> None:
        """The last decimal place typed stands for the meter's step where no meter is described."""
        for role in (across, "pd"):
            read = read_amount(cells[block.places[role]].text, self.mark)
            if isinstance(read, Unsure):
                continue
            unit = self.layout.columns[block.places[role]].unit or read.unit
            if unit is not None:
                step = Fraction(1, 10) ** max(read.places, 0) * unit.scale
                self.steps[name][role] = min(step, self.steps[name].get(role, step))

    def _unsure(self, number: int, place: int, cells: tuple[Slice, ...], read: Unsure) -> None:
        if read.either is None:
            self._trouble(number, place, cells, read.why)
            return
        facts = {"row": str(number), "column": self.grid.column(place), "text": cells[place].text}
        one, other = read.either
        self.findings.append(finding("unclear-number", cells[place].span, one=one, other=other, **facts))

    def _trouble(self, number: int, place: int, cells: tuple[Slice, ...], what: str) -> None:
        span = cells[place].span if place < len(cells) else self._place(cells)
        facts = {"row": str(number), "column": self.grid.column(place), "what": what}
        self.findings.append(finding("unread-cell", span, **facts))


def _unit_trouble(read: Amount, column: Column, wanted: Dimension) -> str:
    """What is wrong with a number's unit, or with its having none."""
    if read.unit is None:
        return "" if column.unit else "no unit stands here, nor in the heading"
    if read.unit.dimension != wanted:
        return f"{read.unit.symbol} is no unit of this column"
    if column.unit and column.unit.scale != read.unit.scale:
        return f"the heading says {column.unit.symbol}, the cell {read.unit.symbol}"
    return ""
