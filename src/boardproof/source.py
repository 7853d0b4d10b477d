"""Texts and places in them: where every word, number and part of a lesson came from.

A place is a half-open range of code points. Lines and columns are worked out when they are shown.
Reading files is the edge's work; turning places into pictures of text is `findings`' work.
"""

from __future__ import annotations

import hashlib
from bisect import bisect_right
from dataclasses import dataclass, field
from functools import cached_property

__all__ = ["Edit", "Slice", "Source", "Span"]


@dataclass(frozen=True, slots=True, order=True)
class Span:
    """A half-open range of code points in a named source.

    Parameters
    ----------
    source : str
        The source's name, relative to the course folder.
    start, end : int
        Code points from 0; ``start <= end``.

    Examples
    --------
    >>> Span("a.lesson.md", 2, 5).within(Span("a.lesson.md", 0, 9))
    True
    """

    source: str
    start: int
    end: int

    def within(self, other: Span) -> bool:
        """Whether every code point of this place lies in `other`."""
        return self.source == other.source and other.start <= self.start and self.end <= other.end

    def to(self, other: Span) -> Span:
        """The place from the start of this one to the end of `other`."""
        return Span(self.source, min(self.start, other.start), max(self.end, other.end))


@dataclass(frozen=True, slots=True)
class Slice:
    """Text kept raw for a later reader, with the place it came from (equality ignores the place).

    Parameters
    ----------
    text : str
        The text, exactly as it stands between ``span.start`` and ``span.end``.
    span : Span
        Its place.
    """

    text: str
    span: Span = field(compare=False)

    def part(self, start: int, end: int) -> Slice:
        """The piece from `start` to `end`, counted within this slice.

        Examples
        --------
        >>> Slice("A = cell", Span("x", 10, 18)).part(4, 8)
        Slice(text='cell', span=Span(source='x', start=14, end=18))
        """
        return Slice(
            self.text[start:end], Span(self.span.source, self.span.start + start, self.span.start + end)
        )

    def trimmed(self) -> Slice:
        """The same text without white space at its ends."""
        left = len(self.text) - len(self.text.lstrip())
        return self.part(left, max(left, len(self.text.rstrip())))


@dataclass(frozen=True)
class Source:
    r"""A text as its file holds it, line ends and byte order mark included.

    Parameters
    ----------
    name : str
        Relative to the course folder.
    text : str
        The whole text.

    Examples
    --------
    >>> text = Source("a.lesson.md", "# One\ntwo")
    >>> text.position(6)
    (2, 1)
    >>> text.line(2)
    'two'
    """

    name: str
    text: str

    @cached_property
    def sha256(self) -> str:
        """Hash of the text in UTF-8; an `Edit` is refused if it was made for another one."""
        return hashlib.sha256(self.text.encode("utf-8", "surrogatepass")).hexdigest()

    @cached_property
    def _starts(self) -> tuple[int, ...]:
        starts = [0]
        for place, char in enumerate(self.text):
            if char == "\n" or (char == "\r" and self.text[place + 1 : place + 2] != "\n"):
                starts.append(place + 1)
        return tuple(starts)

    def position(self, offset: int) -> tuple[int, int]:
        """Line and column of a code point, both from 1."""
        row = bisect_right(self._starts, offset) - 1
        return row + 1, offset - self._starts[row] + 1

    def line(self, number: int) -> str:
        """The text of a line, counted from 1, without its line end."""
        start = self._starts[number - 1]
        end = self._starts[number] if number < len(self._starts) else len(self.text)
        return self.text[start:end].rstrip("\r\n")

    def slice(self, start: int = 0, end: int | None = None) -> Slice:
        """A piece of the text with its place; the whole text if nothing is said."""
        end = len(self.text) if end is None else end
        return Slice(self.text[start:end], Span(self.name, start, end))


@dataclass(frozen=True, slots=True)
class Edit:
    """Changes to one source that can be undone to the byte.

    Parameters
    ----------
    changes : tuple of (Span, str)
        Places and the text to put there; they do not overlap.
    promise : {"safe", "ask", "show"}
        Safe to apply, to be asked about first, or to be shown only.
    base : str
        `Source.sha256` of the text it was made for.
    """

    changes: tuple[tuple[Span, str], ...]
    promise: str
    base: str
