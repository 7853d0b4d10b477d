"""What wrong beliefs compute, against numbers worked out by hand for small kits."""

from __future__ import annotations

from fractions import Fraction

import pytest

from boardproof.belief.catalogue import BELIEFS
from boardproof.belief.rules import RULED, believed, fitting
from boardproof.circuit.names import resolve
from boardproof.circuit.read import read_circuit
from boardproof.source import Source

PARTS = "A = cell E_1 = 6 V, r_1 = 1 ohm; B = cell E_2 = 3 V, r_2 = 2 ohm; R = resistor 6 ohm; "
PAIR = PARTS + "both = A || B; main = both across R"
ODD = PARTS + "both = A || -B; main = both across R"
ROW = PARTS + "both = A + B; main = both across R"
ROW_ODD = PARTS + "both = A + -B; main = both across R"
BANK = "A = cell E = 1.5 V, r = 0.2 ohm; R = resistor 4.2 ohm; both = 3s2p of A; main = both across R"
ONE = "A = cell E = 6 V, r = 1 ohm; R = resistor 5 ohm; main = A across R"
LIKE = "A = cell E = 6 V, r = 1 ohm; R = resistor 5 ohm; both = 4p of A; main = both across R"

# The kits and most of the values are those of the catalogue of misconceptions; the others follow by hand.
CASES = (
    (PAIR, "parallel_adds_emfs", "E_both", "9"),
    (PAIR, "parallel_plain_mean", "E_both", "9/2"),
    (PAIR, "parallel_strongest_wins", "E_both", "6"),
    (PAIR, "parallel_weights_upside_down", "E_both", "4"),
    (PAIR, "parallel_adds_r", "r_both", "3"),
    (PAIR, "parallel_r_not_turned_over", "r_both", "3/2"),
    (PAIR, "parallel_r_mean_over_n", "r_both", "3/4"),
    (PAIR, "parallel_r_unchanged", "r_both", "1"),
    (PAIR, "parallel_plain_mean", "I", "27/40"),
    (PAIR, "solo_currents_added", "I", "69/56"),
    (ODD, "turned_cell_not_noticed", "E_both", "5"),
    (ODD, "turned_in_parallel_just_subtracts", "E_both", "3"),
    (ROW, "series_r_not_added", "I", "9/7"),
    (ROW, "series_keeps_current", "I", "6/7"),
    (ROW_ODD, "turned_cell_not_noticed", "I", "1"),
    (ROW_ODD, "turned_cell_takes_r_away", "I", "3/5"),
    (ROW_ODD, "turned_cell_vanishes", "I", "6/7"),
    (BANK, "bank_counts_swapped", "E_both", "3"),
    (BANK, "bank_counts_swapped", "r_both", "2/15"),
    (BANK, "bank_r_from_one_row", "r_both", "3/5"),
    (BANK, "bank_r_from_one_row", "I", "15/16"),
    (BANK, "bank_r_all_added", "I", "5/6"),
    (ONE, "terminal_pd_is_emf", "V", "6"),
    (ONE, "emf_divided_by_load", "I", "6/5"),
    (ONE, "load_left_out", "I", "6"),
    (ONE, "lost_volts_added", "V", "7"),
    (LIKE, "n_cells_n_times_current", "I", "4"),
)


def quantity(circuit, name):
    read = read_circuit(Source("circuit", circuit).slice())
    return resolve(name, read.definitions, read.at_hand), read.at_hand.values


@pytest.mark.parametrize(
    ("circuit", "belief", "name", "value"), CASES, ids=[f"{row[1]} {row[2]}" for row in CASES]
)
def test_believer_gets(circuit, belief, name, value):
    asked, values = quantity(circuit, name)
    found = [each.substitute(values).as_number for each in believed(belief, asked)]
    assert Fraction(value) in found
    assert belief in fitting(believed(belief, asked)[found.index(Fraction(value))], asked)


def test_every_rule_belongs_to_a_belief_of_the_catalogue():
    assert set(BELIEFS) >= RULED


def test_a_belief_says_nothing_where_it_does_not_apply():
    asked, _ = quantity(ROW, "E_both")
    assert believed("parallel_plain_mean", asked) == ()
    assert believed("no such belief", asked) == ()
    assert believed("turned_cell_vanishes", asked) == ()
