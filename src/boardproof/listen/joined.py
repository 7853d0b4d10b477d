"""Resistances named by their numbers and put together: "three and six side by side make two ohms"."""

from __future__ import annotations

from fractions import Fraction
from typing import Final

from boardproof.listen.judge import agrees_aloud
from boardproof.listen.scope import Scope
from boardproof.listen.slip import Slip
from boardproof.listen.talk import Clause, Talk
from boardproof.quantities import OHM

__all__ = ["Joined"]

BESIDE: Final = ("side by side", "in parallel", "together in parallel")
BEHIND: Final = ("in series", "one after the other", "end to end")
MAKING: Final = frozenset({"is", "are", "make", "makes", "gives", "give", "="})


class Joined(Talk):
    """Judges what two or more resistances make."""

    def joined(self, clause: Clause, scope: Scope) -> list[Slip]:
        """Numbers, how they stand, and a result in ohms."""
        tokens = self.speech.tokens
        found = []
        for n in range(clause.start, clause.end):
            if tokens[n].kind != "number" or scope.is_open:
                continue
            start, values = self._run_back(n, clause.start)
            behind = [self.speech.word(m) for m in range(n + 1, min(n + 6, clause.end))]
            way = next((way for way in (*BESIDE, *BEHIND) if " ".join(behind).startswith(way)), None)
            if way is None or len(values) < 2 or 0 in values:
                continue
            place = n + 1 + len(way.split())
            if not (
                place + 1 < clause.end
                and (self.speech.word(place) in MAKING or tokens[place].kind == "relation")
            ):
                continue
            result = tokens[place + 1]
            if result.kind != "number" or result.unit is None or result.unit.dimension != OHM:
                continue
            if place + 2 < clause.end and tokens[place + 2].kind == "sign":
                continue
            self.heard += 1
            self.checked += 1
            self.read.update(range(start, place + 2))
            inverse = sum((1 / value for value in values), Fraction(0))
            exact = 1 / inverse if way in BESIDE else sum(values, Fraction(0))
            if not agrees_aloud(exact, result.value, result.place):
                found.append(self.slip(start, place + 1, "formula", f"{float(exact):.4g} \u03a9", 0.85))
        return found

    def _run_back(self, place: int, least: int) -> tuple[int, list[Fraction]]:
        """Numbers joined by "and" that end at a token."""
        tokens = self.speech.tokens
        values = [tokens[place].value]
        while place - 2 >= least and tokens[place - 1].text == "and" and tokens[place - 2].kind == "number":
            place -= 2
            values.append(tokens[place].value)
        return place, values
