from boardproof.circuit.read import read_circuit
from boardproof.prove.wiring import Wiring, wiring
from boardproof.source import Source

CELLS = "A = cell E_1, r_1; B = cell E_2, r_2; C = cell E_3, r_3; R = resistor; S = switch; W = wire; M = voltmeter; "


def wired(text: str) -> Wiring:
    read = read_circuit(Source("x", CELLS + text).slice())
    assert read.at_hand is not None, read.findings
    return wiring(read.at_hand.item, read.at_hand.zero)


def current(found: Wiring, path: str) -> tuple[int, int]:
    entry = found.entry(path)
    assert entry is not None
    return entry.current


def test_one_path_has_one_current() -> None:
    found = wired("(A + B) across R")
    assert current(found, "A") == current(found, "B") == current(found, "R")


def test_a_turned_cell_carries_the_same_current_against_its_own_arrow() -> None:
    found = wired("(A + -B) across R")
    number, sign = current(found, "A")
    assert current(found, "B") == (number, -sign)


def test_an_open_switch_carries_no_current() -> None:
    found = wired("(A + S) across R")
    assert current(found, "A") == current(found, "R") == (-1, 1)


def test_a_dead_branch_leaves_one_path() -> None:
    found = wired("pair = A || (B + S); pair across R")
    assert current(found, "A") == current(found, "R")
    assert found.junctions == ()


def test_two_cells_alone_make_one_path() -> None:
    found = wired("pair = A || B; pair")
    number, sign = current(found, "A")
    assert current(found, "B") == (number, -sign)


def test_two_cells_that_would_cancel_make_no_current_of_their_own() -> None:
    found = wired("pair = A || B; (pair + S) across R")
    assert current(found, "pair") == (-1, 1)


def test_ends_of_a_wire_are_one_node() -> None:
    found = wired("(A + W) across R")
    one, other = found.entry("A"), found.entry("R")
    assert one is not None
    assert other is not None
    assert {one.first, one.last} == {other.first, other.last}


def test_two_sides_with_cells_are_joined_plus_to_plus() -> None:
    found = wired("A across B")
    number, sign = current(found, "A")
    assert current(found, "B") == (number, -sign)


def test_any_member_of_a_run_of_copies_is_found() -> None:
    found = wired("bank = 3s4p of A; bank across R")
    assert found.entry("bank.3.2") is found.entry("bank.1.1")
    assert found.entry("bank.9.1") is None
    assert found.entry("nobody") is None


def test_a_shorted_group_is_known_as_such() -> None:
    found = wired("pair = A || B; main = pair across R; main but short pair")
    entry = found.entry("pair")
    assert entry is not None
    assert entry.is_shorted
    assert entry.first == entry.last


def test_what_was_taken_away_is_dead() -> None:
    found = wired("pair = A || B; main = pair across R; main but remove B")
    entry = found.entry("B")
    assert entry is not None
    assert (entry.is_dead, entry.current) == (True, (-1, 1))


def test_nodes_of_a_network_have_names() -> None:
    found = wired("network w\n A from a to b\n R from b to a\n")
    assert set(found.nodes) == {"a", "b"}
