"""A table in a text file, cell by cell with its place: parted by commas, semicolons, tabs or strokes.

Lines above the table may say what the lesson's `readings` block says: ``voltmeter: range 2 V, step 1 mV``.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from boardproof.lesson.model import Readings
from boardproof.record import record
from boardproof.source import Slice, Source

__all__ = ["Grid", "grid_of_block", "read_grid"]

FIELD: Final = re.compile(r"\s*([A-Za-z][A-Za-z_ ]{0,30}?)\s*:(.*)")
MARKS: Final = ("\t", ";", "|", ",")


@record
class Grid:
    """Cells in rows.

    Parameters
    ----------
    rows : tuple of (int, tuple of Slice)
        Number of the row in its file, and its cells; rows without any text are there too.
    fields : mapping of str to Slice
        What is said above the table.
    letters : bool
        Columns are named by letters, as spreadsheets do.
    source : Source
        Where the cells stand.
    """

    rows: tuple[tuple[int, tuple[Slice, ...]], ...]
    fields: Mapping[str, Slice]
    source: Source
    letters: bool = False

    def column(self, place: int) -> str:
        """Name of a column, counted from 0."""
        if not self.letters:
            return str(place + 1)
        name, rest = "", place + 1
        while rest:
            rest, digit = divmod(rest - 1, 26)
            name = chr(65 + digit) + name
        return name


def read_grid(source: Source) -> Grid:
    r"""The table of a text file.

    Parameters
    ----------
    source : Source
        The file. Lines that begin with # are passed over; quoted cells may hold the mark that parts cells.

    Examples
    --------
    >>> grid = read_grid(Source("a.csv", 'I / mA;V / V\n100;"1,462"\n'))
    >>> [[cell.text for cell in cells] for _, cells in grid.rows]
    [['I / mA', 'V / V'], ['100', '1,462']]
    """
    fields: dict[str, Slice] = {}
    lines: list[tuple[int, int, str]] = []
    start = 0
    for number, line in enumerate(source.text.splitlines(keepends=True), 1):
        bare = line.rstrip("\r\n").lstrip("\ufeff") if number == 1 else line.rstrip("\r\n")
        at = start + line.find(bare) if bare else start
        start += len(line)
        found = FIELD.fullmatch(bare)
        if found and not any(text.strip() for _, _, text in lines):
            fields[found[1].lower()] = source.slice(at + found.start(2), at + found.end(2)).trimmed()
        elif not bare.lstrip().startswith("#"):
            lines.append((number, at, bare))
    mark = _mark([text for _, _, text in lines])
    rows = tuple((number, _cells(source, at, text, mark)) for number, at, text in lines)
    return Grid(rows, MappingProxyType({name: each for name, each in fields.items() if each.text}), source)


def _mark(lines: list[str]) -> str:
    """What parts the cells: the first mark that half of the lines with text hold; titles need not have it."""
    full = [line for line in lines if line.strip()]
    return next((mark for mark in MARKS if 2 * sum(mark in line for line in full) >= max(len(full), 1)), ",")


def _cells(source: Source, start: int, line: str, mark: str) -> tuple[Slice, ...]:
    found, at, quoted = [], 0, False
    for place, char in enumerate(line + mark):
        if char == '"' and place < len(line):
            quoted = not quoted
        elif char == mark and (not quoted or place == len(line)):
            cell = source.slice(start + at, start + place).trimmed()
            if len(cell.text) > 1 and cell.text[0] == cell.text[-1] == '"':
                cell = cell.part(1, len(cell.text) - 1).trimmed()
            found.append(cell)
            at = place + 1
    return tuple(found)


def grid_of_block(block: Readings, source: Source) -> Grid:
    """The table of a lesson's block: its headings are row 0.

    Parameters
    ----------
    block : Readings
        As read.
    source : Source
        The lesson.
    """
    fields = dict(block.fields) | ({"title": block.of} if block.of else {})
    return Grid(((0, block.headings), *enumerate(block.rows, 1)), MappingProxyType(fields), source)
