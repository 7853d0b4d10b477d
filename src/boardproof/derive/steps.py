"""Steps of a written argument, put down one by one and proved as they are written.

What a step says is maths as a teacher types it; it is read by the same reader and proved by the same checker as a
typed step. How an argument goes is left to the routes.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from functools import partial

from boardproof.algebra.expression import Relation
from boardproof.algebra.written import read_line
from boardproof.circuit.change import changed
from boardproof.circuit.model import Circuit, How, Item
from boardproof.circuit.place import Missing, put
from boardproof.derive.naming import Naming
from boardproof.derive.stage import Stage
from boardproof.prove.follows import Following, Premise, follows
from boardproof.record import record
from boardproof.source import Source

__all__ = ["Closing", "Derivation", "Draft", "Step", "relations"]

IMAGINED: dict[str, How] = {"short": "shorted", "no emf in": "without emf"}


@record
class Step:
    """One step.

    Parameters
    ----------
    number : int
        From 1.
    maths : str
        As a teacher types it.
    statements : tuple of Relation
        The same, read.
    rules : tuple of str
        What it is by.
    from_ : tuple of int
        The steps it leans on.
    words : str
        What is said.
    moves : tuple of str
        Board moves made before the words, as in a lesson: ``focus A``.
    readouts : tuple of str
        Names of the quantities that the drawing should show now.
    checks : tuple of Following
        What the checker said of each statement.
    is_true : bool
        Whether every statement holds in its circuit.
    """

    number: int
    maths: str
    statements: tuple[Relation, ...]
    rules: tuple[str, ...]
    from_: tuple[int, ...]
    words: str
    moves: tuple[str, ...]
    readouts: tuple[str, ...]
    checks: tuple[Following, ...]
    is_true: bool

    @property
    def is_proved(self) -> bool:
        """Whether it is true and follows."""
        return self.is_true and all(check.kind == "yes" for check in self.checks)


@record
class Closing:
    """How every argument ends: units, then limits, then one sentence, then numbers.

    Parameters
    ----------
    units : str
        A sentence.
    limits : tuple of str
        Lines of maths, each true by itself.
    sentence : str
        The result in words.
    numbers : tuple of str
        Lines of maths with this circuit's values; empty if it has none, or none were asked for.
    """

    units: str
    limits: tuple[str, ...]
    sentence: str
    numbers: tuple[str, ...]


@record
class Derivation:
    """A whole argument.

    Parameters
    ----------
    route : str
        Its name.
    targets : tuple of str
        Names of what it ends with.
    steps : tuple of Step
        In order.
    closing : Closing
        How it ends.
    definitions : tuple of str
        Lines for the lesson's `circuit` block, for names that it doesn't have yet.
    """

    route: str
    targets: tuple[str, ...]
    steps: tuple[Step, ...]
    closing: Closing
    definitions: tuple[str, ...] = ()

    @property
    def is_proved(self) -> bool:
        """Whether every step is."""
        return all(step.is_proved for step in self.steps)


def relations(maths: str) -> tuple[Relation, ...]:
    """Every equation of a typed line.

    Parameters
    ----------
    maths : str
        As a teacher types it.

    Raises
    ------
    ValueError
        If it cannot be read: a slip of the route that wrote it.

    Examples
    --------
    >>> [each.sign for each in relations("I = I_1 + I_2 and V = I R")]
    ['=', '=']
    """
    line, findings = read_line(Source("step", maths).slice(), known=())
    found = () if line is None else tuple(each for each in line.statements if isinstance(each, Relation))
    if not found:
        raise ValueError(f"{maths!r} cannot be read: {[each.kind.code for each in findings]}")
    return found


def _done(how: How, item: Item) -> Item:
    return changed(item, how)


class Draft:
    """Writes an argument down, step by step.

    Parameters
    ----------
    names : Naming
        Gives the names.
    briefly : bool
        Leaves out the words that a class that knows the way does not need.
    """

    def __init__(self, names: Naming, *, briefly: bool = False) -> None:
        """Start with an empty board."""
        self.names, self.briefly = names, briefly
        self.steps: list[Step] = []
        self.premises: list[Premise] = []

    def add(
        self,
        maths: str,
        *rules: str,
        from_: Iterable[int] = (),
        say: str = "",
        moves: Sequence[str] = (),
        readouts: Sequence[str] = (),
    ) -> int:
        """Write a step; its number."""
        number, leaning = len(self.steps) + 1, tuple(sorted(set(from_)))
        stage = Stage(self.names, self.imagined(moves))
        said = relations(maths)
        premises = [each for each in self.premises if each.number in leaning]
        checks = tuple(follows(each, premises, rules, stage, taught=()) for each in said)
        is_true = all(self.holds(each) for each in said)
        words = say.split(". ", maxsplit=1)[0].rstrip(".") + "." if self.briefly and say else say
        self.steps.append(
            Step(number, maths, said, rules, leaning, words, tuple(moves), tuple(readouts), checks, is_true)
        )
        self.premises += [Premise(each, stage, number) for each in said]
        return number

    def imagined(self, moves: Sequence[str]) -> Circuit | None:
        """The circuit that the moves ask to imagine."""
        item, is_changed = self.names.circuit.item, False
        for move in moves:
            for words, how in IMAGINED.items():
                if move.startswith(f"{words} "):
                    path = move[len(words) + 1 :]
                    found = put(item, path, partial(_done, how), self.names.circuit.values)
                    assert not isinstance(found, Missing)
                    item = found
                    is_changed = True
        return replace(self.names.circuit, item=item) if is_changed else None

    def holds(self, relation: Relation) -> bool:
        """Whether an equation is true of its circuits, letter for letter."""
        left, right = self.names.worth(relation.left), self.names.worth(relation.right)
        return left is not None and right is not None and left == right

    def done(self, route: str, targets: Sequence[str], closing: Closing) -> Derivation:
        """The argument as it stands."""
        groups = tuple(f"{name} = {what}" for name, what in self.names.groups.items())
        lets = (*groups, *(f"let {name} = {phrase}" for name, phrase in self.names.defined.items()))
        return Derivation(route, tuple(targets), tuple(self.steps), closing, lets)
