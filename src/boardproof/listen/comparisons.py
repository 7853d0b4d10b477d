"""Comparisons in a free talk: one thing against another, so many times as much, the bigger share."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Final

from boardproof.algebra.vocabulary import words_of
from boardproof.listen.judge import agrees_aloud
from boardproof.listen.scope import Scope
from boardproof.listen.slip import Slip
from boardproof.listen.talk import DENYING, Clause, Talk
from boardproof.listen.things import Thing, quantity_at

__all__ = ["Comparisons"]

UP: Final = words_of("more larger bigger higher greater above exceeds hotter brighter warmer")
DOWN: Final = words_of("less smaller lower below cooler dimmer")
BY_LIGHT: Final = words_of("hotter brighter warmer cooler dimmer")
SAME: Final = words_of("same equal identical equally")
FACTORS: Final = {"twice": Fraction(2), "double": Fraction(2), "half": Fraction(1, 2), "thrice": Fraction(3)}
BY_VERB: Final = {
    "wastes": "heat", "waste": "heat", "heats": "heat", "warms": "heat", "glows": "heat", "loses": "lost",
    "carries": "current", "drains": "current", "supplies": "current", "gives": "current", "delivers": "current",
    "provides": "current", "gets": "current", "takes": "current", "draws": "current",
}  # fmt: skip
SHARE: Final = re.compile(
    r"\b(?:takes?|gets?|has|have|carries|draws?|receives?|grabs?) (?:by far )?(?:the )?"
    r"(?P<how>bigger|larger|greater|lion 's|smaller|lesser|most|least)(?: share| part| half| portion)?(?: of)? "
    r"(?:the )?(?P<what>currents?|voltage|pd|p d|volts|power)\b"
)
SHARED: Final = {"current": "current", "currents": "current", "power": "heat"}
MULTIPLE: Final = re.compile(
    r"\b(?:is|has|have|gives|supplies|carries|takes|gets) (?:exactly |just |about )?"
    r"(?P<how>twice|double|half|three times|four times|a third of|a quarter of|the same as|equal to)\b"
)
SIZES: Final = {
    "twice": Fraction(2), "double": Fraction(2), "half": Fraction(1, 2), "three times": Fraction(3),
    "four times": Fraction(4), "a third of": Fraction(1, 3), "a quarter of": Fraction(1, 4),
    "the same as": Fraction(1), "equal to": Fraction(1),
}  # fmt: skip


SIZES_OF: Final = {
    "half": Fraction(1, 2), "a third": Fraction(1, 3), "a quarter": Fraction(1, 4), "a fifth": Fraction(1, 5),
    "a sixth": Fraction(1, 6), "two thirds": Fraction(2, 3), "three quarters": Fraction(3, 4),
    "all": Fraction(1), "the whole": Fraction(1), "an eighth": Fraction(1, 8),
}  # fmt: skip
FRACTION: Final = re.compile(
    r"\b(?:takes?|carries|carry|gives?|gets?|supplies|supply|has|have|provides?|delivers?) (?:only |just |exactly )?"
    rf"(?P<how>{'|'.join(SIZES_OF)})(?: of)? (?:the )?(?:load |total |whole |full )?current\b"
)


class Comparisons(Talk):
    """Judges comparisons on the circuit at hand."""

    def comparisons(self, clause: Clause, scope: Scope) -> list[Slip]:
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

    def _compared(self, clause: Clause, n: int, sense: int, scope: Scope) -> Slip | None:
        kinds = ["heat"] if self.speech.word(n) in BY_LIGHT else self._kinds_near(n, clause)
        factor = self.factor(n)
        before = [thing for thing in self.objects(max(clause.start, n - 10), n) if thing.of != ("whole",)]
        after = [thing for thing in self.objects(n + 1, min(clause.end, n + 10)) if thing.of != ("whole",)]
        whole = self._of_whole(n, clause) if sense and not before else None
        before = [whole] if whole is not None else before
        if sense == 0:
            pair = before[-2:] if len(before) >= 2 else []
        else:
            pair = (
                [before[-1], after[0]]
                if (len(before) == 1 or (before and n - before[-1].end <= 3))
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
                else self.slip(
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
        return self.slip(first, last, "comparison", right, 0.8)

    def _of_whole(self, n: int, clause: Clause) -> Thing | None:
        """Said like "the combined resistance is larger than that of A": the words name the whole."""
        for place in range(n - 1, max(clause.start, n - 6) - 1, -1):
            quantity = quantity_at(self.speech.tokens, place)
            if quantity is not None and "whole" in quantity.of:
                return Thing(("whole",), place, quantity.end)
        return None

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

    def _kinds_near(self, n: int, clause: Clause) -> list[str]:
        found: list[str] = []
        for place in sorted(
            range(max(clause.start, n - 8), min(clause.end, n + 7)), key=lambda place: abs(place - n)
        ):
            quantity = quantity_at(self.speech.tokens, place)
            if quantity is not None:
                kind = {"terminal": "pd", "p": "pd"}.get(quantity.kinds[0], quantity.kinds[0])
                found.append(kind)
        if not found:
            verbs = [self.speech.word(place) for place in range(max(clause.start, n - 4), n)]
            found = [BY_VERB[word] for word in reversed(verbs) if word in BY_VERB]
        return found[:1]

    def _value(self, kind: str, name: str) -> Fraction | None:
        return next(
            (fact.value for fact in self.things.board.facts if fact.kind == kind and fact.of == name), None
        )

    # -- so many times as much, and shares

    def fractions(self, clause: Clause, scope: Scope) -> list[Slip]:
        """Said like "each row takes a third of the load current"."""
        found = []
        whole = self._value("current", "whole")
        for match in FRACTION.finditer(clause.text):
            first, last = clause.token_at(match.start()), clause.token_at(match.end() - 1)
            named = [thing for thing in self.objects(max(clause.start, first - 6), first) if thing.of]
            if not named or not whole or scope.is_open or scope.changed or scope.is_vague:
                continue
            values = [value for name in named[-1].of if (value := self._value("current", name)) is not None]
            if not values:
                continue
            self.heard += 1
            self.checked += 1
            self.read.update(range(named[-1].start, last + 1))
            wanted = SIZES_OF[match["how"]]
            if not any(
                agrees_aloud(abs(value / whole), wanted, Fraction(0), hedged=True) for value in values
            ):
                right = f"{float(abs(values[0] / whole)):.3g} of it"
                found.append(self.slip(named[-1].start, last, "wrong_part", right, 0.8))
        return found

    def multiples(self, clause: Clause, scope: Scope) -> list[Slip]:
        """Said like "The current in P is twice the current in Q"."""
        found = []
        for match in MULTIPLE.finditer(clause.text):
            first, last = clause.token_at(match.start()), clause.token_at(match.end() - 1)
            before = [
                thing for thing in self.objects(max(clause.start, first - 8), first) if len(thing.of) == 1
            ]
            after = [
                thing for thing in self.objects(last + 1, min(clause.end, last + 8)) if len(thing.of) == 1
            ]
            kinds = self._kinds_near(first, clause)
            if not before or not after or len(kinds) != 1 or scope.is_open or scope.changed or scope.is_vague:
                continue
            if before[-1].of == after[0].of:
                continue
            values = [self._value(kinds[0], thing.of[0]) for thing in (before[-1], after[0])]
            if values[0] is None or not values[1]:
                continue
            self.heard += 1
            self.checked += 1
            self.read.update(range(before[-1].start, after[0].end))
            ratio = abs(values[0] / values[1])
            if not agrees_aloud(ratio, SIZES[match["how"]], Fraction(0), hedged=True):
                right = f"{float(ratio):.3g} times as much"
                found.append(self.slip(before[-1].start, after[0].end - 1, "comparison", right, 0.8))
        return found

    def parts(self, clause: Clause, scope: Scope) -> list[Slip]:
        """Said like "Q takes the bigger share of the current"."""
        found = []
        for match in SHARE.finditer(clause.text):
            first, last = clause.token_at(match.start()), clause.token_at(match.end() - 1)
            named = [
                thing for thing in self.objects(max(clause.start, first - 6), first) if len(thing.of) == 1
            ]
            if not named or scope.is_open or scope.changed or scope.is_vague:
                continue
            others = self._peers(named[-1].of[0])
            kind = SHARED.get(match["what"], "pd")
            mine = self._value(kind, named[-1].of[0])
            theirs = [value for each in others if (value := self._value(kind, each)) is not None]
            if mine is None or not theirs:
                continue
            self.heard += 1
            self.checked += 1
            self.read.update(range(named[-1].start, last + 1))
            less = match["how"] in {"smaller", "lesser", "least"}
            sizes = [abs(value) for value in theirs]
            holds = abs(mine) < min(sizes) if less else abs(mine) > max(sizes)
            if not holds:
                found.append(self.slip(named[-1].start, last, "comparison", "another has it", 0.8))
        return found

    def _peers(self, name: str) -> list[str]:
        """The other parts of a part's sort."""
        board = self.things.board
        wire = board.of(name)
        alike = board.cells if wire is not None and wire.is_cell else board.resistors
        return [each.name for each in alike if each.name != name] if wire is not None else []
