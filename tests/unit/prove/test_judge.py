"""Judging single statements: every verdict, every finding that a statement can draw, figures, and what names mean."""

from __future__ import annotations

from fractions import Fraction

import pytest

from boardproof.algebra.expression import Name, Number
from boardproof.algebra.meaning import Unknown
from boardproof.algebra.written import read_line
from boardproof.circuit.names import known_names
from boardproof.circuit.read import read_circuit
from boardproof.findings import worded
from boardproof.lesson.course import Policy
from boardproof.prove.bench import chains
from boardproof.prove.figures import fit, range_of
from boardproof.prove.judge import judge
from boardproof.prove.verdict import statement_key
from boardproof.prove.worlds import Worlds
from boardproof.quantities import AMPERE, OHM, PURE, VOLT
from boardproof.source import Source
from unit.prove.claim_cases import ODD, ONE, PAIR

BUOY = PAIR.replace("E_1, r_1", "E_1 = 6 V, r_1 = 2 ohm").replace("E_2, r_2", "E_2 = 4.5 V, r_2 = 3 ohm").replace(
    "R = resistor", "R = resistor 10.8 ohm"
)  # fmt: skip
CELL = ONE.replace("E, r", "E = 6 V, r = 1 ohm").replace("R = resistor", "R = resistor 11 ohm")
THIRD = ONE.replace("E, r", "E = 2 V, r = 1 ohm").replace("R = resistor", "R = resistor 2 ohm")


def world_of(circuit):
    read = read_circuit(Source("circuit", circuit).slice())
    return Worlds(read.definitions).of(read.at_hand)


def rulings(circuit, text, policy=None):
    world = world_of(circuit)
    known = known_names(world.definitions, world.at_hand)
    line, found = read_line(Source("line", text).slice(), known=known)
    assert line is not None, found
    pairs = zip(line.statements, chains(line.statements), strict=True)
    return [judge(each, world, condition=line.condition, chain=chain, policy=policy) for each, chain in pairs]


def last(circuit, text, policy=None):
    return rulings(circuit, text, policy)[-1]


@pytest.mark.parametrize(
    ("circuit", "text", "verdict", "code"),
    [
        (PAIR, "E_p = (E_1 r_2 + E_2 r_1)/(r_1 + r_2)", "true", None),
        (PAIR, "V = E_p - I r_p", "true", None),
        (PAIR, "E_p = (E_1 + E_2)/2 if r_1 = r_2", "true", None),
        (PAIR, "V = E_p with no load", "true", None),
        (PAIR, "E_p -> E_1 as r_2 -> infinity", "true", None),
        (ONE, "I -> infinity as R -> 0", "wrong", "wrong-equation"),
        (ONE, "V = I R for every load", "true", None),
        (CELL, "I = 0.5 A", "true", None),
        (CELL, "I = 500 mA = E/(R + r)", "true", None),
        (CELL, "V = 6 V - 0.5 A * 1 ohm = 5.5 V", "true", None),
        (CELL, "V > 5 V", "true", None),
        (PAIR, "E_p = (E_1 + E_2)/2", "true-only-when", "overwide-equation"),
        (PAIR, "I_2 > 0", "true-only-when", "overwide-equation"),
        (PAIR, "r_p = r_1 + r_2", "wrong", "wrong-equation"),
        (PAIR, "V > E_1 + E_2", "wrong", "wrong-equation"),
        (ONE, "V = E + I r", "wrong", "wrong-equation"),
        (CELL, "I = 0.6 A", "wrong", "wrong-number"),
        (CELL, "V < 5 V", "wrong", "wrong-equation"),
        (CELL, "I = -0.5 A", "wrong", "other-direction"),
        (ODD, "I_B = (E_2 - V)/r_2", "true-only-when", "overwide-equation"),
        (THIRD, "I = 0.65 A", "wrong", "wrong-number"),
        (THIRD, "I = 0.667 A", "true", None),
        (THIRD, "I = 0.66 A", "near-enough", "wrong-rounding"),
        (THIRD, "V = 0.67 A * 2 ohm = 1.34 V", "near-enough", "early-rounding"),
        (ONE, "V ≈ E", "near-enough", "near-enough"),
        (CELL, "V ≈ 5.7 V", "near-enough", "near-enough"),
        (CELL, "V ≈ 5.6 V", "near-enough", "wrong-rounding"),
        (ONE, "V = I", "units-differ", "units-differ"),
        (ONE, "V = E - r", "units-differ", "unlike-terms"),
        (CELL, "I = 0.5", "units-differ", "missing-unit"),
        (CELL, "E = 2 V", "wrong", "wrong-number"),
        (PAIR, "V = 5 V", "not-checked", "no-value"),
        (PAIR, "V = Z", "not-checked", "unknown-name"),
        (PAIR, "V = E_p if r_1 = -R", "not-checked", "empty-condition"),
        (PAIR, "V = sqrt(E_1)", "units-differ", None),
        (PAIR, "abs(I_2) < I_1", "not-checked", "unchecked-statement"),
        (CELL, "I = 0.75 A if R = 7 ohm", "true", None),
        (CELL, "I = 0.5 A if R = 7 ohm", "wrong", "wrong-number"),
        (ONE.replace("E, r", "E = 6 V, r = 1 ohm"), "V = 3 V if R = r", "true", None),
        (CELL, "V = 3 V if R = r", "true", None),
        (CELL, "V/E = 1/2 if R = r", "true", None),
        (ONE, "V/E = 1/2 if R = r", "true", None),
        (ONE, "V/E = 1/3 if R = r", "wrong", "wrong-equation"),
        (CELL, "V = 5.5 V if R < r", "not-checked", "unchecked-statement"),
        (BUOY, "I_2 = 0", "wrong", "wrong-number"),
        (BUOY, "I_2 = 0 if R (E_1 - E_2) = E_2 r_1", "true", None),
        (BUOY, "I_2 = 0 if R (E_1 - E_2) = E_2 r_2", "true-only-when", "overwide-equation"),
        (BUOY, "I_2 = 0 if R = 6 ohm", "true", None),
        (CELL, "I = 0 A", "wrong", "wrong-number"),
        (ONE, "V -> E as I -> 0", "not-checked", "unchecked-statement"),
    ],
)
def test_verdicts_and_their_findings(circuit, text, verdict, code):
    ruling = last(circuit, text)
    assert ruling.verdict.kind == verdict
    if code:
        assert [each.kind.code for each in ruling.findings] == [code]
        assert worded(ruling.findings[0]).message
        assert ruling.findings[0].span.source == "line"
    elif verdict == "true":
        assert ruling.findings == ()


def test_two_quantities_may_be_equal_in_this_scene():
    like = BUOY.replace("r_2 = 3 ohm", "r_2 = 2 ohm").replace("E_2 = 4.5 V", "E_2 = 6 V")
    assert [each.verdict.kind for each in rulings(like, "I_1 = I_2 = 0.254 A")] == ["true", "true"]
    assert rulings(BUOY, "I_1 = I_2 = 0.3 A")[0].verdict.kind == "true-only-when"


def test_a_right_number_with_a_wrong_reason():
    like = BUOY.replace("r_2 = 3 ohm", "r_2 = 2 ohm")
    first, second = rulings(like, "E_p = (E_1 + E_2)/2 = 5.25 V")
    assert first.verdict.kind == "right-number-wrong-reason"
    assert [each.kind.code for each in first.findings] == ["wrong-reason"]
    assert first.verdict.condition == "E_1 = E_2 or r_1 = r_2"
    assert second.verdict.kind == "true"


def test_other_direction_in_letters_names_the_direction():
    ruling = last(ONE, "I_A = -E/(R + r)")
    assert (ruling.verdict.kind, ruling.verdict.detail) == ("wrong", "other-direction")
    assert "out of the plus of A" in worded(ruling.findings[0]).help


def test_condition_right_side_and_counterexample():
    verdict = last(PAIR, "E_p = (E_1 + E_2)/2").verdict
    assert verdict.condition == "E_1 = E_2 or r_1 = r_2"
    assert verdict.right == "E_p = (E_1 r_2 + E_2 r_1)/(r_1 + r_2)"
    assert verdict.evidence[0].kind == "counterexample"
    assert "5" in verdict.evidence[0].text


def test_near_enough_says_when():
    ruling = last(ONE, "V ≈ E")
    assert ruling.verdict.condition == "R > 99 r"
    assert "when R > 99 r" in worded(ruling.findings[0]).message


def test_a_too_wide_line_that_the_scene_meets_is_only_a_warning():
    like = BUOY.replace("r_2 = 3 ohm", "r_2 = 2 ohm")
    assert last(like, "E_p = (E_1 + E_2)/2").findings[0].severity == "warning"
    assert worded(last(BUOY, "E_p = (E_1 + E_2)/2").findings[0]).severity == "error"


def test_here_means_this_scene_only():
    assert last(BUOY, "I_2 = 0.3 A here").verdict.kind in {"wrong", "true"}
    assert last(CELL, "V = 11 I r here").verdict.kind == "true"
    assert last(CELL, "V = 11 I r").verdict.kind == "true-only-when"


def test_units_may_be_left_out_inside_a_working_by_policy():
    text = "I = 6/(11 + 1) = 0.5 A"
    assert [each.verdict.kind for each in rulings(CELL, text, Policy(working_units="optional"))] == [
        "true",
        "true",
    ]


def number(typed):
    line, _ = read_line(Source("x", typed).slice(), known=())
    return line.bare[0]


@pytest.mark.parametrize(
    ("typed", "exact", "kind"),
    [
        ("0.67 A", Fraction(2, 3), "right"),
        ("0.65 A", Fraction(2, 3), "off"),
        ("0.666 A", Fraction(2, 3), "last digit"),
        ("-0.67 A", Fraction(2, 3), "direction"),
        ("2/3 A", Fraction(2, 3), "right"),
        ("0.5 A", Fraction(1, 2), "right"),
        ("0.50 A", Fraction(501, 1000), "right"),
        ("0.5 A", Fraction(3, 5), "off"),
        ("5.33 V/10.67 ohm", Fraction(1, 2), "right"),
        ("5.33 V/9 ohm", Fraction(1, 2), "off"),
        ("0", Fraction(1, 25), "off"),
        ("0 A", Fraction(0), "right"),
    ],
)
def test_fit_of_a_number(typed, exact, kind):
    assert fit(number(typed), exact).kind == kind


def test_a_number_from_a_rounded_working_is_told_from_a_slip():
    assert fit(number("1.34 V"), Fraction(4, 3), before=Fraction(67, 50)).kind == "early"
    assert range_of(number("1/(2 - 2)")) is None
    low, high = range_of(number("5.33 V - 1.2 V"))
    assert low < Fraction(413, 100) < high
    assert fit(Number(Fraction(1)), Fraction(1)).kind == "right"


def test_a_world_in_letters_numbers_and_dimensions():
    world = world_of(BUOY)
    assert world.in_letters("r_p").letters == {"r_1", "r_2"}
    assert world.in_numbers("I") == Fraction(9, 20)
    assert isinstance(world_of(PAIR).in_numbers("I"), Unknown)
    assert [world.dimension(name) for name in ("E_p", "r_p", "I")] == [VOLT, OHM, AMPERE]
    assert world.dimension("Q_9") is None
    assert (
        world_of("A = cell E, r\nrow = n of A in series\nR = resistor\nrow across R").dimension("n") == PURE
    )
    assert world.load_letters == {"R"}
    assert Fraction(6) in world.exact_values()
    assert world.trouble(Name("Z")).kind.code == "unknown-name"
    assert world.trouble(Name("I")) is None
    assert world.sense("I_1") == "out of the plus of A"
    assert world.sense("r_p") == ""


def test_a_world_without_its_load():
    bare = world_of(BUOY).without_load()
    assert bare.in_letters("V") == world_of(BUOY).in_letters("E_p")
    assert world_of("A = cell E, r\nR = resistor\nA + R").without_load() is None


def test_keys_outlive_edits_elsewhere():
    key = statement_key("equation", "V  =  E", "c1", 0)
    assert key == statement_key("equation", "V = E", "c1", 0)
    assert (
        len({key, statement_key("equation", "V = E", "c1", 1), statement_key("claim", "V = E", "c1", 0)}) == 3
    )
