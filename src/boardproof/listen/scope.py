"""What a stretch of talk is said under: asked, quoted, or in another circuit than the one on the board."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from typing import Final

from boardproof.algebra.spoken import Token
from boardproof.algebra.vocabulary import words_of
from boardproof.listen.board import Board
from boardproof.listen.hear import Speech
from boardproof.listen.things import Thing, Things
from boardproof.quantities import OHM

__all__ = ["Scope", "Sentence", "scopes", "sentences"]

OPENERS: Final = words_of(
    "so now okay ok right next but because well anyway alright then yeah if suppose imagine"
)
STARTERS: Final = words_of(
    "the a each every there it we you this that if suppose imagine take check put add look call"
)
BACK: Final = words_of("now okay back anyway next today")
QUOTING: Final = words_of(
    "student students people somebody someone textbook book colleague think thinks thought tempting "
    "believe believes say says said tell tells told guess expect many"
)
SUPPOSING: Final = words_of(
    "suppose imagine if without instead unless whenever would should'd supposing huge tends infinity "
    "approaches infinite tiny"
)
AUXILIARY: Final = words_of("is are does do did would could can will has have should was were")
LONGEST: Final = 26
TAKING: Final = words_of(
    "take takes taking remove removed removing disconnect disconnected rip ripped unplug pull pulled "
    "drop gone leave"
)
TURNING: Final = words_of("turn turned reverse reversed flip flipped swap swapped backwards around round")


@dataclass(frozen=True, slots=True)
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
            and bool(token.text)
            and after.text in STARTERS
        )
        if (
            stopped
            or opens
            or values
            or after is None
            or (not has_stops and n + 1 - start >= LONGEST and after.kind == "word")
        ):
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
        quoted = bool(raw & QUOTING) and not ({"i", "say"} <= raw)
        new = imagined(speech, sentence, things)
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


def imagined(speech: Speech, sentence: Sentence, things: Things) -> Scope | None:
    """The circuit that a sentence puts in place of the one on the board; None if it puts none."""
    tokens = speech.tokens[sentence.start : sentence.end]
    words = [token.text for token in tokens]
    said = set(words)
    board = things.board
    raw = speech.raw
    objects = _objects(tokens, raw, things)
    changes: list[Board] = []
    opens = (
        ("circuit" in said and "open" in said)
        or ("no" in said and "load" in said)
        or ("nothing" in said and bool(said & {"connected", "joined"}))
    )
    off = (
        "load" in said
        and bool(said & {"off", "without"})
        and bool(said & {"leave", "take", "without", "switch"})
    ) or ("switched" in said and "off" in said)
    loads = frozenset(wire.name for wire in board.loads)
    if (opens or off) and loads:
        changes.append(board.without(loads))
    removing = "without" in said or (
        bool(said & TAKING)
        and bool(
            said
            & {
                "out",
                "off",
                "away",
                "remove",
                "removed",
                "removing",
                "disconnect",
                "disconnected",
                "gone",
                "rip",
                "ripped",
            }
        )
    )
    names = _cells_meant(objects, things)
    if removing and not changes and (taken := _taken(words, objects, things)):
        changes.append(board.without(taken))
    alone = next((n for n, word in enumerate(words) if word == "alone"), 0)
    if alone and (kept := _cells_meant([thing for thing in objects if thing.end == alone], things)):
        changes = [board.without(frozenset(cell.name for cell in board.cells) - kept)]
    named = "short circuit current" in " ".join(words) or "shortcircuit" in said
    if said & {"short", "shorted", "shorting"} and not named and not changes:
        changes.append(board.shorted(loads or names) if loads or names else board)
    turning = bool(said & TURNING) and bool(
        said
        & {
            "if",
            "suppose",
            "would",
            "turned",
            "reverse",
            "flip",
            "hook",
            "hooked",
            "imagine",
            "with",
            "connect",
        }
    )
    if (
        turning
        or ("way" in said and bool(said & {"around", "round", "other"}))
        or ("up" in said and "right" in said and "way" in said)
    ) and names:
        changes.append(board.turned(names))
    for how in ("series", "parallel"):
        if how in said and len(board.cells) > 1 and (made := board.joined(how)) is not None:
            changes.append(made)
    changes += _scaled(said, objects, board)
    changes += _other_loads(tokens, things)
    changes += _matched(speech, tokens, things)
    supposing = (
        bool(said & SUPPOSING)
        or any("'d" in word for word in speech.words[tokens[0].start : tokens[-1].end])
        or bool(said & {"changed", "gone", "night"})
    )
    if not changes and not supposing:
        return None
    boards = tuple(dict.fromkeys((*changes, board)))
    cut = next(
        (
            sentence.start + n
            for n, word in enumerate(words)
            if n and word in {"if", "unless", "without"} and "," in speech.stops[tokens[n - 1].end - 1]
        ),
        0,
    )
    return Scope(boards, is_open=not changes, changed=True, since=cut if not changes else 0)


def _objects(tokens: Sequence[Token], raw: Sequence[str], things: Things) -> list[Thing]:
    found: list[Thing] = []
    place = 0
    while place < len(tokens):
        thing = things.at(tokens, raw, place)
        if thing is not None:
            found.append(thing)
            place = thing.end
        else:
            place += 1
    return found


def _cells_meant(objects: Sequence[Thing], things: Things) -> frozenset[str]:
    """Parts of the first thing that can be changed."""
    for thing in objects:
        names: set[str] = set()
        for each in thing.of:
            row = next((row for row in things.board.rows if row.name == each), None)
            if row is not None:
                names |= {wire.name for wire, _ in row.wires}
            elif things.board.of(each) is not None:
                names.add(each)
        if names and len(names) < len(things.board.wires):
            return frozenset(names)
    return frozenset()


def _taken(words: Sequence[str], objects: Sequence[Thing], things: Things) -> frozenset[str]:
    """What is taken away: what stands behind "without", "take"; right ahead of "gone", "out", "off"."""
    for n, word in enumerate(words):
        if word in {"gone", "removed", "disconnected"}:
            near = [thing for thing in objects if n - 2 <= thing.end <= n]
        elif word in TAKING | {"without"}:
            near = [thing for thing in objects if n < thing.start <= n + 4]
        else:
            continue
        if near and (names := _cells_meant(near, things)):
            return names
    return frozenset()


def _scaled(said: set[str], objects: Sequence[Thing], board: Board) -> list[Board]:
    """Said like "If the cables had twice the resistance"."""
    factor = (
        Fraction(2)
        if said & {"twice", "double", "doubled"}
        else Fraction(1, 2)
        if said & {"halve", "halved"}
        else None
    )
    names = frozenset(name for thing in objects[:1] for name in thing.of if board.of(name) is not None)
    if (
        factor is None
        or "resistance" not in said
        or not said & {"if", "suppose", "had", "could", "make", "with"}
        or len(names) != 1
    ):
        return []
    wire = board.of(next(iter(names)))
    assert wire is not None
    return [board.with_ohms(names, wire.ohms * factor)]


def _other_loads(tokens: Sequence[Token], things: Things) -> list[Board]:
    """Said like "With half an ohm", "make the load two ohms": each value in ohms that the circuit does not have."""
    load = frozenset(wire.name for wire in things.board.loads)
    known = {fact.value for fact in things.board.facts if fact.kind == "resistance"}
    said = [
        token
        for token in tokens
        if token.kind == "number" and token.unit is not None and token.unit.dimension == OHM
    ]
    words = {token.text for token in tokens}
    if not load or not (
        words
        & {
            "with",
            "load",
            "make",
            "suppose",
            "swap",
            "instead",
            "if",
            "for",
            "put",
            "take",
            "now",
            "when",
            "is",
            "lamp",
            "then",
        }
    ):
        return []
    return [
        things.board.with_ohms(load, token.value)
        for token in said
        if token.value > Fraction(0) and token.value not in known
    ]


def _matched(speech: Speech, tokens: Sequence[Token], things: Things) -> list[Board]:
    """Said like "When R equals r": the load equal to what lies inside."""
    said = " ".join(speech.words[tokens[0].start : tokens[-1].end])
    inside = next(
        (fact.value for fact in things.board.facts if fact.kind == "resistance" and fact.of == "whole"), None
    )
    cells = things.board.cells
    inside = cells[0].ohms if inside is None and len(cells) == 1 else inside
    loads = frozenset(wire.name for wire in things.board.loads)
    wanted = re.search(
        r"\b(?:when|if|where|make|makes) (?:the load |load |big |capital )?r (?:equals|equal to|is equal to|is) "
        r"(?:little |small )?r\b|matched",
        said,
    )
    return [things.board.with_ohms(loads, inside)] if wanted and inside and loads else []
