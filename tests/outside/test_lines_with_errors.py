"""Lines and uncertainties against published results and other people's programs.

GUM H.2, H.3, G.4 and Table G.2: JCGM 100:2008. Pearson's points with York's weights: York, Canadian Journal of
Physics 44 (1966) 1079, and American Journal of Physics 72 (2004) 367. Norris and Pontius: NIST Statistical Reference
Datasets. H.2's inputs are those of JCGM 100:2008, Table H.2, its results those of Table H.3 (both from memory).
"""

from __future__ import annotations

import cmath
import json
import math
from fractions import Fraction
from pathlib import Path

import numpy as np
import pytest
from odrpack import odr_fit
from uncertainties import correlated_values, umath

from boardproof.lab.bench import Bench
from boardproof.lab.chance import student_factor
from boardproof.lab.noticed import noticed
from boardproof.lab.readings import Reading
from boardproof.lab.result import measure
from boardproof.lab.simulate import Truth, simulated
from boardproof.lab.uncertain import Cause, Uncertain, correlation, derived, effective_degrees, measured
from boardproof.lab.york import Point, york_line

SETS = json.loads((Path(__file__).parent / "data" / "statistics_reference.json").read_text(encoding="utf-8"))


def digits(value, wanted):
    """Whether a value rounds to the digits that were published."""
    places = len(wanted.partition(".")[2])
    return f"{value:.{places}f}" == wanted.replace("+", "")


def pearson():
    york = SETS["york_pearson"]
    columns = (york[name] for name in ("x", "y", "weight_x", "weight_y"))
    return [
        Point(n, x, y, wx**-0.5, wy**-0.5) for n, (x, y, wx, wy) in enumerate(zip(*columns, strict=True), 1)
    ]


def test_pearsons_points_with_yorks_weights():
    line, wanted = york_line(pearson()), SETS["york_pearson"]["recomputed"]
    assert digits(line.a, SETS["york_pearson"]["accepted"]["a"])
    assert line.b == pytest.approx(float(SETS["york_pearson"]["accepted"]["b"]), rel=2e-9)
    for name, value in (
        ("a", line.a),
        ("b", line.b),
        ("sigma_a", line.u_a),
        ("sigma_b", line.u_b),
        ("cov_ab", line.covariance),
        ("S", line.squares),
    ):
        assert value == pytest.approx(float(wanted[name]), rel=1e-9), name


def test_another_program_for_errors_in_both_directions_agrees():
    points = pearson()
    x, y = (np.array([getattr(each, name) for each in points]) for name in "xy")
    weights = [np.array([getattr(each, name) ** -2 for each in points]) for name in ("u_x", "u_y")]
    found = odr_fit(
        lambda x, beta: beta[0] + beta[1] * x,
        x,
        y,
        beta0=np.array([5.0, -0.5]),
        weight_x=weights[0],
        weight_y=weights[1],
    )
    line = york_line(points)
    assert found.beta == pytest.approx([line.a, line.b], rel=2e-5)  # as far as its search goes
    # it tells standard errors scaled by the scatter; ours are the stated ones
    scale = math.sqrt(line.squares / (len(points) - 2))
    assert found.sd_beta == pytest.approx([line.u_a * scale, line.u_b * scale], rel=0.02)


def test_gum_h3_calibration_line():
    h3 = SETS["gum_h3"]
    places = [t - h3["t0_degC"] for t in h3["t_degC"]]
    readings = [
        Reading(n, Fraction(str(round(x, 3))), Fraction(str(y)))
        for n, (x, y) in enumerate(zip(places, h3["b_degC"], strict=True), 1)
    ]
    made, wanted = measure(readings), h3["published"]
    assert digits(made.E.value, wanted["y1"])
    assert digits(made.E.u, wanted["s_y1"])
    assert digits(-made.r.value, wanted["y2"])
    assert digits(made.r.u, wanted["s_y2"])
    assert digits(-made.correlation, wanted["r_y1y2"])
    assert digits(made.scale, wanted["s_residual"])
    assert made.degrees == wanted["degrees_of_freedom"]
    at_30 = made.height(10.0)
    assert digits(at_30.value, wanted["b_at_30"])
    assert digits(at_30.u, wanted["u_b_at_30"])
    for point, each in zip(made.line.residuals, h3["published_residual"], strict=True):
        assert digits(point, each)


def test_gum_h2_resistance_and_reactance_with_correlated_inputs():
    means, u = (4.9990, 19.6610e-3, 1.04446), (0.0032, 0.0095e-3, 0.00075)
    r = np.array([[1, -0.36, 0.86], [-0.36, 1, -0.65], [0.86, -0.65, 1]])
    root = np.linalg.cholesky(r)
    axes = [Cause("readings", degrees=4, axis=n) for n in range(3)]
    V, I, phi = (
        Uncertain(mean, {axis: own * share for axis, share in zip(axes, row, strict=True)})
        for mean, own, row in zip(means, u, root, strict=True)
    )
    R = derived(lambda V, I, p: V / I * cmath.cos(p), V, I, phi)
    X = derived(lambda V, I, p: V / I * cmath.sin(p), V, I, phi)
    Z = derived(lambda V, I: V / I, V, I)
    # JCGM 100:2008, Table H.3: R = 127.732(71), X = 219.847(295), Z = 254.260(236); r(R, X) = -0.588
    assert (round(R.value, 3), round(X.value, 3), round(Z.value, 3)) == pytest.approx(
        (127.732, 219.847, 254.260), abs=6e-3
    )
    assert (R.u, X.u, Z.u) == pytest.approx((0.071, 0.295, 0.236), abs=2.5e-3)
    assert correlation(R, X) == pytest.approx(-0.588, abs=0.02)
    assert correlation(R, Z) == pytest.approx(-0.485, abs=0.02)
    assert correlation(X, Z) == pytest.approx(0.993, abs=0.02)
    # another program, with the same inputs, to all digits
    covariance = np.array([[r[a][b] * u[a] * u[b] for b in range(3)] for a in range(3)])
    v, i, p = correlated_values(means, covariance)
    judge = v / i * umath.cos(p)
    assert (R.value, R.u) == pytest.approx((judge.nominal_value, judge.std_dev), rel=1e-9)


def test_gum_g4_effective_degrees_of_freedom():
    g4 = SETS["gum_g4_welch_satterthwaite"]
    rows = zip(g4["relative_standard_uncertainties_percent"], g4["degrees_of_freedom"], strict=True)
    parts = [measured(1.0, u, str(n), degrees=n) for u, n in rows]
    whole = derived(lambda a, b, c: a * b * c, *parts)
    assert whole.u == pytest.approx(g4["recomputed"]["uc_percent"], rel=1e-5)
    assert digits(effective_degrees(whole), g4["published"]["nu_eff"])


def test_gum_table_of_student_factors():
    for degrees, row in SETS["gum_table_g2_student_t"]["values"].items():
        for share, wanted in row.items():
            assert round(student_factor(float(share) / 100, int(degrees)), 2) == pytest.approx(
                wanted, abs=0.0101
            ), (
                degrees,
                share,
            )


def test_nist_norris():
    norris = SETS["nist_strd"]["Norris"]
    line = york_line(
        [Point(n, x, y) for n, (x, y) in enumerate(zip(norris["x"], norris["y"], strict=True), 1)]
    )
    wanted = {name: float(each) for name, each in norris["certified"].items() if isinstance(each, str)}
    scale = wanted["residual_sd"]
    assert (line.a, line.b) == pytest.approx((wanted["B0"], wanted["B1"]), rel=1e-11)
    assert (line.u_a * scale, line.u_b * scale) == pytest.approx(
        (wanted["sd_B0"], wanted["sd_B1"]), rel=1e-11
    )
    assert line.squares == pytest.approx(wanted["residual_ss"], rel=1e-11)


def test_nist_pontius_bends_and_its_bend_is_the_certified_one():
    pontius = SETS["nist_strd"]["Pontius"]
    xs = pontius["x"]
    readings = [
        Reading(n, Fraction(x) / 10**6, Fraction(y))
        for n, (x, y) in enumerate(zip(xs, pontius["y_text"], strict=True), 1)
    ]
    made = measure(readings)
    _, bend, _ = noticed(made)
    certified = float(pontius["certified"]["B2"]) / float(pontius["certified"]["sd_B2"])
    assert bend.found
    assert bend.statistic == pytest.approx(certified, rel=1e-8)


def test_standard_errors_agree_with_many_simulated_experiments():
    cell, loads = Truth(1.5, 0.4, 0.003), [1.5 / x for x in (0.1, 0.5, 0.3, 0.8, 0.2, 0.6)]
    found = [measure(simulated(cell, loads, Bench(), seed=n)) for n in range(1500)]
    for name in ("E", "r"):
        values = np.array([getattr(each, name).value for each in found])
        stated = math.sqrt(np.mean([getattr(each, name).u ** 2 for each in found]))
        assert values.std() == pytest.approx(stated, rel=0.06)
