"""Claims of the trade with their truth, labelled by hand, in our own words.

`data/claims.jsonl` was given; `data/more_claims.jsonl` holds the others of the same list (bridges, potentiometers,
meters, charging, "exactly when"), with formulas solved from Kirchhoff's rules.
"""

from __future__ import annotations

import json
import random
from fractions import Fraction
from pathlib import Path

import pytest

from boardproof.algebra.meaning import value
from boardproof.algebra.polynomial import RationalFunction
from boardproof.algebra.written import read_line
from boardproof.prove.bench import compares
from boardproof.source import Source
from outside.claims import Formulas, answer, parsed

DATA = Path(__file__).parent / "data"
CASES = [
    json.loads(line)
    for name in ("claims.jsonl", "more_claims.jsonl")
    for line in (DATA / name).read_text(encoding="utf-8").splitlines()
]
POINTS = 200


def holds(text, formulas, point):
    """Whether a labelled condition holds at a point, worked out apart from the package's own comparisons."""
    for mark, alike in (("<=>", True), (") =/= (", False)):
        if mark in text:
            one, other = (holds(half.strip(" ()") if mark == ") =/= (" else half.strip()[1:-1], formulas, point)
                          for half in text.split(mark))  # fmt: skip
            return (one == other) is alike
    if " or " in text:
        return any(holds(one, formulas, point) for one in text.split(" or "))
    if " and " in text:
        return all(holds(one, formulas, point) for one in text.split(" and "))
    for sign, words in (("<=", "≤"), (">=", "≥"), ("=/=", "≠"), ("<", "<"), (">", ">"), ("=", "=")):
        if sign in text:
            left, right = (number(side, formulas, point) for side in text.split(sign))
            return compares(left, words, right)
    raise ValueError(text)


def number(text, formulas, point):
    text = text.strip()
    if text.startswith("abs("):
        inside, _, rest = text[4:].partition(")")
        size = abs(number(inside, formulas, point))
        return size * number(rest.lstrip("*") or "1", formulas, point)
    return formulas.value(parsed(text), {}).evaluate(point)


def ours(text, point):
    """Whether a printed condition holds at a point."""
    return any(
        all(
            compares(*(value(side, RationalFunction.letter).evaluate(point) for side in (each.left,)), each.sign,
                     value(each.right, RationalFunction.letter).evaluate(point))
            for each in read_line(Source("x", one).slice(), known=set(point))[0].statements
        )
        for one in text.split(" or ")
    )  # fmt: skip


def points(case):
    """Exact positive points, ties forced often, at which what is given holds."""
    dice, formulas = random.Random(case["key"]), Formulas(case["definitions"])
    while True:
        point = {name: Fraction(dice.randint(1, 6), dice.choice((1, 1, 2, 3))) for name in case["letters"]}
        point |= {name: Fraction(dice.randint(2, 6)) for name in case["whole"]}
        if dice.random() < 0.3 and len(point) > 1:
            first, second = dice.sample([name for name in point if name not in case["whole"]], 2)
            point[first] = point[second]
        if not case["given"] or holds(case["given"], formulas, point):
            yield point


@pytest.mark.parametrize("case", CASES, ids=[case["key"] for case in CASES])
def test_verdict_and_condition(case):
    found = answer(case)
    assert found["verdict"] == case["verdict"], (case["words"], found)
    if case["verdict"] == "only_when":
        formulas = Formulas(case["definitions"])
        for _, point in zip(range(POINTS), points(case), strict=False):
            assert ours(found["condition"], point) == holds(case["condition"], formulas, point), (
                found,
                point,
            )


@pytest.mark.parametrize(
    "case", [case for case in CASES if case["verdict"] != "always"], ids=lambda case: case["key"]
)
def test_counterexample_refutes(case):
    found = {name: Fraction(text) for name, text in answer(case)["counterexample"].items()}
    point = {name: Fraction(2) for name in case["letters"]} | found  # letters that cancel out may be anything
    formulas = Formulas(case["definitions"])
    assert all(value.denominator == 1 and 1 <= value <= 12 for value in point.values())
    assert not case["given"] or holds(case["given"], formulas, point)
    assert not holds(case["claim"], formulas, point)
