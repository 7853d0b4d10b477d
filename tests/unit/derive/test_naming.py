import pytest

from boardproof.circuit.model import Circuit
from boardproof.derive.naming import Nameless, Naming
from unit.derive.boards import place

PAIR = "A = cell E_1, r_1; B = cell E_2, r_2; R = resistor; both = A || B; main = both across R; "


def names(text: str) -> Naming:
    world = place(text)
    return Naming(world, tuple(world.definitions.lets))


def test_letters_and_implied_names() -> None:
    found = names(PAIR)
    asked = [("emf", "A"), ("current", "A"), ("pd", "B"), ("emf", "both"), ("resistance", "R")]
    assert [found.name(*each) for each in asked] == ["E_1", "I_1", "V_2", "E_both", "R"]


def test_the_lesson_s_own_name_goes_first() -> None:
    found = names(PAIR + "let E_p = emf of both; let I_top = current in A")
    assert (found.name("emf", "both"), found.name("current", "A")) == ("E_p", "I_top")


def test_the_group_that_drives_has_the_plain_letters() -> None:
    found = names(PAIR)
    assert (found.outside("pd", "both"), found.outside("current", "both")) == ("V", "I")
    assert found.outside("pd", "A") == "V_1"


def test_a_name_that_means_something_else_is_not_given_out() -> None:
    with pytest.raises(Nameless):
        names(PAIR + "let I_1 = current in R").name("current", "A")


def test_what_stands_nowhere_has_no_name() -> None:
    with pytest.raises(Nameless):
        names(PAIR).name("emf", "nobody")


def test_a_quantity_of_another_circuit_gets_a_definition_once() -> None:
    found = names(PAIR)
    alone = Circuit(found.entry("both").item, {}, None, "both")
    assert found.other("pd", "both", alone, "V_0", "p.d. across both when both") == "V_0"
    assert found.defined == {"V_0": "p.d. across both when both"}
    with pytest.raises(Nameless):
        found.other("current", "A", alone, "V_0", "current in A when both")


def test_values_of_names_and_of_lets() -> None:
    found = names(PAIR + "let N = 2 r_1")
    assert repr(found.value("N")) == "2*r_1"
    assert found.value("nobody") is None
