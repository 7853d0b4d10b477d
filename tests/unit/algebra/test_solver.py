"""The last resort: what only z3 decides, what it finds is checked, and what is said where it is missing."""

from __future__ import annotations

from fractions import Fraction

import pytest

from boardproof.algebra import solver
from boardproof.algebra.answer import Always, Undecided, When
from boardproof.algebra.ground import holds
from boardproof.algebra.polynomial import RationalFunction
from boardproof.algebra.sign import sign_of
from boardproof.algebra.solver import is_installed, search

x, y, z = (RationalFunction.letter(name) for name in "xyz")
MEANS = (x + y + z) ** 3 - 27 * x * y * z


def test_what_no_proof_of_ours_decides():
    answer = sign_of(MEANS, "≥")
    assert isinstance(answer, Always)
    assert answer.decided_by == "z3"
    assert "z3" in answer.text


def test_the_same_without_it_is_undecided_and_says_so(monkeypatch):
    monkeypatch.setattr(solver.importlib.util, "find_spec", lambda name: None)
    assert not is_installed()
    answer = sign_of(MEANS, "≥")
    assert isinstance(answer, Undecided)
    assert "extra `proof`" in answer.reason


def test_a_point_counts_only_after_the_exact_check():
    facts = [(x * x - 2 * y, "="), (y - 1, ">")]
    found = search(facts, accepts=lambda point: point["x"] ** 2 == 2 * point["y"] and point["y"] > 1)
    assert isinstance(found, dict)
    assert found["x"] ** 2 == 2 * found["y"]
    assert search(facts, accepts=lambda point: False) is False


def test_no_point_and_counts():
    assert search([(x * x - x + 1, "<")], accepts=lambda point: True) is True
    assert search([(x - 1, "<")], {"x"}, accepts=lambda point: True) is True


@pytest.mark.parametrize("sign", ["<", "≤", ">", "≥", "=", "≠"])
def test_every_comparison_is_passed_on(sign):
    found = search([(x - 3, sign)], accepts=lambda point: True)
    assert isinstance(found, dict)
    assert holds(Fraction(found["x"] - 3), sign)


def test_a_claim_with_a_rare_counterexample_is_refuted_by_a_checked_point():
    answer = sign_of((x - 1000 * y) ** 2 - y * y, ">")
    assert isinstance(answer, When)
    assert (answer.fails["x"] - 1000 * answer.fails["y"]) ** 2 <= answer.fails["y"] ** 2


def test_time_is_limited():
    hard = sum(
        (
            RationalFunction.letter(f"a_{n}") ** 4 * RationalFunction.letter(f"a_{(n * 3) % 7}")
            for n in range(7)
        ),
        x,
    )
    assert (
        search([(hard - x - 7 * x * y, "<"), (hard - z, "=")], accepts=lambda point: False, seconds=0.2)
        is False
    )
