"""Reading a lesson: from its text to the model, never failing; what can't be read stays as `Unread`."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from pathlib import PurePosixPath
from types import MappingProxyType
from typing import Final

from boardproof.findings import Finding
from boardproof.lesson.blocks import read_block
from boardproof.lesson.inline import Running, read_inline
from boardproof.lesson.kinds import finding
from boardproof.lesson.model import Block, Correction, Leave, Lesson, Scene, Settings, Unread
from boardproof.lesson.page import Page, read_page
from boardproof.lesson.sentence import Move, Tie, Words
from boardproof.lesson.settings import LESSON, locate, read_settings
from boardproof.lesson.text import Chunk, Fence, chunks, read_paragraph
from boardproof.source import Slice, Source, Span

__all__ = ["read_lesson"]

MOST_CHARACTERS: Final = 2_000_000
MOST_LINES: Final = 20_000
MOST_BLOCKS: Final = 5_000
OWN: Final = ("leans_on", "establishes", "minutes", "version", "corrections")


def read_lesson(source: Source) -> tuple[Lesson, tuple[Finding, ...]]:
    r"""Read a lesson.

    Parameters
    ----------
    source : Source
        Any text: at most 2,000,000 characters, 20,000 lines and 5,000 blocks are read.

    Returns
    -------
    (Lesson, tuple of Finding)
        The lesson, and what is wrong with the way it is written, in reading order.

    Examples
    --------
    >>> lesson, found = read_lesson(Source("a.lesson.md", "# A cell\n\n## One\n\nIt gives $I = 2 A$."))
    >>> lesson.title, [scene.title for scene in lesson.scenes], found
    ('A cell', ['One'], ())
    """
    if len(source.text) > MOST_CHARACTERS:
        return _unread(source, f"{MOST_CHARACTERS} characters")
    page, found = read_page(source)
    if len(page.rows) > MOST_LINES:
        return _unread(source, f"{MOST_LINES} lines")
    reading = _Reading(page, found)
    for number, chunk in enumerate(chunks(page, 0, len(page.rows))):
        if number == MOST_BLOCKS:
            reading.found.append(
                finding("over-limit", _place(chunk), what="A lesson", limit=f"{number} blocks")
            )
            break
        reading.take(chunk)
    lesson = Lesson(source, reading.settings, reading.title or _stem(source.name), reading.finished())
    return lesson, tuple(sorted(reading.found, key=lambda found: (found.span.start, found.span.end)))


def _unread(source: Source, limit: str) -> tuple[Lesson, tuple[Finding, ...]]:
    whole = source.slice()
    scene = Scene("", (Unread(whole),), whole.span)
    first = Span(source.name, 0, min(1, len(source.text)))
    found = finding("over-limit", first, what="This lesson", limit=limit)
    return Lesson(source, Settings(), _stem(source.name), (scene,)), (found,)


def _stem(name: str) -> str:
    return PurePosixPath(name).name.removesuffix(".lesson.md")


def _place(chunk: Chunk | Finding) -> Span:
    return chunk.span


class _Reading:
    """What has been read so far."""

    def __init__(self, page: Page, found: Iterable[Finding]) -> None:
        self.page = page
        self.found = list(found)
        self.settings = Settings()
        self.title = ""
        self.scenes: list[tuple[str, int]] = []
        self.blocks: list[Block] = []
        self.begun = False

    def take(self, chunk: Chunk | Finding) -> None:
        if isinstance(chunk, Finding):
            self.found.append(chunk)
        elif chunk.heading:
            self._heading(chunk)
        elif not isinstance(chunk.content, Fence):
            blocks, found = read_paragraph(chunk)
            self.blocks += blocks
            self.found += found
        elif chunk.nested:
            self.found += read_paragraph(chunk)[1]
            self.blocks.append(self._left(chunk.span))
        else:
            self._fence(chunk.content)
        self.begun = True

    def _left(self, span: Span) -> Unread:
        return Unread(self.page.source.slice(span.start, span.end))

    def _heading(self, chunk: Chunk) -> None:
        title = self._label(chunk)
        if chunk.heading == 1 and not self.title and not self.scenes:
            self.title = title
        elif chunk.heading == 2:
            self.scenes.append((title, chunk.span.start))
        else:
            self.found.append(finding("deep-heading", chunk.span))
            if chunk.span.end > chunk.span.start:
                self.blocks.append(self._left(chunk.span))

    def _label(self, chunk: Chunk) -> str:
        """A heading's words; maths and values in it stay as typed, since headings are not judged."""
        assert isinstance(chunk.content, Running), "headings are running text"
        pieces, found = read_inline(chunk.content)
        self.found += found
        shown = []
        for piece in pieces:
            match piece:
                case Words(text=text):
                    shown.append(text)
                case Move(span=span):
                    self.found.append(finding("misplaced-move", span))
                case Tie(words=words):
                    shown.append(words.text)
                case _:
                    shown.append(self.page.source.slice(piece.span.start, piece.span.end).text)
        return " ".join("".join(shown).split())

    def _fence(self, fence: Fence) -> None:
        if not fence.closed:
            mark = self.page.source.slice(fence.span.start, fence.word.span.start)
            self.found.append(finding("never-closed", mark.span, mark=mark.text, end=mark.text))
        if fence.word.text.lower() == "lesson":
            if self.begun:
                self.found.append(finding("late-settings", fence.word.span))
                self.blocks.append(self._left(fence.span))
            else:
                self.settings, found = _settings(self.page.body(fence.first, fence.last))
                self.found += found
            return
        known = tuple(name.text for name in (*self.settings.leans_on, *self.settings.establishes))
        block, found = read_block(self.page, fence, known)
        self.blocks.append(block)
        self.found += found

    def finished(self) -> tuple[Scene, ...]:
        """The scenes, each with its blocks and the notes that accept findings, in order of place."""
        inside = sorted((*self.blocks, *self.page.leaves), key=lambda block: _span(block).start)
        starts = [place for _, place in self.scenes]
        ends = [*starts, len(self.page.source.text)]
        scenes = []
        head = tuple(block for block in inside if _span(block).start < ends[0])
        if any(not isinstance(block, Leave) for block in head):
            scenes.append(Scene("", head, _span(head[0]).to(_span(head[-1]))))
        for (title, start), end in zip(self.scenes, ends[1:], strict=True):
            blocks = tuple(block for block in inside if start <= _span(block).start < end)
            scenes.append(Scene(title, blocks, self.page.span(start, end)))
        return tuple(scenes)


def _span(block: Block) -> Span:
    return block.text.span if isinstance(block, Unread) else block.span


def _settings(text: Slice) -> tuple[Settings, tuple[Finding, ...]]:
    given, found = read_settings(text, LESSON)
    minutes = given.get("minutes")
    language = given.get("language")
    settings = Settings(
        leans_on=_named(text, "leans_on", given),
        establishes=_named(text, "establishes", given),
        minutes=Fraction(str(minutes)) if minutes is not None else None,
        language=str(language) if language else Settings().language,
        version=str(given.get("version", "")),
        corrections=tuple(_corrections(given.get("corrections"))),
        overrides=MappingProxyType({key: value for key, value in given.items() if key not in OWN}),
    )
    return settings, found


def _named(text: Slice, key: str, given: dict[str, object]) -> tuple[Slice, ...]:
    """The names of a list, each with its place; one written with escapes has the place of the setting's name."""
    names = given.get(key)
    if not isinstance(names, list):
        return ()
    place = locate(text, key)
    after = place.span.end - text.span.start
    named = []
    for name in names:
        start = min(
            (at for mark in "\"'" if (at := text.text.find(f"{mark}{name}{mark}", after)) >= 0), default=-1
        )
        if start >= 0:
            named.append(text.part(start + 1, start + 1 + len(name)))
        else:
            named.append(Slice(name, place.span))
    return tuple(named)


def _corrections(given: object) -> Iterable[Correction]:
    for row in given if isinstance(given, list) else ():
        yield Correction(str(row["what"]), str(row.get("where", "")), str(row.get("since", "")))
