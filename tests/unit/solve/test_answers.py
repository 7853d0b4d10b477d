from dataclasses import replace
from fractions import Fraction as F

import numpy as np
import pytest

from boardproof.algebra.polynomial import RationalFunction
from boardproof.findings import worded
from boardproof.quantities import Dimension
from boardproof.solve.answers import Unknown, answers
from unit.solve.asking import asked, circuit, ref

letter = RationalFunction.letter
TWO = "both = A || B\nmain = both across R"


def test_unlike_cells_side_by_side_drive_and_are_charged():
    told = asked(TWO, "current A", "current B", "current both", "current R", "pd both", "pd R")
    assert told == [F(21, 16), F(-27, 32), F(15, 32), F(15, 32), F(75, 16), F(75, 16)]


def test_a_group_is_seen_from_its_own_ends_whatever_it_is_joined_to():
    told = asked(TWO, "emf both", "resistance both", "short_circuit_current both", "greatest_power both")
    assert told == [5, F(2, 3), F(15, 2), F(75, 8)]


def test_flipping_a_cell_changes_the_sign_of_its_emf_but_not_of_its_own_current():
    told = asked("both = A || -B\nmain = both across R", "emf both", "current B", "pd B", "current both")
    assert told == [3, F(93, 32), F(-45, 16), F(9, 32)]


def test_a_group_turned_round_keeps_its_own_plus_end():
    told = asked(
        "row = A + B\nmain = -row across R", "current A", "current row", "pd row", "current R", "pd R"
    )
    assert told == [F(9, 13), F(9, 13), F(90, 13), F(-9, 13), F(-90, 13)]


def test_the_other_direction_is_minus():
    whole = circuit(TWO)
    other = ref("current A", whole)
    turned = type(other)(other.kind, other.of, other.circuit, -1)
    assert answers(whole).ask(turned).exact == F(-21, 16)


def test_powers_of_a_group_are_those_of_its_cells_as_they_are():
    told = asked(TWO, "heat both", "power_given both", "power_out both", "power R", "lost_volts A")
    assert told == [F(1611, 512), F(171, 32), F(1125, 512), F(1125, 512), F(21, 16)]


def test_efficiency_is_load_power_over_what_the_driving_cells_give():
    assert asked(TWO, "efficiency both", "efficiency main", "efficiency A") == [
        F(125, 448),
        F(125, 448),
        F(25, 32),
    ]


def test_efficiency_of_unlike_cells_is_refused_in_letters():
    told = asked(TWO, "efficiency both", "efficiency A", way="letters")
    assert told == ["unlike-cells", "unlike-cells"]


def test_efficiency_of_one_cell_in_letters():
    R, r = letter("R"), letter("r_A")
    assert asked("main = A across R", "efficiency A", way="letters") == R / (R + r)


def test_no_cell_drives_no_efficiency():
    assert asked("main = A across (R + S)", "efficiency A") == "no-such-quantity"


BANK = "bank = 3s4p of A\nmain = bank across R"


def test_copies_that_are_alike_share_by_symmetry():
    told = asked(BANK, "current bank.2.3", "current bank.1", "current bank", "pd bank.2", "pd bank.2.3")
    assert told == [F(18, 43), F(18, 43), F(72, 43), F(720, 43), F(240, 43)]


def test_heat_of_one_cell_is_a_twelfth_of_that_of_twelve_alike():
    whole, one = asked(BANK, "heat bank", "heat bank.2.1")
    assert whole == 12 * one


def test_a_turned_cell_in_a_bank_is_driven_the_other_way():
    told = asked(BANK + " but turn bank.2.3", "current bank.2.3", "current bank.2", "current bank.3.1")
    assert told == [F(114, 43), F(-114, 43), F(58, 43)]


def test_a_shorted_cell_has_its_short_circuit_current_and_its_row_goes_on():
    told = asked(BANK + " but short bank.2.3", "current bank.2.3", "current bank.2.1", "emf bank.2")
    assert told == [6, F(-3, 2), 12]


def test_blocks_in_series_with_one_weak_cell():
    text = "bank = 4p3s of A\nmain = bank across R but bank.2.3 = 1.2 V, 3 ohm"
    assert asked(text, "current bank.2.3", "pd bank.2", "pd bank", "emf bank") == [
        F(-23, 18),
        F(151, 30),
        F(146, 9),
        F(438, 25),
    ]


def test_ties_between_rows_carry_what_unlike_rows_need():
    text = "bank = 2p2s of A links\nmain = bank across R but bank.1.1 = 3 V, 1 ohm"
    flat = "bank = 2p2s of A\nmain = bank across R but bank.1.1 = 3 V, 1 ohm"
    assert asked(text, "pd bank", "current bank") == asked(flat, "pd bank", "current bank")


def test_a_block_of_tied_rows_carries_what_the_bank_gives():
    text = "bank = 4p3s of A link 0.2 mohm\nmain = bank across R"
    whole, block, one = asked(text, "current bank", "current bank.2", "current bank.2.3")
    assert whole == block == 4 * one == F(18) / (10 + F(3, 4))
    uneven = text + " but turn bank.2.3"
    told = asked(uneven, "current bank", "current bank.1", "current bank.2", "heat bank.2", "heat bank.2.1")
    assert told[0] == told[1] == told[2]
    assert told[3] > told[4] > 0


def test_counts_may_be_letters():
    n, R, r, E = (letter(each) for each in ("n", "R", "r_A", "E_A"))
    text = "many = n of A in parallel\nmain = many across R"
    told = asked(
        text, "current many", "current many.1", "resistance many", "cells_in many", "count n", way="letters"
    )
    assert told == [n * E / (n * R + r), E / (n * R + r), r / n, n, n]
    assert asked(text, "current R", "emf many") == ["no-value", 6]


FAMILY = "D_k = cell E_k, r_k for k = 3 to n\nfam = A || B || D_3 || ... || D_n\nmain = fam across R"


def test_a_family_is_summed_by_its_index():
    text = FAMILY + " but n = 4"
    told = asked(text, "emf fam", "cells_in fam", way="letters")
    one, emfs = letter("Σ(k=3..n: 1/r_k)"), letter("Σ(k=3..n: E_k/r_k)")
    E, F_, r, s = (letter(each) for each in ("E_A", "E_B", "r_A", "r_B"))
    assert told == [(E / r + F_ / s + emfs) / (1 / r + 1 / s + one), letter("n")]


def test_the_general_member_of_a_family_obeys_the_cell_rule():
    E, r = letter("E_k"), letter("r_k")
    flow, rise = asked(FAMILY, "current D_k", "pd D_k", way="letters")
    assert rise == E - r * flow
    assert rise == asked(FAMILY, "pd fam", way="letters")


def test_an_open_switch_takes_the_whole_pd():
    told = asked("main = A across (R + S)", "current R", "pd S", "pd R", "current A")
    assert told == [0, 6, 0, 0]


def test_a_letter_without_value_is_named():
    whole = circuit("P = resistor\nmain = A across (R + P)")
    found = answers(whole).ask(ref("current R", whole))
    assert isinstance(found, Unknown)
    assert worded(found.reason).message == "There is no value for R_P, so the current of R has no number."


def test_what_does_not_hang_on_the_missing_value_is_answered():
    assert asked("P = resistor\nmain = X across (R || P)", "current R", "pd P") == [F(3, 5), 6]


def test_letters_have_their_dimension():
    whole = circuit(TWO)
    known = answers(whole)
    assert known.ask(ref("letter r_A", whole)).dimension == Dimension(volt=1, ampere=-1)
    assert known.ask(ref("letter E_A", whole)).exact == 6
    assert known.ask(ref("letter nothing", whole)).reason.kind.code == "no-value"
    assert known.dimension(ref("letter nothing", whole)) == Dimension()


def test_nodes_have_potentials_over_the_node_called_zero():
    net = "network net\n  A from a to b\n  R from b to c\n  Q from c to a\n"
    assert asked(net + "zero at a\nnet", "potential b", "potential c", "pd b c") == [
        F(45, 8),
        F(15, 8),
        F(15, 4),
    ]
    assert asked(net + "net", "potential b") == "no-such-quantity"
    assert asked(net + "zero at a\nnet", "potential z") == "no-such-quantity"


@pytest.mark.parametrize(
    "question",
    [
        "current Z",
        "time_constant A",
        "time_constant both",
        "capacitance A",
        "as_read E",
        "value_that_makes R x",
    ],
)
def test_what_has_no_meaning_is_said(question):
    assert asked(TWO, question) == "no-such-quantity"


def test_capacitors_at_rest():
    told = asked("main = A across (K + L)", "pd K", "pd L", "charge K", "energy L", "time_constant K")
    assert told == [2, 4, F(1, 250000), F(1, 125000), F(1, 1500000)]
    side = "two = K || L\nmain = A across (R + two)"
    assert asked(side, "pd two", "capacitance two", "energy two", "time_constant K", "current R") == [
        6,
        F(3, 1000000),
        F(27, 500000),
        F(33, 1000000),
        0,
    ]


def test_capacitors_of_unlike_groups_have_no_single_time_constant():
    text = "main = A across ((K || R) + (L || Q))"
    assert asked(text, "time_constant K") == "no-such-quantity"


def test_a_capacitor_in_letters():
    C, R, r = letter("C_K"), letter("R"), letter("r_A")
    assert asked("main = A across (R + K)", "time_constant K", way="letters") == (R + r) * C


def test_many_cases_at_once():
    whole = circuit(TWO)
    loads = np.array([1.0, 10.0, 100.0])
    found = answers(whole, "batch", values={"R": loads}).ask(ref("current R", whole)).exact
    assert np.allclose(found, 5 / (loads + 2 / 3), rtol=1e-14)


def test_many_cases_of_efficiency_leave_charged_cells_out():
    whole = circuit(TWO)
    found = (
        answers(whole, "batch", values={"R": np.array([0.5, 10.0])}).ask(ref("efficiency both", whole)).exact
    )
    assert np.allclose(found, [float(asked(TWO + " but R = 0.5 ohm", "efficiency both")), 125 / 448])


def test_asking_twice_works_once():
    whole = circuit(TWO)
    assert answers(whole) is answers(circuit(TWO + "\n"))
    assert answers(whole).ask(ref("current A", whole)) is answers(whole).ask(ref("current A", whole))


def test_an_overlong_formula_is_refused_by_its_limit():
    cells = "\n".join(f"C{k} = cell" for k in range(14)) + "\n"
    rows = " || ".join(f"(C{k} + C{k + 1})" for k in range(0, 14, 2))
    code = asked(cells + f"bank = {rows}\nmain = bank across R", "heat bank", way="letters")
    assert code == "overlong-formula"


def test_the_reduction_tells_group_by_group_what_was_replaced():
    whole = circuit("row = A + B\nmain = row across (R || Q)")
    step = answers(whole).reduction("row")
    assert (step.joined, step.emf, step.resistance) == ("series", 9, 3)
    assert [member.path for member in step.members] == ["A", "B"]


def test_like_capacitors_in_a_row():
    told = asked(
        "row = 2s of K\nmain = A across (R + row)", "pd row", "pd row.1", "charge row.2", "capacitance row"
    )
    assert told == [6, 3, F(6, 10**6), F(1, 10**6)]
    assert asked("row = 2s of K\nmain = A across (R + row)", "energy row", "energy row.1") == [
        F(18, 10**6),
        F(9, 10**6),
    ]


def test_a_loose_capacitor_holds_nothing_that_is_fixed():
    net = "network net\n  A from a to b\n  R from b to a\n  S from b to c\n  Q from c to d\nnet"
    assert asked(net, "energy R", "energy Q", "energy A") == [0, 0, 0]
    loose = "network net\n  A from a to b\n  R from b to a\n  K from b to c\nnet"
    assert asked(loose, "pd K", "charge K") == [0, 0]
    assert asked("main = (X || Y) across K", "energy K", "time_constant K") == [
        "clashing-sources",
        "no-such-quantity",
    ]


def test_what_is_no_capacitor_has_no_capacitance():
    net = "network net\n  A from a to b\n  K from b to a\nnet"
    assert asked(net, "capacitance net", "emf net", "current net", "pd net") == ["no-such-quantity"] * 4


def test_values_below_nought_are_told():
    whole = circuit("main = A across R but R = 0 ohm")
    below = replace(whole, values={**whole.values, "R": F(-2)})
    (fault,) = answers(below).faults()
    assert worded(fault).message == "R = −2\N{NARROW NO-BREAK SPACE}Ω cannot be."
    assert answers(whole).faults() == ()
    assert answers(below).ask(ref("current R", below)).exact == -6


def test_a_family_in_series_has_one_current_and_its_members_own_pds():
    text = "D_k = cell E_k, r_k for k = 1 to n\nrow = D_1 + ... + D_n\nmain = row across R"
    flow, own, rise = asked(text, "current row", "current D_k", "pd D_k", way="letters")
    assert flow == own
    assert rise == letter("E_k") - letter("r_k") * flow


def test_efficiency_without_a_value_names_the_letter():
    text = "P = resistor\nmain = (A || B) across P"
    assert asked(text, "efficiency A") == "no-value"


def test_a_member_that_is_not_there():
    assert asked(BANK, "current bank.2.9", "current bank.0", "current bank.x") == ["no-such-quantity"] * 3


def test_a_cell_that_surely_drives_still_needs_the_missing_value():
    text = "P = resistor\nodd = A || -B2\nB2 = cell 3 V, 2 ohm\nmain = odd across P"
    assert asked(text, "efficiency B_2", "power_given B_2") == [*["no-value"] * 2]
