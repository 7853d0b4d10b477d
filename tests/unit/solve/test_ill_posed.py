from dataclasses import replace
from fractions import Fraction as F

import pytest

from boardproof.findings import worded
from boardproof.solve.answers import answers
from boardproof.solve.ill_posed import KINDS, listed
from unit.solve.asking import asked, circuit, ref


def test_ideal_sources_that_disagree_clash_and_spoil_only_what_they_touch():
    net = (
        "network net\n  X from a to b\n  Y from a to b\n  R from b to a\n"
        "  A from a to c\n  Q from c to a\nnet"
    )
    told = asked(net, "current X", "current R", "pd R", "current Q", "pd Q", "pd b c")
    assert told == ["clashing-sources"] * 3 + [1, 5, "clashing-sources"]


def test_ideal_sources_that_agree_only_leave_their_share_open():
    text = "Z = source 6 V\ntwo = X || Z\nmain = two across R"
    assert asked(text, "current R", "pd two", "current X") == [F(3, 5), 6, "wire-loop"]


def test_a_wire_across_an_ideal_source():
    told = asked("main = X across (W || R)", "current X", "current R")
    assert told == ["shorted-source", "shorted-source"]


def test_a_wire_across_a_real_cell_is_no_contradiction():
    told = asked("main = A across (W || R)", "current A", "current W", "current R", "pd A")
    assert told == [6, 6, 0, 0]


def test_a_loop_of_wires_leaves_only_its_own_currents_open():
    told = asked("main = A across (W || N || R)", "current W", "current N", "current A", "pd N")
    assert told == ["wire-loop", "wire-loop", 6, 0]


def test_a_clash_behind_a_resistance_does_not_reach_what_an_ideal_source_holds():
    net = (
        "Z = source 3 V\nnetwork net\n  X from a to b\n  R from b to a\n  Q from b to c\n"
        "  Y from a to c\n  Z from a to c\nnet"
    )
    assert asked(net, "current R", "current Q", "current X") == [
        F(3, 5),
        "clashing-sources",
        "clashing-sources",
    ]


def test_a_voltmeter_with_one_end_loose_reads_nothing_that_is_fixed():
    whole = circuit("main = A across (R + S + M)")
    found = answers(whole).ask(ref("pd M", whole))
    assert (
        worded(found.reason).message
        == "Nothing joins the end of S and M to the rest, so no p.d. to it is fixed."
    )
    assert asked("main = A across (R + S + M)", "pd R", "current R") == [0, 0]


def test_a_piece_that_hangs_loose_is_named():
    net = "network net\n  A from a to b\n  R from b to a\n  S from b to c\n  Q from c to d\nnet"
    whole = circuit(net)
    found = answers(whole).ask(ref("pd S", whole))
    assert worded(found.reason).message.startswith("Nothing joins Q to the rest")


def test_a_broken_group_has_no_equivalent():
    text = "load = R + S\nmain = A across load"
    assert asked(text, "resistance load", "emf load") == ["no-closed-path", "no-closed-path"]


def test_an_ideal_source_has_no_greatest_power():
    assert asked("main = X across R", "greatest_power X", "short_circuit_current X", "resistance X") == [
        "shorted-source",
        "shorted-source",
        0,
    ]


def test_faults_are_told_without_being_asked():
    kinds = [each.kind.code for each in answers(circuit("two = X || Y\nmain = two across R")).faults()]
    assert kinds == ["clashing-sources"]
    assert answers(circuit("main = A across R")).faults() == ()


def test_a_clash_in_a_group_is_told_by_its_equivalent():
    assert asked("two = X || Y\nmain = two across R", "emf two") == "clashing-sources"


def test_resistances_that_cancel_fix_nothing():
    whole = circuit("network net\n  A from a to b\n  R from b to c\n  Q from c to a\nnet")
    cancelled = replace(whole, values={**whole.values, "R": F(-10), "R_Q": F(9)})
    assert answers(cancelled).ask(ref("current R", cancelled)).reason.kind.code == "impossible-value"
    assert answers(cancelled).ask(ref("pd R", cancelled)).reason.kind.code == "impossible-value"


@pytest.mark.parametrize("code", [code for code in KINDS if code != "not-fixed"])
def test_every_kind_has_words(code):
    assert KINDS[code].message


def test_names_are_listed_as_in_a_sentence():
    assert [listed(["A"]), listed(["A", "B"], "or"), listed(["A", "B", "C"])] == ["A", "A or B", "A, B and C"]
