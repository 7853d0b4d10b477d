from fractions import Fraction as F

import pytest

from boardproof.algebra.polynomial import RationalFunction
from boardproof.circuit.model import Leaf, Part, Worth
from boardproof.circuit.network import Branch, FlatNetwork
from boardproof.findings import Finding
from boardproof.solve.arithmetic import Arithmetic
from boardproof.solve.line import Line
from boardproof.solve.network import Solved


def solved(nodes, *edges):
    """Edges (tail, head, a, b, c)."""
    branches = tuple(Branch(None, f"P{place}", *edge[:2]) for place, edge in enumerate(edges))
    lines = [Line(*map(F, edge[2:])) for edge in edges]
    return Solved(FlatNetwork(nodes, branches, {}, {}, None), Arithmetic("exact"), lines)


def test_a_bridge_out_of_balance():
    # 54 V on 2 + 11 and 14 + 3 ohm, 32 ohm across: Bird, Electrical Circuit Theory and Technology, example 13.4
    net = solved(
        4,
        (3, 0, 1, 0, 54),
        (0, 1, 1, 2, 0),
        (1, 3, 1, 11, 0),
        (0, 2, 1, 14, 0),
        (2, 3, 1, 3, 0),
        (1, 2, 1, 32, 0),
    )
    assert [net.flow(place) for place in range(6)] == [8, 5, 4, 3, 4, 1]


def test_wires_carry_what_the_far_side_needs():
    net = solved(4, (0, 1, 1, 0, 12), (1, 2, 1, 0, 0), (2, 3, 1, 0, 0), (2, 0, 1, 3, 0), (3, 0, 1, 6, 0))
    assert [net.flow(place) for place in range(5)] == [6, 6, 2, 4, 2]


def test_pieces_that_share_a_single_node_do_not_disturb_each_other():
    net = solved(3, (0, 1, 1, 1, 6), (1, 0, 1, 2, 0), (1, 2, 1, 1, 8), (2, 1, 1, 3, 0))
    assert [net.flow(place) for place in range(4)] == [2, 2, 2, 2]
    assert net.between(2, 0) == 4 + 6


def test_a_branch_on_no_loop_carries_nothing_and_keeps_its_emf():
    net = solved(3, (0, 1, 1, 1, 6), (1, 0, 1, 2, 0), (1, 2, 1, 1, 8))
    assert (net.flow(2), net.rise(2), net.between(2, 0)) == (0, 8, 12)


def test_a_branch_shorted_by_a_source_gets_all_of_it():
    net = solved(2, (0, 1, 1, 0, 6), (1, 0, 1, 2, 0), (0, 1, 1, 3, 9))
    assert [net.flow(place) for place in range(3)] == [2, 3, 1]
    assert [net.rise(place) for place in range(3)] == [6, -6, 6]


def test_a_wire_beside_a_contradiction_still_carries_its_own():
    net = solved(
        5,
        (0, 1, 1, 0, 6),
        (0, 1, 1, 0, 7),
        (1, 2, 1, 0, 0),
        (2, 3, 1, 1, 4),
        (3, 2, 1, 1, 0),
        (3, 4, 1, 0, 0),
        (4, 3, 1, 5, 5),
    )
    assert isinstance(net.flow(0), Finding)
    assert (net.flow(2), net.flow(3), net.flow(5), net.flow(6)) == (0, 2, 1, 1)


@pytest.mark.parametrize("way", ["exact", "letters"])
def test_nothing_at_all_has_no_pd(way):
    net = Solved(FlatNetwork(2, (), {}, {}, None), Arithmetic(way), [])
    assert net.between(0, 0) == 0
    assert net.between(0, 1).kind.code == "floating-part"
    assert net.inflow(0, []) == 0


def mesh(count, way="letters"):
    """Every node joined to every other, with letters of their own; the first branch is a cell."""
    edges = [(one, other) for one in range(count) for other in range(one + 1, count)]
    parts = [Part(f"A{k}", "resistor", resistance=Worth(f"r_{k}")) for k in range(len(edges))]
    parts[0] = Part("A0", "cell", Worth("E_0"), Worth("r_0"))
    branches = tuple(
        Branch(Leaf(part.name, part), part.name, *edge) for part, edge in zip(parts, edges, strict=True)
    )
    values = {f"{stem}_{k}": F(2 * k + 1, 1 + k % 3) for k in range(len(edges)) for stem in "Er"}
    return Solved(FlatNetwork(count, branches, {}, {}, None), Arithmetic(way, values)), values


@pytest.mark.parametrize("count", [4, 5])
def test_networks_that_cannot_be_folded_come_out_alike_in_letters_and_numbers(count):
    exact, values = mesh(count, "exact")
    letters, _ = mesh(count)
    for place in (0, len(exact.lines) - 1):
        assert letters.flow(place).evaluate(values) == exact.flow(place)
        assert letters.rise(place).evaluate(values) == exact.rise(place)


def test_the_middle_of_a_bridge_in_letters():
    # Known by the balance condition: no current when R1 R4 = R2 R3.
    names = ["R1", "R2", "R3", "R4", "R5"]
    parts = [
        Part("A", "source", Worth("E")),
        *(Part(each, "resistor", resistance=Worth(each)) for each in names),
    ]
    edges = [(3, 0), (0, 1), (1, 3), (0, 2), (2, 3), (1, 2)]
    branches = tuple(
        Branch(Leaf(part.name, part), part.name, *edge) for part, edge in zip(parts, edges, strict=True)
    )
    flow = Solved(FlatNetwork(4, branches, {}, {}, None), Arithmetic("letters")).flow(5)
    E, R1, R2, R3, R4 = (RationalFunction.letter(each) for each in ("E", *names[:4]))
    assert flow.numerator == E * (R2 * R3 - R1 * R4)


def test_reasons_are_handed_on():
    net = solved(3, (0, 1, 1, 0, 6), (0, 1, 1, 0, 7), (1, 2, 1, 1, 4), (2, 1, 1, 1, 0))
    assert isinstance(net.rise(0), Finding)
    assert isinstance(net.inflow(1, [0, 2]), Finding)
    assert net.inflow(1, [2, 3]) == 0
