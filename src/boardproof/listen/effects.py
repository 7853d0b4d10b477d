"""What becomes of a quantity when the circuit is changed: it grows, falls, stays, halves, doubles."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Final

from boardproof.listen.board import Board
from boardproof.listen.judge import agrees_aloud
from boardproof.listen.scope import Scope
from boardproof.listen.slip import Slip
from boardproof.listen.talk import DENYING, Clause, Talk
from boardproof.listen.things import quantity_at

__all__ = ["Effects"]

MORE: Final = (
    r"goes up|go up|rises?|increases?|grows?|climbs?|gets? (?:bigger|larger|higher|stronger)|goes higher|"
    r"(?:is|becomes?|would be|will be) (?:bigger|larger|higher|greater)"
)
LESS: Final = (
    r"goes down|go down|falls?|drops?|decreases?|shrinks?|sinks?|gets? (?:smaller|lower|weaker)|goes lower|"
    r"(?:is|becomes?|would be|will be) (?:smaller|lower|less)"
)
SAME: Final = r"stays? the same|stays? put|(?:does|would|will) not change|is unchanged|remains the same"
HALF: Final = r"halves|is halved|(?:becomes?|become|is|drops to|falls to|goes to) (?:exactly |only )?half"
DOUBLE: Final = r"doubles|is doubled|(?:becomes?|become|is|rises to|goes to) (?:exactly )?(?:double|twice)"
THIRD: Final = r"(?:becomes?|is|drops to|falls to|goes to) (?:exactly |only )?a third"
CHANGE: Final = re.compile(
    rf"\b(?:(?P<half>{HALF})|(?P<double>{DOUBLE})|(?P<third>{THIRD})|(?P<same>{SAME})|(?P<more>{MORE})|(?P<less>{LESS})"
    r"|(?:gets?|takes?|draws?|sees|has) (?:only |just |exactly )?(?:(?P<got_half>half)|(?P<got_double>twice|double)"
    r"|(?P<got_third>a third of)) (?:as much )?(?:of )?(?:the )?(?P<what>currents?|voltage|pd|power)"
    r"|(?P<bright>(?:is|gets?|glows?|shines?|burns?|becomes?) (?:much |a bit |a little )?brighter)"
    r"|(?P<dim>(?:is|gets?|glows?|shines?|burns?|becomes?) (?:much |a bit |a little )?dimmer|dims))\b"
)
RATIOS: Final = {"half": Fraction(1, 2), "double": Fraction(2), "third": Fraction(1, 3)}
SENSES: Final = {"more": 1, "less": -1, "same": 0, "bright": 1, "dim": -1}


class Effects(Talk):
    """Judges what a change does, on the circuit before and after."""

    def effects(self, clause: Clause, scope: Scope) -> list[Slip]:
        """Said like "Unscrew Q and P gets dimmer", "take one row away and the current halves"."""
        if not scope.changed or scope.is_open or len(scope.boards) < 2:
            return []
        found = []
        for match in CHANGE.finditer(clause.text):
            first, last = clause.token_at(match.start()), clause.token_at(match.end() - 1)
            if set(clause.text[: match.start()].split()[-3:]) & DENYING:
                continue
            how = next(name for name, words in match.groupdict().items() if words)
            subject = (
                self._taker(clause, first, match["what"])
                if match["what"]
                else self._subject(clause, first, how)
            )
            how = how.removeprefix("got_")
            if subject is None:
                continue
            self.heard += 1
            start, kind, of = subject
            before = _fact(self.things.board, kind, of)
            after = [value for board in scope.boards[:-1] if (value := _fact(board, kind, of)) is not None]
            if before is None or not after or (scope.is_vague and how in RATIOS):
                continue
            self.checked += 1
            self.read.update(range(start, last + 1))
            if not any(_agrees(abs(before), abs(value), how) for value in after):
                ratio = (
                    f"{float(abs(after[0]) / abs(before)):.3g} of what it was"
                    if before
                    else "it is not nought"
                )
                right = (
                    ("it falls" if abs(after[0]) < abs(before) else "it grows") if scope.is_vague else ratio
                )
                found.append(self.slip(start, last, "comparison", right, 0.75))
        return found

    def _subject(self, clause: Clause, first: int, how: str) -> tuple[int, str, str] | None:
        """Where it begins, which quantity, and whose."""
        named = [
            thing
            for thing in self.objects(max(clause.start, first - 8), first)
            if len(thing.of) >= 1 and thing.of
        ]
        if how in {"bright", "dim"}:
            lit = [thing for thing in named if self._is_resistor(thing.of[0])]
            return (lit[-1].start, "heat", lit[-1].of[0]) if lit else None
        quantity = None
        place = max(clause.start, first - 8)
        while place < first:
            here = quantity_at(self.speech.tokens, place)
            if here is not None and here.end <= first:
                quantity = here
                place = here.end
            else:
                place += 1
        if quantity is None:
            return None
        near = [thing for thing in named if thing.start >= quantity.end or thing.end >= quantity.start - 2]
        of = near[-1].of[0] if near else "whole"
        kind = {"power_out": "power_out" if of == "whole" else "heat"}.get(
            quantity.kinds[0], quantity.kinds[0]
        )
        return min([quantity.start, *(thing.start for thing in near)]), kind, of

    def _taker(self, clause: Clause, first: int, what: str) -> tuple[int, str, str] | None:
        """Whose share is spoken of: "the load gets half the current"."""
        named = [thing for thing in self.objects(max(clause.start, first - 6), first) if len(thing.of) == 1]
        kind = {"current": "current", "currents": "current", "power": "heat"}.get(what, "pd")
        return (named[-1].start, kind, named[-1].of[0]) if named else None

    def _is_resistor(self, name: str) -> bool:
        wire = self.things.board.of(name)
        return wire is not None and not wire.is_cell


def _fact(board: Board, kind: str, of: str) -> Fraction | None:
    return next((fact.value for fact in board.facts if fact.kind == kind and fact.of == of), None)


def _agrees(before: Fraction, after: Fraction, how: str) -> bool:
    if how in RATIOS:
        return bool(before) and agrees_aloud(after / before, RATIOS[how], Fraction(0), hedged=True)
    return (after > before) - (after < before) == SENSES[how]
