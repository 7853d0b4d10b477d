"""Answers as a short list of sums and products, for a page to work out anew while its reader moves a slider.

The list travels as JSON and is interpreted; no program text is made. Number k of the list may use the inputs and the
numbers before it: an input's place is its index, the first line of the program follows the last input.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any, Final, Literal

from boardproof.algebra.polynomial import RationalFunction
from boardproof.circuit.model import Across, Circuit, Item, Leaf, leaves, members
from boardproof.circuit.quantity import QuantityRef
from boardproof.findings import Finding
from boardproof.record import record
from boardproof.solve.answers import Answers, Unknown
from boardproof.solve.arithmetic import Arithmetic, Number
from boardproof.solve.line import Line
from boardproof.solve.network import Solved

__all__ = ["ClosedForm", "Input", "closed_form"]

DRIVEN: Final = frozenset({"emf", "short_circuit_current", "greatest_power"})
Instruction = tuple[str, int | str, int | None]


@record
class Input:
    """Something a reader may move.

    Parameters
    ----------
    name : str
        The letter; the cell's path for a turn; ``PATH:a`` and ``PATH:b`` for a switch.
    unit : str
        Its SI unit; empty for turns and switches.
    least, most, start : Fraction
        Range and first value.
    kind : {"value", "turn", "switch"}
        A letter's value; +1 or -1 on a cell's EMF; one of the two numbers of ``a V + b I = 0``: open (0, 1),
        closed (1, 0), a resistance R (1, -R).
    """

    name: str
    unit: str
    least: Fraction
    most: Fraction
    start: Fraction
    kind: Literal["value", "turn", "switch"] = "value"


@record
class ClosedForm:
    """A program without jumps.

    Parameters
    ----------
    inputs : tuple of Input
        Numbers 0 to len(inputs) - 1.
    program : tuple of (op, a, b)
        ``const`` with a fraction as text, ``add``, ``sub``, ``mul``, ``div``, ``neg``; a and b are numbers before it.
    outputs : mapping of str to int
        Name to number.
    nonzero : tuple of int
        Numbers that are divided by: where one is 0 there is no answer.
    """

    inputs: tuple[Input, ...]
    program: tuple[Instruction, ...]
    outputs: Mapping[str, int]
    nonzero: tuple[int, ...]

    def run(self, values: Mapping[str, Any]) -> dict[str, Any]:
        """Work the program out.

        Parameters
        ----------
        values : mapping of str to number or array of shape (cases,)
            By input name; an input left out has its `start`.

        Returns
        -------
        dict
            By output name; None where a division by 0 stands in the way of a plain number.
        """
        numbers: list[Any] = [values.get(each.name, each.start) for each in self.inputs]
        try:
            for op, a, b in self.program:
                numbers.append(_worked(op, a, b, numbers))
        except ZeroDivisionError:
            return dict.fromkeys(self.outputs)
        return {name: numbers[place] for name, place in self.outputs.items()}


def _worked(op: str, a: int | str, b: int | None, numbers: Sequence[Any]) -> Any:
    if op == "const":
        return Fraction(a)
    left = numbers[int(a)]
    if op == "neg" or b is None:
        return -left
    right = numbers[b]
    match op:
        case "add":
            return left + right
        case "sub":
            return left - right
        case "mul":
            return left * right
        case _:
            return left / right


class _Program:
    """Collects instructions; equal ones are written once."""

    def __init__(self, names: Sequence[str]) -> None:
        self.places = {name: place for place, name in enumerate(names)}
        self.start = len(names)
        self.lines: dict[Instruction, int] = {}

    def add(self, op: str, a: int | str, b: int | None = None) -> int:
        if op in {"add", "mul"} and isinstance(a, int) and b is not None and b < a:
            a, b = b, a
        return self.lines.setdefault((op, a, b), self.start + len(self.lines))

    def ratio(self, ratio: RationalFunction) -> tuple[int, int | None]:
        """Where its value stands, and its denominator's."""
        over = self.polynomial(_terms(ratio))
        if ratio.denominator == 1:
            return over, None
        under = self.polynomial(_terms(ratio.denominator))
        return self.add("div", over, under), under

    def polynomial(self, terms: Sequence[tuple[Mapping[str, int], int]]) -> int:
        """Nested (Horner's scheme), the letter that most terms share outermost."""
        often: dict[str, int] = {}
        for powers, _ in terms:
            for letter in powers:
                often[letter] = often.get(letter, 0) + 1
        if not often:
            return self.add("const", str(sum(number for _, number in terms)))
        letter = max(sorted(often), key=often.__getitem__)
        with_it = [(_less(powers, letter), number) for powers, number in terms if letter in powers]
        rest = [(powers, number) for powers, number in terms if letter not in powers]
        whole = self._times(self.places[letter], with_it)
        if not rest:
            return whole
        if all(number < 0 for _, number in rest):
            return self.add("sub", whole, self.polynomial([(powers, -number) for powers, number in rest]))
        return self.add("add", whole, self.polynomial(rest))

    def _times(self, letter: int, terms: Sequence[tuple[Mapping[str, int], int]]) -> int:
        if all(not powers for powers, _ in terms):
            number = sum(number for _, number in terms)
            if abs(number) == 1:
                return letter if number == 1 else self.add("neg", letter)
        return self.add("mul", letter, self.polynomial(terms))


def _terms(ratio: RationalFunction) -> Sequence[tuple[Mapping[str, int], int]]:
    return ratio.terms()


def _less(powers: Mapping[str, int], letter: str) -> dict[str, int]:
    """One power of a letter less."""
    return {name: power - (name == letter) for name, power in powers.items() if power > (name == letter)}


def closed_form(
    circuit: Circuit, asked: Mapping[str, QuantityRef], inputs: Iterable[Input]
) -> ClosedForm | Finding:
    """Formulas for some quantities in the inputs; every other letter has its value from the circuit.

    Parameters
    ----------
    circuit : Circuit
        With values for the letters that are no input.
    asked : mapping of str to QuantityRef
        Output name to what it is.
    inputs : iterable of Input
        What may be moved; both numbers of each switch.

    Returns
    -------
    ClosedForm or Finding
        The finding says which quantity has no formula, and why.

    Raises
    ------
    ValueError
        If the EMF of a group is asked for while a cell in it may be turned, or any equivalent while a part of it
        may be switched: the open-circuit p.d. of a circuit of its own tells what it becomes.

    Examples
    --------
    >>> from boardproof.circuit.model import Across, Leaf, Part, Worth
    >>> A = Leaf("A", Part("A", "cell", Worth("E", Fraction(6)), Worth("r", Fraction(1))))
    >>> R = Leaf("R", Part("R", "resistor", resistance=Worth("R", Fraction(11))))
    >>> main = Circuit(Across(A, R), {"E": Fraction(6), "r": Fraction(1), "R": Fraction(11)})
    >>> load = Input("R", "Ω", Fraction(1), Fraction(20), Fraction(11))
    >>> form = closed_form(main, {"I": QuantityRef("current", ("R",), main.id)}, [load])
    >>> form.program
    (('const', '6', None), ('const', '1', None), ('add', 0, 2), ('div', 1, 3))
    >>> form.run({"R": Fraction(5)})
    {'I': Fraction(1, 1)}
    """
    moved = tuple(inputs)
    letters = {each.name for each in moved if each.kind == "value"}
    fixed = {name: value for name, value in circuit.values.items() if name not in letters}
    known = Answers(circuit, _Movable("exact", fixed, frozenset(letters)))
    known = Answers(circuit, known.numbers, _with_moves(known, moved))
    program = _Program([each.name for each in moved])
    outputs, nonzero = {}, []
    for name, ref in asked.items():
        found = (
            known.formula(ref) if _follows(circuit, ref, moved) else _behind_load(known, circuit, ref, moved)
        )
        if found is None:
            raise ValueError(f"{name}: {ref.kind} of a group cannot follow what is turned or switched in it")
        if isinstance(found, Unknown):
            return found.reason
        ratio = found if isinstance(found, RationalFunction) else RationalFunction.constant(found)
        outputs[name], under = program.ratio(ratio)
        if under is not None and under not in nonzero:
            nonzero.append(under)
    return ClosedForm(moved, tuple(program.lines), outputs, tuple(nonzero))


def _behind_load(
    known: Answers, circuit: Circuit, ref: QuantityRef, moved: Sequence[Input]
) -> RationalFunction | None:
    """The source's resistance while its parts are switched, seen from a load that may be switched itself.

    With a V + b I = 0 for the load, I = a E / (a r - b): the denominator's two coefficients give r. Derived here.
    """
    item = circuit.item
    if ref.kind != "resistance" or not isinstance(item, Across) or not isinstance(item.load, Leaf):
        return None
    a, b = (f"{item.load.path}:{letter}" for letter in "ab")
    sources = {each.path for each in _groups(item.source, item.source.path)}
    current = known.formula(QuantityRef("current", (item.load.path,), circuit.id))
    if not {a, b} <= {each.name for each in moved} or not set(ref.of) <= sources:
        return None
    parts = current.denominator.coefficients(a) if isinstance(current, RationalFunction) else ()
    rest = parts[0].coefficients(b) if len(parts) == 2 else ()
    return -(parts[1] / rest[1]) if len(rest) == 2 and rest[0].is_zero else None


def _follows(circuit: Circuit, ref: QuantityRef, moved: Sequence[Input]) -> bool:
    """Whether a formula holds while parts are turned and switched: equivalents are those of the circuit at rest."""
    if ref.kind not in {*DRIVEN, "resistance"}:
        return True
    inside = {leaf.path for path in ref.of for group in _groups(circuit.item, path) for leaf in leaves(group)}
    turned = {each.name for each in moved if each.kind == "turn"} if ref.kind in DRIVEN else set()
    switched = {each.name.rpartition(":")[0] for each in moved if each.kind == "switch"}
    return not inside & (turned | switched)


def _groups(item: Item, path: str) -> Iterator[Item]:
    """Items of more than one part with a path."""
    inner = members(item)
    if inner and item.path == path:
        yield item
    for each in inner:
        yield from _groups(each, path)


@dataclass(frozen=True, eq=False)
class _Movable(Arithmetic):
    """Arithmetic in which some letters stay letters although they have values."""

    kept: frozenset[str] = frozenset()

    def letter(self, name: str, own: Fraction | None = None) -> Number:
        return RationalFunction.letter(name) if name in self.kept else Arithmetic.letter(self, name, own)


def _with_moves(known: Answers, moved: Sequence[Input]) -> Solved:
    """The circuit with a letter on each EMF that may be turned and two in each part that may be switched."""
    lines = []
    turns = {each.name for each in moved if each.kind == "turn"}
    switches = {each.name.rpartition(":")[0] for each in moved if each.kind == "switch"}
    letter = RationalFunction.letter
    for branch, line in zip(known.flat.branches, known.solved.lines, strict=True):
        new = line
        if branch.path in switches:
            new = Line(letter(f"{branch.path}:a"), -letter(f"{branch.path}:b"), Fraction(0))
        if branch.path in turns:
            new = replace(new, c=new.c * letter(branch.path))
        lines.append(new)
    return Solved(known.flat, known.numbers, lines)
