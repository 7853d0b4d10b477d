"""Laying flat: directions, factors, breaks and joints."""

from __future__ import annotations

import pytest

from boardproof.circuit.lay_flat import has_loop, lay_flat
from boardproof.circuit.network import FlatNetwork
from boardproof.circuit.read import read_circuit
from boardproof.source import Slice, Span

PARTS = "A, B, C = cell; R, R_1, R_2 = resistor; S = switch; M = voltmeter; row = A + B; bank = 3s4p of C;"


def flat(text: str) -> FlatNetwork:
    text = f"{PARTS}{text}"
    circuit = read_circuit(Slice(text, Span("t", 0, len(text)))).at_hand
    assert circuit is not None
    return lay_flat(circuit)


def walked(text: str) -> dict[str, tuple[int, int]]:
    return {branch.path: (branch.tail, branch.head) for branch in flat(text).branches}


def test_a_load_is_walked_from_plus_to_minus_in_the_order_written() -> None:
    assert walked("A across (R_1 + R_2)") == {"A": (0, 1), "R_1": (1, 2), "R_2": (2, 0)}


def test_cells_across_cells_stand_plus_to_plus() -> None:
    assert walked("A across B") == {"A": (0, 1), "B": (0, 1)}


def test_a_resistor_beside_a_cell_is_walked_from_plus_to_minus() -> None:
    assert walked("A || R") == {"A": (0, 1), "R": (1, 0)}
    assert walked("R_1 || R") == {"R_1": (0, 1), "R": (0, 1)}


def test_a_turned_cell_is_marked_and_a_turned_row_is_walked_backwards() -> None:
    cell = flat("A across R but turn A")
    assert (cell.branches[0].tail, cell.branches[0].head, cell.branches[0].turned) == (0, 1, True)
    assert cell.ends["A"] == (1, 0)
    row = flat("row across R but turn row")
    assert [(each.path, each.tail, each.head, each.turned) for each in row.branches[:2]] == [
        ("A", 1, 2, False),
        ("B", 2, 0, False),
    ]
    assert row.ends["row"] == (1, 0)


def test_alike_copies_are_one_branch_with_its_factors() -> None:
    found = flat("bank across R")
    assert [(each.path, each.in_series, each.in_parallel) for each in found.branches] == [
        ("bank.1.1", (3,), (4,)),
        ("R", (), ()),
    ]
    assert found.factors["bank.1"] == ((), (4,))


def test_a_break_leaves_the_part_drawn_and_a_removal_does_not() -> None:
    broken, gone = flat("A across R but open R"), flat("A across R but remove R")
    assert [(each.is_open, each.is_drawn) for each in (broken.branches[1], gone.branches[1])] == [
        (True, True),
        (True, False),
    ]


def test_a_broken_group_breaks_at_its_last_end() -> None:
    found = flat("row across R but open row")
    assert [(each.path, each.tail, each.head, each.is_open) for each in found.branches[:3]] == [
        ("open:row", 2, 1, True),
        ("A", 0, 3, False),
        ("B", 3, 2, False),
    ]
    assert found.ends["row"] == (0, 1)


def test_a_short_lays_a_wire_and_taking_emfs_out_keeps_the_cells() -> None:
    found = flat("row across R but short row, no emf in A")
    assert [(each.path, each.leaf is None, each.emf_out) for each in found.branches] == [
        ("short:row", True, False),
        ("A", False, True),
        ("B", False, False),
        ("R", False, False),
    ]


def test_what_no_current_can_pass() -> None:
    found = {each.path: each.is_open for each in flat("(A + S) across (R || M)").branches}
    assert found == {"A": False, "S": True, "R": False, "M": True}


def test_named_nodes_of_a_complete_network() -> None:
    found = flat("network web; A from a to b; R from b to a; web")
    assert (dict(found.names), found.outside, found.nodes) == ({"a": 0, "b": 1}, None, 2)


def test_joints_in_a_row_lie_between_neighbours() -> None:
    found = flat("x = 3s2p link 1 ohm of B; x across R")
    assert [(each.path, each.in_series, each.in_parallel) for each in found.branches[:2]] == [
        ("x.1.1", (3,), (2,)),
        ("link:x.1.1", (2,), (2,)),
    ]


def test_tied_blocks_are_laid_out_one_by_one() -> None:
    found = flat("x = 3p2s links of B; x across R")
    cells = [each for each in found.branches if each.path.startswith("x.")]
    ties = [each for each in found.branches if each.path.startswith("link:")]
    assert [each.path for each in cells] == ["x.1.1", "x.1.2", "x.1.3", "x.2.1", "x.2.2", "x.2.3"]
    assert [each.path for each in ties] == ["link:x.1.1", "link:x.1.2"]
    assert all(each.leaf is None for each in ties)
    assert found.nodes == 5


@pytest.mark.parametrize(
    ("text", "loop"),
    [("row", False), ("A || B", True), ("bank", True), ("A across R", True), ("(A + S) across R", False)],
)
def test_whether_a_current_can_flow_at_all(text, loop) -> None:
    found = read_circuit(Slice(PARTS + text, Span("t", 0, len(PARTS + text)))).at_hand
    assert has_loop(found) is loop
