"""Formulas in a free talk: runs of letters and signs around a relation, judged for every reading."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Final, cast

from boardproof.algebra import meaning
from boardproof.algebra.dimension import dimensioned
from boardproof.algebra.expression import Comparison, Expression
from boardproof.algebra.polynomial import RationalFunction
from boardproof.algebra.product import TooLarge
from boardproof.algebra.readings import readings
from boardproof.algebra.spoken import Token
from boardproof.algebra.vocabulary import words_of
from boardproof.listen.board import Fact
from boardproof.listen.frames import NAMED
from boardproof.listen.hear import Speech
from boardproof.listen.judge import Truth, agrees_aloud, formula
from boardproof.listen.scope import Scope
from boardproof.listen.sentences import Sentence
from boardproof.listen.slip import Slip
from boardproof.listen.things import Things, quantity_at
from boardproof.prove.world import World
from boardproof.quantities import Dimension
from boardproof.record import record

__all__ = ["Letters"]

CONDITION: Final = words_of(
    "if when where at suppose put let for unless whether once make makes until setting because since"
)
CORRECTING: Final = frozenset({"sorry", "mean", "correction", "wait", "oops", "hang"})
IN_RUN: Final = frozenset({"number", "name", "sign", "relation"})
CONSTRAINED: Final = 80
PLAIN: Final = frozenset({"the", "a", "which", "that", "it", "and", "just", "only", "so"})


@record
class _Run:
    start: int
    end: int


class Letters:
    """Judges the formulas of a talk.

    Parameters
    ----------
    speech : Speech
        What was said.
    world : World
        What the letters mean.
    things : Things
        The circuit, for quantities named in words.
    """

    def __init__(self, speech: Speech, world: World, things: Things) -> None:
        """Nothing is judged yet."""
        self.speech, self.world, self.things = speech, world, things
        self.heard = self.checked = 0
        self.read: set[int] = set()
        self.constraints: list[tuple[int, RationalFunction]] = []

    def sentence(self, sentence: Sentence, scope: Scope) -> list[Slip]:
        """Every formula of a sentence."""
        found = []
        for run in self._runs(sentence):
            self.heard += 1
            if scope.is_asked or scope.is_quoted:
                continue
            slip = self._judge(run, sentence, scope)
            if slip is not None:
                found.append(slip)
        return found

    def _runs(self, sentence: Sentence) -> list[_Run]:
        tokens = self.speech.tokens
        found: list[_Run] = []
        place = sentence.start
        while place < sentence.end:
            if tokens[place].kind not in IN_RUN:
                place += 1
                continue
            end = place
            while end < sentence.end and (tokens[end].kind in IN_RUN or self.is_link(end, sentence.end)):
                if end > place and self.breaks(end):
                    break
                end += 1
            while end > place and tokens[end - 1].kind not in {"number", "name", "sign"}:
                end -= 1
            relations = [n for n in range(place, end) if tokens[n].kind == "relation"]
            if len(relations) > 1 and relations[0] == place:
                place += 1
            inside = tokens[place:end]
            names = sum(1 for token in inside if token.kind == "name")
            if (
                names
                and any(token.kind == "relation" for token in inside)
                and (names > 1 or any(t.kind == "sign" for t in inside))
            ):
                found.append(_Run(place, end))
            place = max(end, place + 1)
        return found

    def is_link(self, place: int, end: int) -> bool:
        """A small word within a formula."""
        tokens = self.speech.tokens
        return (
            tokens[place].text in {"the", "which", "that", "just"}
            and place + 1 < end
            and tokens[place + 1].kind in IN_RUN
        )

    def breaks(self, place: int) -> bool | Sequence[Token]:
        """Whether a new statement begins: operand behind operand where the second is a number, or two numbers."""
        tokens = self.speech.tokens
        one, other = tokens[place - 1], tokens[place]
        comma = (
            "," in self.speech.stops[one.end - 1]
            and other.kind == "name"
            and place + 1 < len(tokens)
            and tokens[place + 1].kind == "relation"
        )
        return (
            (one.is_operand and other.kind == "number")
            or comma
            or (
                one.kind == "number"
                and other.kind == "name"
                and tokens[place - 2].kind != "sign"
                and tokens[place + 1 : place + 2]
                and tokens[place + 1].kind == "relation"
            )
            or (other.kind == "name" and self.opens(place))
        )

    def opens(self, place: int) -> bool:
        """Whether a letter behind an operand begins the next equation: "... minus I r V equals"."""
        tokens = self.speech.tokens
        before = tokens[place - 1]
        if before.kind == "number" and tokens[place - 2].kind == "sign":
            return False  # "over four r" goes on
        if not (before.is_operand or before.text in {"²", ")"}):
            return False
        back = place - 1
        while back >= 0 and tokens[back].kind in {"number", "name", "sign"}:
            back -= 1
        if back < 0 or tokens[back].kind != "relation":
            return False
        kinds = [token.kind for token in tokens[place : place + 5]]
        if len(kinds) > 2 and kinds[1:3] == ["relation", "number"] and not tokens[place + 2].value:
            return False  # "... minus I r equals zero" is one chain
        return (
            kinds[1:2] == ["relation"]
            or kinds[1:4] == ["sign", "name", "relation"]
            or kinds[1:5] == ["name", "sign", "name", "relation"]
        )

    def _judge(self, run: _Run, sentence: Sentence, scope: Scope) -> Slip | None:
        tokens = self.speech.tokens[run.start : run.end]
        ahead = [token.text for token in self.speech.tokens[max(sentence.start, run.start - 5) : run.start]]
        behind = self.speech.tokens[run.end : run.end + 4]
        if any(word in CONDITION for word in ahead) or any(word in {"not", "isn't"} for word in ahead[-3:]):
            return None
        if any(token.text in CORRECTING | {"no"} for token in behind):
            return None
        if self.goes_on(run):
            return None
        members, signs = _members(tokens)
        if not members[0] and len(members) > 1:
            return self.worded(run, sentence, scope, members[1:])
        for n in range(len(members) - 1):
            left, right = members[n], members[n + 1]
            if (
                not left
                or not right
                or (len(left) == len(right) == 1 and left[0].kind == right[0].kind == "name")
            ):
                continue
            if all(token.kind == "number" for token in (*left, *right)):
                continue
            if (not _has_name(left) and not _has_name(right)) or _lone_letter_value(left, right):
                continue
            if self.constrains(left, right, run):
                continue
            truth = self.truth(left, signs[n + 1], right, run, first=n == 0, last=n == len(members) - 2)
            if truth.verdict is None:
                continue
            self.checked += 1
            self.read.update(range(run.start, run.end))
            if truth.verdict:
                continue
            if self.is_conditional(sentence) or (scope.changed and truth.reason == "number"):
                return self._slip(run, truth.reason, 0.4)
            return self._slip(run, truth.reason, 0.9)
        return None

    def truth(
        self,
        left: tuple[Token, ...],
        sign: str,
        right: tuple[Token, ...],
        run: _Run,
        *,
        first: bool,
        last: bool,
    ) -> Truth:
        """A link's truth: as cut, with a letter moved over a border, or under what was put equal to nought."""
        lefts, rights = [left], [right]
        tokens = self.speech.tokens
        if first and len(left) > 1 and run.start and tokens[run.start - 1].is_operand:
            lefts.append(left[1:])
        if last and run.end < len(tokens) and tokens[run.end].kind == "name":
            rights.append((*right, tokens[run.end]))
        truths = [formula(a, cast("Comparison", sign), b, self.world) for a in lefts for b in rights]
        if any(truth.verdict is not False for truth in truths):
            return next(truth for truth in truths if truth.verdict is not False)
        for place, zero in self.constraints:
            if run.start - place <= CONSTRAINED and self.holds_under(zero, left, right):
                return Truth(True)
        return truths[0]

    def constrains(self, left: Sequence[Token], right: Sequence[Token], run: _Run) -> bool:
        """Said like "V one equals zero": what follows is said under it."""
        if not (len(right) == 1 and right[0].kind == "number" and not right[0].value):
            return False
        for tree in readings(left).trees:
            value = meaning.value(tree, self.world.in_letters)
            if isinstance(value, RationalFunction) and not value.is_zero:
                self.constraints.append((run.start, value))
                return True
        return False

    def holds_under(self, zero: RationalFunction, left: Sequence[Token], right: Sequence[Token]) -> bool:
        """Whether some reading holds wherever an expression is nought."""
        sides = readings(left).trees, readings(right).trees
        for one in sides[0]:
            for other in sides[1]:
                values = (
                    meaning.value(one, self.world.in_letters),
                    meaning.value(other, self.world.in_letters),
                )
                if (
                    isinstance(values[0], RationalFunction)
                    and isinstance(values[1], RationalFunction)
                    and _vanishes(values[0] - values[1], zero)
                ):
                    return True
        return False

    def goes_on(self, run: _Run) -> bool:
        """Whether something behind it could belong to it."""
        if run.end >= len(self.speech.tokens):
            return False
        token = self.speech.tokens[run.end]
        if token.text == "the" and run.end + 1 < len(self.speech.tokens):
            token = self.speech.tokens[run.end + 1]
        return (
            token.text
            in {"plus", "minus", "over", "upon", "times", "by", "all", "whole", "bracket", "squared", "into"}
            and not self.speech.stops[self.speech.tokens[run.end - 1].end - 1]
        )

    def is_conditional(self, sentence: Sentence) -> bool:
        """Whether a condition stands in the same sentence or just ahead of it."""
        near = self.speech.tokens[max(0, sentence.start - 12) : sentence.end]
        words = [token.text for token in near]
        return any(word in {"if", "when", "suppose", "unless", "where", "balance", "equal"} for word in words)

    def worded(
        self,
        run: _Run,
        sentence: Sentence,
        scope: Scope,
        members: Sequence[tuple[Token, ...]],
    ) -> Slip | None:
        """Said like "The power in the load is I squared R": a quantity in words equal to a formula."""
        tokens = self.speech.tokens
        quantity = _last_quantity(tokens, max(sentence.start, run.start - 9), run.start)
        if quantity is None or scope.changed or not members[0] or not _has_name(members[0]):
            return None
        found = readings(members[0])
        facts = self._facts_of(quantity, run)
        if len(members[0]) < 2 or not found.is_complete or not found.trees:
            return None
        try:
            results = {self._said_of(tree, NAMED[quantity[0][0]], facts) for tree in found.trees}
        except TooLarge:
            return None
        if None in results:
            return None
        self.checked += 1
        self.read.update(range(run.start, run.end))
        whole = _Run(min(quantity[1], run.start), run.end)
        if results == {"dimension"}:
            return self._slip(whole, "dimension", 0.85)
        return self._slip(whole, "formula", 0.75 if facts and not self.is_conditional(sentence) else 0.3)

    def _facts_of(self, quantity: tuple[tuple[str, ...], int], run: _Run) -> list[Fact]:
        """What the circuit shows of a quantity: of the thing that is named with it, or of anything."""
        kinds, start = quantity
        facts = [fact for fact in self.things.board.facts if fact.kind in kinds]
        tokens, raw = self.speech.tokens, self.speech.raw
        for place in range(start + 1, run.start):
            thing = self.things.at(tokens, raw, place)
            if thing is not None and thing.end <= run.start:
                mine = [fact for fact in facts if fact.of in thing.of]
                return mine or facts
        return facts

    def _said_of(self, tree: Expression, dimension: Dimension, facts: Sequence[Fact]) -> str | None:
        """What is wrong with a formula for a quantity; None if nothing is, or if that can't be said."""
        there = dimensioned(tree, self.world.dimension)
        if not isinstance(there, Dimension):
            return "dimension"
        if there != dimension:
            return "dimension"
        number = self._number(tree)
        if number is None or any(agrees_aloud(abs(fact.value), abs(number), Fraction(0)) for fact in facts):
            return None
        return "formula"

    def _number(self, tree: Expression) -> Fraction | None:
        """A formula's value on the board, with the values that its letters have or stand for."""
        board = self.things.board
        value = meaning.value(tree, self.world.constant if board.has_values else self.world.in_letters)
        if not isinstance(value, RationalFunction):
            return None
        if not board.has_values and board.letters:
            known = dict(board.letters)
            if not set(value.letters) <= set(known):
                return None
            try:
                return value.evaluate(known)
            except ZeroDivisionError:
                return None
        return value.as_number

    def _slip(self, run: _Run, kind: str, sure: float) -> Slip:
        tokens = self.speech.tokens
        start, end = tokens[run.start].start, tokens[run.end - 1].end
        return Slip(
            start, end, self.speech.time_of(start), self.speech.quote(start, end), kind, self.right(run), sure
        )

    def right(self, run: _Run) -> str:
        """What the first letter is, in the circuit's letters."""
        first = self.speech.tokens[run.start]
        if first.kind != "name":
            return "another formula"
        value = self.world.in_letters(first.names[0])
        return f"{first.names[0]} = {value}" if isinstance(value, RationalFunction) else "another formula"


def _vanishes(difference: RationalFunction, zero: RationalFunction) -> bool:
    """Whether a ratio is nought wherever another one is, by solving for a letter in its first power."""
    for letter in sorted(zero.letters):
        parts = zero.numerator.coefficients(letter)
        if len(parts) != 2:
            continue
        value = -(parts[0] / parts[1])
        below = difference.denominator.substitute({letter: value})
        if below.is_zero:
            continue
        return difference.substitute({letter: value}).is_zero
    return False


def _members(tokens: Sequence[Token]) -> tuple[list[tuple[Token, ...]], list[str]]:
    members: list[list[Token]] = [[]]
    signs = [""]
    for token in tokens:
        if token.kind == "relation":
            if members[-1] or len(members) == 1:
                members.append([])
                signs.append(token.text)
            continue
        if token.kind in {"number", "name", "sign"}:
            members[-1].append(token)
    return [tuple(each) for each in members], signs


def _has_name(tokens: Sequence[Token]) -> bool:
    return any(token.kind == "name" for token in tokens)


def _lone_letter_value(left: Sequence[Token], right: Sequence[Token]) -> bool:
    """A letter and a bare number ("n equals two") may be a case that is only tried."""
    alone = len(left) == 1 and left[0].kind == "name" and len(right) == 1 and right[0].kind == "number"
    return alone and not right[0].text


def _last_quantity(tokens: Sequence[Token], start: int, end: int) -> tuple[tuple[str, ...], int] | None:
    found, behind = None, start
    for place in range(start, end):
        quantity = quantity_at(tokens, place) if place >= behind else None
        if quantity is not None and quantity.end <= end:
            found, behind = (quantity.kinds, place), quantity.end
    return found
