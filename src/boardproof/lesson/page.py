"""The text of a lesson as lines, with the teacher's own notes taken out: what every reader of this room walks on.

Positions are those of the source, always. A note (``<!-- ... -->``) is blanked, not cut, so nothing moves.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from boardproof.findings import Finding
from boardproof.lesson.kinds import finding
from boardproof.lesson.model import Leave
from boardproof.record import record
from boardproof.source import Slice, Source, Span

__all__ = ["Page", "Row", "read_page"]

LINE_END: Final = re.compile(r"\r\n|\r|\n")
NOTE: Final = re.compile(r"<!--(.*?)(-->|\Z)", re.DOTALL)
LEAVE: Final = re.compile(r"\s*leave\s+([a-z]+(?:-[a-z]+)+)\s*(.*)", re.DOTALL)
BECAUSE: Final = re.compile(r",\s*because\b\s*:?\s*(\S.*)", re.DOTALL)
NOT_AN_END: Final = re.compile(r"[^\r\n]")


@record
class Row:
    """One line: its number from 0, and where its text begins and ends (line end left out)."""

    number: int
    start: int
    end: int


@dataclass(frozen=True)
class Page:
    """A source with its notes blanked, as lines.

    Parameters
    ----------
    source : Source
        The text as the file holds it.
    masked : str
        The same text, same length, with notes and the byte order mark as spaces.
    rows : tuple of Row
        Every line.
    leaves : tuple of Leave
        The notes that accept a finding.
    notes : tuple of (int, int)
        Where each note stands.
    """

    source: Source
    masked: str
    rows: tuple[Row, ...]
    leaves: tuple[Leave, ...] = ()
    notes: tuple[tuple[int, int], ...] = ()

    def shown(self, row: Row) -> str:
        """A line without its notes."""
        return self.masked[row.start : row.end]

    def span(self, start: int, end: int) -> Span:
        """A place in this source."""
        return Span(self.source.name, start, end)

    def slice(self, start: int, end: int) -> Slice:
        """A piece of the source, white space at its ends left out."""
        text = self.masked[start:end]
        left = len(text) - len(text.lstrip())
        right = max(left, len(text.rstrip()))
        return self.source.slice(start + left, start + right)

    def body(self, first: int, last: int) -> Slice:
        """Lines `first` up to, not including, `last` as they stand; empty if there is none."""
        if first >= last:
            place = self.rows[min(first, len(self.rows) - 1)].start
            return self.source.slice(place, place)
        return self.source.slice(self.rows[first].start, self.rows[last - 1].end)


def _rows(text: str) -> Iterator[Row]:
    start = number = 0
    for number, end in enumerate(LINE_END.finditer(text), 1):
        yield Row(number - 1, start, end.start())
        start = end.end()
    yield Row(number, start, len(text))


def read_page(source: Source) -> tuple[Page, tuple[Finding, ...]]:
    r"""Blank the notes of a text and find its lines.

    Parameters
    ----------
    source : Source
        Any text.

    Returns
    -------
    (Page, tuple of Finding)
        ``never-closed`` for a note without an end, ``unread-leave`` for a `leave` without a reason.

    Examples
    --------
    >>> page, found = read_page(Source("a", "one <!-- mine -->\ntwo"))
    >>> [page.shown(row).rstrip() for row in page.rows], found
    (['one', 'two'], ())
    """
    found: list[Finding] = []
    leaves: list[Leave] = []
    pieces: list[str] = []
    notes: list[tuple[int, int]] = []
    done = 0
    for note in NOTE.finditer(source.text):
        span = Span(source.name, note.start(), note.end())
        if not note[2]:
            opening = Span(source.name, note.start(), note.start() + 4)
            found.append(finding("never-closed", opening, mark="<!--", end="-->"))
        if leave := LEAVE.fullmatch(note[1]):
            if because := BECAUSE.fullmatch(leave[2].rstrip()):
                leaves.append(Leave(leave[1], " ".join(because[1].split()), span))
            else:
                found.append(finding("unread-leave", span, code=leave[1]))
        notes.append(note.span())
        pieces += source.text[done : note.start()], NOT_AN_END.sub(" ", note[0])
        done = note.end()
    masked = "".join((*pieces, source.text[done:]))
    if masked.startswith("\ufeff"):
        masked = " " + masked[1:]
    return Page(source, masked, tuple(_rows(source.text)), tuple(leaves), tuple(notes)), tuple(found)
