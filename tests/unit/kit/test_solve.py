"""Quick questions about a circuit typed on the command line."""

from __future__ import annotations

import json
from fractions import Fraction

import pytest

from boardproof.kit.solve import answer

ONE = "A = cell 6 V, 1 ohm; R = resistor 5 ohm; A across R"
TWO = "A = cell 6 V, 1 ohm; B = cell 3 V, 2 ohm; R = resistor 9 ohm; both = A || B; both across R"
BRIDGE = """A = cell 6 V, 1 ohm; P, T = resistor 2 ohm; Q, S = resistor 3 ohm; M = resistor 5 ohm
network bridge
A from d to a
P from a to b
Q from b to d
S from a to c
T from c to d
M from b to c"""


def exact(typed: str, *wanted: str, **options: object) -> list[object]:
    return [each.amount.exact for each in answer(typed, wanted, **options).asked]


def row(typed: str, path: str, **options: object):
    return next(each for each in answer(typed, **options).parts if each.path == path)


def test_names_phrases_and_expressions_are_answered_in_order() -> None:
    assert exact(ONE, "I", "p.d. across R", "R I^2", "current in A when R = 2 ohm") == [1, 5, 5, 2]


def test_parts_tell_their_currents_with_a_direction() -> None:
    assert (row(ONE, "A").current.exact, row(ONE, "A").direction) == (1, "out of its plus")
    assert row(ONE, "R").direction == "from the plus of A to the minus of A"
    assert row(BRIDGE, "P").direction == "from a to b"
    assert row(BRIDGE, "M").direction == "from b to c"


def test_a_current_against_its_counting_direction_is_told_the_other_way_round() -> None:
    flipped = BRIDGE.replace("M from b to c", "M from c to b")
    assert row(flipped, "M").direction == "from b to c"
    assert row(flipped, "M").current == row(BRIDGE, "M").current
    assert row(flipped, "M").pd == row(BRIDGE, "M").pd


@pytest.mark.parametrize(
    ("changes", "state"),
    [("", "being charged"), (" but E_B = 6 V", "driving"), (" but turn B", "driven backwards")],
)
def test_each_cell_tells_what_it_does(changes: str, state: str) -> None:
    assert row(TWO.replace("both across R", f"both across R{changes}"), "B").state == state


def test_a_cell_forced_the_wrong_way_is_driven_backwards() -> None:
    typed = "A = cell 6 V, 1 ohm; B = cell 1 V, 9 ohm; R = resistor 1 ohm; (A + B) across R"
    assert row(typed, "B").state == "driven backwards"


def test_the_group_tells_all_that_is_seen_from_its_ends() -> None:
    found = dict(answer(TWO).group.amounts)
    assert found["EMF"].exact == found["open-circuit p.d."].exact == 5
    assert found["internal resistance"].exact == found["load for greatest power"].exact == Fraction(2, 3)
    assert found["short-circuit current"].exact == Fraction(15, 2)
    assert found["greatest power"].exact == Fraction(75, 8)
    assert found["lost volts"].exact + found["terminal p.d."].exact == found["EMF"].exact


def test_power_given_is_power_taken() -> None:
    for typed in (ONE, TWO, BRIDGE):
        rows = answer(typed).parts
        given = sum(each.power.exact for each in rows if each.kind == "cell")
        assert given == sum(each.power.exact for each in rows if each.kind != "cell")


def test_an_unnamed_group_is_asked_about_all_the_same() -> None:
    found = answer("A, B = cell 2 V, 1 ohm; R = resistor 3 ohm; (A || B) across R").group
    assert found.name == "the cells"
    assert dict(found.amounts)["internal resistance"].exact == Fraction(1, 2)


def test_letters_stand_where_there_are_no_values_or_when_asked_for() -> None:
    assert answer("A = cell; R = resistor; A across R", ["I"]).asked[0].amount.shown == "E_A/(R + r_A)"
    assert answer(ONE, ["I"], letters=True).asked[0].amount.shown == "E_A/(R + r_A)"
    assert answer(ONE, letters=True).parts[0].current.shown == "E_A/(R + r_A)"


def test_readings_fix_letters_and_then_everything_is_answered() -> None:
    readings = ["V = 1.4 V when R = 7 ohm", "V = 1.2 V when R = 3 ohm"]
    found = answer("A = cell; R = resistor; A across R", ["E", "r"], given=readings)
    assert [each.amount.exact for each in found.asked] == [Fraction(8, 5), 1]
    assert dict(found.fixed) == {"E_A": "1.6\u202fV", "r_A": "1\u202fΩ"}


def test_too_few_readings_say_which_one_would_help(boardproof) -> None:
    status, out, _ = boardproof(
        "solve", "A = cell; R = resistor; A across R", "--given", "V = 1.4 V when R = 7 ohm", "--for", "E"
    )
    assert status == 1
    assert "not-fixed" in out
    assert "One more would fix it" in out


@pytest.mark.parametrize(
    ("typed", "code"),
    [
        ("X = source 6 V; Y = source 9 V; R = resistor 1 ohm; (X || Y) across R", "clashing-sources"),
        ("X = source 6 V; W = wire; X across W", "shorted-source"),
        ("A = cel 6 V; R = resistor 1 ohm; A across R", "unknown-kind"),
        ("A = cell 6 V, -1 ohm; R = resistor 1 ohm; A across R", "impossible-value"),
        ("A = cell 6 V, 1 ohm; bank = 3s0p of A; R = resistor 1 ohm; bank across R", "zero-count"),
    ],
)
def test_an_ill_posed_circuit_is_explained_with_a_pointer(boardproof, typed: str, code: str) -> None:
    status, out, _ = boardproof("solve", typed)
    assert status == 1
    assert f"[{code}]" in out
    assert "^" in out


def test_no_circuit_at_all_is_not_done(boardproof) -> None:
    status, out, err = boardproof("solve", "A = cell 6 V, 1 ohm")
    assert (status, out) == (2, "")
    assert "A across R" in err


def test_an_unknown_name_is_not_done_and_near_ones_are_named(boardproof) -> None:
    status, out, err = boardproof("solve", ONE, "--for", "I_9", "--for", "I")
    assert status == 2
    assert "I_9: I don't know I_9. Did you mean" in err
    assert "I = 1\u202fA" in out


def test_cautions_stand_below_the_answers(boardproof) -> None:
    status, out, _ = boardproof("solve", TWO)
    assert status == 0
    assert out.index("Caution.") > out.index("short-circuit current")
    assert "rules" in out.partition("Caution.")[2]


def test_json_carries_exact_numbers_as_strings(boardproof) -> None:
    _, out, _ = boardproof("solve", TWO, "--json")
    found = json.loads(out)
    assert found["schema"] == 1
    assert found["group"]["internal_resistance"]["exact"] == "2/3"
    assert {part["path"]: part["state"] for part in found["parts"]}["B"] == "being charged"
    assert found["caution"]["tier"] == "strong"
    _, out, _ = boardproof("solve", TWO, "--json", "--for", "I")
    assert json.loads(out)["answers"][0]["exact"] == "15/29"


def test_copies_stand_once_with_their_number() -> None:
    typed = "A = cell 1.5 V, 0.5 ohm; bank = 3s4p of A; R = resistor 5 ohm; bank across R"
    assert [(each.path, each.alike) for each in answer(typed).parts] == [("bank.1.1", "12"), ("R", "")]


def test_a_capacitor_tells_what_it_holds() -> None:
    typed = "A = cell 6 V, 1 ohm; C = capacitor 2 uF; R = resistor 5 ohm; A across (R + C)"
    assert dict(row(typed, "C").stored)["charge"].exact == Fraction(12, 10**6)
