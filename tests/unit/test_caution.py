"""Cautions: tiers and dangers come from computed values, chemistry and wiring (limits: our own cautious choice)."""

import pytest

from boardproof.caution import Danger, caution_for, dangers, tier_of
from boardproof.circuit.model import Circuit
from boardproof.circuit.read import read_circuit
from boardproof.source import Source


def circuit(text: str) -> Circuit:
    found = read_circuit(Source("x", text).slice()).at_hand
    assert found is not None
    return found


def words(text: str, *, short: bool = False) -> set[str]:
    return {danger.word for danger in dangers(circuit(text), imagined_short=short)}


def tier(text: str) -> str:
    return tier_of(dangers(circuit(text)))


def test_a_small_cell_with_a_large_load_needs_no_caution() -> None:
    assert words("A = cell 1.5 V, 0.5 ohm; R = resistor 5 ohm; A across R") == set()
    assert caution_for((), rules="rules") is None


@pytest.mark.parametrize(
    ("cell", "wanted"),
    [
        ("1.5 V, 0.4 ohm", "small"),  # 3.75 A shorted
        ("1.5 V, 0.3 ohm", "small"),  # 5 A exactly
        ("1.5 V, 0.2 ohm", "strong"),  # 7.5 A: the alkaline cell of the sample in the reference
        ("1.2 V, 2 ohm, rechargeable", "strong"),
        ("3.7 V, 2 ohm, lithium", "strong"),
        ("61 V, 100 ohm", "paper"),
        ("48 V, 0.5 ohm", "paper"),  # 48²/(4 x 0.5) = 1152 W to be had
    ],
)
def test_the_tier_follows_current_chemistry_voltage_and_power(cell: str, wanted: str) -> None:
    assert tier(f"A = cell {cell}; R = resistor 500 ohm; A across R") == wanted


def test_unlike_cells_in_parallel_tell_their_current_at_rest() -> None:
    found = dangers(
        circuit("A = cell 6 V, 2 ohm; B = cell 4.5 V, 3 ohm; R = resistor 5 ohm; (A || B) across R")
    )
    (unlike,) = [danger for danger in found if danger.word == "unlike"]
    assert unlike.value == "0.3\u202fA"


def test_like_cells_in_parallel_are_not_called_unlike() -> None:
    assert "unlike" not in words("A = cell 6 V, 2 ohm; R = resistor 5 ohm; 2p of A across R")


def test_a_turned_cell_a_charged_cell_and_a_short_are_seen() -> None:
    pair = "A = cell 6 V, 2 ohm; B = cell 4.5 V, 3 ohm; R = resistor 9.6 ohm; both = A || B; "
    assert "charging" in words(pair + "both across R")
    assert "turned" in words(pair + "(A || -B) across R")
    assert "short" in words(pair + "main = both across R; main but short both")
    assert "short" in words(pair + "both across R", short=True)


def test_a_load_below_the_internal_resistance_counts_as_a_short() -> None:
    assert "short" in words("A = cell 1.5 V, 2 ohm; R = resistor 1 ohm; A across R")


def test_letters_without_values_are_judged_by_the_wiring() -> None:
    assert "unlike" in words("A = cell E_1, r_1; B = cell E_2, r_2; R = resistor; (A || B) across R")


def test_every_full_caution_defers_to_rules_and_qualified_people() -> None:
    for word in ("short", "lithium", "rows"):
        caution = caution_for([Danger(word, "strong")], rules="the rules of the school")
        assert caution is not None
        assert "the rules of the school" in caution.full
        assert "qualified" in caution.full
        assert " safe" not in caution.full


def test_a_paper_exercise_says_so_at_once() -> None:
    caution = caution_for([Danger("shock", "paper", "61 V")], rules="the rules")
    assert caution is not None
    assert caution.short.startswith("Paper exercise only.")
    assert "nothing here is to be built" in caution.full
