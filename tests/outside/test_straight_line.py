"""The straight line against certified values: Norris, NIST Statistical Reference Datasets, linear least squares."""

from __future__ import annotations

import json
from fractions import Fraction
from pathlib import Path

from boardproof.lab.readings import LineFit, Reading, line_through
from boardproof.source import Span

NORRIS = json.loads((Path(__file__).parent / "data" / "straight_line.json").read_text(encoding="utf-8"))[
    "Norris"
]


def test_certified_line_and_standard_errors():
    pairs = zip(NORRIS["x"], NORRIS["y"], strict=True)
    readings = [Reading(row, Fraction(str(x)), Fraction(str(y))) for row, (x, y) in enumerate(pairs, 1)]
    fit = line_through(readings, Span("x", 0, 1))
    assert isinstance(fit, LineFit)
    wanted = {
        name: Fraction(digits) for name, digits in NORRIS["certified"].items() if isinstance(digits, str)
    }
    exact = {"B0": fit.E, "B1": -fit.r, "residual_ss": sum(each * each for each in fit.residuals)}
    for name, value in exact.items():
        assert abs(value / wanted[name] - 1) < Fraction(1, 10**14), name
    assert abs(Fraction(fit.u_E) / wanted["sd_B0"] - 1) < Fraction(1, 10**14)
    assert abs(Fraction(fit.u_r) / wanted["sd_B1"] - 1) < Fraction(1, 10**14)
    assert fit.degrees == NORRIS["certified"]["residual_df"]
