"""The words of a sentence and what stands among them: maths, fills, ties, moves, emphasis.

Positions are our own: every element knows its place in the source, and every piece of plain words is as long as its
place (a line break reads as a space), so a place inside a sentence is found by counting.
"""

from __future__ import annotations

import re
from bisect import bisect_left, bisect_right
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Final, Literal

from boardproof.findings import Finding
from boardproof.lesson.kinds import finding
from boardproof.lesson.model import Display
from boardproof.lesson.moves import read_move
from boardproof.lesson.page import Page
from boardproof.lesson.sentence import Fill, Inline, Maths, Tie, Words
from boardproof.quantities import read_unit
from boardproof.record import record
from boardproof.source import Slice, Span

__all__ = ["Piece", "Running", "read_inline"]

Piece = Inline | Display
Look = Literal["plain", "emphasis", "strong"]

ELEMENT: Final = re.compile(
    r"""
      \\(?P<escape>[!-/:-@\[-`{-~]|\n)
    | (?P<ticks>`+)
    | (?P<display>\$\$(?P<shown>(?:[^\\$]|\\.|\$(?!\$))++)\$\$)
    | (?P<maths>\$(?P<formula>(?:[^\\$]|\\.)++)\$)
    | (?P<lone>\$+)
    | (?P<fill>\{(?P<value>(?:[^{}]++|\{[^{}]*+\})*+)\})
    | (?P<brace>\{)
    | (?P<picture>!)?\[(?P<label>(?:[^\[\]\\]++|\\.|\[[^\[\]]*+\])*+)\]
        \((?:(?P<tie>=(?:[^()"]++|\([^()]*+\)|"[^"]*+")*+)|(?P<link>(?:[^()]++|\([^()]*+\))*+))\)
    | <(?P<address>(?:https?|mailto):[^\s<>]*+)>
    | (?P<stars>\*+|_+)
    """,
    re.VERBOSE | re.DOTALL,
)
FIGURES: Final = re.compile(r"(?<!\s)\s+to\s+([0-9]{1,2})\s+(?:significant\s+)?(?:figures?|s\.?\s?f\.?)\s*\Z")
UNIT: Final = re.compile(r"(?<!\s)\s+in\s+(\S+(?: \S+)?)\s*\Z")
SPATIAL: Final = {
    "current",
    "lost volts",
    "power",
    "heat",
    "energy",
    "number of cells",
    "no emf",
}  # "current in R"
FREE: Final = re.compile(r'\s*free\b\s*(?:["“](?P<reason>[^"”]*)["”])?\s*')
MOST_CHARACTERS: Final = 20_000
ARROW: Final = re.compile(r"->|→|\\to\b|\\rightarrow\b")
LONGEST_TIE: Final = 500


@dataclass(frozen=True)
class Running:
    """Text that runs on over lines (list marks and margins left out), and where each stretch of it came from.

    Parameters
    ----------
    page : Page
        Where it stands.
    text : str
        The stretches joined.
    starts, places : tuple of int
        Where each stretch begins in `text`, and in the source.
    """

    page: Page
    text: str
    starts: tuple[int, ...]
    places: tuple[int, ...]

    @classmethod
    def of(cls, page: Page, stretches: list[tuple[int, int]]) -> Running:
        """Join the stretches (places in the source); what lies between two is read as one line break."""
        text = ""
        starts: list[int] = []
        places: list[int] = []
        for start, end in stretches:
            if text:
                starts.append(len(text))
                places.append(places[-1] + starts[-1] - starts[-2])
                text += "\n"
            for first, last in _without_notes(page, start, end):
                starts.append(len(text))
                places.append(first)
                text += page.masked[first:last]
        return cls(page, text, tuple(starts), tuple(places))

    def place(self, offset: int) -> int:
        """Where a character of `text` stands in the source."""
        stretch = max(0, bisect_right(self.starts, offset) - 1)
        return self.places[stretch] + offset - self.starts[stretch]

    def span(self, start: int, end: int) -> Span:
        """The place of a piece of `text`."""
        first = self.place(start)
        return self.page.span(first, self.place(end - 1) + 1 if end > start else first)

    def slice(self, start: int, end: int) -> Slice:
        """A piece, as it stands in the source, white space at its ends left out."""
        piece = self.text[start:end]
        left = start + len(piece) - len(piece.lstrip())
        span = self.span(left, max(left, start + len(piece.rstrip())))
        return self.page.source.slice(span.start, span.end)

    def words(self, start: int, end: int) -> list[Words]:
        """Plain words, in pieces that are each as long as their place."""
        inside = self.starts[bisect_right(self.starts, start) : bisect_left(self.starts, end)]
        cuts = [start, *(cut for cut in inside if self.place(cut) != self.place(cut - 1) + 1), end]
        return [Words(self.text[a:b].replace("\n", " "), self.span(a, b)) for a, b in pairwise(cuts) if a < b]


def _without_notes(page: Page, start: int, end: int) -> list[tuple[int, int]]:
    kept = []
    for first, last in page.notes[max(0, bisect_left(page.notes, (start, 0)) - 1) :]:
        if first >= end:
            break
        if last > start:
            kept.append((start, max(start, first)))
            start = min(last, end)
    return [*(piece for piece in kept if piece[0] < piece[1]), (start, end)]


@record
class _Delimiter:
    """A run of stars or underlines that may open or close emphasis."""

    mark: str
    words: Words
    opens: bool
    closes: bool


class _Reader:
    """One pass over running text; gathers pieces and findings."""

    def __init__(self, running: Running) -> None:
        self.running = running
        self.pieces: list[Piece | _Delimiter] = []
        self.found: list[Finding] = []
        self.ticks: dict[int, list[int]] = {}
        for run in re.finditer("`+", running.text):
            self.ticks.setdefault(len(run[0]), []).append(run.start())

    def read(self, start: int, end: int) -> None:
        """Read from `start` to `end`."""
        done = start
        while (element := ELEMENT.search(self.running.text, done, end)) is not None:
            self.pieces += self.running.words(done, element.start())
            done = self._element(element)
        self.pieces += self.running.words(done, end)

    def _element(self, element: re.Match[str]) -> int:
        span = self.running.span(element.start(), element.end())
        match next(kind for kind in KINDS if element[kind] is not None):
            case "escape":
                self.pieces += self.running.words(element.start("escape"), element.end())
            case "ticks":
                return self._code(element)
            case "display":
                self.pieces.append(Display(self._part(element, "shown"), span))
            case "maths":
                self.pieces.append(Maths(self._part(element, "formula"), span))
            case "lone":
                self._literal(element)
                self._add("never-closed", span, mark=element[0], end=element[0])
            case "fill":
                self._fill(self._part(element, "value"), span)
            case "brace":
                self._literal(element)
                self._add("never-closed", span, mark="{", end="}")
            case "tie":
                self._tie(self._part(element, "label"), element, span)
            case "link":
                if element["picture"]:
                    self._add("foreign-picture", span)
                self.read(element.start("label"), element.end("label"))
            case "address":
                self.pieces += self.running.words(element.start("address"), element.end("address"))
            case _:
                self._delimiter(element)
        return element.end()

    def _add(self, code: str, span: Span, **facts: str) -> None:
        self.found.append(finding(code, span, **facts))

    def _part(self, element: re.Match[str], group: str) -> Slice:
        return self.running.slice(element.start(group), element.end(group))

    def _literal(self, element: re.Match[str]) -> None:
        self.pieces += self.running.words(element.start(), element.end())

    def _code(self, element: re.Match[str]) -> int:
        length, after = len(element["ticks"]), element.end()
        later = self.ticks.get(length, [])
        place = bisect_right(later, element.start())
        if place == len(later):
            self._literal(element)
            self._add(
                "never-closed", self.running.span(element.start(), after), mark=element[0], end=element[0]
            )
            return after
        move, found = read_move(self.running.slice(after, later[place]))
        self.found += found
        if move is not None:
            self.pieces.append(replace(move, span=self.running.span(element.start(), later[place] + length)))
        return later[place] + length

    def _fill(self, value: Slice, span: Span) -> None:
        of, unit, figures = value, None, None
        if said := FIGURES.search(of.text):
            figures = int(said[1])
            of = of.part(0, said.start())
        said = UNIT.search(of.text)
        if said and read_unit(said[1]) is not None and of.text[: said.start()].strip().lower() not in SPATIAL:
            unit = said[1]
            of = of.part(0, said.start())
        if of.text and figures != 0:
            self.pieces.append(Fill(of, span, unit, figures))
        else:
            self._add("unread-fill", span, text=value.text or "{}")

    def _tie(self, words: Slice, element: re.Match[str], span: Span) -> None:
        start = element.start("tie") + 1
        to = self.running.slice(start, element.end("tie"))
        if free := FREE.fullmatch(to.text):
            reason = " ".join((free["reason"] or "").split())
            if not reason:
                self._add("unsourced-number", span, words=words.text)
            self.pieces.append(Tie(words, None, span, reason))
        elif to.text and words.text and len(words.text) <= LONGEST_TIE:
            self.pieces.append(Tie(words, to, span))
        else:
            self._add("unread-tie", span, text=self.running.page.source.slice(span.start, span.end).text)

    def _delimiter(self, element: re.Match[str]) -> None:
        text, (start, end) = self.running.text, element.span()
        before, after = text[start - 1 : start] or " ", text[end : end + 1] or " "
        under = element[0][0] == "_"
        opens = not after.isspace() and not (under and before.isalnum())
        closes = not before.isspace() and not (under and after.isalnum())
        words = self.running.words(start, end)[0]
        plain = len(element[0]) > 3 or not (opens or closes)
        self.pieces.append(words if plain else _Delimiter(element[0], words, opens, closes))


KINDS: Final = (
    "escape", "ticks", "display", "maths", "lone", "fill", "brace", "tie", "link", "address", "stars",
)  # fmt: skip


def _emphasised(pieces: list[Piece | _Delimiter]) -> list[Piece]:
    """Pair the delimiters; what lies between two gets their look, and a lone one stays a word."""
    looks: list[Look] = ["plain"] * len(pieces)
    paired: set[int] = set()
    opened: list[tuple[int, str]] = []
    waiting: dict[str, int] = {}
    for place, piece in enumerate(pieces):
        if not isinstance(piece, _Delimiter):
            continue
        if piece.closes and waiting.get(piece.mark):
            while True:
                opener, mark = opened.pop()
                waiting[mark] -= 1
                if mark == piece.mark:
                    break
            paired |= {opener, place}
            for inside in range(opener, place):
                if looks[inside] == "plain":
                    looks[inside] = "emphasis" if len(piece.mark) == 1 else "strong"
        elif piece.opens:
            opened.append((place, piece.mark))
            waiting[piece.mark] = waiting.get(piece.mark, 0) + 1
    shown: list[Piece] = []
    for place, piece in enumerate(pieces):
        if place in paired:
            continue
        plain = piece.words if isinstance(piece, _Delimiter) else piece
        shown.append(replace(plain, style=looks[place]) if isinstance(plain, Words) else plain)
    return shown


def _joined(pieces: list[Piece]) -> tuple[Piece, ...]:
    """Words that touch become one piece."""
    joined: list[Piece] = []
    for piece in pieces:
        last = joined[-1] if joined else None
        if (
            isinstance(piece, Words)
            and isinstance(last, Words)
            and last.style == piece.style
            and last.span.end == piece.span.start
        ):
            joined[-1] = Words(last.text + piece.text, last.span.to(piece.span), last.style)
        else:
            joined.append(piece)
    return tuple(joined)


def _limits(pieces: tuple[Piece, ...], running: Running) -> tuple[Piece, ...]:
    r"""A limit that the sentence parts, ``$I \to E/r$ as $n \to \infty$``, as one piece of maths."""
    found: list[Piece] = []
    for piece in pieces:
        match found[-2:], piece:
            case [Maths() as of, Words(text=between)], Maths() if between.strip() in {"as", "when"} and all(
                ARROW.search(each.text.text) and " as " not in each.text.text for each in (of, piece)
            ):
                typed = running.page.source.slice(of.text.span.start, piece.text.span.end)
                joined = typed.text.replace("$", " ").replace(" when ", "  as  ")
                found[-2:] = [Maths(Slice(joined, typed.span), of.span.to(piece.span))]
            case _:
                found.append(piece)
    return tuple(found)


def read_inline(running: Running) -> tuple[tuple[Piece, ...], tuple[Finding, ...]]:
    """Read the words of a paragraph.

    Parameters
    ----------
    running : Running
        Its text; one longer than 20,000 characters is not read (``over-limit``).

    Returns
    -------
    (tuple of Piece, tuple of Finding)
        Elements in reading order; maths between double dollar signs comes as `Display`.

    Examples
    --------
    >>> from boardproof.lesson.page import read_page
    >>> from boardproof.source import Source
    >>> page, _ = read_page(Source("a", "It is {I in mA}."))
    >>> [type(piece).__name__ for piece in read_inline(Running.of(page, [(0, 16)]))[0]]
    ['Words', 'Fill', 'Words']
    """
    if len(running.text) > MOST_CHARACTERS:
        span = running.span(0, len(running.text))
        return (), (finding("over-limit", span, what="A paragraph", limit=f"{MOST_CHARACTERS} characters"),)
    reader = _Reader(running)
    reader.read(0, len(running.text))
    return _limits(_joined(_emphasised(reader.pieces)), running), tuple(reader.found)
