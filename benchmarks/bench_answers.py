"""Typed answers read and judged beside sympy's parser, and ten million answers marked in flat memory.

The answers are all different, four in five the plain sort, the others with words, working and standard form. sympy is
given the bare number only, which it runs; ours reads the unit as well.
"""

from __future__ import annotations

import random
import resource
import sys
import tempfile
from fractions import Fraction
from pathlib import Path

from timing import call, tell

from boardproof.algebra.answered import read_number
from boardproof.algebra.answered_units import expected_unit
from boardproof.practice.answer_verdict import Expected, judge_typed
from boardproof.practice.answers_by_the_million import mark_file

from sympy.parsing.sympy_parser import parse_expr  # isort: skip

PEER = "sympy's parse_expr"
EXPECTED = Expected("number", Fraction(3, 2), "A", 2, Fraction(1, 20))
UNITS = (" A", "A", " mA", " V", "", " ohm", " amps", " W")
WORDED = ("I = {} A", "12/8 = {}A", "{} x 10^-3 A", "about {} A", "-{} A", "{} amps to the right")
MILLIONS = 10_000_000


def answers(count):
    """Different answers."""
    luck = random.Random(1)
    found = []
    for number in range(count):
        value = f"{luck.uniform(0, 20):.2f}{number % 10}{number}"[: luck.choice((4, 5, 6))]
        worded = luck.random() < 0.2
        found.append(luck.choice(WORDED).format(value) if worded else value + luck.choice(UNITS))
    return found


def read(texts):
    unit = expected_unit("A")
    for text in texts:
        read_number(text, unit)


def judge(texts):
    for text in texts:
        judge_typed(text, EXPECTED)


def theirs(texts):
    for text in texts:
        parse_expr(text)


def main():
    texts = answers(20_000)
    peer = call(theirs, ["3/2", "1.5", "12/8", "2*3/4"] * 25) / 100
    mine = call(read, texts) / len(texts)
    tell("an answer read", mine, PEER, peer)
    print(f"{1000 / mine:,.0f} a second; goal 50,000 a second")
    print(f"{1000 / (call(judge, texts, times=3) / len(texts)):,.0f} a second read and judged")
    if "--million" in sys.argv:
        million(texts)


def million(texts):
    """Ten million answers in a file, marked."""
    luck = random.Random(2)
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "answers.csv"
        with path.open("w", encoding="utf-8") as file:
            file.write("student,question,answer\n")
            for start in range(0, MILLIONS, 100_000):
                rows = (f"S{start + n:08},1,{luck.choice(texts)}\n" for n in range(100_000))
                file.write("".join(rows))
        spent = call(mark_file, path, {"1": EXPECTED}, Path(folder) / "marked.parquet", times=1)
        most = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 2**20
        print(
            f"ten million answers: {spent / 1000:.1f} s of processor time, at most {most:.2f} GiB of memory"
        )


if __name__ == "__main__":
    main()
