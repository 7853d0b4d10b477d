"""What a stretch of talk is said under: asked, quoted, or in another circuit than the one on the board."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import Final

from boardproof.algebra.vocabulary import words_of
from boardproof.listen.board import Board
from boardproof.listen.cases import imagined
from boardproof.listen.hear import Speech
from boardproof.listen.sentences import Sentence
from boardproof.listen.things import Things

__all__ = ["Scope", "scopes"]

EXPECTED: Final = re.compile(r"\bas (?:you|we|one|i) (?:would |might |may |could )?(?:expect|guess)")
BACK: Final = words_of("now okay back anyway next today")
HUMANS: Final = words_of(
    "student students people somebody someone textbook book colleague friend many some he she they everybody everyone"
)
SAYING: Final = words_of("say says said tell tells told write writes claim claims")
QUOTING: Final = words_of("think thinks thought tempting believe believes guess expect textbook students")


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
    is_vague : bool
        Whether a part is only said to be larger or smaller: then no number is judged, only what grows or falls.
    """

    boards: tuple[Board, ...]
    is_asked: bool = False
    is_quoted: bool = False
    is_open: bool = False
    changed: bool = field(default=False)
    since: int = 0
    is_vague: bool = False


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
        if EXPECTED.search(" ".join(words)):
            raw -= {"expect", "guess"}
        quoted = bool(raw & QUOTING or (raw & HUMANS and raw & SAYING)) and not ({"i", "say"} <= raw)
        case = imagined(speech, sentence.start, sentence.end, things)
        new = (
            None
            if case is None
            else Scope(
                case.boards, is_open=case.is_open, changed=True, since=case.since, is_vague=case.is_vague
            )
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
