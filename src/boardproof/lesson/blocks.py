"""The bodies of the fenced blocks: pause, trap, claim, question, readings, brief, board, circuit."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import Final

from boardproof.findings import Finding
from boardproof.lesson.derivation import read_derive
from boardproof.lesson.fields import Body, FieldForm, read_fields, without_comment
from boardproof.lesson.kinds import finding, nearby
from boardproof.lesson.model import (
    Block,
    BoardBlock,
    Brief,
    CircuitBlock,
    Claim,
    Pause,
    Question,
    QuestionPart,
    Readings,
    Trap,
    Unread,
)
from boardproof.lesson.moves import read_move, split_names
from boardproof.lesson.page import Page
from boardproof.lesson.sentence import Paragraph
from boardproof.lesson.text import Fence, paragraphs, read_text
from boardproof.source import Slice

__all__ = ["BLOCK_WORDS", "FIELDS", "read_block"]

Found = tuple[Finding, ...]
LINE, MATHS = FieldForm(), FieldForm(maths=True)
FIELDS: Final[Mapping[str, Mapping[str, FieldForm]]] = {
    "pause": {"answer": FieldForm("rest")},
    "trap": {"wrong": LINE, "belief": LINE},
    "claim": {"means": FieldForm(repeats=True, maths=True), "for": MATHS},
    "question": {
        "circuit": LINE,
        "where": FieldForm(repeats=True, maths=True),
        "ask": LINE,
        "credit": FieldForm(repeats=True),
        "tell apart": LINE,
        "vary": FieldForm("lines", maths=True),
    },
    "readings": {
        **dict.fromkeys(("voltmeter", "ammeter", "file", "find", "compare"), LINE),
        "table": FieldForm("lines"),
    },
    "brief": {
        **dict.fromkeys(("voltage", "current", "for", "each cell", "sag", "mass", "cost", "best"), LINE),
        "cells": FieldForm(repeats=True),
    },
}
PAUSE: Final = re.compile(r"([0-9]{1,3})\s*(s|sec|secs|seconds?|min|mins|minutes?)?", re.IGNORECASE)
USUAL_PAUSE: Final = 20
LONGEST_PAUSE: Final = 600
MOST_ROWS: Final = 10_000


def _words(page: Page, body: Body, first: int, last: int) -> tuple[tuple[Paragraph, ...], Found]:
    text, found = read_text(page, first, last, body.blanked)
    return paragraphs(text), found


def _headless(fence: Fence) -> Found:
    if not fence.headline.text:
        return ()
    facts = {"text": fence.headline.text, "word": fence.word.text, "form": f"```{fence.word.text}"}
    return (finding("unread-headline", fence.headline.span, **facts),)


def _missing(fence: Fence, name: str) -> Finding:
    return finding("missing-field", fence.word.span, word=fence.word.text, field=name)


def _seconds(fence: Fence) -> tuple[int, Found]:
    if not fence.headline.text:
        return USUAL_PAUSE, ()
    said = PAUSE.fullmatch(fence.headline.text)
    seconds = int(said[1]) * (60 if (said[2] or "s").lower().startswith("m") else 1) if said else 0
    if 1 <= seconds <= LONGEST_PAUSE:
        return seconds, ()
    form = f"```pause 20 s (1 s to {LONGEST_PAUSE // 60} min)"
    facts = {"text": fence.headline.text, "word": "pause", "form": form}
    return USUAL_PAUSE, (finding("unread-headline", fence.headline.span, **facts),)


def _pause(page: Page, fence: Fence) -> tuple[Block, Found]:
    seconds, found = _seconds(fence)
    body, faults = read_fields(page, fence, FIELDS["pause"])
    cut = next((entry.row for entry in body.entries), fence.last)
    task, in_task = _words(page, body, fence.first, cut)
    answer, in_answer = read_text(page, cut, fence.last, body.blanked)
    missing = () if answer else (finding("missing-answer", fence.word.span),)
    return Pause(seconds, task, answer, fence.span), (*found, *faults, *in_task, *in_answer, *missing)


def _trap(page: Page, fence: Fence) -> tuple[Block, Found]:
    body, found = read_fields(page, fence, FIELDS["trap"])
    words, faults = _words(page, body, fence.first, fence.last)
    wrong = body.one("wrong")
    missing = () if wrong else (_missing(fence, "wrong"),)
    trap = Trap(wrong, body.one("belief"), words, fence.span)
    return trap, (*_headless(fence), *found, *faults, *missing)


def _name(fence: Fence) -> Slice | None:
    return fence.headline if fence.headline.text else None


def _claim(page: Page, fence: Fence) -> tuple[Block, Found]:
    body, found = read_fields(page, fence, FIELDS["claim"])
    words, faults = _words(page, body, fence.first, fence.last)
    return Claim(_name(fence), words, body.all("means"), body.one("for"), fence.span), (*found, *faults)


def _question(page: Page, fence: Fence) -> tuple[Block, Found]:
    body, found = read_fields(page, fence, FIELDS["question"], with_parts=True)
    cuts = [entry for entry in body.entries if entry.name.startswith("(")]
    ends = [*(entry.row for entry in cuts), fence.last]
    stem, faults = _words(page, body, fence.first, ends[0])
    parts = [_part("", (), body, fence.first, ends[0])]
    for cut, end in zip(cuts, ends[1:], strict=True):
        words, more = _words(page, body, cut.row, end)
        faults += more
        parts.append(_part(cut.name[1], words, body, cut.row, end))
    if parts[0].ask is None and not parts[0].credit:
        del parts[0]
    where = tuple(name for value in body.all("where") for name in split_names(value))
    apart = body.one("tell apart")
    question = Question(
        _name(fence),
        stem,
        body.one("circuit"),
        tuple(line for line in body.lines("vary") if line.text),
        where,
        tuple(parts),
        split_names(apart) if apart else (),
        fence.span,
    )
    return question, (*found, *faults)


def _part(label: str, words: tuple[Paragraph, ...], body: Body, first: int, last: int) -> QuestionPart:
    here = [entry for entry in body.entries if first <= entry.row < last and entry.value.text]
    ask = next((entry.value for entry in here if entry.name == "ask"), None)
    return QuestionPart(label, words, ask, tuple(entry.value for entry in here if entry.name == "credit"))


def _cells(line: Slice) -> tuple[Slice, ...]:
    left = 1 if line.text.startswith("|") else 0
    right = len(line.text) - (1 if line.text.endswith("|") and len(line.text) > 1 else 0)
    cells, start = [], left
    for mark in re.finditer(r"\||\Z", line.text[:right]):
        if mark.start() >= start:
            cells.append(line.part(start, mark.start()).trimmed())
            start = mark.start() + 1
    return tuple(cells)


def _readings(page: Page, fence: Fence) -> tuple[Block, Found]:
    body, found = read_fields(page, fence, FIELDS["readings"])
    task, faults = _words(page, body, fence.first, fence.last)
    of = re.fullmatch(r"of\s+(\S.*)", fence.headline.text, re.DOTALL)
    if of is None:
        facts = {"text": fence.headline.text or "nothing", "word": "readings", "form": "```readings of A"}
        found += (
            finding("unread-headline", (fence.headline if fence.headline.text else fence.word).span, **facts),
        )
    lines = [_cells(line) for line in body.lines("table") if line.text.strip("|-: ")]
    if len(lines) > MOST_ROWS:
        found += (finding("over-limit", fence.word.span, what="A table", limit=f"{MOST_ROWS} rows"),)
    values = {entry.name: entry.value for entry in body.entries if entry.name != "table" and entry.value.text}
    readings = Readings(
        fence.headline.part(of.start(1), of.end(1)) if of else None,
        MappingProxyType(values),
        lines[0] if lines else (),
        tuple(lines[1 : MOST_ROWS + 1]),
        task,
        fence.span,
    )
    return readings, (*found, *faults)


def _brief(page: Page, fence: Fence) -> tuple[Block, Found]:
    body, found = read_fields(page, fence, FIELDS["brief"])
    words, faults = _words(page, body, fence.first, fence.last)
    values = tuple((entry.name, entry.value) for entry in body.entries)
    return Brief(_name(fence), values, words, fence.span), (*found, *faults)


def _board(page: Page, fence: Fence) -> tuple[Block, Found]:
    moves, found = [], list(_headless(fence))
    for row in page.rows[fence.first : fence.last]:
        line = page.slice(row.start, row.end)
        if not line.text or line.text.startswith("#"):
            continue
        move, faults = read_move(without_comment(line))
        found += faults
        if move is not None:
            moves.append(move)
    return BoardBlock(tuple(moves), fence.span), tuple(found)


def _circuit(page: Page, fence: Fence) -> tuple[Block, Found]:
    return CircuitBlock(page.body(fence.first, fence.last), fence.span), _headless(fence)


READERS: Final[Mapping[str, Callable[[Page, Fence], tuple[Block, Found]]]] = {
    "circuit": _circuit,
    "board": _board,
    "pause": _pause,
    "trap": _trap,
    "claim": _claim,
    "question": _question,
    "readings": _readings,
    "brief": _brief,
}
BLOCK_WORDS: Final = ("lesson", "derive", *READERS)


def read_block(page: Page, fence: Fence, known: tuple[str, ...] = ()) -> tuple[Block, Found]:
    r"""Read a fenced block by its word.

    Parameters
    ----------
    page : Page
        The text.
    fence : Fence
        The block.
    known : tuple of str
        Results that a derivation may name as rules, beside the usual ones.

    Returns
    -------
    (Block, tuple of Finding)
        `Unread` for a word that no block has.

    Examples
    --------
    >>> from boardproof.lesson.page import read_page
    >>> from boardproof.lesson.text import chunks
    >>> from boardproof.source import Source
    >>> page, _ = read_page(Source("a", "```pause 15 s\nTry.\nanswer: Done.\n```"))
    >>> fence = next(chunks(page, 0, len(page.rows))).content
    >>> read_block(page, fence)[0].seconds
    15
    """
    word = fence.word.text.lower()
    if word == "derive":
        return read_derive(page, fence, known)
    if word in READERS:
        return READERS[word](page, fence)
    whole = Unread(page.source.slice(fence.span.start, fence.span.end))
    if not word:
        opening = page.span(fence.span.start, fence.span.start + 3)
        return whole, (finding("nameless-block", opening),)
    near = nearby(word, BLOCK_WORDS)
    return whole, (finding("unknown-block", fence.word.span, word=fence.word.text, **near),)
