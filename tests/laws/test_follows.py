"""The rules, as the checker uses them, say of any circuit exactly what the solver says."""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction
from typing import TYPE_CHECKING

from hypothesis import given, settings
from hypothesis import strategies as st

from boardproof.algebra.expression import Name, Number, Relation
from boardproof.circuit.model import Leaf, has_cells
from boardproof.circuit.quantity import QuantityRef
from boardproof.prove.follows import follows
from boardproof.prove.rules import RULES
from boardproof.prove.wiring import wiring
from boardproof.solve.answers import Value, answers
from laws.circuits import any_circuits, circuits

if TYPE_CHECKING:
    from collections.abc import Iterator

    from boardproof.circuit.model import Circuit


@dataclass
class Table:
    """Names for quantities, by number."""

    circuit: Circuit
    refs: dict[str, QuantityRef] = field(default_factory=dict)
    imagined: Circuit | None = None

    def means(self, name: str) -> QuantityRef | None:
        return self.refs.get(name)

    def circuit_of(self, _: str) -> Circuit:
        return self.circuit


def quantities(circuit: Circuit) -> Iterator[QuantityRef]:
    """Currents and p.d.s of parts and named groups, and what each named group with cells is worth."""
    for path, entry in wiring(circuit.item, circuit.zero).entries.items():
        if path.startswith("*") or path in ("main", "web"):
            continue
        yield QuantityRef("current", (path,), circuit.id)
        yield QuantityRef("pd", (path,), circuit.id)
        if not isinstance(entry.item, Leaf) and has_cells(entry.item):
            yield QuantityRef("emf", (path,), circuit.id)
            yield QuantityRef("resistance", (path,), circuit.id)


def known(circuit: Circuit) -> list[tuple[QuantityRef, Fraction]]:
    asked = ((ref, answers(circuit, "exact").ask(ref)) for ref in quantities(circuit))
    return [(ref, found.exact) for ref, found in asked if isinstance(found, Value)]


def said(circuit: Circuit, ref: QuantityRef, value: Fraction, *rules: str) -> str:
    line = Relation(Name("x"), "=", Number(value))
    found = follows(line, [], (*rules, "numbers"), Table(circuit, {"x": ref}), taught=(), limit_seconds=8)
    return found.kind


@given(any_circuits(most=8), st.data())
@settings(max_examples=20)
def test_all_rules_together_give_what_the_solver_gives(circuit: Circuit, data: st.DataObject) -> None:
    pairs = known(circuit)
    if pairs:
        ref, value = data.draw(st.sampled_from(pairs))
        assert said(circuit, ref, value, *RULES) == "yes"


@given(any_circuits(most=8), st.data())
@settings(max_examples=20)
def test_no_rules_give_anything_else(circuit: Circuit, data: st.DataObject) -> None:
    pairs = known(circuit)
    if pairs:
        ref, value = data.draw(st.sampled_from(pairs))
        off = data.draw(st.sampled_from([Fraction(1, 7), Fraction(-1), value or Fraction(2)]))
        assert said(circuit, ref, value + off, *RULES) != "yes"


@given(circuits(most=5), st.data())
@settings(max_examples=15)
def test_one_rule_left_out_never_makes_a_false_line_follow(circuit: Circuit, data: st.DataObject) -> None:
    pairs = known(circuit)
    if pairs:
        ref, value = data.draw(st.sampled_from(pairs))
        rules = [rule for rule in RULES if rule != data.draw(st.sampled_from(RULES))]
        assert said(circuit, ref, value + 1, *rules) != "yes"
