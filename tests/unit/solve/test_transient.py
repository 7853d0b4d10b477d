import math
from fractions import Fraction as F

import pytest

from boardproof.solve.answers import Unknown
from boardproof.solve.transient import Curve, first_crossing, transient
from unit.solve.asking import circuit, ref

TWO_LOOPS = "main = X across ((K || R) + (L || Q))"


def course(text, **initial):
    whole = circuit(text)
    return whole, transient(whole, {path: F(volts) for path, volts in initial.items()})


def test_one_capacitor_charges_exactly():
    whole, run = course("main = X across (R + K)")
    assert run.curve(ref("pd K", whole)) == Curve(F(6), ((F(-6), F(50000)),))
    assert run.curve(ref("current R", whole)) == Curve(F(0), ((F(3, 5), F(50000)),))
    assert run.time_to(ref("pd K", whole), F(3)) == pytest.approx(math.log(2) * 2e-5, rel=1e-14)


def test_at_the_first_moment_a_capacitor_is_a_wire_and_at_last_a_break():
    whole, run = course("main = A across (R + (K || Q))")
    assert run.at(0).ask(ref("pd Q", whole)).exact == 0
    assert run.at(0).ask(ref("current R", whole)).exact == F(6, 11)
    assert run.settled().ask(ref("current R", whole)).exact == F(6, 16)


def test_initial_volts_count_from_the_first_end():
    whole, run = course("main = X across (R + K)", K=9)
    assert run.curve(ref("pd K", whole)).at(0) == 9
    assert run.at(0).ask(ref("current R", whole)).exact == F(-3, 10)


def test_charge_that_cannot_leave_is_shared():
    whole, run = course("network net\n  K from a to b\n  L from a to b\nnet", K=6)
    settled = run.settled()
    assert settled.ask(ref("pd L", whole)).exact == 4
    assert settled.ask(ref("charge K", whole)).exact == F(8, 10**6)
    assert run.curve(ref("pd K", whole)).at(0) == 4


def test_two_time_constants_against_a_step_by_step_solution():
    whole, run = course(TWO_LOOPS.replace("((", "(N1 + (") + "\nN1 = resistor 3 ohm")
    first, second = 0.0, 0.0
    step, end = 1e-9, 2e-5
    for _ in range(int(end / step)):
        flow = (6 - first - second) / 3
        first += step * (flow - first / 10) / 2e-6
        second += step * (flow - second / 5) / 1e-6
    found = [float(run.at(end).ask(ref(f"pd {name}", whole)).exact) for name in ("K", "L")]
    assert found == pytest.approx([first, second], rel=1e-3)
    assert len(run.curve(ref("pd K", whole)).terms) == 2


def test_power_and_energy_at_a_moment():
    whole, run = course("main = X across (R + K)")
    half = run.at(math.log(2) * 2e-5)
    assert float(half.ask(ref("power R", whole)).exact) == pytest.approx(0.9)
    assert float(half.ask(ref("energy K", whole)).exact) == pytest.approx(9e-6)
    assert run.time_to(ref("energy K", whole), F(9, 10**6)) == pytest.approx(math.log(2) * 2e-5)
    assert run.time_to(ref("power R", whole), F(9, 10)) == pytest.approx(math.log(2) * 2e-5)


def test_a_level_that_is_never_reached():
    whole, run = course("main = X across (R + K)")
    for question, level in (("pd K", 7), ("energy K", 1), ("power R", 50)):
        assert isinstance(run.time_to(ref(question, whole), F(level)), Unknown)
    assert run.time_to(ref("pd K", whole), F(0)) == 0


def test_nothing_changes_without_a_capacitor():
    whole, run = course("main = X across R")
    assert run.curve(ref("current R", whole)) == Curve(F(3, 5))
    assert run.time_to(ref("current R", whole), F(3, 5)) == 0
    assert isinstance(run.time_to(ref("power R", whole), F(1)), Unknown)


def test_what_has_no_answer_at_rest_has_none_in_time():
    whole, run = course("main = X across (R + K)")
    assert isinstance(run.curve(ref("current Z", whole)), Unknown)
    assert isinstance(run.time_to(ref("power Z", whole), F(1)), Unknown)
    whole, run = course("P = resistor\nmain = X across (P + K)")
    assert run.curve(ref("pd K", whole)).reason.kind.code == "no-value"
    assert run.at(1).ask(ref("pd K", whole)).reason.kind.code == "no-value"


def test_a_curve_of_several_terms_is_crossed_where_it_first_is():
    curve = Curve(F(0), ((F(2), F(1)), (F(-2), F(3))))
    first = curve.time_to(F(1, 2))
    assert float(curve.at(first)) == pytest.approx(0.5)
    assert first < 0.55
    assert curve.time_to(F(5)) is None
    assert first_crossing(F, 1.0) == 0
