"""Millions of answers get the same verdicts as one by one."""

from __future__ import annotations

from collections import Counter
from fractions import Fraction

import pytest

from boardproof.practice.answer_verdict import Expected, judge_typed
from boardproof.practice.answers_by_the_million import mark_file

polars = pytest.importorskip("polars")
EXPECTED = Expected("number", Fraction(3, 2), "A", 2, Fraction(1, 20))
TYPED = ("1.5 A", "1500 mA", "1.5", "15 A", "", "idk", '"=1+1"', "-1.5 A", "1,5 A", "2 V")


def written(path, times):
    rows = [f'S{n},1,"{text.replace(chr(34), chr(34) * 2)}"' for n in range(times) for text in TYPED]
    path.write_text("\n".join(["student,question,answer", *rows]), encoding="utf-8")


def test_the_verdicts_are_those_of_one_by_one(tmp_path):
    written(tmp_path / "answers.csv", 300)
    found = mark_file(tmp_path / "answers.csv", {"1": EXPECTED}, tmp_path / "out.parquet")
    alone = Counter(judge_typed(text, EXPECTED).label for text in TYPED)
    assert found == {label: 300 * count for label, count in alone.items()}
    assert polars.read_parquet(tmp_path / "out.parquet").height == 300 * len(TYPED)


@pytest.mark.deep
@pytest.mark.timeout(300)
def test_ten_million_answers_fit_in_two_gibibytes(tmp_path):
    import subprocess
    import sys
    from pathlib import Path

    bench = Path(__file__).parents[3] / "benchmarks" / "bench_answers.py"
    told = subprocess.run(
        [sys.executable, bench, "--million"], capture_output=True, text=True, check=True
    ).stdout
    assert float(told.rsplit("at most ", 1)[1].split()[0]) < 2
