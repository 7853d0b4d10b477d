"""The lines of a block: its fields (`word:`), its parts (`(a)`), its comments (`#`) and its text."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final, Literal

from boardproof.findings import Finding
from boardproof.lesson.kinds import finding, nearby
from boardproof.lesson.page import Page, Row
from boardproof.lesson.text import Fence
from boardproof.record import record
from boardproof.source import Slice

__all__ = ["Body", "Entry", "Extent", "FieldForm", "read_fields", "without_comment"]

Extent = Literal["line", "lines", "rest"]
WHOLE_LINE: Final = 1 << 30
FIELD: Final = re.compile(r"\s*([A-Za-z]+(?: [a-z]+){0,2})\s*:(?=\s|\Z)")
PART: Final = re.compile(r"\s*\(([A-Za-z])\)(?=\s|\Z)")
COMMENT: Final = re.compile(r"(?<!\s)\s+#")


@record
class FieldForm:
    """A row of a block's table of fields: how far it goes, whether it may repeat, whether it holds maths."""

    extent: Extent = "line"
    repeats: bool = False
    maths: bool = False


@record
class Entry:
    """A field or a part as it stands: its name, the rest of its line, the row it begins on, and its lines."""

    name: str
    value: Slice
    row: int
    lines: tuple[Slice, ...] = ()


@dataclass(frozen=True)
class Body:
    """A block's lines told apart.

    Parameters
    ----------
    entries : tuple of Entry
        Fields and parts in order; a part's name is its letter in brackets.
    blanked : mapping of int to int
        For a row, how many characters at its beginning are no text.
    first, last : int
        Its rows, half open.
    """

    entries: tuple[Entry, ...]
    blanked: Mapping[int, int]
    first: int
    last: int

    def one(self, name: str) -> Slice | None:
        """The value of a field, None if it is missing or empty."""
        return next((entry.value for entry in self.entries if entry.name == name and entry.value.text), None)

    def all(self, name: str) -> tuple[Slice, ...]:
        """The values of a field that may repeat."""
        return tuple(entry.value for entry in self.entries if entry.name == name and entry.value.text)

    def lines(self, name: str) -> tuple[Slice, ...]:
        """The lines of a field that goes on."""
        return next((entry.lines for entry in self.entries if entry.name == name), ())


class _Sorting:
    """What is known while going down the lines of one block."""

    def __init__(self, page: Page, table: Mapping[str, FieldForm], *, with_parts: bool) -> None:
        self.page = page
        self.table = table
        self.with_parts = with_parts
        self.entries: list[Entry] = []
        self.blanked: dict[int, int] = {}
        self.found: list[Finding] = []
        self.seen: set[str] = set()
        self.open: Extent | None = None
        self.in_text = False

    def take(self, row: Row) -> None:
        shown = self.page.shown(row)
        if shown.lstrip().startswith("#"):
            self.blanked[row.number] = WHOLE_LINE
            return
        if self.open == "rest":
            return
        if not shown.strip():
            self.open, self.in_text = None, False
        elif self.with_parts and (part := PART.match(shown)):
            self.seen.discard("ask")
            self._start(f"({part[1].lower()})", row, part.end(), FieldForm())
            self.blanked[row.number] = part.end()
            self.in_text = True
        elif (label := FIELD.match(shown)) and (name := self._known(label[1])):
            form = self.table[name]
            self._start(name, row, label.end(), form)
            self.blanked[row.number] = label.end() if form.extent == "rest" else WHOLE_LINE
            self.open, self.in_text = form.extent, False
        elif self.open == "lines":
            last = self.entries[-1]
            line = self.page.slice(row.start, row.end)
            more = (*last.lines, without_comment(line) if self.table[last.name].maths else line)
            self.entries[-1] = Entry(last.name, last.value, last.row, more)
            self.blanked[row.number] = WHOLE_LINE
        else:
            self._text(row, label)

    def _known(self, label: str) -> str | None:
        name = " ".join(label.lower().split())
        return name if name in self.table else None

    def _start(self, name: str, row: Row, cut: int, form: FieldForm) -> None:
        value = self.page.slice(row.start + cut, row.end)
        value = without_comment(value) if form.maths else value
        if name in self.seen and not form.repeats:
            place = self.page.slice(row.start, row.start + cut)
            self.found.append(finding("repeated-field", place.span, field=name))
        self.seen.add(name)
        first = (value,) if form.extent == "lines" and value.text else ()
        self.entries.append(Entry(name, value, row.number, first))
        self.open = None

    def _text(self, row: Row, label: re.Match[str] | None) -> None:
        """A line of words; one that looks like a field nobody knows is reported (it stays text)."""
        if label and label[1] == label[1].lower():
            near = nearby(label[1], self.table)
            if near or (" " not in label[1] and not self.in_text):
                place = self.page.slice(row.start, row.start + label.end())
                self.found.append(finding("unknown-field", place.span, word=label[1], **near))
                self.blanked[row.number] = WHOLE_LINE
        self.open, self.in_text = None, True


def without_comment(line: Slice) -> Slice:
    """A line up to a `#` that follows a space.

    Parameters
    ----------
    line : Slice
        One line.

    Examples
    --------
    >>> from boardproof.source import Source
    >>> without_comment(Source("a", "V < E   # always").slice()).text
    'V < E'
    """
    comment = COMMENT.search(line.text)
    return line.part(0, comment.start()).trimmed() if comment else line


def read_fields(
    page: Page, fence: Fence, table: Mapping[str, FieldForm], *, with_parts: bool = False
) -> tuple[Body, tuple[Finding, ...]]:
    r"""Tell the lines of a block apart.

    Parameters
    ----------
    page : Page
        The text.
    fence : Fence
        The block.
    table : mapping of str to FieldForm
        The fields it may have.
    with_parts : bool
        Whether a line may begin with ``(a)``.

    Returns
    -------
    (Body, tuple of Finding)
        ``unknown-field`` and ``repeated-field``.

    Examples
    --------
    >>> from boardproof.lesson.page import read_page
    >>> from boardproof.lesson.text import chunks
    >>> from boardproof.source import Source
    >>> page, _ = read_page(Source("a", "```trap\nwrong: V = E\nNo.\n```"))
    >>> fence = next(chunks(page, 0, len(page.rows))).content
    >>> read_fields(page, fence, {"wrong": FieldForm()})[0].one("wrong").text
    'V = E'
    """
    sorting = _Sorting(page, table, with_parts=with_parts)
    for row in page.rows[fence.first : fence.last]:
        sorting.take(row)
    return Body(tuple(sorting.entries), sorting.blanked, fence.first, fence.last), tuple(sorting.found)
