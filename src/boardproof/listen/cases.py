"""The circuits that a talk imagines: a part taken away, turned, shorted, another load, all in series."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from itertools import pairwise
from typing import Final

from boardproof.algebra.spoken import Token
from boardproof.algebra.vocabulary import words_of
from boardproof.listen.board import Board, Row
from boardproof.listen.hear import Speech
from boardproof.listen.things import LOADS, ROWS, Thing, Things
from boardproof.quantities import OHM

__all__ = ["Case", "imagined"]

SUPPOSING: Final = words_of(
    "suppose imagine if without instead unless whenever would supposing huge tends infinity approaches infinite tiny"
    " changed gone night pull pulled unplug unplugged disconnect disconnected put unscrew unscrewed unhook unhooked"
)
OTHER_WAY: Final = re.compile(
    r"\b(?:(?:the )?(?:other|wrong|opposite) way(?: round| around)?|(?:right|wrong) way up|upside down|back to front|"
    r"way (?:around|round) (?:is|was) (?:changed|wrong))\b"
)
TAKING: Final = words_of(
    "take takes taking remove removed removing disconnect disconnected rip ripped unplug pull pulled "
    "drop gone leave unplugged unhook unhooked unscrew unscrewed unscrews lift lifted"
)
TURNING: Final = words_of("turn turned reverse reversed flip flipped swap swapped backwards")
AWAY: Final = words_of(
    "out off away remove removed removing disconnect disconnected gone rip ripped unplug unplugged unhook unhooked "
    "unscrew unscrewed unscrews"
)
LEAVING: Final = words_of("leave take without switch")
LARGER: Final = words_of(
    "bigger larger fatter greater higher increase increased increases raise raised grows"
)
SMALLER: Final = words_of("smaller lower decrease decreased reduce reduced shrinks")
LOADED: Final = words_of("load resistor resistance lamp bulb heater motor")
PUTTING: Final = words_of("with make suppose swap instead if for put take now when")
SUPPOSED_TURN: Final = words_of("if suppose would turned reverse flip hook hooked imagine with connect")


@dataclass(frozen=True)
class Case:
    """What a sentence imagines.

    Parameters
    ----------
    boards : tuple of Board
        The circuits it may mean, the likeliest first; the one on the board last.
    is_open : bool
        Another circuit is meant, but it was not understood.
    since : int
        Token behind which an open case begins, if a comma cuts it off; 0 if it holds throughout.
    is_vague : bool
        The load is only said to be larger, or smaller.
    """

    boards: tuple[Board, ...]
    is_open: bool = False
    since: int = 0
    is_vague: bool = False


def imagined(speech: Speech, start: int, end: int, things: Things) -> Case | None:
    """The circuit that a sentence puts in place of the one on the board; None if it puts none.

    Parameters
    ----------
    speech : Speech
        What was said.
    start, end : int
        Tokens of the sentence.
    things : Things
        The parts.
    """
    tokens = speech.tokens[start:end]
    counts = tuple(
        int(each.value) if each.kind == "number" and not each.text and each.value in {2, 3, 4} else 0
        for each in tokens
    )
    case = _Case(things, tuple(token.text for token in tokens), _objects(tokens, speech.raw, things), counts)
    changes = [*case.opened(), *case.turned(), *case.joined(), *case.scaled(), *case.added(), *case.loaded()]
    changes += _other_loads(tokens, things)
    changes += _matched(speech, tokens, things)
    contracted = any("'d" in word for word in speech.words[tokens[0].start : tokens[-1].end])
    if not changes and not (case.said & SUPPOSING or contracted):
        return None
    if changes:
        return Case(tuple(dict.fromkeys((*changes, things.board))))
    if vague := case.sized():
        return Case((*vague, things.board), is_vague=True)
    commas = (n for n in range(1, len(tokens)) if "," in speech.stops[tokens[n - 1].end - 1])
    since = next((start + n for n in commas if case.words[n] in {"if", "unless", "without"}), 0)
    return Case((things.board,), is_open=True, since=since)


@dataclass(frozen=True)
class _Case:
    """A sentence that may put another circuit in place of the one on the board."""

    things: Things
    words: tuple[str, ...]
    objects: list[Thing]
    counts: tuple[int, ...]

    @cached_property
    def said(self) -> set[str]:
        return set(self.words)

    @property
    def board(self) -> Board:
        return self.things.board

    @cached_property
    def loads(self) -> frozenset[str]:
        return frozenset(wire.name for wire in self.board.loads)

    @cached_property
    def names(self) -> frozenset[str]:
        return _cells_meant(self.objects, self.things)

    def opened(self) -> list[Board]:
        """Without a load, without a part, one cell alone, or shorted."""
        said = self.said
        nothing = (
            {"no", "load"} <= said
            or {"circuit", "open"} <= said
            or ("nothing" in said and said & {"connected", "joined"})
        )
        off = ("load" in said and said & LEAVING and said & {"off", "without"}) or {"switched", "off"} <= said
        alone = self.words.index("alone") if "alone" in said else -1
        kept = _cells_meant([thing for thing in self.objects if thing.end == alone], self.things)
        if kept:
            return [self.board.without(frozenset(cell.name for cell in self.board.cells) - kept)]
        if (nothing or off) and self.loads:
            return [self.board.without(self.loads)]
        removing = "without" in said or (said & TAKING and said & AWAY)
        if removing and (taken := _taken(self.words, self.objects, self.things)):
            return [self.board.without(taken)]
        named = "short circuit current" in " ".join(self.words) or "shortcircuit" in said
        if said & {"short", "shorted", "shorting"} and not named:
            return [self.board.shorted(self.loads or self.names)]
        return []

    def turned(self) -> list[Board]:
        """A cell the other way round; one that stands so already is only described."""
        said = self.said
        text = " ".join(self.words)
        other_way = OTHER_WAY.search(text) is not None
        turning = (said & TURNING and said & SUPPOSED_TURN) or said & {"turn", "flip", "reverse", "swap"}
        if not (other_way or turning) or not self.names:
            return []
        changed = self.board.turned(self.names)
        stands = any(self.things.is_turned(wire) for wire in self.board.cells if wire.name in self.names)
        return [] if stands and not said & {"back", "right", "again", "turn", "flip"} else [changed]

    def joined(self) -> list[Board]:
        """All cells in series, or all in parallel."""
        cells = self.board.cells
        beside = len({frozenset({cell.first, cell.last}) for cell in cells}) == 1
        stands = "parallel" if beside else "series" if self.board.loop is not None else ""
        ways = [
            way for way in ("series", "parallel") if way in self.said and way != stands and len(cells) > 1
        ]
        return [made for way in ways if (made := self.board.joined(way)) is not None]

    def scaled(self) -> list[Board]:
        """Said like "if the cables had twice the resistance"."""
        said = self.said
        factor = (
            Fraction(2)
            if said & {"twice", "double", "doubled"}
            else Fraction(1, 2)
            if said & {"halve", "halved"}
            else None
        )
        names = [name for thing in self.objects[:1] for name in thing.of]
        wire = self.board.of(names[0]) if len(names) == 1 else None
        if (
            factor is None
            or wire is None
            or not said & {"if", "suppose", "had", "could", "make", "with", "halve", "double"}
            or not ("resistance" in said or said & {"halve", "double"})
        ):
            return []
        return [self.board.with_ohms(frozenset(names), wire.ohms * factor)]

    def added(self) -> list[Board]:
        """Said like "add a fourth row": one more like those there are, side by side with them."""
        more = self.said & {"add", "adding", "another", "extra"} or {"one", "more"} <= self.said
        if not more:
            return []
        rows = self.board.rows
        if self.said & ROWS and rows:
            return [self.board.with_row(rows[0])]
        cells = self.board.cells
        beside = len(cells) > 1 and len({frozenset({cell.first, cell.last}) for cell in cells}) == 1
        alone = len(cells) == 1 and "parallel" in self.said
        if self.said & {"cell", "battery"} and (beside or alone) and "series" not in self.said:
            return [self.board.with_row(Row("more", ((cells[0], 1),), cells[0].first, cells[0].last))]
        return []

    def loaded(self) -> list[Board]:
        """Said like "two fans side by side", "with two fans": so many loads like the one there is."""
        if len(self.loads) != 1:
            return []
        load = self.board.loads[0]
        for count, word in pairwise(zip(self.counts, self.words, strict=True)):
            many, noun = count[0], word[1]
            if many and noun.endswith("s") and noun.removesuffix("s") in LOADS:
                factor = Fraction(many) if "series" in self.said else Fraction(1, many)
                return [self.board.with_ohms(self.loads, load.ohms * factor)]
        return []

    def sized(self) -> list[Board]:
        """Said like "put a fatter resistor in", "if the load grows": a larger or a smaller load, by no number."""
        for n, word in enumerate(self.words):
            near = self.words[max(0, n - 4) : n + 5]
            if word in LARGER | SMALLER and set(near) & (LOADED | set(self.loads)) and len(self.loads) == 1:
                load = self.board.loads[0]
                factor = Fraction(3, 2) if word in LARGER else Fraction(2, 3)
                return [self.board.with_ohms(self.loads, load.ohms * factor)]
        return []


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
        if word in {"gone", "removed", "disconnected", "unplugged", "unhooked", "unscrewed"}:
            near = [thing for thing in objects if n - 2 <= thing.end <= n]
        elif word in TAKING | {"without"}:
            near = [thing for thing in objects if n < thing.start <= n + 4]
        else:
            continue
        if near and (names := _cells_meant(near, things)):
            return names
    return frozenset()


def _other_loads(tokens: Sequence[Token], things: Things) -> list[Board]:
    """Said like "With half an ohm", "make the load two ohms": each value in ohms that the circuit does not have."""
    load = frozenset(wire.name for wire in things.board.loads)
    known = {fact.value for fact in things.board.facts if fact.kind == "resistance"}
    said = [
        token
        for token in tokens
        if token.kind == "number" and token.unit is not None and token.unit.dimension == OHM
    ]
    if not load:
        return []
    return [
        things.board.with_ohms(load, token.value)
        for token in said
        if token.value > Fraction(0) and token.value not in known and _is_put(tokens, token)
    ]


def _is_put(tokens: Sequence[Token], token: Token) -> bool:
    """Whether a value is put in the load's place: "with half an ohm", "the load is now two ohms"."""
    place = next(n for n, each in enumerate(tokens) if each is token)
    near = [each.text for each in tokens[max(0, place - 3) : place]]
    far = [each.text for each in tokens[max(0, place - 6) : place + 3]]
    return bool(set(near) & PUTTING or set(far) & LOADED)


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
