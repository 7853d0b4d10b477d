"""A question made ready: its answers and what beliefs make of them as formulas in the letters that are drawn."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from functools import cached_property
from itertools import pairwise
from typing import Final

from boardproof.algebra.expression import Comparison
from boardproof.algebra.polynomial import RationalFunction
from boardproof.belief.thought import Thought
from boardproof.circuit.model import Circuit
from boardproof.practice.records import Asked, Question
from boardproof.prove.world import World
from boardproof.quantities import Dimension

__all__ = [
    "APART",
    "KEY_APART",
    "LEAST",
    "MOST",
    "Condition",
    "Given",
    "Prepared",
    "PreparedPart",
    "comes_out",
    "distinct",
    "figures_of",
    "in_order",
]

NUMERIC: Final = frozenset({"number", "choice", "shown"})


@dataclass(frozen=True, slots=True)
class Given:
    """A value that the words give: a formula in drawn letters, shown exactly."""

    formula: RationalFunction
    dimension: Dimension


@dataclass(frozen=True, slots=True)
class Condition:
    """What every draw must keep."""

    left: RationalFunction
    sign: Comparison
    right: RationalFunction


@dataclass(frozen=True, slots=True)
class PreparedPart:
    """A part with its formulas, one a quantity, and the thoughts about each by belief.

    Parameters
    ----------
    asked : Asked
        What is asked.
    formulas : tuple of RationalFunction
        Empty for words.
    thoughts : tuple of mapping of str to Thought
        Beside each formula.
    orders : mapping of str to tuple of RationalFunction
        Of a ranking: what a belief ranks by.
    circuit : Circuit or None
        Of the first quantity.
    """

    asked: Asked
    formulas: tuple[RationalFunction, ...] = ()
    thoughts: tuple[Mapping[str, Thought], ...] = ()
    orders: Mapping[str, tuple[RationalFunction, ...]] = field(default_factory=dict)
    circuit: Circuit | None = None

    @property
    def is_numeric(self) -> bool:
        """Whether its answer is a number."""
        return self.asked.form in NUMERIC


@dataclass(frozen=True)
class Prepared:
    """A question made ready for drawing.

    Parameters
    ----------
    question : Question
        As read.
    parts : tuple of PreparedPart
        In order.
    given : mapping of str to Given
        What stands in braces, by its words.
    conditions : tuple of Condition
        On draws.
    fixed : mapping of str to Fraction
        Letters of the circuit that are not drawn.
    names : frozenset of str
        Names that mean something beside the question, for reading maths in it.
    world : World or None
        What names mean there, for working.
    """

    question: Question
    parts: tuple[PreparedPart, ...]
    given: Mapping[str, Given]
    conditions: tuple[Condition, ...]
    fixed: Mapping[str, Fraction]
    names: frozenset[str] = frozenset()
    world: World | None = field(default=None, compare=False, repr=False)

    @cached_property
    def letters(self) -> tuple[tuple[str, tuple[Fraction, ...]], ...]:
        """Every letter that is drawn, with its values."""
        return tuple((letter, vary.values) for vary in self.question.vary for letter in vary.letters)

    @cached_property
    def beliefs(self) -> tuple[str, ...]:
        """Beliefs that give a wrong answer to some part."""
        found = {belief for part in self.parts for each in part.thoughts for belief in each}
        return tuple(sorted(found | {belief for part in self.parts for belief in part.orders}))

    def all_values(self, draw: Mapping[str, Fraction]) -> dict[str, Fraction]:
        """Drawn and fixed letters together."""
        return {**self.fixed, **draw}

    def is_good(self, draw: Mapping[str, Fraction], figures: int) -> bool:
        """Whether a draw makes a good question, decided exactly.

        Parameters
        ----------
        draw : mapping of str to Fraction
            A value for each letter.
        figures : int
            In which every number must come out.
        """
        values = self.all_values(draw)
        try:
            if not all(_holds(condition, values) for condition in self.conditions):
                return False
            for given in self.given.values():
                if not comes_out(given.formula.evaluate(values), max(figures, 3)):
                    return False
            keys = (part.formulas[0].evaluate(values) for part in self.parts if part.is_numeric)
            if not all(comes_out(key, figures) and _is_sensible(key) for key in keys):
                return False
            return all(self._part_is_good(part, values) for part in self.parts)
        except ZeroDivisionError:
            return False

    def _part_is_good(self, part: PreparedPart, values: Mapping[str, Fraction]) -> bool:
        form = part.asked.form
        if part.is_numeric:
            key = part.formulas[0].evaluate(values)
            return _are_apart(key, self._wrong(part, values), frozenset(self.question.tell_apart))
        if form == "arrow":
            return part.formulas[0].evaluate(values) != 0
        if form == "ranking":
            found = sorted(each.evaluate(values) for each in part.formulas)
            return all(a == b or b - a > abs(b) * RANKED for a, b in pairwise(found))
        return True

    def _wrong(self, part: PreparedPart, values: Mapping[str, Fraction]) -> dict[str, Fraction]:
        found = {belief: thought.at(values) for belief, thought in distinct(part).items()}
        return {belief: value for belief, value in found.items() if value is not None}


RANKED: Final = Fraction(1, 20)
KEY_APART: Final = Fraction(1, 50)
APART: Final = Fraction(1, 200)
LEAST, MOST = Fraction(1, 10_000_000), Fraction(10_000)


def distinct(part: PreparedPart) -> dict[str, Thought]:
    """One belief for each formula: those that always agree can't be told apart by numbers.

    A belief that only drops a sign agrees with the right value wherever that is positive, and is no matter then.

    Parameters
    ----------
    part : PreparedPart
        Of which the first quantity counts.
    """
    seen: dict[object, str] = {}
    for belief, thought in part.thoughts[0].items() if part.thoughts else ():
        if not _drops_a_sign(thought):
            seen.setdefault(thought.cases, belief)
    return {belief: part.thoughts[0][belief] for belief in seen.values()}


def _drops_a_sign(thought: Thought) -> bool:
    return (
        len(thought.cases) == 2
        and all(rank == value for rank, value in thought.cases)
        and (thought.cases[0][0] == -thought.cases[1][0])
    )


def _are_apart(key: Fraction, wrong: Mapping[str, Fraction], named: frozenset[str]) -> bool:
    """Whether every wrong value differs from the key, and from each other, by more than marking forgives."""
    if any(abs(value - key) <= KEY_APART * max(abs(key), abs(value)) for value in wrong.values()):
        return False
    rows = sorted((value, belief) for belief, value in wrong.items())
    for (a, one), (b, other) in pairwise(rows):
        least = KEY_APART if one in named and other in named else APART
        if b - a <= least * max(abs(a), abs(b)):
            return False
    return True


def comes_out(value: Fraction, figures: int) -> bool:
    """Whether a value is exact in so many figures, and not nought.

    Parameters
    ----------
    value : Fraction
        In SI units.
    figures : int
        At most.

    Examples
    --------
    >>> comes_out(Fraction(9, 4), 3), comes_out(Fraction(9, 4), 2), comes_out(Fraction(1, 3), 3)
    (True, False, False)
    """
    return 0 < figures_of(value) <= figures


def figures_of(value: Fraction) -> int:
    """Significant figures that a value needs; 0 for nought, 99 if it never ends.

    Parameters
    ----------
    value : Fraction
        Exact.
    """
    if value == 0:
        return 0
    rest = value.denominator
    for prime in (2, 5):
        while rest % prime == 0:
            rest //= prime
    if rest != 1:
        return 99
    scaled = abs(value.numerator) * 10 ** value.denominator.bit_length() // value.denominator
    return len(str(scaled).rstrip("0"))


def _is_sensible(value: Fraction) -> bool:
    """Whether a value is of a size that a school bench meets."""
    return LEAST <= abs(value) <= MOST


def in_order(values: Sequence[Fraction], names: Sequence[str]) -> tuple[str, ...]:
    """Names, largest value first, equal ones joined by an equals sign.

    Parameters
    ----------
    values : sequence of Fraction
        One a name.
    names : sequence of str
        What they belong to.

    Examples
    --------
    >>> in_order([Fraction(1), Fraction(2), Fraction(1)], ["P", "Q", "R"])
    ('Q', 'P = R')
    """
    groups: dict[Fraction, list[str]] = {}
    for value, name in zip(values, names, strict=True):
        groups.setdefault(value, []).append(name)
    return tuple(" = ".join(groups[value]) for value in sorted(groups, reverse=True))


def _holds(condition: Condition, values: Mapping[str, Fraction]) -> bool:
    left, right = condition.left.evaluate(values), condition.right.evaluate(values)
    return _compared(condition.sign, left, right)


def _compared(sign: str, left: Fraction, right: Fraction) -> bool:
    """A comparison of two numbers."""
    match sign:
        case "<":
            return left < right
        case ">":
            return left > right
        case "<=" | "≤":
            return left <= right
        case ">=" | "≥":
            return left >= right
        case "!=" | "≠":
            return left != right
        case _:
            return left == right
