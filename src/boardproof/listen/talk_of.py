"""What is said in words: charging or giving, more or less, always, the larger the smaller, definitions, shares."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from boardproof.algebra.spoken import PERCENT
from boardproof.algebra.vocabulary import words_of
from boardproof.listen.board import Board
from boardproof.listen.hear import Speech
from boardproof.listen.judge import agrees_aloud
from boardproof.listen.scope import Scope, Sentence
from boardproof.listen.slip import Slip
from boardproof.listen.things import Thing, Things, quantity_at
from boardproof.listen.topics import TOPICS, Topic

__all__ = ["TalkOf"]

CHARGED: Final = re.compile(
    r"\b(?:(?:being|is|under|on|gets|getting|be|are|still) (?:being )?charge[d]?|(?:is|are|be) (?:just |now |also "
    r")?charging(?! (?:the|cell|it|b|a)\b))"
)
GIVING: Final = re.compile(
    r"\b(?:discharging|giving (?:out )?current|giving current|delivering|supplying current|gives current|helping|"
    r"supplies current)\b"
)
OUT_OF_PLUS: Final = re.compile(
    r"\b(?:out of|leaves|leaving|comes out (?:of|at)|out at|out through)\b.{0,24}?\b(?:plus|positive)"
)
INTO_PLUS: Final = re.compile(
    r"\b(?:into|enters|goes in at|in at|in through|entering)\b.{0,24}?\b(?:plus|positive)"
)
UP: Final = words_of("more larger bigger higher greater above exceeds")
DOWN: Final = words_of("less smaller lower below")
SAME: Final = words_of("same equal identical equally")
DENYING: Final = words_of("not n't never no isn't nor neither without")
RATIOS: Final = {
    "hal": Fraction(1, 2),
    "doubl": Fraction(2),
    "twice": Fraction(2),
    "third": Fraction(1, 3),
    "same": Fraction(1),
    "change": Fraction(1),
}
RATIO: Final = re.compile(
    r"\b(?:load )?current (?:will |would |just |simply |also )?(?:has |have )?(?P<how>halves|doubles|(?:becomes?|"
    r"become|is|drops to|falls to|goes to) (?:exactly )?(?:half|double|twice|a third)|stays the same|does not change)\b"
)
FACTORS: Final = {"twice": Fraction(2), "double": Fraction(2), "half": Fraction(1, 2), "thrice": Fraction(3)}


@dataclass(frozen=True)
class _Clause:
    """A stretch of talk as plain words, with the token of each."""

    text: str
    places: tuple[int, ...]
    start: int
    end: int

    def token_at(self, offset: int) -> int:
        return self.places[min(self.text.count(" ", 0, offset), len(self.places) - 1)]


class TalkOf:
    """Judges what is said of a circuit in words.

    Parameters
    ----------
    speech : Speech
        What was said.
    things : Things
        The parts.
    """

    def __init__(self, speech: Speech, things: Things) -> None:
        """Nothing is judged yet."""
        self.speech, self.things = speech, things
        self.heard = self.checked = 0
        self.read: set[int] = set()
        self.topic: Thing | None = None

    def sentence(self, sentence: Sentence, scope: Scope) -> list[Slip]:
        """Every statement of a sentence that holds no number of its own."""
        found: list[Slip] = []
        clause = self._words(sentence)
        judged = not (scope.is_asked or scope.is_quoted)
        frames = (
            (self._states, self.comparisons, self._topics, self.shares, self.ratios)
            if self.things.board.has_values
            else (self._topics,)
        )
        for frame in frames:
            slips = frame(clause, scope)
            found += [slip for slip in slips if judged and not self._is_taken_back(slip)]
        things = [thing for thing in self._objects(sentence.start, sentence.end) if len(thing.of) == 1]
        self.topic = things[-1] if things else self.topic
        return found

    def _words(self, sentence: Sentence) -> _Clause:
        words: list[str] = []
        places: list[int] = []
        for n in range(sentence.start, sentence.end):
            token = self.speech.tokens[n]
            for word in self.speech.words[token.start : token.end]:
                words.append(word)
                places.append(n)
        return _Clause(" ".join(words), tuple(places), sentence.start, sentence.end)

    def _is_taken_back(self, slip: Slip) -> bool:
        behind = self.speech.words[slip.end : slip.end + 6]
        return (
            bool(set(behind) & {"sorry", "mean", "oops", "correction", "wait"})
            or behind[:1] == ("no",)
            or "wrong" in behind
            or ("not" in behind[:4] and bool(set(behind[:4]) & {"so", "true", "right", "that", "is"}))
        )

    def _objects(self, start: int, end: int) -> list[Thing]:
        found = []
        place = start
        while place < end:
            quantity = quantity_at(self.speech.tokens, place)
            if quantity is not None:
                place = quantity.end
                continue
            thing = self.things.at(self.speech.tokens, self.speech.raw, place)
            if thing is not None and thing.end <= end:
                found.append(thing)
            place = thing.end if thing is not None else place + 1
        return found

    def _slip(self, first: int, last: int, kind: str, right: str, sure: float) -> Slip:
        tokens = self.speech.tokens
        start, end = tokens[first].start, tokens[last].end
        return Slip(start, end, self.speech.time_of(start), self.speech.quote(start, end), kind, right, sure)

    def _cells_of(self, thing: Thing) -> list[str]:
        board = self.things.board
        found = []
        for each in thing.of:
            wire = board.of(each)
            if (wire is not None and wire.is_cell) or any(row.name == each for row in board.rows):
                found.append(each)
        return found

    def _current(self, board: Board, name: str) -> Fraction | None:
        return next((fact.value for fact in board.facts if fact.kind == "current" and fact.of == name), None)

    # -- charging and direction

    def _states(self, clause: _Clause, scope: Scope) -> list[Slip]:
        found = []
        for pattern, wanted, kind in (
            (CHARGED, -1, "direction"),
            (GIVING, 1, "direction"),
            (OUT_OF_PLUS, 1, "direction"),
            (INTO_PLUS, -1, "direction"),
        ):
            for match in pattern.finditer(clause.text):
                slip = self._state(clause, match, wanted, kind, scope)
                if slip is not None:
                    found.append(slip)
        return found

    def _state(
        self, clause: _Clause, match: re.Match[str], wanted: int, kind: str, scope: Scope
    ) -> Slip | None:
        first, last = clause.token_at(match.start()), clause.token_at(max(match.start(), match.end() - 1))
        flows = "plus" in match[0] or "positive" in match[0]
        ahead = clause.text[max(0, match.start() - 40) : match.start()].split()
        if (
            set(ahead[-5:]) & (DENYING | {"if", "when", "while", "unless", "suppose", "whether"})
            or "each" in ahead
        ):
            return None
        self.heard += 1
        things = self._objects(first, min(clause.end, last + 6)) if flows else []
        things = (
            things
            or [
                thing
                for thing in self._objects(max(clause.start, first - 10), first + 1)
                if self._cells_of(thing)
            ][-1:]
        )
        named = [thing for thing in things if self._cells_of(thing)]
        if not named or scope.is_open:
            return None
        self.checked += 1
        self.read.update(range(named[0].start, last + 1))
        names = self._cells_of(named[0])
        ok = any(self._agrees(board, name, wanted) for board in scope.boards for name in names)
        if ok:
            return None
        right = "it gives current" if wanted < 0 else "current goes in at its plus"
        return self._slip(min(first, named[0].start), max(last, named[0].end - 1), kind, right, 0.85)

    def _agrees(self, board: Board, name: str, wanted: int) -> bool:
        value = self._current(board, name)
        return value is None or value * wanted > 0

    # -- comparisons

    def comparisons(self, clause: _Clause, scope: Scope) -> list[Slip]:
        """Said like "The six ohm takes more current than the three ohm", "R two and R three carry the same current"."""
        tokens = self.speech.tokens
        found = []
        for n in range(clause.start, clause.end):
            word = self.speech.word(n)
            if (
                word == "as"
                and self.speech.word(min(n + 1, len(tokens) - 1))
                in {"much", "big", "large", "high", "great", "many"}
                and self.factor(n) is not None
            ):
                word = "more"
            if tokens[n].text in {">", "<"}:
                word = "more" if tokens[n].text == ">" else "less"
            sense = 1 if word in UP else -1 if word in DOWN else 0 if word in SAME else None
            if sense is None or set(self.speech.words[max(0, tokens[n].start - 4) : tokens[n].start]) & (
                DENYING | {"if", "the"} if sense else DENYING | {"if"}
            ):
                continue
            slip = self._compared(clause, n, sense, scope)
            if slip is not None:
                found.append(slip)
        return found

    def _compared(self, clause: _Clause, n: int, sense: int, scope: Scope) -> Slip | None:
        kinds = self._kinds_near(n, clause)
        factor = self.factor(n)
        before = [thing for thing in self._objects(max(clause.start, n - 10), n) if thing.of != ("whole",)]
        after = [thing for thing in self._objects(n + 1, min(clause.end, n + 10)) if thing.of != ("whole",)]
        if sense == 0:
            pair = before[-2:] if len(before) >= 2 else []
        else:
            pair = (
                [before[0], after[0]]
                if len(before) == 1
                and after
                and {"than", "as"}
                & set(
                    self.speech.words[self.speech.tokens[n].start : self.speech.tokens[after[0].end - 1].end]
                )
                else []
            )
        if (
            len(pair) != 2
            or len(kinds) != 1
            or scope.is_open
            or scope.changed
            or any(len(thing.of) != 1 for thing in pair)
        ):
            return None
        self.heard += 1
        values = [self._value(kinds[0], thing.of[0]) for thing in pair]
        if values[0] is None or values[1] is None:
            return None
        self.checked += 1
        first, last = min(thing.start for thing in pair), max(n, *(thing.end - 1 for thing in pair))
        self.read.update(range(first, last + 1))
        one, other = abs(values[0]), abs(values[1])
        if factor is not None and sense:
            holds = agrees_aloud(one, other * factor, Fraction(0))
            return (
                None
                if holds
                else self._slip(
                    first,
                    last,
                    "comparison",
                    f"{float(one / other):.3g} times as much" if other else "another ratio",
                    0.8,
                )
            )
        holds = one == other if sense == 0 else (one - other) * sense > 0
        if holds:
            return None
        right = (
            "the other way round"
            if sense and one != other
            else "they differ"
            if sense == 0
            else "they are equal"
        )
        return self._slip(first, last, "comparison", right, 0.8)

    def factor(self, n: int) -> Fraction | None:
        """Said like "Twice as much", "half the", "three times the"."""
        words = [self.speech.word(m) for m in range(max(0, n - 3), n + 1)]
        for word, size in FACTORS.items():
            if word in words[-3:]:
                return size
        token = self.speech.tokens[n - 2] if n > 1 else None
        times = (
            token is not None
            and token.kind == "number"
            and not token.text
            and self.speech.word(n - 1) == "times"
        )
        return token.value if times and token is not None else None

    def _kinds_near(self, n: int, clause: _Clause) -> list[str]:
        found = []
        for place in sorted(
            range(max(clause.start, n - 8), min(clause.end, n + 7)), key=lambda place: abs(place - n)
        ):
            quantity = quantity_at(self.speech.tokens, place)
            if quantity is not None:
                kind = {"terminal": "pd", "p": "pd"}.get(quantity.kinds[0], quantity.kinds[0])
                found.append(kind)
        return found[:1]

    def _value(self, kind: str, name: str) -> Fraction | None:
        return next(
            (fact.value for fact in self.things.board.facts if fact.kind == kind and fact.of == name), None
        )

    # -- topics

    def _topics(self, clause: _Clause, scope: Scope) -> list[Slip]:
        found = []
        if not self.speech.stops[self.speech.tokens[clause.end - 1].end - 1]:
            clause = self._words(Sentence(clause.start, min(clause.end + 12, len(self.speech.tokens)), False))
        for topic in TOPICS:
            for match in topic.pattern.finditer(clause.text):
                slip = self._topic_slip(topic, match, clause, scope)
                if slip is not None:
                    found.append(slip)
        return found

    def _topic_slip(self, topic: Topic, match: re.Match[str], clause: _Clause, scope: Scope) -> Slip | None:
        ahead = clause.text[max(0, match.start() - 30) : match.start()].split()[-4:]
        if set(ahead) & (DENYING | {"if", "whether", "unless"}) and not topic.takes_conditions:
            return None
        self.heard += 1
        truths = [topic.holds(match, board) for board in scope.boards]
        truth = True if True in truths else None if None in truths else False
        if truth is None or (scope.is_open and not topic.takes_conditions and topic.needs_board):
            return None
        self.checked += 1
        first, last = clause.token_at(match.start()), clause.token_at(max(match.start(), match.end() - 1))
        self.read.update(range(first, last + 1))
        return None if truth else self._slip(first, last, topic.kind, topic.right, topic.sure)

    # -- what becomes of the current

    def ratios(self, clause: _Clause, scope: Scope) -> list[Slip]:
        """Said like "If I take one row away the current halves"."""
        found: list[Slip] = []
        if not scope.changed or scope.is_open or len(scope.boards) < 2:
            return found
        before = next(
            (fact.value for fact in self.things.board.facts if fact.kind == "current" and fact.of == "whole"),
            None,
        )
        values = [
            fact.value
            for board in scope.boards[:-1]
            for fact in board.facts
            if fact.kind == "current" and fact.of == "whole"
        ]
        for match in RATIO.finditer(clause.text):
            self.heard += 1
            if not before or not values:
                continue
            self.checked += 1
            wanted = next(size for words, size in RATIOS.items() if words in match["how"])
            if not any(agrees_aloud(value / before, wanted, Fraction(0), hedged=True) for value in values):
                first, last = clause.token_at(match.start()), clause.token_at(match.end() - 1)
                found.append(
                    self._slip(first, last, "comparison", f"{float(values[0] / before):.3g} of it", 0.7)
                )
        return found

    # -- shares

    def shares(self, clause: _Clause, scope: Scope) -> list[Slip]:
        """Percentages: efficiency, what is stored, what is lost."""
        found = []
        for n in range(clause.start, clause.end):
            token = self.speech.tokens[n]
            if token.kind != "number" or token.text != PERCENT:
                continue
            self.heard += 1
            near = self.speech.words[
                max(0, self.speech.tokens[clause.start].start, token.start - 12) : min(
                    token.end + 10, self.speech.tokens[clause.end - 1].end
                )
            ]
            wanted = self._share(set(near), scope.boards)
            if not wanted or scope.is_open:
                continue
            self.checked += 1
            self.read.add(n)
            if any(agrees_aloud(each, token.value, Fraction(1, 100)) for each in wanted):
                continue
            last = next(
                (
                    m
                    for m in range(n, min(n + 8, clause.end))
                    if self.speech.word(m) in {"stored", "lost", "wasted", "efficiency", "energy"}
                ),
                n,
            )
            first = max(clause.start, n - 3)
            found.append(
                self._slip(
                    first,
                    last,
                    "number",
                    f"{float(wanted[0]) * 100:.3g} percent",
                    0.8 if not scope.changed else 0.6,
                )
            )
        return found

    def _share(self, words: set[str], boards: Sequence[Board]) -> list[Fraction]:
        found: list[Fraction] = []
        for board in boards:
            given = sum(
                (
                    fact.value
                    for fact in board.facts
                    if fact.kind == "power_given" and board.of(fact.of) and fact.value > 0
                ),
                Fraction(0),
            )
            taken = -sum(
                (
                    fact.value
                    for fact in board.facts
                    if fact.kind == "power_given" and board.of(fact.of) and fact.value < 0
                ),
                Fraction(0),
            )
            if not given:
                continue
            if words & {"stored", "store", "storage"}:
                found.append(taken / given)
            if words & {"lost", "wasted", "heat", "waste"} and taken:
                found.append(1 - taken / given)
            if words & {"efficiency", "efficient"}:
                found += [fact.value for fact in board.facts if fact.kind == "efficiency"]
        return found
