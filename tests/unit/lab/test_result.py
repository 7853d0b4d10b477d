"""E and r with their uncertainty: meters' errors stay systematic, tests point out and drop nothing, seeds repeat."""

from __future__ import annotations

import math
import random
from fractions import Fraction as F

import pytest

from boardproof.lab.bench import Bench
from boardproof.lab.compared import agreement, class_spread, in_parallel, in_series
from boardproof.lab.coverage import half_width
from boardproof.lab.design import HEAT, design
from boardproof.lab.instrument import Meter, Range, read_meter
from boardproof.lab.noticed import noticed
from boardproof.lab.readings import Reading, line_through
from boardproof.lab.result import measure
from boardproof.lab.simulate import Truth, simulated
from boardproof.lab.told import told_pair
from boardproof.lab.uncertain import Cause, Uncertain, budget, measured
from boardproof.quantities import VOLT
from boardproof.source import Source, Span

VOLTMETER = Meter("voltmeter", (Range(2.0, 0.001),), gain=0.005, digits=1, resistance=1e7)
AMMETER = Meter("ammeter", (Range(1.0, 0.001),), gain=0.01, digits=2)
CELL = Truth(1.5, 0.4, 0.002)


def spread_loads(seed, count=8):
    chance = random.Random(10**6 + seed)
    return [1.5 / chance.uniform(0.08, 0.9) for _ in range(count)]


def run(seed=1, bench=None, cell=CELL, count=8):
    bench = bench or Bench(VOLTMETER, AMMETER)
    return measure(simulated(cell, spread_loads(seed, count), bench, seed=seed), bench)


def test_coverage_of_stated_intervals():
    covered, tries = [0, 0], 1000
    for seed in range(tries):
        made = run(seed)
        covered[0] += abs(made.E.value - CELL.emf) <= made.reach(made.E)
        covered[1] += abs(made.r.value - CELL.internal) <= made.reach(made.r)
    for each in covered:  # four standard deviations of a count about 95 %
        assert abs(each / tries - 0.95) < 0.0276


@pytest.mark.deep
@pytest.mark.timeout(3000)
@pytest.mark.parametrize(("scatter", "count"), [(0.0005, 8), (0.002, 8), (0.01, 6)])
def test_coverage_over_twenty_thousand_experiments(scatter, count):
    cell, covered, tries = Truth(1.5, 0.4, scatter), [0, 0], 20_000
    for seed in range(tries):
        made = run(seed, cell=cell, count=count)
        covered[0] += abs(made.E.value - cell.emf) <= made.reach(made.E)
        covered[1] += abs(made.r.value - cell.internal) <= made.reach(made.r)
    assert all(0.94 <= each / tries <= 0.96 for each in covered), covered


def test_more_readings_shrink_the_scatter_and_not_the_meters_errors():
    few, many = run(3, count=8), run(3, count=200)
    named = [{name: u for name, u, _ in budget(each.E)} for each in (few, many)]
    assert named[1]["scatter of the readings"] < 0.5 * named[0]["scatter of the readings"]
    assert named[1]["gain of the voltmeter"] == pytest.approx(named[0]["gain of the voltmeter"], rel=0.05)


def test_sensitivities_are_those_of_the_formula():
    made = run(5)
    u = {
        cause.name: (made.E.parts.get(cause, 0.0), made.r.parts.get(cause, 0.0))
        for cause in made.E.parts | made.r.parts
    }
    E, r, third = made.E.value, made.r.value, math.sqrt(3)
    assert u["gain of the voltmeter"] == pytest.approx((-E * 0.005 / third, -r * 0.005 / third), rel=1e-3)
    assert u["zero of the voltmeter"] == pytest.approx((-0.001 / third, 0.0), rel=1e-3, abs=1e-8)
    assert u["gain of the ammeter"][1] == pytest.approx(r * 0.01 / third, rel=1e-3)
    assert u["zero of the ammeter"] == pytest.approx((-r * 0.002 / third, 0.0), rel=1e-3, abs=1e-8)


def test_yorks_line_is_near_the_exact_one():
    made = run(7)
    plain = line_through(made.readings, Span("x", 0, 1))
    assert abs(made.E.value - float(plain.E)) < 0.1 * made.E.u
    assert abs(made.r.value - float(plain.r)) < 0.1 * made.r.u


def test_known_meter_resistances_are_put_right():
    heavy = Meter("voltmeter", (Range(2.0, 0.0001),), resistance=100.0)
    fine = Meter("ammeter", (Range(1.0, 0.0001),), resistance=0.5)
    for across in ("cell", "load"):
        bench = Bench(heavy, fine, across)
        readings = simulated(Truth(1.5, 0.4), spread_loads(1), bench, seed=1)
        right = measure(readings, bench)
        assert (right.E.value, right.r.value) == pytest.approx((1.5, 0.4), abs=5e-4)
        blind = measure(readings, Bench(across=across))
        factor = 1 + 0.4 / 100
        wrong = (1.5 / factor, 0.4 / factor) if across == "cell" else (1.5, 0.9)
        assert (blind.E.value, blind.r.value) == pytest.approx(wrong, abs=5e-4)


def test_current_from_loads_has_the_tolerance_of_the_loads():
    readings = [
        Reading(n, F(3, 2) / (load + F(1, 2)), F(3, 2) * load / (load + F(1, 2)), F(load))
        for n, load in enumerate((2, 4, 9), 1)
    ]
    made = measure(readings, Bench(Meter("voltmeter", (Range(2.0, 0.001),)), load_share=0.01))
    assert made.r.value == pytest.approx(0.5)
    assert {name: u for name, u, _ in budget(made.r)}["tolerance of the loads"] == pytest.approx(
        0.005 / math.sqrt(3), rel=1e-3
    )


def test_two_readings_have_steps_only_or_nothing():
    two = [Reading(1, F("0.1"), F("1.46")), Reading(2, F("0.5"), F("1.30"))]
    assert measure(two).scatter == "not known"
    assert measure(two).reach(measure(two).E) is None
    assert measure(two, Bench(Meter("voltmeter", (Range(2.0, 0.01),)))).scatter == "by the steps"


def test_false_alarms_are_rare_and_a_real_drift_is_found():
    alarms = sum(test.found for seed in range(200) for test in noticed(run(seed)))
    assert alarms < 20  # 600 tests at one in a hundred
    falling = [Reading(each.row, each.current, each.pd - F(3 * each.row, 1000)) for each in run(4).readings]
    drift, _, _ = noticed(measure(falling, Bench(VOLTMETER, AMMETER)))
    assert drift.found
    assert "sinks" in drift.sentence


def test_a_drift_can_not_be_told_where_currents_only_rise():
    rising = [Reading(n, F(n, 10), F(3, 2) - F(n, 25)) for n in range(1, 8)]
    drift, _, _ = noticed(measure(rising))
    assert not drift.found
    assert "order of their currents" in drift.sentence


def test_a_suspect_reading_is_pointed_out_and_kept():
    readings = list(run(2).readings)
    readings[3] = Reading(4, readings[3].current, readings[3].pd - F(6, 100))
    made = measure(readings, Bench(VOLTMETER, AMMETER))
    assert noticed(made)[2].row == 4
    assert len(made.points) == len(readings)


def test_shared_meters_cancel_between_two_cells_and_own_ones_do_not():
    one, two = (simulated(CELL, spread_loads(n), Bench(VOLTMETER, AMMETER), seed=n) for n in (1, 2))
    bench = Bench(VOLTMETER, AMMETER)
    shared = agreement(measure(one, bench, run="A").E, measure(two, bench, run="B").E)
    own = agreement(measure(one, bench, run="A", own=True).E, measure(two, bench, run="B", own=True).E)
    assert shared.difference.u < own.difference.u


def test_measured_cells_joined_are_predicted_with_what_they_share():
    cells = [run(1), run(2)]
    E, r = in_series(cells)
    assert E.value == cells[0].E.value + cells[1].E.value
    gain = Cause("gain of the voltmeter", "even")
    assert E.parts[gain] == pytest.approx(sum(each.E.parts[gain] for each in cells))
    E, r = in_parallel(cells)
    a, b = cells
    assert r.value == pytest.approx(a.r.value * b.r.value / (a.r.value + b.r.value))
    assert E.value == pytest.approx((a.E.value * b.r.value + b.E.value * a.r.value) / (a.r.value + b.r.value))


def test_groups_that_differ_more_than_they_say():
    calm = class_spread([measured(v, 0.02, str(v)) for v in (0.38, 0.40, 0.42, 0.41)])
    wild = class_spread([measured(v, 0.02, str(v)) for v in (0.30, 0.40, 0.50, 0.45)])
    assert calm.chance > 0.05 > wild.chance
    assert wild.ratio == pytest.approx(wild.spread / 0.02)


def test_an_interval_made_of_even_causes_is_that_of_their_sum():
    half = half_width(Uncertain(0.0, {Cause("a", "even"): 1.0, Cause("b", "even"): 1.0}))
    reach = math.sqrt(3)  # a triangle from -2 reach to 2 reach
    assert half == pytest.approx(2 * reach * (1 - math.sqrt(0.05)), rel=2e-3)


def test_the_load_range_keeps_the_cell_cool_and_the_ammeter_in_range():
    for cell in (Truth(1.5, 0.4), Truth(1.5, 0.05), Truth(9.0, 1.5), Truth(1.2, 3.0)):
        plan = design(cell, Bench(VOLTMETER, AMMETER))
        assert max(plan.currents) <= plan.most * (1 + 1e-6)
        assert max(plan.currents) ** 2 * cell.internal <= HEAT * (1 + 1e-6)
        assert max(plan.currents) <= 1.0
        assert plan.loads[0] == plan.loads[-1]


def test_simulated_readings_repeat_with_their_seed():
    one, two, other = (run(n).readings for n in (1, 1, 2))
    assert one == two != other


@pytest.mark.parametrize(
    ("typed", "wanted"),
    [
        ("accuracy ± (0.5 % + 2 digits), range 2 V, step 1 mV", (0.005, 0.0, 2.0)),
        ("range 2 V, step 1 mV, accuracy 1 % of reading + 3 dgt", (0.01, 0.0, 3.0)),
        ("range 3 V, step 50 mV, accuracy 2.5 % of range", (0.0, 0.025, 0.0)),
        ("range 200 mV or 2 V, step 0.1 mV or 1 mV, accuracy 1 digit", (0.0, 0.0, 1.0)),
    ],
)
def test_accuracy_as_makers_state_it(typed, wanted):
    meter, found = read_meter(Source("x", typed).slice(), "voltmeter", VOLT)
    assert found == ()
    assert (meter.gain, meter.of_range, meter.digits) == pytest.approx(wanted)


def test_each_reading_is_on_the_smallest_range_that_holds_it():
    typed = "range 2 V or 200 mV, step 1 mV or 0.1 mV, accuracy 1 digit"
    meter, _ = read_meter(Source("x", typed).slice(), "voltmeter", VOLT)
    assert (meter.zero(0.15), meter.zero(1.5)) == pytest.approx((0.0001, 0.001))
    assert meter.range_for(5.0) is None


@pytest.mark.parametrize(
    "typed",
    ["good", "range 2 A", "accuracy fine", "range 2 V", "range 2 V or 20 V or 3 V, step 1 mV or 2 mV"],
)
def test_what_a_meter_does_not_say_is_told(typed):
    _, found = read_meter(Source("x", typed).slice(), "voltmeter", VOLT)
    assert [each.kind.code for each in found] == ["unread-meter"]


@pytest.mark.parametrize(
    ("value", "u", "shown"),
    [
        (1.5, 0.0096, ("1.500", "0.010")),
        (1.5, 0.0951, ("1.50", "0.10")),
        (12.3, 4.2, ("12", "4")),
        (1234.0, 160.0, ("1230", "160")),
    ],
)
def test_value_and_uncertainty_end_at_one_place(value, u, shown):
    assert told_pair(value, u) == shown
