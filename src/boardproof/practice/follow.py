"""Follow-through: what a part comes to when the student's own earlier answer is put in place of that quantity.

An EMF or resistance of a group: the group is replaced by one cell with the student's values, and the circuit is
solved again. Any other quantity, a current say: one letter of the circuit after the other gives way so far that the
quantity has the student's value, and the part is worked out there. Each letter that gives way is a way of working
that does not use it (V = E - I r without R, V = I R without r), so each is a fair answer; no tolerance is widened.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction

from boardproof.algebra.polynomial import RationalFunction
from boardproof.belief.ground import rewritten
from boardproof.circuit.model import Circuit, Item, Leaf, Part, Worth
from boardproof.circuit.quantity import QuantityRef
from boardproof.record import record
from boardproof.solve.answers import Value, answers

__all__ = ["Own", "carried_on"]

GROUPS = frozenset({"emf", "resistance"})


@record
class Own:
    """A student's own value of an earlier quantity, in SI units."""

    ref: QuantityRef
    value: Fraction


def carried_on(
    circuit: Circuit, values: Mapping[str, Fraction], asked: QuantityRef, own: Sequence[Own]
) -> tuple[Fraction, ...]:
    """Every fair value of a quantity, given the student's own earlier ones.

    Parameters
    ----------
    circuit : Circuit
        Of the question.
    values : mapping of str to Fraction
        Of all its letters, on this student's paper.
    asked : QuantityRef
        What the part asks for.
    own : sequence of Own
        What the student found for the parts before it.

    Examples
    --------
    >>> from boardproof.circuit.read import read_circuit
    >>> from boardproof.source import Source
    >>> text = "A = cell 6 V, 1 ohm; R = resistor 5 ohm; main = A across R"
    >>> main = read_circuit(Source("x", text).slice()).at_hand
    >>> current, pd = (QuantityRef(kind, ("R",), main.id) for kind in ("current", "pd"))
    >>> values = {"E_A": Fraction(6), "r_A": Fraction(1), "R": Fraction(5)}
    >>> sorted(map(str, carried_on(main, values, pd, [Own(current, Fraction(6, 5))])))
    ['24/5', '6']
    """
    groups = [each for each in own if each.ref.kind in GROUPS]
    others = [each for each in own if each.ref.kind not in GROUPS]
    circuit, values = _with_cells(circuit, dict(values), groups)
    formula = _formula(circuit, asked)
    if formula is None:
        return ()
    found = {_at(formula, values)} if groups else set()
    for each in others:
        before = _formula(circuit, each.ref)
        if before is not None:
            found |= set(_giving_way(before - each.value, formula, values))
    right = _at(formula, values) if not groups else None
    return tuple(each for each in found if each is not None and each != right)


def _with_cells(
    circuit: Circuit, values: dict[str, Fraction], own: Sequence[Own]
) -> tuple[Circuit, dict[str, Fraction]]:
    """The circuit with each group that was worked out before as one cell with the student's values."""
    for path in dict.fromkeys(each.ref.of[0] for each in own):
        found = {each.ref.kind: each.value for each in own if each.ref.of[0] == path}
        letters: dict[str, str] = {}
        for kind in ("emf", "resistance"):
            right = _formula(circuit, QuantityRef(kind, (path,), circuit.id))
            value = found.get(kind, _at(right, values) if right is not None else None)
            if value is not None:
                letters[kind] = f"{kind}_of_{path.replace('.', '_')}"
                values[letters[kind]] = value
        resistance = Worth(letters["resistance"]) if "resistance" in letters else None
        if "emf" in letters and values[letters["emf"]]:
            part = Part(path, "cell", emf=Worth(letters["emf"]), resistance=resistance)
        else:
            part = Part(path, "resistor", resistance=resistance)
        leaf = Leaf(path, part)

        def replaced(item: Item, path: str = path, leaf: Leaf = leaf) -> Item | None:
            return leaf if item.path == path else None

        circuit = Circuit(rewritten(circuit.item, replaced), values=circuit.values, zero=circuit.zero)
    return circuit, values


def _formula(circuit: Circuit, ref: QuantityRef) -> RationalFunction | None:
    found = answers(circuit, "letters").ask(QuantityRef(ref.kind, ref.of, circuit.id, ref.sense))
    return found.exact if isinstance(found, Value) and isinstance(found.exact, RationalFunction) else None


def _at(formula: RationalFunction, values: Mapping[str, Fraction]) -> Fraction | None:
    try:
        return formula.evaluate(values)
    except (ZeroDivisionError, KeyError):
        return None


def _giving_way(
    equation: RationalFunction, formula: RationalFunction, values: Mapping[str, Fraction]
) -> list[Fraction]:
    """The part's value for each letter that is moved until the equation holds."""
    found = []
    for letter in sorted(equation.letters):
        others = {name: value for name, value in values.items() if name != letter}
        try:
            terms = equation.substitute(others).numerator.coefficients(letter)
        except ZeroDivisionError:
            continue
        if len(terms) != 2:  # a letter that stands in it squared gives two values: no way of working is that
            continue
        low, high = (each.as_number for each in terms)
        if low is None or not high:
            continue
        value = _at(formula, {**others, letter: -low / high})
        if value is not None:
            found.append(value)
    return found
