"""What is written about a circuit reads back as that circuit; what is done twice, or laid flat, keeps its sense."""

from __future__ import annotations

from collections import Counter

from hypothesis import given
from hypothesis import strategies as st

from boardproof.circuit.change import apply
from boardproof.circuit.count import how_many
from boardproof.circuit.definitions import Definitions
from boardproof.circuit.lay_flat import lay_flat
from boardproof.circuit.model import Circuit, leaves
from boardproof.circuit.write import write
from boardproof.circuit.written import Act
from boardproof.source import Span
from laws.circuits import any_circuits, circuits, groups, read

HERE = Span("law", 0, 0)


def done(circuit: Circuit, how: str, path: str) -> Circuit:
    changed, wrong = apply(circuit, [Act(how, path, HERE)], Definitions())  # type: ignore[arg-type]
    assert not wrong
    return changed


@given(st.one_of(any_circuits(with_values=False), groups()))
def test_a_circuit_written_reads_back_as_itself(circuit: Circuit) -> None:
    assert read(write(circuit).splitlines()) == circuit


@given(circuits(), st.data())
def test_a_changed_circuit_written_reads_back_as_itself(circuit: Circuit, data: st.DataObject) -> None:
    for _ in range(data.draw(st.integers(1, 3))):
        path = data.draw(
            st.sampled_from([leaf.path for leaf in leaves(circuit.item) if leaf.path[:1].isalpha()])
        )
        how = data.draw(st.sampled_from(["turn", "open", "short", "no emf in", "remove"]))
        circuit = done(circuit, how, path)
    back = read(write(circuit).splitlines())
    assert back == circuit
    assert back.id == circuit.id


@given(circuits(), st.data())
def test_turning_twice_changes_nothing(circuit: Circuit, data: st.DataObject) -> None:
    path = data.draw(st.sampled_from([leaf.path for leaf in leaves(circuit.item) if leaf.path[:1].isalpha()]))
    assert done(done(circuit, "turn", path), "turn", path).id == circuit.id


@given(st.one_of(any_circuits(), groups()))
def test_laid_flat_no_part_is_lost_and_every_node_is_joined(circuit: Circuit) -> None:
    flat = lay_flat(circuit)
    many = 0
    for branch in flat.branches:
        factor = 1
        for count in (*branch.in_series, *branch.in_parallel):
            assert isinstance(count, int)
            factor *= count
        many += factor
    assert many == how_many(circuit.item, circuit.values)
    touched = Counter(node for branch in flat.branches for node in (branch.tail, branch.head))
    assert set(touched) == set(range(flat.nodes))
    inner = set(touched) - set(flat.outside or ())
    assert all(touched[node] > 1 for node in inner)


@given(circuits())
def test_the_group_and_the_load_share_both_ends(circuit: Circuit) -> None:
    flat = lay_flat(circuit)
    assert sorted(flat.ends["g"]) == [0, 1] == sorted(flat.ends["main"])
