"""What is said in words: charging or giving, more or less, always, the larger the smaller, definitions, shares."""

from __future__ import annotations

import re
from collections.abc import Sequence
from fractions import Fraction
from typing import Final

from boardproof.algebra.spoken import PERCENT
from boardproof.listen.board import Board
from boardproof.listen.comparisons import Comparisons
from boardproof.listen.effects import Effects
from boardproof.listen.joined import Joined
from boardproof.listen.judge import agrees_aloud
from boardproof.listen.scope import Scope
from boardproof.listen.sentences import Sentence
from boardproof.listen.slip import Slip
from boardproof.listen.sums import Sums
from boardproof.listen.talk import DENYING, Clause
from boardproof.listen.things import Thing
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

IDLE: Final = re.compile(
    r"\bno current (?:at all )?(?:(?:goes|flows|runs|passes|is) )?(?P<through>through|in|into|from)\b|"
    r"\b(?:carries|takes|gives|delivers|draws) no current\b"
)


class TalkOf(Comparisons, Effects, Joined, Sums):
    """Judges what is said of a circuit in words."""

    def sentence(self, sentence: Sentence, scope: Scope) -> list[Slip]:
        """Every statement of a sentence that holds no number of its own."""
        found: list[Slip] = []
        clause = self.clause(sentence)
        judged = not (scope.is_asked or scope.is_quoted)
        frames = (
            (
                self._states,
                self.comparisons,
                self.multiples,
                self.parts,
                self.fractions,
                self._topics,
                self.shares,
                self.effects,
                self.joined,
                self.sums,
                self.idle,
            )
            if self.things.board.has_values
            else (self._topics,)
        )
        for frame in frames:
            slips = frame(clause, scope)
            found += [slip for slip in slips if judged and not self.is_taken_back(slip)]
        things = [thing for thing in self.objects(sentence.start, sentence.end) if len(thing.of) == 1]
        self.topic = things[-1] if things else self.topic
        return found

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

    def _states(self, clause: Clause, scope: Scope) -> list[Slip]:
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
        self, clause: Clause, match: re.Match[str], wanted: int, kind: str, scope: Scope
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
        things = self.objects(first, min(clause.end, last + 6)) if flows else []
        things = (
            things
            or [
                thing
                for thing in self.objects(max(clause.start, first - 10), first + 1)
                if self._cells_of(thing)
            ][-1:]
        )
        named = [thing for thing in things if self._cells_of(thing)]
        if not named or scope.is_open:
            return None
        self.checked += 1
        self.read.update(range(named[0].start, last + 1))
        names = self._cells_of(named[0])
        every = all if named[0].is_each else any
        ok = any(every(self._agrees(board, name, wanted) for name in names) for board in scope.boards)
        if ok:
            return None
        right = "it gives current" if wanted < 0 else "current goes in at its plus"
        return self.slip(min(first, named[0].start), max(last, named[0].end - 1), kind, right, 0.85)

    def _agrees(self, board: Board, name: str, wanted: int) -> bool:
        value = self._current(board, name)
        return value is None or value * wanted > 0

    # -- no current

    def idle(self, clause: Clause, scope: Scope) -> list[Slip]:
        """Said like "no current goes through B": a part that carries nothing."""
        found = []
        for match in IDLE.finditer(clause.text):
            first, last = clause.token_at(match.start()), clause.token_at(match.end() - 1)
            behind = match["through"] is not None
            near = (
                self.objects(last + 1, min(clause.end, last + 6))
                if behind
                else self.objects(max(clause.start, first - 4), first)
            )
            named = [thing for thing in near if len(thing.of) == 1][: 1 if behind else None]
            if not named or scope.is_open or scope.is_vague:
                continue
            thing = named[0] if behind else named[-1]
            values = [value for b in scope.boards if (value := self._current(b, thing.of[0])) is not None]
            if not values:
                continue
            self.heard += 1
            self.checked += 1
            self.read.update(range(first, last + 1))
            if all(values):
                span = (first, thing.end - 1) if behind else (thing.start, last)
                found.append(self.slip(*span, "number", f"{float(abs(values[0])):.3g} A", 0.8))
        return found

    # -- topics

    def _topics(self, clause: Clause, scope: Scope) -> list[Slip]:
        found = []
        if not self.speech.stops[self.speech.tokens[clause.end - 1].end - 1]:
            clause = self.clause(Sentence(clause.start, min(clause.end + 12, len(self.speech.tokens)), False))
        for topic in TOPICS:
            for match in topic.pattern.finditer(clause.text):
                slip = self._topic_slip(topic, match, clause, scope)
                if slip is not None:
                    found.append(slip)
        return found

    def _topic_slip(self, topic: Topic, match: re.Match[str], clause: Clause, scope: Scope) -> Slip | None:
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
        return None if truth else self.slip(first, last, topic.kind, topic.right, topic.sure)

    # -- shares

    def shares(self, clause: Clause, scope: Scope) -> list[Slip]:
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
                self.slip(
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
