"""Sums worked out aloud: "six over two plus four point five over three, four and a half", judged as arithmetic."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from typing import Final

from boardproof.algebra import meaning
from boardproof.algebra.meaning import Unknown
from boardproof.algebra.polynomial import RationalFunction
from boardproof.algebra.product import TooLarge
from boardproof.algebra.readings import readings
from boardproof.algebra.spoken import PERCENT, Token
from boardproof.algebra.vocabulary import words_of
from boardproof.listen.judge import agrees_aloud
from boardproof.listen.scope import Scope
from boardproof.listen.slip import Slip
from boardproof.listen.talk import DENYING, Clause, Talk

__all__ = ["Sums"]

LINKS: Final = words_of("that is 's so which gives makes equals it comes to and you get we have")
HEDGES: Final = words_of("about roughly nearly almost around just some say")
ON: Final = words_of("times plus minus over upon by into squared percent seconds all milli kilo point")
MOST: Final = 15
REACH: Final = 6


class Sums(Talk):
    """Judges what comes of numbers."""

    def sums(self, clause: Clause, _: Scope) -> list[Slip]:
        """A run of numbers and signs, and the number behind it, even behind the sentence's end."""
        found = []
        place = clause.start
        while place < clause.end:
            end = self._run_end(place, clause.end)
            signs = sum(token.kind == "sign" for token in self.speech.tokens[place:end])
            if signs and 3 <= end - place <= MOST and not self._goes_on(place, end):
                result, hedged = self._result(end, min(clause.end + REACH, len(self.speech.tokens)))
                slip = None if result is None else self._judged(place, end, result, hedged=hedged)
                found += [slip] if slip is not None else []
            place = max(end, place + 1)
        return found

    def _run_end(self, place: int, last: int) -> int:
        """Behind a run of numbers with signs between them."""
        tokens = self.speech.tokens
        end = place
        while end < last and tokens[end].kind in {"number", "sign"} and tokens[end].text != PERCENT:
            if end > place and tokens[end].kind == tokens[end - 1].kind == "number":
                break
            end += 1
        return end

    def _goes_on(self, place: int, end: int) -> bool:
        """Whether a letter, a thing or another sign belongs to the run."""
        tokens = self.speech.tokens
        ahead = tokens[place - 1] if place else None
        behind = tokens[end] if end < len(tokens) else None
        return (
            tokens[place].kind != "number"
            or tokens[end - 1].kind != "number"
            or (ahead is not None and (ahead.kind == "name" or ahead.text in ON | DENYING | {"and"}))
            or (behind is not None and (behind.kind == "name" or behind.text in ON | {"of"}))
        )

    def _result(self, end: int, last: int) -> tuple[int | None, bool]:
        """The number that is said to come of it, and whether it is called rough."""
        tokens = self.speech.tokens
        place, hedged = end, False
        while place < last and place <= end + 5:
            token = tokens[place]
            if token.kind == "number":
                behind = tokens[place + 1] if place + 1 < len(tokens) else None
                joined = {"sign"} if token.text else {"sign", "name"}
                ends = behind is None or not (behind.kind in joined or behind.text in ON | {"cell", "cells"})
                return (place if ends and token.text != PERCENT else None), hedged
            if token.text in HEDGES:
                hedged = True
            elif token.kind != "relation" and token.text not in LINKS:
                return None, False
            place += 1
        return None, False

    def _judged(self, start: int, end: int, result: int, *, hedged: bool) -> Slip | None:
        said = self.speech.tokens[result]
        run = self.speech.tokens[start:end]
        values = _values([replace(token, text="") if token.kind == "number" else token for token in run])
        if not values:
            return None
        self.heard += 1
        self.checked += 1
        self.read.update(range(start, result + 1))
        if any(_agrees(value, said, hedged=hedged) for value in values):
            return None
        right = " or ".join(sorted({f"{float(value):.4g}" for value in values}))
        return self.slip(start, result, "number", right, 0.85)


def _agrees(value: Fraction, said: Token, *, hedged: bool) -> bool:
    """Whether a result is meant, in whatever power of ten."""
    scales = [Fraction(1)] + [Fraction(10) ** n for n in (-6, -3, 3, 6) if said.text or not said.place]
    return any(
        agrees_aloud(abs(value) * scale, abs(said.value), said.place, hedged=hedged) for scale in scales
    )


def _values(tokens: Sequence[Token]) -> set[Fraction]:
    """What the run may come to; empty if some reading of it can't be worked out."""
    found = readings(tokens)
    if not found.is_complete:
        return set()
    values = set()
    for tree in found.trees:
        try:
            value = meaning.value(tree, lambda _: Unknown("a letter"))
        except TooLarge:
            return set()
        if not isinstance(value, RationalFunction) or value.as_number is None:
            return set()
        values.add(value.as_number)
    return values
