"""The one way to ask about a circuit: any quantity, with numbers, with letters, or for many cases at once.

Nothing is worked out before it is asked for, and nothing twice. A question without an answer gives the reason.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction
from typing import Any, Final

from boardproof.algebra.polynomial import RationalFunction
from boardproof.algebra.product import TERMS_AT_MOST, TooLarge
from boardproof.circuit.model import Circuit, CircuitId
from boardproof.circuit.quantity import QuantityRef
from boardproof.findings import Finding
from boardproof.quantities import FARAD, OHM, Dimension, shown
from boardproof.record import record
from boardproof.solve.arithmetic import Arithmetic, Number, Way
from boardproof.solve.find import parts_of
from boardproof.solve.ill_posed import NoAnswer, because, listed
from boardproof.solve.network import Solved
from boardproof.solve.places import valueless
from boardproof.solve.reduce import Reduction, reduced_item
from boardproof.solve.rules import DIMENSIONS, RULES, Rules

__all__ = ["Answers", "Unknown", "Value", "answers"]

KEPT: Final = 256


@record
class Value:
    """An answer.

    Parameters
    ----------
    exact : Fraction, RationalFunction or ndarray of shape (cases,)
        In SI units.
    dimension : Dimension
        Its dimension.
    """

    exact: Any
    dimension: Dimension


@record
class Unknown:
    """No answer, and the reason.

    Parameters
    ----------
    reason : Finding
        A row of this room's table.
    """

    reason: Finding


class Answers(Rules):
    """What can be asked about one circuit in one way; made by `answers`.

    Parameters
    ----------
    circuit : Circuit
        With every change in force.
    numbers : Arithmetic
        How to calculate.
    solved : Solved or None
        Currents and p.d.s of another moment than the steady state.
    """

    def __init__(self, circuit: Circuit, numbers: Arithmetic, solved: Solved | None = None) -> None:
        """Take note; work starts with the first question."""
        super().__init__(circuit, numbers, solved)
        self._asked: dict[QuantityRef, Value | Unknown] = {}

    def faults(self) -> tuple[Finding, ...]:
        """What contradicts itself in the circuit, or cannot be, whatever is asked."""
        try:
            return (*self.solved.faults, *self._impossible())
        except NoAnswer as stop:
            return (stop.reason,)

    def _impossible(self) -> Iterator[Finding]:
        """Letters of resistances and capacitances whose value is below nought."""
        seen = set()
        for leaf, _ in parts_of(self._whole.item):
            for worth in (leaf.part.resistance, leaf.part.capacitance):
                value = self._whole.values.get(worth.letter, worth.value) if worth else None
                if worth is None or value is None or value >= 0 or worth.letter in seen:
                    continue
                seen.add(worth.letter)
                is_resistance = worth is leaf.part.resistance
                what = "resistance" if is_resistance else "capacitance"
                forced = f"A {what} is never below nought."
                span = worth.span or leaf.span
                said = shown(value, OHM if is_resistance else FARAD)
                yield because("impossible-value", span, letter=worth.letter, value=said, forced=forced)

    def reduction(self, path: str) -> Reduction | Finding:
        """A group folded, step by step, seen from its own ends."""
        try:
            return reduced_item(self._found(path).item, self.numbers)
        except NoAnswer as stop:
            return stop.reason

    def ask(self, ref: QuantityRef) -> Value | Unknown:
        """The value of a quantity.

        Parameters
        ----------
        ref : QuantityRef
            Of this circuit.

        Returns
        -------
        Value or Unknown
            A cell's current leaves its own plus end, a group's its plus end; the p.d. of either is plus less minus;
            of anything else both run in its counting direction.
        """
        if ref not in self._asked:
            self._asked[ref] = self._ask(ref)
        return self._asked[ref]

    def formula(self, ref: QuantityRef) -> Number | Unknown:
        """The value as it comes out: in the exact way, letters without a value may be left in it."""
        try:
            found = RULES[ref.kind](self, *ref.of)
        except NoAnswer as stop:
            return Unknown(stop.reason)
        except ZeroDivisionError:
            fault = next(self._impossible(), None)
            if fault is None:
                raise
            return Unknown(fault)  # a resistance below nought that cancels another
        except TooLarge:
            return Unknown(because("overlong-formula", what=_named(ref), limit=str(TERMS_AT_MOST)))
        if isinstance(found, RationalFunction) and self.way == "exact" and found.as_number is not None:
            found = found.as_number
        elif isinstance(found, Fraction) and self.way == "letters":
            found = RationalFunction.constant(found)
        return found if ref.sense == 1 else -found

    def _ask(self, ref: QuantityRef) -> Value | Unknown:
        found = self.formula(ref)
        if isinstance(found, Unknown):
            return found
        if self.way == "exact" and isinstance(found, RationalFunction):
            return Unknown(valueless(found, _named(ref)))
        return Value(found, self.dimension(ref))

    def dimension(self, ref: QuantityRef) -> Dimension:
        """The dimension of a quantity, whether it has a value or not."""
        return self.letter_dimension(ref.of[0]) if ref.kind == "letter" else DIMENSIONS[ref.kind]


def _named(ref: QuantityRef) -> str:
    words = "number of cells" if ref.kind == "cells_in" else ref.kind.replace("_", " ")
    return f"the {words} of {listed(ref.of)}"


_KEPT: dict[tuple[CircuitId, Way], Answers] = {}


def answers(circuit: Circuit, way: Way = "exact", *, values: Mapping[str, Any] | None = None) -> Answers:
    """Ask about a circuit.

    Parameters
    ----------
    circuit : Circuit
        With every change in force.
    way : {"exact", "letters", "batch"}
        With the circuit's values as fractions; with letters whatever values there are; for many cases.
    values : mapping of str to array, optional
        For a batch: letter to array of shape (cases,), put over the circuit's own values.

    Returns
    -------
    Answers
        Exact and letters are kept by the circuit's hash, so asking twice costs nothing.

    Examples
    --------
    >>> from boardproof.circuit.model import Across, Leaf, Part, Worth
    >>> A = Leaf("A", Part("A", "cell", Worth("E", Fraction(6)), Worth("r", Fraction(1))))
    >>> R = Leaf("R", Part("R", "resistor", resistance=Worth("R", Fraction(11))))
    >>> main = Circuit(Across(A, R))
    >>> answers(main).ask(QuantityRef("current", ("R",), main.id)).exact
    Fraction(1, 2)
    >>> answers(main, "letters").ask(QuantityRef("current", ("R",), main.id)).exact
    (E)/(r + R)
    """
    if way == "batch":
        return Answers(circuit, Arithmetic(way, {**circuit.values, **(values or {})}))
    key = (circuit.id, way)
    if key not in _KEPT:
        if len(_KEPT) >= KEPT:
            _KEPT.pop(next(iter(_KEPT)))
        _KEPT[key] = Answers(circuit, Arithmetic(way, circuit.values))
    return _KEPT[key]
