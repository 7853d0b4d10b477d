"""Board moves: what a code span in a sentence, or a line of a `board` block, does to the picture."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from typing import Final, get_args

from boardproof.findings import Finding
from boardproof.lesson.kinds import finding, nearby
from boardproof.lesson.sentence import Move, MoveWord
from boardproof.source import Slice

__all__ = ["MOVE_WORDS", "read_move", "split_names"]

MOVE_WORDS: Final[tuple[MoveWord, ...]] = get_args(MoveWord)
FORMS: Final[Mapping[MoveWord, str]] = {
    "plain": "plain",
    "label": "label A with E, r",
    "arrow": "arrow I, I_1",
    "height": "height, or: height of main",
    "replace": "replace both by one cell",
    "write": 'write "words"',
    "recall": "recall cell rule",
    "take": "take main but turn B",
}  # the others act on parts: focus A, B
LONGEST_MOVE: Final = 400
FIRST: Final = re.compile(r"\s*(no\s+emfs?\s+in|\S+)\s*", re.IGNORECASE)
PARTED: Final = re.compile(r"(?<!\s)\s*,\s*(?:and\s+)?|(?<!\s)\s+and\s+", re.IGNORECASE)
WITH: Final = re.compile(r"(?:^|(?<!\s)\s+)with(?:\s+|\Z)", re.IGNORECASE)
REPLACED: Final = re.compile(r"(.+?)\s+by\s+(?:one|a|an)\s+(cell|resistor)", re.IGNORECASE | re.DOTALL)
QUOTED: Final = re.compile(r'"([^"]+)"|“([^”]+)”')
OF: Final = re.compile(r"of\s+(\S.*)", re.IGNORECASE | re.DOTALL)


def split_names(text: Slice) -> tuple[Slice, ...]:
    """Cut a list at its commas and its `and`.

    Parameters
    ----------
    text : Slice
        The list.

    Examples
    --------
    >>> from boardproof.source import Source
    >>> [name.text for name in split_names(Source("a", "A, B and row 2 of bank").slice())]
    ['A', 'B', 'row 2 of bank']
    """
    names, start = [], 0
    for comma in PARTED.finditer(text.text):
        names.append(text.part(start, comma.start()).trimmed())
        start = comma.end()
    names.append(text.part(start, len(text.text)).trimmed())
    return tuple(name for name in names if name.text)


def _group(text: Slice, found: re.Match[str], group: int) -> Slice:
    return text.part(found.start(group), found.end(group))


def _parts(word: MoveWord, rest: Slice, whole: Slice) -> Move | None:
    names = split_names(rest)
    return Move(word, names, whole.span) if names else None


def _nothing(word: MoveWord, rest: Slice, whole: Slice) -> Move | None:
    return None if rest.text else Move(word, (), whole.span)


def _whole(word: MoveWord, rest: Slice, whole: Slice) -> Move | None:
    return Move(word, (rest,), whole.span) if rest.text else None


def _label(word: MoveWord, rest: Slice, whole: Slice) -> Move | None:
    cut = WITH.search(rest.text)
    names = split_names(rest.part(0, cut.start()) if cut else rest)
    shown = " ".join(rest.text[cut.end() :].split()) if cut else ""
    return Move(word, names, whole.span, shown) if names and bool(cut) == bool(shown) else None


def _height(word: MoveWord, rest: Slice, whole: Slice) -> Move | None:
    if not rest.text:
        return Move(word, (), whole.span)
    of = OF.fullmatch(rest.text)
    return Move(word, (_group(rest, of, 1),), whole.span) if of else None


def _replace(word: MoveWord, rest: Slice, whole: Slice) -> Move | None:
    by = REPLACED.fullmatch(rest.text)
    return Move(word, (_group(rest, by, 1),), whole.span, by[2].lower()) if by else None


def _write(word: MoveWord, rest: Slice, whole: Slice) -> Move | None:
    words = QUOTED.fullmatch(rest.text)
    return Move(word, (_group(rest, words, words.lastindex or 1),), whole.span) if words else None


READERS: Final[Mapping[MoveWord, Callable[[MoveWord, Slice, Slice], Move | None]]] = {
    "plain": _nothing,
    "label": _label,
    "height": _height,
    "replace": _replace,
    "write": _write,
    "recall": _whole,
    "take": _whole,
}


def read_move(text: Slice) -> tuple[Move | None, tuple[Finding, ...]]:
    """Read one board move; the paths and names in it stay raw.

    Parameters
    ----------
    text : Slice
        A code span's text or a line of a `board` block.

    Returns
    -------
    (Move or None, tuple of Finding)
        ``unread-move`` if its first word is no move, ``unfit-move`` if the rest does not fit the word.

    Examples
    --------
    >>> from boardproof.source import Source
    >>> move, _ = read_move(Source("a", "label A with E, r").slice())
    >>> move.word, [name.text for name in move.of], move.with_
    ('label', ['A'], 'E, r')
    """
    whole = text.trimmed()
    first = FIRST.match(whole.text)
    said = " ".join(first[1].lower().split()).replace("emfs", "emf") if first else ""
    word = next((known for known in MOVE_WORDS if known == said), None)
    if first is None or word is None:
        near = nearby(said, MOVE_WORDS)
        return None, (finding("unread-move", whole.span, word=said or "an empty move", **near),)
    rest = whole.part(first.end(), len(whole.text))
    fits = len(whole.text) <= LONGEST_MOVE
    move = READERS.get(word, _parts)(word, rest, whole) if fits else None
    if move is None:
        form = FORMS.get(word, f"{word} A, or: {word} A, B")
        return None, (finding("unfit-move", whole.span, text=whole.text, form=form),)
    return move, ()
