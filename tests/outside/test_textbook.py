"""Published problems agree with our solver to the figures stated; each case names its source."""

import json
import math
import subprocess
import sys
from collections import Counter
from pathlib import Path

import pytest

from outside.textbook import computed

HERE = Path(__file__).parent
CASES = [
    json.loads(line) for line in (HERE / "data/textbook_cases.jsonl").read_text(encoding="utf-8").splitlines()
]


def agrees(found, value, figures):
    """Within half a unit of the last figure."""
    place = math.floor(math.log10(abs(value))) if value else 0
    return found is not None and abs(found - value) <= 0.5 * 10.0 ** (place - figures + 1) * (1 + 1e-9)


@pytest.mark.parametrize("case", CASES, ids=lambda case: f"{case['id']}: {case['source']['title']}")
def test_published_case(case):
    told = computed(case)
    where = f"{case['source']['title']}, {case['source']['section']}"
    for question, found in zip(case["asked"], told["computed"], strict=True):
        assert agrees(found, question["value"], question["sig_figs"]), (
            where,
            question,
            found,
            told.get("reason"),
        )


def test_no_case_is_missing():
    assert len(CASES) == 105
    assert len({case["id"] for case in CASES}) == 105


def test_the_figures_decide():
    assert agrees(0.125, 0.13, 2)
    assert not agrees(0.1249, 0.13, 2)
    assert not agrees(None, 0.13, 2)


def test_a_bad_case_stops_nothing_and_says_why(tmp_path):
    good = CASES[0]
    bad = {"id": "bad", "parts": [], "given": [], "asked": [{"quantity": "colour", "of": "R9", "value": 1}]}
    path = tmp_path / "cases.jsonl"
    path.write_text("\n".join([json.dumps(bad), "not json", json.dumps(good)]), encoding="utf-8")
    run = subprocess.run(
        [sys.executable, str(HERE / "textbook.py"), str(path)], capture_output=True, text=True, check=True
    )
    lines = [json.loads(line) for line in run.stdout.splitlines()]
    assert Counter(line["id"] for line in lines) == {"bad": 1, None: 1, good["id"]: 1}
    assert lines[0]["computed"] == [None]
    assert "colour" in lines[0]["reason"]
    assert all(
        agrees(f, q["value"], q["sig_figs"]) for f, q in zip(lines[2]["computed"], good["asked"], strict=True)
    )
