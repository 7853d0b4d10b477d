"""A great many cases of one circuit: the solver runs once, over stand-ins that write down each step.

What they wrote down is a program without jumps; it runs over the arrays piece by piece, so that they stay in the
processor's cache.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from operator import add, gt, mul, neg, sub, truediv
from typing import Any, ClassVar, Final

from boardproof.circuit.model import Circuit
from boardproof.circuit.quantity import QuantityRef
from boardproof.findings import Finding
from boardproof.solve.answers import Answers, Unknown
from boardproof.solve.arithmetic import Arithmetic, Number

__all__ = ["cases"]

AT_A_TIME: Final = 8192
OPERATIONS: Final = {"add": add, "sub": sub, "mul": mul, "div": truediv, "neg": neg, "gt": gt}


@dataclass(slots=True)
class _Notes:
    """Steps written down so far, equal ones once; a step is an operation on constants and earlier places."""

    inputs: dict[str, int] = field(default_factory=dict)
    steps: dict[tuple[str, Any, Any], int] = field(default_factory=dict)

    def note(self, op: str, left: Any, right: Any = None) -> _Noted:
        operands = [("at", each.place) if isinstance(each, _Noted) else each for each in (left, right)]
        key = (op, operands[0], operands[1])
        return _Noted(self, self.steps.setdefault(key, len(self.inputs) + len(self.steps)))


class _Noted:
    """A number that will be an array later; neutral operations are not written down."""

    def __init__(self, notes: _Notes, place: int) -> None:
        self.notes, self.place = notes, place

    def __add__(self, other: Any) -> Any:
        return self if _is(other, 0) else self.notes.note("add", self, _plain(other))

    def __radd__(self, other: Any) -> Any:
        return self + other

    def __sub__(self, other: Any) -> Any:
        return self if _is(other, 0) else self.notes.note("sub", self, _plain(other))

    def __rsub__(self, other: Any) -> Any:
        return -self if _is(other, 0) else self.notes.note("sub", _plain(other), self)

    def __mul__(self, other: Any) -> Any:
        if _is(other, 0):
            return 0.0
        if _is(other, -1):
            return -self
        return self if _is(other, 1) else self.notes.note("mul", self, _plain(other))

    def __rmul__(self, other: Any) -> Any:
        return self * other

    def __truediv__(self, other: Any) -> Any:
        return self if _is(other, 1) else self.notes.note("div", self, _plain(other))

    def __rtruediv__(self, other: Any) -> Any:
        return 0.0 if _is(other, 0) else self.notes.note("div", _plain(other), self)

    def __neg__(self) -> Any:
        return self.notes.note("neg", self)

    def __gt__(self, other: Any) -> Any:
        return self.notes.note("gt", self, _plain(other))

    def any(self) -> bool:
        """Never nought as a whole."""
        return True


def _is(value: Any, number: int) -> bool:
    return not isinstance(value, _Noted) and bool(value == number)


def _plain(value: Any) -> Any:
    return value if isinstance(value, _Noted) else float(value)


@dataclass(frozen=True, eq=False)
class _Writing(Arithmetic):
    """Arithmetic on stand-ins for some letters."""

    stand_ins: Mapping[str, _Noted] = field(default_factory=dict)
    is_straight: ClassVar[bool] = True

    def letter(self, name: str, own: Fraction | None = None) -> Number:
        return self.stand_ins.get(name) or Arithmetic.letter(self, name, own)


def cases(
    circuit: Circuit, asked: Mapping[str, QuantityRef], values: Mapping[str, Any]
) -> dict[str, Any] | Finding:
    """Some quantities of a circuit for many values of its letters.

    Parameters
    ----------
    circuit : Circuit
        With values for the letters that stay the same.
    asked : mapping of str to QuantityRef
        What is wanted, by a name for it; at most 100 nodes.
    values : mapping of str to float array of shape (cases,)
        Letters that change, in SI units.

    Returns
    -------
    dict of str to float array of shape (cases,), or Finding
        Not a number or infinite where a case divides by nought. The finding gives the reason for no answer at all.

    Examples
    --------
    >>> import numpy as np
    >>> from boardproof.circuit.model import Across, Leaf, Part, Worth
    >>> A = Leaf("A", Part("A", "cell", Worth("E", Fraction(6)), Worth("r", Fraction(1))))
    >>> main = Circuit(Across(A, Leaf("R", Part("R", "resistor", resistance=Worth("R")))))
    >>> cases(main, {"I": QuantityRef("current", ("R",), main.id)}, {"R": np.array([1.0, 2.0, 5.0])})["I"].tolist()
    [3.0, 2.0, 1.0]
    """
    notes = _Notes({name: place for place, name in enumerate(values)})
    stand_ins = {name: _Noted(notes, place) for name, place in notes.inputs.items()}
    fixed = {name: each for name, each in circuit.values.items() if name not in values}
    known = Answers(circuit, _Writing("batch", fixed, stand_ins))
    wanted: dict[str, Any] = {}
    for name, ref in asked.items():
        found = known.formula(ref)
        if isinstance(found, Unknown):
            return found.reason
        wanted[name] = found
    return _run(notes, wanted, list(values.values()))


def _run(notes: _Notes, wanted: Mapping[str, Any], columns: Sequence[Any]) -> dict[str, Any]:
    """Run the steps over the arrays, a piece at a time; what is no longer needed is let go."""
    import numpy as np  # heavy, and most lessons never come here

    many = len(columns[0])
    results = {
        name: np.empty(many) if isinstance(each, _Noted) else np.full(many, float(each))
        for name, each in wanted.items()
    }
    out = {name: each.place for name, each in wanted.items() if isinstance(each, _Noted)}
    program = _with_last_uses(notes, set(out.values()))
    with np.errstate(divide="ignore", invalid="ignore"):
        for start in range(0, many, AT_A_TIME):
            piece = slice(start, start + AT_A_TIME)
            numbers: list[Any] = [column[piece] for column in columns] + [None] * len(program)
            for place, (operation, left, right, done) in enumerate(program, len(columns)):
                a = numbers[left] if isinstance(left, int) else left
                if right is None:
                    numbers[place] = operation(a)
                else:
                    numbers[place] = operation(a, numbers[right] if isinstance(right, int) else right)
                for each in done:
                    numbers[each] = None
            for name, place in out.items():
                results[name][piece] = numbers[place]
    return results


def _with_last_uses(notes: _Notes, kept: set[int]) -> list[tuple[Any, Any, Any, tuple[int, ...]]]:
    """Each step with the places that nothing after it uses; constants stay floats, places are ints."""
    first = len(notes.inputs)
    last: dict[int, int] = {}
    steps = []
    for place, (op, left, right) in enumerate(notes.steps, first):
        operands = [each[1] if isinstance(each, tuple) else each for each in (left, right)]
        last |= {each: place for each in operands if isinstance(each, int)}
        steps.append((OPERATIONS[op], *operands))
    done: dict[int, list[int]] = {}
    for each, place in last.items():
        if each >= first and each not in kept:
            done.setdefault(place, []).append(each)
    return [(*step, tuple(done.get(place, ()))) for place, step in enumerate(steps, first)]
