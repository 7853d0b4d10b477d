"""How a table of readings is laid out: where its headings stand, and which columns belong together.

A title or a name of a group may stand above the headings (merged over several columns), units may stand in a row of
their own, and groups may stand side by side or below each other under one heading.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Final

from boardproof.findings import Finding
from boardproof.lab.heading import Column, Role, bare_unit, read_heading
from boardproof.lab.kinds import finding
from boardproof.lab.sheet import Grid
from boardproof.record import record
from boardproof.source import Slice, Span

__all__ = ["Block", "Layout", "lay_out"]

DEEPEST: Final = 6
Rows = Sequence[tuple[int, tuple[Slice, ...]]]


@record
class Block:
    """Columns of one run of readings: its name if one stands above them, and each role's column."""

    name: str
    places: Mapping[Role, int]


@record
class Layout:
    """Columns in order with their headings, blocks side by side, and the rows below the headings that hold anything."""

    columns: tuple[Column, ...]
    heads: tuple[str, ...]
    blocks: tuple[Block, ...]
    rows: tuple[tuple[int, tuple[Slice, ...]], ...]


def lay_out(grid: Grid) -> tuple[Layout | None, tuple[Finding, ...]]:
    r"""Find headings, units and blocks.

    Parameters
    ----------
    grid : Grid
        Cells as typed.

    Examples
    --------
    >>> from boardproof.lab.sheet import read_grid
    >>> from boardproof.source import Source
    >>> text = "Group 1;;Group 2;\nI;V;I;V\nmA;V;mA;V\n100;1.4;110;1.5\n"
    >>> made, found = lay_out(read_grid(Source("a.csv", text)))
    >>> [(each.name, each.places["pd"]) for each in made.blocks], len(made.rows), found
    ([('Group 1', 1), ('Group 2', 3)], 1, ())
    """
    full = [row for row in grid.rows if any(cell.text for cell in row[1])]
    at = next((n for n, row in enumerate(full[:DEEPEST]) if _is_heading(row[1])), None)
    if at is None:
        return None, (_no_heading(grid, full),)
    columns, start = _columns(full, at)
    above = full[at - 1][1] if at else ()
    blocks = _blocks(columns, _names(above, len(columns)))
    found = tuple(_faults(grid, columns, blocks, full[at]))
    rows = [row for row in grid.rows if row[0] > full[start - 1][0]]
    while rows and not any(cell.text for cell in rows[-1][1]):
        rows.pop()
    if any(each.kind.severity == "error" for each in found):
        return None, found
    return Layout(columns, tuple(cell.text for cell in full[at][1]), blocks, tuple(rows)), found


def _is_heading(cells: Sequence[Slice]) -> bool:
    roles = {read_heading(cell.text).role for cell in cells if cell.text}
    return "pd" in roles and bool(roles & {"current", "load"})


def _no_heading(grid: Grid, full: Rows) -> Finding:
    """What is missing, told at the row that looks most like headings."""
    if not full:
        return finding("no-line", Span(grid.source.name, 0, 0), what="the table is empty")
    number, cells = full[0]
    roles = {read_heading(cell.text).role for cell in cells if cell.text}
    what = "there is no p.d." if "pd" not in roles else "there is neither a current nor a load"
    whole = cells[0].span.to(cells[-1].span)
    return finding(
        "unread-heading", whole, column="1", what=f"row {number} holds no headings that I know: {what}"
    )


def _columns(full: Rows, at: int) -> tuple[tuple[Column, ...], int]:
    """Columns with units from the row of units below the headings, if there is one; and where numbers start."""
    columns = [read_heading(cell.text) for cell in full[at][1]]
    below = full[at + 1][1] if at + 1 < len(full) else ()
    units = [bare_unit(cell.text) if cell.text else None for cell in below]
    if not any(units) or any(cell.text and unit is None for cell, unit in zip(below, units, strict=True)):
        return tuple(columns), at + 1
    merged = [
        replace(column, unit=column.unit or unit)
        for column, unit in zip(columns, [*units, *[None] * len(columns)], strict=False)
    ]
    return tuple(merged), at + 2


def _names(above: Sequence[Slice], count: int) -> list[str]:
    """The name over each column: one that stands over several holds until the next."""
    names, last = [], ""
    for place in range(count):
        last = (above[place].text if place < len(above) else "") or last
        names.append(last)
    return names


def _blocks(columns: Sequence[Column], names: Sequence[str]) -> tuple[Block, ...]:
    """Columns side by side, parted where the p.d. comes a second time under another name."""
    by_name: dict[str, dict[Role, int]] = {}
    repeated = sum(each.role == "pd" for each in columns) > 1
    for place, (column, name) in enumerate(zip(columns, names, strict=True)):
        if column.role != "other":
            by_name.setdefault(name if repeated else "", {}).setdefault(column.role, place)
    whole = [Block(name, places) for name, places in by_name.items() if "pd" in places]
    return tuple(each for each in whole if {"current", "load"} & set(each.places))


def _faults(
    grid: Grid, columns: Sequence[Column], blocks: Sequence[Block], heads: tuple[int, tuple[Slice, ...]]
) -> list[Finding]:
    used = {place for block in blocks for place in block.places.values()}
    found = []
    for place, (column, cell) in enumerate(zip(columns, heads[1], strict=False)):
        where = {"column": grid.column(place)}
        if column.unknown and column.role in {"pd", "current", "load"}:
            found.append(
                finding("unread-heading", cell.span, what=f"I don't know the unit {column.unknown}", **where)
            )
        elif column.role in {"pd", "current", "load"} and place not in used:
            what = f"“{cell.text}” stands in a second column without a name of its own above it"
            found.append(finding("unread-heading", cell.span, what=what, **where))
        elif cell.text and (column.role == "other" or place not in used):
            found.append(finding("unused-column", cell.span, heading=cell.text, **where))
    return found
