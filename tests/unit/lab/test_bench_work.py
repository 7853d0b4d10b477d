"""Other bench work: resistors, balances, discharges, each with its uncertainty; another program is the judge."""

from __future__ import annotations

import math
import random
from fractions import Fraction as F

import pytest
from uncertainties import ufloat

from boardproof.lab.balance import bridge_resistance, bridge_wire, cell_by_wire, internal_by_wire
from boardproof.lab.discharge import capacitance, discharge
from boardproof.lab.readings import Reading
from boardproof.lab.resistor import placement, resistivity, straightness
from boardproof.lab.stated import read_stated
from boardproof.lab.uncertain import certain, measured


def both(*pairs):
    return [measured(v, u, str(n)) for n, (v, u) in enumerate(pairs)], [ufloat(v, u) for v, u in pairs]


@pytest.mark.parametrize(
    ("ours", "theirs", "pairs"),
    [
        (resistivity, lambda R, k, d: math.pi * d * d * R / 4 / k, ((2.0, 0.02), (1.0, 0.001), (5e-4, 5e-6))),
        (bridge_resistance, lambda p, q, s: s * p / q, ((100.0, 0.1), (1000.0, 1.0), (532.0, 0.5))),
        (lambda s, x: bridge_wire(s, x, 100.0), lambda s, x: s * x / (100 - x), ((10.0, 0.01), (43.0, 0.1))),
        (cell_by_wire, lambda e, x, s: e * x / s, ((1.018, 1e-4), (75.0, 0.05), (50.9, 0.05))),
        (internal_by_wire, lambda R, x, y: R * (x / y - 1), ((5.0, 0.01), (75.0, 0.05), (69.4, 0.05))),
        (capacitance, lambda tau, R: tau / R, ((10.0, 0.1), (1e5, 1e3))),
    ],
)
def test_first_order_is_that_of_another_program(ours, theirs, pairs):
    mine, judge = both(*pairs)
    wanted = theirs(*judge)
    assert ours(*mine).value == pytest.approx(wanted.nominal_value, rel=1e-12)
    assert ours(*mine).u == pytest.approx(wanted.std_dev, rel=1e-9)


def test_the_two_places_of_a_voltmeter_err_to_different_sides():
    for resistance in (1.0, 50.0, 5000.0):
        made = placement(resistance, 10_000.0, 1.0)
        assert made.error_across_resistor < 0 < made.error_across_both
    turn = (1.0 + math.sqrt(1.0 + 4 * 10_000.0)) / 2  # R^2 = R_A (R + R_V)
    assert placement(0.9 * turn, 10_000.0, 1.0).better == "across the resistor"
    assert placement(1.1 * turn, 10_000.0, 1.0).better == "across both"


def test_a_bridge_wire_is_surest_in_the_middle():
    shares = [bridge_wire(certain(10.0), measured(x, 0.1, "place"), 100.0) for x in (20.0, 50.0, 80.0)]
    relative = [each.u / each.value for each in shares]
    assert relative[1] == min(relative)


def test_a_filament_bends_and_a_wire_does_not():
    jitter = (0, 1, -1, 1, 0, -1, 1, 0)
    wire = [Reading(n, F(n, 10), F(n, 2) + F(jitter[n - 1], 1000)) for n in range(1, 9)]
    lamp = [Reading(n, F(n, 10), F(n, 2) + F(n * n, 20) + F(jitter[n - 1], 1000)) for n in range(1, 9)]
    assert straightness(wire).starts_at_nought
    assert not straightness(wire).bend.found
    assert straightness(lamp).bend.found


def test_a_discharge_gives_its_time_constant_within_the_stated_interval():
    chance, times, missed = random.Random(7), [2.0 * n for n in range(10)], 0
    for _ in range(300):
        pds = [6 * math.exp(-t / 10) + chance.gauss(0, 0.02) for t in times]
        made = discharge(times, pds, u_pd=0.02)
        missed += abs(made.time_constant.value - 10) > 1.96 * made.time_constant.u
    assert missed < 30


def test_too_few_readings_of_a_discharge_are_refused():
    with pytest.raises(ValueError, match="three readings"):
        discharge([0.0, 1.0], [2.0, 1.0], u_pd=0.1)


@pytest.mark.parametrize(
    ("text", "value", "u"),
    [
        ("1.000 m ± 1 mm", 1.0, 0.001),
        ("0.50 mm ± 1 %", 5e-4, 5e-6),
        ("10 kohm +/- 0.1 kohm", 1e4, 100.0),
        ("2 ohm", 2.0, 0.0),
    ],
)
def test_values_as_they_are_written_down(text, value, u):
    made = read_stated(text, "it")
    assert (made.value, made.u) == pytest.approx((value, u))


@pytest.mark.parametrize("text", ["", "good", "2 ohm ± some", "± 1 %"])
def test_what_is_no_value_is_none(text):
    assert read_stated(text, "it") is None
