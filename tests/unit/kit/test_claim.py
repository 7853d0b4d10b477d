"""The claim command: verdict, condition, words, questions, limits, and its exit status."""

from __future__ import annotations

import json

import pytest

from boardproof.cli import main
from boardproof.kit.claim import judge_words

PAIR = "A = cell E_1, r_1; B = cell E_2, r_2; R = resistor; both = A || B; both across R"


@pytest.mark.parametrize(
    ("words", "verdict", "status"),
    [
        ("The larger the load, the larger the terminal p.d.", "always", 0),
        ("P rises with R", "only when", 1),
        ("V = E", "never", 1),
        ("E/(R + r) < E/r", "always", 0),
        (
            "n like cells in parallel drive more current than n like cells in series exactly when R < r",
            "always",
            0,
        ),
        ("Parallel is better than series", "asked", 1),
        ("Cells are heavy", "unread", 2),
    ],
)
def test_verdict_and_status(words, verdict, status):
    found = judge_words(words)
    assert (found.verdict, found.status) == (verdict, status)


def test_told_in_the_terminal(capsys):
    assert main(["claim", "Adding B raises the current", "--circuit", PAIR]) == 1
    out = capsys.readouterr().out
    assert "only when E_1 R < E_2 (R + r_1)" in out
    assert "only if the EMF of B exceeds the terminal p.d. that is there without it" in out
    assert "decided by" in out


def test_condition_narrows_and_json(capsys):
    assert main(["claim", "I_1 > 0", "--circuit", PAIR, "--for", "E_1 > E_2", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["schema"] == 1
    assert told["verdict"] == "always"
    assert told["lines"][0]["decided_by"] == "factors"


def test_two_readings_are_listed(capsys):
    assert main(["claim", "A drives more current than B", "--circuit", PAIR]) == 1
    out = capsys.readouterr().out
    assert "can be read in 2 ways" in out
    assert "each alone on the load" in out


def test_a_broken_circuit_is_told(capsys):
    assert main(["claim", "V < E", "--circuit", "A = cel 6 V"]) == 2
    assert "cel" in capsys.readouterr().out


@pytest.mark.timeout(60)
def test_many_terms_are_judged_in_a_process_that_may_be_killed(capsys, monkeypatch):
    monkeypatch.setattr(
        "boardproof.kit.claim.CLAIM_SECONDS", 50.0
    )  # a busy machine is slow to start the process
    assert judge_words("(a+b+c+d+e+f+g+h)^8 > 0").verdict == "undecided"
    assert main(["claim", "(a+b+c+d+e+f+g+h)^8 > 0"]) == 0
    assert "always" in capsys.readouterr().out
