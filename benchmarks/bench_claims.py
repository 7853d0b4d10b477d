"""General claims of the labelled sets, read and judged, beside sympy factoring the difference of two sides.

sympy gets those of one plain comparison, both sides already worked out, and only factors; it decides nothing.
"""

from __future__ import annotations

import json
import sys

from bench_equations import formula_in_sympy
from course import ROOT
from timing import calls, percentile, tell

sys.path.insert(0, str(ROOT / "tests"))

import sympy  # after the path

from outside.claims import COMPARED, Formulas, parsed, ruling_of

PEER = "sympy.factor"
SAMPLE = 20
GOAL = "25 ms median"


def differences(cases):
    """What sympy factors: left less right."""
    found = []
    for case in cases:
        pieces = COMPARED.split(case["claim"])
        if len(pieces) != 3 or any(word in case["claim"] for word in (" and ", " or ", "max", "abs")):
            continue
        formulas = Formulas(case["definitions"])
        left, right = (formula_in_sympy(formulas.value(parsed(side), {})) for side in pieces[::2])
        found.append(left - right)
    return found


def main():
    for name in ("claims", "more_claims"):
        path = ROOT / "tests" / "outside" / "data" / f"{name}.jsonl"
        cases = [json.loads(line) for line in path.read_text(encoding="utf-8").splitlines()]
        calls(ruling_of, [(each,) for each in cases[:5]])  # warm
        ours = calls(ruling_of, [(each,) for each in cases])
        asked = differences(cases)[:SAMPLE]
        theirs = calls(sympy.factor, [(each,) for each in asked])
        print(f"{name}: {len(ours)} claims, {len(theirs)} of them for {PEER}")
        for percent in (50, 95):
            tell(f"claim to ruling, {percent} % under", percentile(ours, percent), PEER,
                 percentile(theirs, percent), GOAL)  # fmt: skip


if __name__ == "__main__":
    main()
