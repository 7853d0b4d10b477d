"""What beliefs compute on any circuit, against the numbers of the catalogue of misconceptions and sums by hand."""

from __future__ import annotations

from fractions import Fraction

import numpy as np
import pytest

from boardproof.belief.anywhere import COMPUTED, thoughts
from boardproof.belief.catalogue import BELIEFS
from boardproof.belief.sources import CITED, PAPERS, cited
from boardproof.circuit.read import read_circuit
from boardproof.prove.worlds import Worlds
from boardproof.source import Source

EIGHT = """D = source 12 V
P = resistor 2 ohm
Q = resistor 12 ohm
S = resistor 6 ohm
pair = Q || S
load = P + pair
main = D across load"""
CELL = "A = cell E = 6 V, r = 1 ohm\nR = resistor 5 ohm\nmain = A across R"
LIT = "A = cell E = 6 V, r = 1 ohm\nR = resistor 5 ohm\nK = switch open\nmain = A across (K + R)"
LAMPS = "A = cell E = 6 V, r = 1 ohm\nR, S = resistor 10 ohm\nmain = A across R\ntwo = A across (R || S)"
PAIR = """A = cell E_1 = 6 V, r_1 = 1 ohm
B = cell E_2 = 3 V, r_2 = 2 ohm
R = resistor 6 ohm
both = A || B
main = both across R"""
ROW = PAIR.replace("A || B", "A + -B")
METER = "A = cell E = 6 V, r = 1 ohm\nR = resistor 5 ohm\nM = ammeter 0.5 ohm\nmain = A across (M + R)"
VOLTS = "A = cell E = 6 V, r = 1 ohm\nR = resistor 5 ohm\nU = voltmeter 20 ohm\nmain = A across (R || U)"

CASES = (
    (EIGHT, "equal_split_at_junction", "current in Q", "1"),
    (EIGHT, "all_takes_easiest_path", "current in S", "2"),
    (EIGHT, "all_takes_easiest_path", "current in Q", "0"),
    (EIGHT, "more_resistance_more_current", "current in Q", "4/3"),
    (EIGHT, "series_parallel_swapped", "I", "3/5"),
    (EIGHT, "reciprocal_forgotten", "I", "16/3"),
    (EIGHT, "parallel_is_mean", "I", "12/11"),
    (EIGHT, "pd_shared_equally_in_series", "p.d. across P", "6"),
    (EIGHT, "pd_goes_to_smaller", "p.d. across P", "8"),
    (EIGHT, "full_pd_on_each", "current in P", "6"),
    (EIGHT, "parallel_shares_pd", "p.d. across Q", "4"),
    (EIGHT, "bigger_resistor_always_hotter", "power in Q", "32/3"),
    (CELL, "most_power_at_least_load", "power in R", "36/5"),
    (CELL, "matched_means_efficient", "efficiency of A", "1"),
    (CELL, "short_circuit_draws_nothing", "short-circuit current of A", "0"),
    (CELL, "short_kills_pd_not_current", "short-circuit current of A", "1"),
    (CELL, "lost_volts_never_change", "p.d. across R when R = 2 ohm", "5"),
    (CELL, "loaded_reading_is_emf", "emf of A", "5"),
    (LIT, "open_gap_has_no_pd", "p.d. across K", "0"),
    (LIT, "no_current_no_pd", "p.d. across A", "0"),
    (LIT, "one_lead_is_enough", "current in R", "1"),
    (LAMPS, "branches_never_matter_to_each_other", "current in R when two", "6/11"),
    (LAMPS, "constant_current_source", "current in A when two", "6/11"),
    (PAIR, "equal_share_of_current", "current in B", "3/8"),
    (PAIR, "minus_answer_is_an_error", "current in B", "3/4"),
    (PAIR, "weak_cell_always_helps", "current in B", "3/4"),
    (PAIR, "loops_do_not_touch", "I", "69/56"),
    (PAIR, "parallel_strongest_wins", "E_both", "6"),
    (ROW, "signs_dropped_round_loop", "I", "1"),
    (ROW, "turned_cell_vanishes", "I", "6/7"),
    (METER, "ammeter_not_a_load", "current in R", "1"),
    (VOLTS, "voltmeter_draws_nothing", "p.d. across R", "5"),
)


def found(circuit, name):
    read = read_circuit(Source("circuit", circuit).slice())
    at_hand = read.definitions.circuits["main"]
    worlds = Worlds(read.definitions)
    asked = worlds.phrase(Source("asked", name).slice(), at_hand)
    if not hasattr(asked, "ref"):
        asked = worlds.of(at_hand).meant(name)
    before = at_hand if asked.circuit.id != at_hand.id else None
    return thoughts(asked, before), {**asked.circuit.values, **at_hand.values}


@pytest.mark.parametrize(("circuit", "belief", "name", "value"), CASES, ids=[f"{r[1]} {r[2]}" for r in CASES])
def test_believer_gets(circuit, belief, name, value):
    what, values = found(circuit, name)
    assert what[belief].at(values) == Fraction(value)
    many = {letter: np.full(3, float(worth)) for letter, worth in values.items()}
    assert np.allclose(what[belief].many(many), float(Fraction(value)))


def test_every_rule_is_a_belief_and_every_belief_cites_a_source_or_slip():
    assert set(BELIEFS) >= COMPUTED
    assert set(BELIEFS) >= set(CITED)
    assert all(tag in PAPERS for tags in CITED.values() for tag in tags.split())
    assert cited("load_left_out") == ("slip",)


def test_a_belief_about_the_load_says_nothing_of_a_branch():
    what, _ = found(EIGHT, "current in Q")
    assert "emf_divided_by_load" not in what
