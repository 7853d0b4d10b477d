"""Answers as students type them, each with the one label that a careful examiner would give it.

`data/typed_answers.jsonl` was given, with its rules; `data/more_typed_answers.jsonl` is ours, labelled by the same
rules before it was run. Hostile answers take a bounded time and are refused.
"""

from __future__ import annotations

import json
import subprocess
import sys
import time
from fractions import Fraction
from pathlib import Path

import pytest

from boardproof.practice.answer_verdict import LABELS, Expected, expected_from, judge_typed
from outside.typed_answers import generated

DATA = Path(__file__).parent / "data"
ROWS = [
    json.loads(line)
    for name in ("typed_answers.jsonl", "more_typed_answers.jsonl")
    for line in (DATA / name).read_text(encoding="utf-8").splitlines()
]
NUMBER = Expected("number", Fraction(3, 2), "A", 2, Fraction(1, 20))
EXPRESSION = Expected("expression", latex="\\frac{E}{R+r}", symbols=("E", "R", "r"))
RATIO = Expected("ratio", Fraction(3, 2), parts=(Fraction(3), Fraction(2)), of=("E_1", "E_2"))
HOSTILE = (
    "9**9**9",
    "1e" + "9" * 400,
    "1.0000001^999999999",
    "2^" * 200 + "2",
    "(" * 249 + "1" + ")" * 249,
    "\u221a" * 499,
    "1" * 500,
    "\u00bd" * 500,
    "\ufdfa" * 500,
    "1.234*" * 80,
    "mmmmmmmm" * 60,
    "E/RR" * 120,
    "xR" * 240,
    "e^" * 200,
    "\\frac" * 90,
    '=HYPERLINK("http://x")',
    "@SUM(A1:A9)",
    "<script>alert(1)</script>",
    "__import__('os').system('ls')",
    "\u202e5.1 A",
    "\u0415/(R+r)\u0301",
    "1 or " * 100,
    "twenty " * 70,
    "kilo " * 100,
    "a:" * 250,
)


@pytest.mark.parametrize("row", ROWS, ids=[each["id"] for each in ROWS])
def test_each_answer_gets_its_label(row):
    typed = row["typed"] if "typed" in row else generated(row["typed_generate"])
    judged = judge_typed(typed, expected_from(row["expected"], row["policy"]))
    assert judged.label == row["verdict"], (row.get("why"), judged)


def test_the_command_prints_a_verdict_a_line(tmp_path):
    rows = tmp_path / "rows.jsonl"
    rows.write_text("\n".join(json.dumps(each) for each in ROWS[:3]), encoding="utf-8")
    command = [sys.executable, Path(__file__).with_name("typed_answers.py"), rows]
    told = subprocess.run(command, capture_output=True, text=True, check=True).stdout.splitlines()
    assert [json.loads(each) for each in told] == [
        {"id": each["id"], "verdict": each["verdict"]} for each in ROWS[:3]
    ]


@pytest.mark.parametrize("asked", [NUMBER, EXPRESSION, RATIO], ids=lambda each: each.kind)
@pytest.mark.parametrize("typed", HOSTILE, ids=lambda each: ascii(each[:12]))
def test_a_hostile_answer_costs_less_than_a_moment(typed, asked):
    seconds = []
    for _ in range(3):
        start = time.process_time()
        judged = judge_typed(typed[:500], asked)
        seconds.append(time.process_time() - start)
    assert judged.label in LABELS
    assert judged.label != "right"
    assert min(seconds) < 0.2  # ten times the goal, which a benchmark holds: here coverage is traced


@pytest.mark.parametrize("whole", ["0", "7", "12", "1234"])
@pytest.mark.parametrize("rest", ["", ".5", ".25", ".125", ".0625"])
@pytest.mark.parametrize("unit", ["", "A", " mA", "V", " ohm", "%"])
def test_the_short_way_reads_what_the_long_way_reads(whole, rest, unit):
    typed = whole + rest + unit
    assert judge_typed(typed, NUMBER) == judge_typed(f"= {typed}", NUMBER)
