"""Equations about circuits with their verdicts, labelled by hand, in our own words (data/equations.jsonl)."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from boardproof.algebra.answer import When
from boardproof.algebra.compare import zero_when
from boardproof.algebra.meaning import value
from boardproof.algebra.polynomial import RationalFunction
from boardproof.algebra.written import read_line
from boardproof.source import Source
from outside.equations import answer

DATA = Path(__file__).parent / "data" / "equations.jsonl"
CASES = [json.loads(line) for line in DATA.read_text(encoding="utf-8").splitlines()]


def alternatives(condition, symbols):
    """A condition as a set of alternatives, each a set of comparisons, however its sides are written."""
    found = set()
    for one in condition.split(" or "):
        line, wrong = read_line(Source("x", one).slice(), known=tuple(symbols))
        assert not wrong, one
        found.add(frozenset(normal(each) for each in line.statements))
    return found


def normal(relation):
    """One comparison up to a positive factor: its sign and its factors that are not of one sign."""
    left, right = (value(side, RationalFunction.letter) for side in (relation.left, relation.right))
    sign, difference = relation.sign, left - right
    if sign in {"<", "≤"}:
        sign, difference = {"<": ">", "≤": "≥"}[sign], -difference
    number, factors = difference.factors()
    kept = {factor: power for factor, power in factors if not factor.one_signed}
    up = number > 0
    for factor, power in factors:
        if factor.one_signed < 0 and power % 2:
            up = not up
    return sign, frozenset(kept.items()), sign in {"=", "≠"} or up


@pytest.mark.parametrize("case", CASES, ids=[case["id"] for case in CASES])
def test_verdict_and_condition(case):
    found = answer(case)
    assert found["verdict"] == case["verdict"], (case["statement"], found)
    if case["verdict"] == "only_if":
        assert alternatives(found["condition"], case["symbols"]) == alternatives(
            case["condition"], case["symbols"]
        ), case["statement"]


def test_every_verdict_is_there():
    assert {case["verdict"] for case in CASES} == {"always", "only_if", "never", "dimension_error"}


def test_conditions_are_told_apart():
    symbols = ("r_1", "r_2", "R")
    assert alternatives("r_1 = r_2", symbols) == alternatives("2 r_2 = 2 r_1", symbols)
    assert alternatives("R > r_1", symbols) != alternatives("R < r_1", symbols)
    assert isinstance(zero_when(RationalFunction.letter("r_1") - RationalFunction.letter("r_2")), When)
