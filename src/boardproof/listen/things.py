"""Which part, group, row or point is meant, and which quantity: the nouns of circuit talk, bound to the board."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from typing import Final

from boardproof.algebra.spoken import Token
from boardproof.algebra.vocabulary import words_of
from boardproof.listen.board import Board, Row, Wire
from boardproof.quantities import OHM, VOLT
from boardproof.record import record

__all__ = ["LOADS", "ROWS", "Quantity", "Thing", "Things", "quantity_at"]

LEADS: Final = words_of("cable cables lead leads wire wires")
NOUNS: Final = words_of("charger regulator panel dynamo generator supply")
OWN: Final = words_of("accumulator")  # a cell, but not every cell is one
LOADS: Final = words_of(
    "coil starter element kettle load lamp bulb heater motor radio buzzer light sensor fan pump beacon transmitter"
)
WHOLES: Final = words_of("pair bank pack combination group set both together stack network arrangement")
CELLS: Final = words_of("cell battery source supply one accumulator")
ROWS: Final = words_of("row string branch arm chain")
ORDINALS: Final = {
    "first": 0,
    "second": 1,
    "third": 2,
    "fourth": 3,
    "one": 0,
    "two": 1,
    "three": 2,
    "top": 0,
    "bottom": -1,
    "last": -1,
    "other": 1,
}
NEVER_NAMED: Final = words_of(
    "resistor lamp bulb funny bit little lot few good bad fresh tired flat dead truck car button"
)
BY_SIZE: Final = {
    "bigger": 1, "larger": 1, "biggest": 1, "largest": 1, "higher": 1, "stronger": 1, "strongest": 1,
    "smaller": -1, "smallest": -1, "lower": -1, "weaker": -1, "weakest": -1,
}  # fmt: skip
ARTICLES: Final = words_of("the this that our my your a an its")
DESCRIPTIONS: Final = words_of("whole entire little small big old new single same equivalent only remaining")


@record
class Thing:
    """What is spoken of.

    Parameters
    ----------
    of : tuple of str
        Names as facts have them; any of them may be meant.
    start, end : int
        Tokens.
    is_each : bool
        Whether every one of them is spoken of.
    """

    of: tuple[str, ...]
    start: int
    end: int
    is_each: bool = False


@record
class Quantity:
    """Which quantity is named.

    Parameters
    ----------
    kinds : tuple of str
        Kinds of facts that the words allow.
    start, end : int
        Tokens.
    of : tuple of str
        What it must be of, if the words say so ("net EMF").
    """

    kinds: tuple[str, ...]
    start: int
    end: int
    of: tuple[str, ...] = ()


PHRASES: Final[tuple[tuple[tuple[str, ...], tuple[str, ...], tuple[str, ...]], ...]] = tuple(
    sorted(
        (
            (tuple(words.split()), kinds, of)
            for kinds, of, many in (
                (("emf",), (), "emf|e m f|electromotive force"),
                (
                    ("emf",),
                    ("whole",),
                    "net emf|total emf|equivalent emf|combined emf|resultant emf|effective emf|pack emf|pack e",
                ),
                (
                    ("pd", "potential"),
                    (),
                    "terminal voltage|terminal pd|terminal potential difference|voltage at the terminals",
                ),
                (
                    ("pd", "potential", "emf", "lost"),
                    (),
                    "voltage|pd|potential difference|p d|volts|voltage across",
                ),
                (("lost", "pd"), (), "lost volts|lost voltage|voltage drop|drop|internal drop"),
                (("resistance",), (), "resistance|ohms"),
                (("resistance",), (), "internal resistance"),
                (
                    ("resistance",),
                    ("whole", "loop", "outside"),
                    "total resistance|net resistance|equivalent resistance|combined resistance|overall resistance",
                ),
                (("resistance",), ("whole",), "total internal resistance"),
                (("current",), (), "current|amps"),
                (("short",), (), "short circuit current|shortcircuit current"),
                (("current",), ("whole",), "load current|total current"),
                (("power_out", "power_given", "heat"), (), "power|watts"),
                (("heat",), (), "heat|heat loss|lost power|wasted power"),
                (("efficiency",), (), "efficiency"),
            )
            for words in many.split("|")
        ),
        key=lambda row: -len(row[0]),
    )
)


GENERIC: Final = {"r": "resistance", "v": "pd"}
"""Letters that the lesson does not have, as people say them all the same."""


def quantity_at(tokens: Sequence[Token], place: int) -> Quantity | None:
    """The quantity whose name begins at a token.

    Parameters
    ----------
    tokens : sequence of Token
        The talk.
    place : int
        Where to look.
    """
    letter = tokens[place].text
    if (
        letter in GENERIC
        and tokens[place].kind == "word"
        and place + 1 < len(tokens)
        and tokens[place + 1].kind == "relation"
    ):
        return Quantity((GENERIC[letter],), place, place + 1)
    for words, kinds, of in PHRASES:
        if tuple(token.text for token in tokens[place : place + len(words)]) == words:
            return Quantity(kinds, place, place + len(words), of)
    return None


class Things:
    """Finds what is spoken of on one board.

    Parameters
    ----------
    board : Board
        The circuit.
    aliases : mapping of str to str
        Words of the teacher's own ("charger", "the big one") and the part they mean.
    """

    def __init__(self, board: Board, aliases: Mapping[str, str] | None = None) -> None:
        """Learn the names."""
        self.board = board
        self.names = {wire.name.lower(): wire.name for wire in board.wires}
        self.nodes = {node for wire in board.wires for node in (wire.first, wire.last)}
        self.aliases = dict(aliases or {})
        known = {wire.name for wire in board.wires}
        self.phrases = {tuple(words.split()): name for words, name in self.aliases.items() if name in known}

    def learn(self, tokens: Sequence[Token], raw: Sequence[str]) -> None:
        """Take in what the talk calls its parts: "the flat one, B", "the charger, that's cell A"."""
        for n, token in enumerate(tokens):
            if token.kind != "word" or token.text in UNTELLING or n == 0:
                continue
            if token.text not in NOUNS | OWN and tokens[n - 1].text not in {
                "the",
                "this",
                "that",
                "our",
                "my",
            }:
                continue
            noun = n + 1 < len(tokens) and tokens[n + 1].text in CELLS | {"resistor"}
            if not noun and token.text not in NOUNS | OWN:
                continue
            place = n + 1 + noun
            while place < min(n + 6, len(tokens)) and (
                tokens[place].text in {"that", "is", "which", "it", "cell", "battery", "="}
            ):
                place += 1
            if place < len(tokens) and raw[tokens[place].start][:1].isupper():
                name = self._name_of(tokens[place])
                if (
                    name
                    and (self.board.of(name) is not None)
                    and (tokens[place].text != "a" or raw[tokens[place].start] == "A")
                ):
                    self.aliases.setdefault(token.text, name)

    def at(self, tokens: Sequence[Token], raw: Sequence[str], place: int) -> Thing | None:
        """The thing whose name begins at a token."""
        start = place
        token = tokens[place]
        for phrase, name in self.phrases.items():
            said = tokens[place : place + len(phrase)]
            if tuple(each.text for each in said if each.kind == "word") == phrase:
                return Thing((name,), place, place + len(phrase))
        if token.text in {"each", "every", "both", "all"} and token.kind == "word":
            every = self._each(tokens, place)
            if every is not None or token.text in {"each", "every"}:
                return every
        while (
            place < len(tokens)
            and tokens[place].kind == "word"
            and tokens[place].text in ARTICLES | DESCRIPTIONS
        ):
            if self.is_part_a(tokens, raw, place):
                break
            place += 1
        if place >= len(tokens):
            return None
        found = (
            self.by_value(tokens, place)
            or self._by_name(tokens, raw, place)
            or self.by_order(tokens, place)
            or self._by_noun(tokens, place, start)
        )
        return None if found is None else Thing(found.of, start, found.end, found.is_each)

    def is_part_a(self, tokens: Sequence[Token], raw: Sequence[str], place: int) -> bool:
        """Whether "A" is the part and not the article."""
        word = raw[tokens[place].start]
        before = tokens[place - 1].text if place else ""
        after = tokens[place + 1].text if place + 1 < len(tokens) else ""
        if tokens[place].text != "a" or "a" not in self.names:
            return False
        if before in {"cell", "battery"}:
            return True
        if word != "A":
            return False
        if after in CELLS | ROWS | LOADS | DESCRIPTIONS | NEVER_NAMED:
            return False
        return after in AFTER_A or (place > 0 and before not in {"", "."} and before != ".")

    def _each(self, tokens: Sequence[Token], place: int) -> Thing | None:
        end = place + 1
        while end < len(tokens) and tokens[end].text in {"of", "the", "good", "single", "one"} | ARTICLES:
            end += 1
        noun = tokens[end].text if end < len(tokens) else ""
        if noun == "ones" and tokens[end - 1].text == "good":
            good = tuple(wire.name for wire in self.board.cells if not self.is_turned(wire))
            return Thing(good, place, end + 1, True)
        if noun.rstrip("s") in ROWS or noun == "branches":
            return Thing(tuple(row.name for row in self.board.rows) or self._branches(), place, end + 1, True)
        if noun in {"cell", "cells", "battery", "batteries"}:
            return Thing(tuple(wire.name for wire in self.board.cells), place, end + 1, True)
        if noun.removesuffix("s") in {"resistor", "lamp", "bulb"}:
            return Thing(tuple(wire.name for wire in self.board.resistors), place, end + 1, True)
        return None

    def _branches(self) -> tuple[str, ...]:
        return tuple(wire.name for wire in self.board.wires if not wire.is_load)

    def by_value(self, tokens: Sequence[Token], place: int) -> Thing | None:
        """Said like "the six volt one", "the 4 ohm"."""
        token = tokens[place]
        if token.kind != "number" or token.unit is None:
            return None
        after = tokens[place + 1].text if place + 1 < len(tokens) else ""
        before = tokens[place - 1].text if place else ""
        is_named = after in CELLS | LOADS | {"resistor", "resistance"}
        if not is_named and before not in {"the", "that", "this"}:
            return None
        if token.unit.dimension == VOLT:
            found = [wire for wire in self.board.cells if wire.emf == token.value]
        elif token.unit.dimension == OHM:
            found = [wire for wire in self.board.resistors if wire.ohms == token.value]
        else:
            return None
        if len(found) != 1:
            return None
        return Thing((found[0].name,), place, place + 1 + is_named)

    def _by_name(self, tokens: Sequence[Token], raw: Sequence[str], place: int) -> Thing | None:
        token = tokens[place]
        word = token.text if token.kind == "word" else ""
        if word in {"cell", "battery", "resistor", "charger"} and place + 1 < len(tokens):
            name = self._name_of(tokens[place + 1])
            if name:
                return Thing((name,), place, place + 2)
        if word in {"point", "node"} and place + 1 < len(tokens):
            node = raw[tokens[place + 1].start].lower()
            return Thing((node,), place, place + 2) if node in self.nodes else None
        written = raw[token.start]
        if word == "a":
            return Thing((self.names["a"],), place, place + 1) if self.is_part_a(tokens, raw, place) else None
        name = self._name_of(token)
        if name and (written[:1].isupper() or len(name) > 1):
            return Thing((name,), place, place + 1)
        if len(written) == 1 and written.isupper() and written.lower() in self.nodes and token.kind == "word":
            return Thing((written.lower(),), place, place + 1)
        return None

    def _name_of(self, token: Token) -> str | None:
        if token.kind == "word":
            return self.names.get(token.text)
        if token.kind == "name":
            plain = [name.replace("_", "").lower() for name in token.names]
            return next((self.names[each] for each in plain if each in self.names), None)
        return None

    def by_order(self, tokens: Sequence[Token], place: int) -> Thing | None:
        """Said like "the first cell", "cell two", "the bad row"."""
        word = tokens[place].text
        after = tokens[place + 1].text if place + 1 < len(tokens) else ""
        if word in CELLS | ROWS and word != "one":
            token = tokens[place + 1] if place + 1 < len(tokens) else None
            if (
                token is not None
                and token.kind == "number"
                and not token.text
                and token.value.denominator == 1
            ):
                return self._numbered(word, int(token.value) - 1, place, place + 2)
            return None
        if after in ROWS or after in {"cell", "battery", "resistor"}:
            if word in {"good", "bad", "reversed", "turned", "backwards"}:
                return self._described(word, after, place)
            if word in ORDINALS:
                return self._numbered(after, ORDINALS[word], place, place + 2)
        if word in {"reversed", "turned", "good", "bad"} and after == "one":
            return self._described(word, "cell", place)
        if word in BY_SIZE and after in CELLS | LOADS | {"resistor", "resistance"}:
            return self._sized(BY_SIZE[word], after, place)
        return None

    def _sized(self, sense: int, noun: str, place: int) -> Thing | None:
        """Said like "the bigger resistor", "the stronger cell": the one of most ohms, or of most volts."""
        are_cells = noun in CELLS
        many = self.board.cells if are_cells else self.board.resistors
        sizes = sorted(((wire.emf or Fraction(0)) if are_cells else wire.ohms) * sense for wire in many)
        if len(many) < 2 or sizes[-1] == sizes[-2]:
            return None
        name = max(
            many, key=lambda wire: ((wire.emf or Fraction(0)) if are_cells else wire.ohms) * sense
        ).name
        return Thing((name,), place, place + 2)

    def _numbered(self, noun: str, number: int, start: int, end: int) -> Thing | None:
        many = (
            [row.name for row in self.board.rows]
            if noun in ROWS
            else [w.name for w in self.board.cells]
            if noun in CELLS
            else [w.name for w in self.board.resistors]
        )
        return Thing((many[number],), start, end) if many and -1 <= number < len(many) else None

    def _described(self, word: str, noun: str, place: int) -> Thing | None:
        wrong = word != "good"
        if noun in ROWS:
            found = [row.name for row in self.board.rows if row.has_turned == wrong]
        else:
            found = [wire.name for wire in self.board.cells if self.is_turned(wire) == wrong]
        return (
            Thing(tuple(found), place, place + 2, len(found) > 1)
            if found and len(found) < len(self.board.cells)
            else None
        )

    def is_turned(self, wire: Wire) -> bool:
        """Whether a cell stands against the others of its row, or with its plus at the minus terminal."""
        chains: list[Row] = [*self.board.rows]
        if self.board.loop is not None:
            chains.append(self.board.loop)
        for row in chains:
            for each, sense in row.wires:
                if each.name == wire.name:
                    return sense < 0
        minus = self.board.ends[1] if self.board.ends else None
        return wire.last == minus

    def _by_noun(self, tokens: Sequence[Token], place: int, start: int) -> Thing | None:
        word = tokens[place].text
        if tokens[place].kind != "word":
            return None
        after = tokens[place + 1].text if place + 1 < len(tokens) else ""
        if word in self.aliases and (word in NOUNS | OWN or after in CELLS | LOADS | {"resistor"}):
            return Thing((self.aliases[word],), place, place + 1 + (word not in NOUNS | OWN))
        ideal = [cell for cell in self.board.cells if not cell.ohms]
        if len(self.board.cells) == 2 and len(ideal) == 1 and word in {"cell", "supply", "source"}:
            other = next(cell for cell in self.board.cells if cell.ohms)
            return Thing((other.name if word == "cell" else ideal[0].name,), place, place + 1)
        if word in LEADS and len(spare := [w for w in self.board.resistors if not w.is_load]) == 1:
            return Thing((spare[0].name,), place, place + 1)
        if word in {"branches", "rows", "strings"} and place:
            return Thing(
                tuple(row.name for row in self.board.rows) or ("branch 1", "branch 2"), start, place + 1, True
            )
        if word in LOADS and self.board.loads:
            return Thing(tuple(wire.name for wire in self.board.loads), place, place + 1)
        if word == "resistor" and len(self.board.resistors) == 1:
            return Thing((self.board.resistors[0].name,), place, place + 1)
        if word in {"cell", "battery"} and len(self.board.cells) == 1:
            return Thing((self.board.cells[0].name,), place, place + 1)
        if word in {"charger", "battery"} and self.charging():
            strong, weak = self.charging()[:2]
            return Thing((strong if word == "charger" else weak,), place, place + 1)
        if word in WHOLES:
            beside = tuple("+".join(wire.name for wire in many) for many in self.board.side_by_side)
            of = ("whole", "outside", *beside) if len(self.board.cells) == 1 else ("whole",)
            return Thing(of, place, place + 1)
        if word == "terminals":
            return Thing(("whole",), place, place + 1)
        if word in {"loop", "circuit"} and place > start:
            return Thing(("whole", "loop"), place, place + 1)
        return None

    def charging(self) -> tuple[str, ...]:
        """The cell that drives and the one that is charged, where there are just these."""
        if len(self.board.cells) != 2:
            return ()
        weak = [cell.name for cell in self.board.cells if self.board.currents.get(cell.name, 0) < 0]
        strong = [cell.name for cell in self.board.cells if self.board.currents.get(cell.name, 0) > 0]
        return (strong[0], weak[0]) if len(weak) == len(strong) == 1 else ()


UNTELLING: Final = words_of(
    "the a an this that each every one two three cell battery other same whole volt ohm which"
)
AFTER_A: Final = words_of(
    "= gives is has takes delivers supplies loses shows and alone on drives pushes by carries gets "
    "drops puts says , or 's in wastes warms heats helps sends draws carries gives had turns sits does feeds charges "
    "works was can would will must should"
)
