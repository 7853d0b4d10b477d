from fractions import Fraction

import pytest

from boardproof.algebra import meaning
from boardproof.algebra.polynomial import RationalFunction
from boardproof.prove.follows import Established, Premise, follows
from unit.prove.boards import (
    ARGUMENTS,
    BRIDGE,
    BRIDGE_STEPS,
    LOOP,
    LOOP_STEPS,
    PAIR,
    PAIR_STEPS,
    ROW,
    ROW_STEPS,
    Typed,
    asked,
    at,
    equation,
)

KEPT = [(text, steps, number) for text, steps in ARGUMENTS for number in range(1, len(steps) + 1)]


@pytest.fixture(autouse=True)
def no_hurry(monkeypatch: pytest.MonkeyPatch) -> None:
    """What is missing is looked for without haste, however slow the machine."""
    monkeypatch.setattr("boardproof.prove.follows.SEARCH_SECONDS", 5.0)


def single(text: str, maths: str, *rules: str, **more: object):
    return follows(equation(maths), [], rules, at(text), **more)  # type: ignore[arg-type]


@pytest.mark.parametrize(("text", "steps", "number"), KEPT)
def test_every_step_of_the_buoy_lessons_follows(text: str, steps: tuple[Typed, ...], number: int) -> None:
    found = asked(text, steps, number)
    assert (found.kind, found.conditions, found.repeats) == ("yes", (), None)


@pytest.mark.parametrize(("text", "steps", "number"), KEPT)
def test_no_step_follows_by_algebra_alone_without_lines(
    text: str, steps: tuple[Typed, ...], number: int
) -> None:
    is_one_path = text == BRIDGE and number in (3, 4)  # one path has one current, whatever rule is named
    assert (asked(text, steps, number, rules=("algebra",), from_=()).kind == "yes") == is_one_path


WRONG = [
    (ROW, ROW_STEPS, 1, {"rules": ("cell rule",)}, ("loop rule",)),
    (ROW, ROW_STEPS, 2, {"from_": ()}, ("loop rule",)),
    (ROW, ROW_STEPS, 4, {"from_": (1,)}, ("line 2",)),
    (ROW, ROW_STEPS, 5, {"rules": ("algebra",)}, ("resistances in series",)),
    (ROW, ROW_STEPS, 4, {"rules": ("algebra",)}, ("definition",)),
    (PAIR, PAIR_STEPS, 1, {"rules": ("junction rule",)}, ("cell rule",)),
    (PAIR, PAIR_STEPS, 1, {"rules": ("cell rule",)}, ("junction rule",)),
    (PAIR, PAIR_STEPS, 3, {"rules": ("junction rule",)}, ("cell rule",)),
    (PAIR, PAIR_STEPS, 4, {"from_": (1, 3)}, ("line 2",)),
    (PAIR, PAIR_STEPS, 4, {"from_": (2, 3)}, ("line 1",)),
    (BRIDGE, BRIDGE_STEPS, 1, {"rules": ("loop rule",)}, ("junction rule",)),
    (BRIDGE, BRIDGE_STEPS, 5, {"rules": ("junction rule",)}, ("loop rule",)),
    (BRIDGE, BRIDGE_STEPS, 7, {"from_": (1, 2, 3, 4, 5)}, ("line 6",)),
    (LOOP, LOOP_STEPS, 2, {"from_": ()}, ("line 1",)),
]


@pytest.mark.parametrize(("text", "steps", "number", "changed", "missing"), WRONG)
def test_a_missing_rule_or_line_is_named(text, steps, number, changed, missing) -> None:
    found = asked(text, steps, number, **changed)
    assert found.kind == "not-yet"
    assert found.missing == missing


@pytest.mark.parametrize(("text", "steps", "number", "changed", "missing"), WRONG)
def test_a_second_solution_breaks_the_line(text, steps, number, changed, missing) -> None:
    found = asked(text, steps, number, **changed)
    values = {name: Fraction(value) for name, value in found.second_solution.items()}
    line = equation(steps[number - 1].maths)
    left, right = (
        meaning.value(side, lambda name: RationalFunction.constant(values[name]))
        for side in (line.left, line.right)
    )
    assert left != right


def test_dividing_by_a_difference_is_carried_as_a_condition() -> None:
    premise = Premise(equation("V_1 (E_1 - E_2) = V_row (E_1 - E_2)"), at(ROW), 1)
    found = follows(equation("V_1 = V_row"), [premise], ("algebra",), at(ROW))
    assert found.kind == "yes"
    assert [repr(each) for each in found.conditions] == ["E_1 - E_2"]


def test_dividing_by_a_current_is_carried_as_a_condition() -> None:
    premise = Premise(equation("E I = I^2 R + I^2 r"), at(LOOP), 1)
    found = follows(equation("E = I (R + r)"), [premise], ("algebra",), at(LOOP))
    assert (found.kind, [repr(each) for each in found.conditions]) == ("yes", ["I"])


def test_a_line_said_twice_is_told() -> None:
    premise = Premise(equation("E = I R + I r"), at(LOOP), 1)
    assert follows(equation("I r + I R = E"), [premise], ("algebra",), at(LOOP)).repeats == 1
    assert follows(equation("E = I (R + r)"), [premise], ("algebra",), at(LOOP)).repeats is None


def test_too_few_lines_are_counted() -> None:
    premise = Premise(equation("I = I_1 + I_2"), at(PAIR), 1)
    found = follows(equation("I_1 = E_1/r_1"), [premise], ("algebra",), at(PAIR))
    assert (found.kind, found.too_few) == ("not-yet", (3, 1))


def test_an_inequality_is_left_to_claims() -> None:
    assert single(PAIR, "r_p < r_1", "resistances in parallel").kind == "unknown"


def test_an_unknown_name_is_no_proof() -> None:
    assert single(PAIR, "E_p = E_nobody", "cell rule").kind == "unknown"


def test_no_time_is_no_proof() -> None:
    found = single(BRIDGE, "I_b = E/(R_M + r)", "loop rule", "junction rule", limit_seconds=0.0, taught=())
    assert found.kind == "unknown"


def test_a_condition_between_letters_is_used() -> None:
    maths, given = "E_p = (E_1 + E_2)/2", (equation("r_1 = r_2"),)
    rules = ("cell rule", "junction rule", "resistances in parallel")
    assert single(PAIR, maths, *rules).kind == "not-yet"
    assert single(PAIR, maths, *rules, given=given).kind == "yes"


def test_numbers_are_put_in_only_if_named() -> None:
    rules = ("cell rule", "junction rule", "resistances in parallel")
    assert single(PAIR, "E_p = 5.4 V", *rules, "numbers").kind == "yes"
    assert single(PAIR, "E_p = 5.4 V", *rules).kind == "not-yet"
    assert single(PAIR, "E_p = 5.3 V", *rules, "numbers").kind == "not-yet"


def test_a_rounded_number_follows_to_its_figures() -> None:
    text = PAIR.replace("4.2 ohm", "4 ohm")
    rules = ("cell rule", "junction rule", "Ohm's law", "numbers")
    assert single(text, "I = 1.04 A", *rules).kind == "yes"
    assert single(text, "I = 1.05 A", *rules).kind == "not-yet"


def test_an_established_result_is_used_on_another_circuit_of_its_shape() -> None:
    shown = (equation("E_s = E_1 + E_2"), equation("r_s = r_1 + r_2"))
    known = {"cells in series": Established(shown, at(ROW))}
    other = "C = cell; D = cell; L = resistor; two = C + D; two across L"
    assert single(other, "E_two = E_C + E_D", "cells in series", established=known).kind == "yes"
    turned = other.replace("C + D", "C + -D")
    assert single(turned, "E_two = E_C - E_D", "cells in series", established=known).kind != "yes"
    missing = single(other, "E_two = E_C + E_D", "algebra", established=known, taught=()).missing
    assert missing == ("cells in series",)


def test_a_let_that_names_an_expression_is_put_in() -> None:
    text = "A = cell E, r; R = resistor; row = m of A in series; main = row across R; let N = 2 m"
    assert single(text, "E_row = N E/2", "cell rule", "loop rule", "resistances in series").kind == "yes"


def test_power_and_its_forms() -> None:
    assert single(LOOP, "P_warm = I^2 r", "power").kind == "yes"
    assert single(LOOP, "P_warm = I^2 r", "loop rule").kind == "not-yet"


def test_like_copies_share_without_a_rule_but_their_currents_add_by_one() -> None:
    text = "A = cell E, r; R = resistor; bank = 4p of A; main = bank across R"
    assert single(text, "I_bank.1 = I_bank.3", "algebra").kind == "yes"
    assert single(text, "I = 4*I_bank.2", "junction rule").kind == "yes"
    assert single(text, "I = 4*I_bank.2", "loop rule").kind == "not-yet"


def test_roots_and_unread_letters_are_no_proof() -> None:
    assert single(LOOP, "I = sqrt(P_warm/r)", "power").kind == "unknown"
    text = "A = cell E, r; R = resistor; bank = 3s2p of A link 1 ohm; main = bank across R"
    assert single(text, "I_bank.1.1 = I/2", "junction rule").kind == "unknown"


def test_a_result_shown_with_other_names_is_left_aside() -> None:
    known = {
        "nothing": Established((equation("E_nobody = E_1"),), at(ROW)),
        "power": Established((), at(ROW)),
    }
    assert single(ROW, "E_s = E_1 + E_2", "nothing", established=known, taught=()).kind != "yes"


def test_a_result_about_a_load_is_used_with_another_load() -> None:
    shown = (equation("I = E_s/(R + r_s)"),)
    known = {"one push": Established(shown, at(ROW))}
    other = "C = cell; D = cell; L = resistor; two = C + D; main = two across L"
    assert single(other, "I = E_two/(R_L + r_two)", "one push", established=known).kind == "yes"
    few = "C = cell; D = cell; L = resistor; two = C || D; main = two across L"
    assert single(few, "I = E_two/(R_L + r_two)", "one push", established=known, taught=()).kind != "yes"


def test_a_result_that_speaks_of_a_let_is_used_by_what_it_says() -> None:
    there = "A = cell E, r; R = resistor; row = m of A in series; main = row across R; let N = 2 m"
    known = {"twice": Established((equation("E_row = N E/2"),), at(there))}
    here = "C = cell; R = resistor; line = n of C in series; main = line across R"
    assert single(here, "E_line = n E_C", "twice", established=known).kind == "yes"
    numbered = here.replace("n of C in series", "4s of C")
    assert single(numbered, "E_line = 4*E_C", "twice", established=known).kind == "yes"


def test_division_by_what_may_vanish_is_carried_from_the_line_itself() -> None:
    found = single(PAIR, "I/(E_1 - E_2) = (I_1 + I_2)/(E_1 - E_2)", "junction rule")
    assert (found.kind, [repr(each) for each in found.conditions]) == ("yes", ["E_1 - E_2"])


def test_a_condition_that_is_none_between_letters_is_left_aside() -> None:
    assert single(PAIR, "I = I_1 + I_2", "junction rule", given=(equation("I_1 = I_2"),)).kind == "yes"
    assert single(PAIR, "I = I_1 + I_2", "junction rule", given=(equation("r_1^2 = r_2^2"),)).kind == "yes"


def test_an_equivalent_is_read_off_only_if_no_load_stands_in_the_line() -> None:
    premise = Premise(equation("V = E_s R/(R + r_s)"), at(ROW), 1)
    found = follows(equation("E_s = E_1 + E_2"), [premise], ("definition",), at(ROW), taught=())
    assert found.kind != "yes"
    premise = Premise(equation("V = E_1 - I_1 r_1"), at(PAIR), 1)
    found = follows(equation("E_p = E_1"), [premise], ("definition",), at(PAIR), taught=())
    assert found.kind != "yes"


def test_counts_of_a_row_may_stand_in_its_line() -> None:
    text = "A = cell E, r; R = resistor; row = n of A in series; main = row across R"
    premise = Premise(equation("V = n E - I n r"), at(text), 1)
    assert follows(equation("r_row = n r"), [premise], ("definition",), at(text)).kind == "yes"
