"""What a stretch of talk is said under: asked, quoted, or in another circuit than the one on the board."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import Final

from boardproof.algebra.spoken import Token
from boardproof.algebra.vocabulary import words_of
from boardproof.listen.board import Board
from boardproof.listen.cases import imagined
from boardproof.listen.hear import Speech
from boardproof.listen.things import Things
from boardproof.record import record

__all__ = ["Scope", "Sentence", "scopes", "sentences"]

OPENERS: Final = words_of(
    "so now okay ok right next but because well anyway alright then yeah if suppose imagine"
)
STARTERS: Final = words_of(
    "the a each every there it we you this that if suppose imagine take check put add look call pull leave"
    " short turn flip"
)
BACK: Final = words_of("now okay back anyway next today")
HUMANS: Final = words_of(
    "student students people somebody someone textbook book colleague friend many some he she they everybody everyone"
)
SAYING: Final = words_of("say says said tell tells told write writes claim claims")
QUOTING: Final = words_of("think thinks thought tempting believe believes guess expect textbook students")
AUXILIARY: Final = words_of("is are does do did would could can will has have should was were")
LONG: Final = 26
FOLLOWING: Final = words_of("of each across through if when in inside")
LONGEST: Final = 60


@record
class Sentence:
    """A sentence, or what passes for one where the captions have no stops.

    Parameters
    ----------
    start, end : int
        Tokens.
    is_question : bool
        Whether it ends with a question mark or begins like a question.
    """

    start: int
    end: int
    is_question: bool


@dataclass(frozen=True)
class Scope:
    """What a sentence is said under.

    Parameters
    ----------
    is_asked, is_quoted : bool
        A question; somebody's belief.
    boards : tuple of Board
        Circuits in which what is said may be meant; the first is the likeliest.
    since : int
        The token behind which an open case begins, if a comma cuts it off; what stands ahead is said of the board.
    is_open : bool
        Whether another circuit is meant that was not understood: then nothing is judged.
    """

    boards: tuple[Board, ...]
    is_asked: bool = False
    is_quoted: bool = False
    is_open: bool = False
    changed: bool = field(default=False)
    since: int = 0


def sentences(speech: Speech) -> tuple[Sentence, ...]:
    """Cut the talk: at stops where there are any, else at words that open a new thought."""
    tokens = speech.tokens
    stops = sum(1 for n in range(len(speech.words)) if speech.ends_sentence(n))
    has_stops = stops * 40 >= len(speech.words)
    found: list[Sentence] = []
    start = 0
    for n, token in enumerate(tokens):
        stopped = speech.ends_sentence(token.end - 1)
        after = tokens[n + 1] if n + 1 < len(tokens) else None
        opens = (
            not has_stops
            and after is not None
            and after.kind == "word"
            and after.text in OPENERS
            and n + 1 - start > 2
        )
        with_ = (
            after is not None
            and after.text == "with"
            and n + 2 < len(tokens)
            and tokens[n + 2].kind == "word"
        )
        values = (not has_stops and with_ and token.kind == "number") or (
            not has_stops
            and after is not None
            and token.kind == "number"
            and (bool(token.text) or 0 < token.place < 1)
            and after.text in STARTERS
        )
        length = n + 1 - start
        is_end = token.kind == "number" and after is not None and after.text not in FOLLOWING
        too_long = not has_stops and after is not None and after.kind == "word"
        too_long = too_long and (length >= LONGEST or (length >= LONG and is_end))
        if stopped or opens or values or after is None or too_long:
            mark = speech.stops[token.end - 1]
            asks = "?" in mark or (not has_stops and _asks(tokens[start : n + 1]))
            found.append(Sentence(start, n + 1, asks))
            start = n + 1
    return tuple(found)


def _asks(tokens: Sequence[Token]) -> bool:
    opening = next(
        (token for token in tokens if token.text not in OPENERS | {"and", "no", "hang", "on"}), None
    )
    if opening is None or opening.kind not in {"word", "relation"}:
        return False
    words = [
        token.text
        for token in tokens[:4]
        if token.kind in {"word", "relation"} and token.text not in OPENERS | {"and", "no", "hang", "on"}
    ]
    return bool(words) and words[0] in AUXILIARY


def scopes(speech: Speech, cut: Sequence[Sentence], things: Things) -> tuple[Scope, ...]:
    """For each sentence what it is said under."""
    board = things.board
    plain = Scope((board,))
    found: list[Scope] = []
    last = plain
    for sentence in cut:
        words = [speech.tokens[n].text for n in range(sentence.start, sentence.end)]
        raw = set(words) | set(
            speech.words[speech.tokens[sentence.start].start : speech.tokens[sentence.end - 1].end]
        )
        quoted = bool(raw & QUOTING or (raw & HUMANS and raw & SAYING)) and not ({"i", "say"} <= raw)
        case = imagined(speech, sentence.start, sentence.end, things)
        new = (
            None if case is None else Scope(case.boards, is_open=case.is_open, changed=True, since=case.since)
        )
        point = "at that point" in " ".join(words) or "in that case" in " ".join(words)
        follows = last.changed and (_goes_on(words) or point)
        if new is not None:
            scope = new
        elif point and not last.changed:
            scope = Scope((board,), is_open=True, changed=True)
        elif follows:
            scope = replace(last, boards=tuple(dict.fromkeys((*last.boards, board))), since=0)
        else:
            scope = plain
        found.append(replace(scope, is_asked=sentence.is_question, is_quoted=quoted))
        last = scope if not sentence.is_question or new is not None else last
    return tuple(found)


def _goes_on(words: Sequence[str]) -> bool:
    if words[0] in {"so", "therefore", "hence", "then"}:
        return True
    opening = [word for word in words if word not in {"and", "so", "well"}][:3]
    if not opening or opening[0] in BACK:
        return False
    return opening[0] in {
        "then",
        "that",
        "it",
        "you",
        "we",
        "there",
        "only",
        "which",
        "both",
        "still",
    } or any("would" in word or "'d" in word for word in words[:6])
