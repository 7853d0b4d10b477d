"""A spreadsheet file as a grid of cells: the first sheet that holds anything, values only.

Nothing in the file is run: formulas give what was last worked out for them. A file that would unpack to more than
50 MB, or declares a document type of its own, is refused before it is opened.
"""

from __future__ import annotations

import datetime as dt
import io
import zipfile
from typing import TYPE_CHECKING, Final

from boardproof.findings import Finding
from boardproof.lab.kinds import finding
from boardproof.lab.sheet import Grid
from boardproof.source import Slice, Source, Span

if TYPE_CHECKING:
    from openpyxl.worksheet.worksheet import Worksheet

__all__ = ["read_spreadsheet"]

MOST_BYTES: Final = 50_000_000
MOST_ROWS, MOST_COLUMNS = 5000, 60
JOINT: Final = " | "


def read_spreadsheet(content: bytes, name: str) -> tuple[Grid | None, tuple[Finding, ...]]:
    """The first sheet with anything in it.

    Parameters
    ----------
    content : bytes
        An Office Open XML workbook (``.xlsx``).
    name : str
        The file's name.

    Returns
    -------
    (Grid or None, tuple of Finding)
        Findings tell why there is none.

    Examples
    --------
    >>> read_spreadsheet(b"no workbook", "a.xlsx")[1][0].kind.code
    'unread-sheet'
    """
    why = _unfit(content)
    if not why:
        from openpyxl import load_workbook  # 0.2 s, and only spreadsheets need it

        try:
            book = load_workbook(io.BytesIO(content), data_only=True)
            sheets = [each for each in book.worksheets if each.max_row > 1 or each["A1"].value is not None]
            if sheets and sheets[0].max_row <= MOST_ROWS and sheets[0].max_column <= MOST_COLUMNS:
                return _grid(sheets[0], name), ()
            why = (
                f"its first sheet has more than {MOST_ROWS} rows or {MOST_COLUMNS} columns"
                if sheets
                else "it is empty"
            )
        except Exception:  # noqa: BLE001  # a reader of foreign files fails in a hundred ways; the file is to blame
            why = "its contents are damaged"
    return None, (finding("unread-sheet", Span(name, 0, 0), what=why),)


def _unfit(content: bytes) -> str:
    """Why a file is not even opened; empty if it may be."""
    try:
        with zipfile.ZipFile(io.BytesIO(content)) as parts:
            if sum(each.file_size for each in parts.infolist()) > MOST_BYTES:
                return "it unpacks to more than 50 MB"
            for each in parts.infolist():
                with parts.open(each) as part:
                    if each.filename.endswith((".xml", ".rels")) and b"<!DOCTYPE" in part.read(2000).upper():
                        return "it declares a document type of its own"
    except (zipfile.BadZipFile, OSError, ValueError, NotImplementedError, RuntimeError):
        return "it is no workbook (.xlsx)"
    return ""


def _grid(sheet: Worksheet, name: str) -> Grid:
    """Each row of the sheet as one line of text, so that a finding can show it."""
    lines = [[_text(cell) for cell in row] for row in sheet.iter_rows(values_only=True)]
    for merged in sheet.merged_cells.ranges:  # a merged heading stands over all its columns
        top, left = merged.min_row - 1, merged.min_col - 1
        for column in range(left, merged.max_col):
            if top < len(lines) and column < len(lines[top]):
                lines[top][column] = lines[top][left]
    source = Source(name, "\n".join(JOINT.join(line) for line in lines))
    rows: list[tuple[int, tuple[Slice, ...]]] = []
    at = 0
    for number, line in enumerate(lines, 1):
        cells = []
        for text in line:
            cells.append(source.slice(at, at + len(text)))
            at += len(text) + len(JOINT)
        at += 1 - len(JOINT)
        rows.append((number, tuple(cells)))
    return Grid(tuple(rows), {}, source, letters=True)


def _text(value: object) -> str:
    if value is None:
        return ""
    if isinstance(value, float):
        return f"{value:.12g}"
    if isinstance(value, dt.time | dt.datetime | dt.date | dt.timedelta):
        return value.strftime("%H:%M:%S") if isinstance(value, dt.time) else str(value)
    return " ".join(str(value).replace("|", " ").split())[:200]
