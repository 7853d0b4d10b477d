import pytest

from boardproof.circuit.model import Item
from boardproof.circuit.read import read_circuit
from boardproof.prove.alike import alike, roles
from boardproof.source import Source
from unit.prove.boards import equation

CELLS = "A = cell E_1, r_1; B = cell E_2, r_2; C = cell E, r; D = cell E, r; "
PARTS = CELLS + "R = resistor; S = switch open; T = switch closed; "


def item(text: str) -> Item:
    read = read_circuit(Source("x", PARTS + text).slice())
    assert read.at_hand is not None, read.findings
    return read.at_hand.item


@pytest.mark.parametrize(
    ("one", "other", "same"),
    [
        ("I = I_1 + I_2", "I_2 + I_1 = I", True),
        ("V = I R", "V = R I", True),
        ("V = E - I r", "V = E - r I", True),
        ("I = V/R", "R = V/I", False),
        ("V = I^2", "V = I^3", False),
        ("r_p = r_1 || r_2", "r_p = r_2 || r_1", True),
        ("V = 2*E", "V = 3*E", False),
        ("x = sqrt(E)", "x = sqrt(E)", True),
    ],
)
def test_lines_that_say_the_same_word_for_word(one: str, other: str, *, same: bool) -> None:
    assert alike(equation(one), equation(other)) is same


def test_letters_are_matched_by_role() -> None:
    found = roles(item("g = A || B; g across R"), item("h = B || A; h across R"))
    assert found is not None
    assert {name: repr(each) for name, each in found.letters.items() if name.startswith("r")} == {
        "r_1": "r_2",
        "r_2": "r_1",
    }


def test_a_count_is_matched_with_a_number() -> None:
    found = roles(item("g = n of A in series; g across R"), item("h = 4s of B; h across R"))
    assert found is not None
    assert found.letters["n"] == 4


@pytest.mark.parametrize(
    ("there", "here"),
    [
        ("(A || B) across R", "(A + B) across R"),
        ("(A || B) across R", "(A || -B) across R"),
        ("(C || D) across R", "(A || B) across R"),
        ("(A || B) across R", "((A || B) || C) across R"),
        ("g = 3s of A; g across R", "h = 3p of A; h across R"),
        ("g = 3s of A; g across R", "h = 4s of A; h across R"),
        ("(A + S) across R", "(A + T) across R"),
        ("network w\n A from a to b\n R from b to a\n", "network w\n A from a to b\n R from a to b\n"),
        ("A across R", "(A + B) across R"),
        ("g = A || B; m = g across R; m but short g", "g = A || B; m = g across R; m but open g"),
    ],
)
def test_other_shapes_have_no_roles(there: str, here: str) -> None:
    assert roles(item(there), item(here)) is None


def test_networks_match_whatever_their_nodes_are_called() -> None:
    one = "network w\n A from a to b\n R from b to a\n"
    assert roles(
        item(one), item(one.replace("from a to b", "from x to y").replace("from b to a", "from y to x"))
    )


@pytest.mark.parametrize(
    ("there", "here"),
    [
        ("g = A || B; m = g across R; m but short g", "h = A || B; k = h across R; k but open h"),
        ("g = A || B || C; g across R", "h = A || B; h across R"),
        ("W = wire; W across A", "R across A"),
        ("L = resistor; g = A + L; g across R", "h = A + B; h across R"),
        ("A across R", "W = wire; A across W"),
    ],
)
def test_what_was_done_and_how_many_there_are_count_too(there: str, here: str) -> None:
    assert roles(item(there), item(here)) is None


def test_copies_of_one_number_match() -> None:
    assert roles(item("g = 3s of A; g across R"), item("h = 3s of B; h across R"))
    assert roles(
        item("m = g across R; g = A || B; m but no emf in A"),
        item("m = g across R; g = B || A; m but no emf in B"),
    )
