"""Mark typed answers: ``python tests/outside/typed_answers.py PATH`` prints ``{"id": ..., "verdict": ...}`` a line."""

from __future__ import annotations

import ast
import json
import operator
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

if __name__ == "__main__":
    sys.path.insert(0, str(Path(__file__).resolve().parents[2] / "src"))

from boardproof.practice.answer_verdict import expected_from, judge_typed


def generated(text: str) -> str:
    """A string from sums and products of string and whole-number literals; nothing is ever run."""

    def made(node: ast.expr) -> Any:
        match node:
            case ast.Constant(str() | int() as value):
                return value
            case ast.BinOp(left, (ast.Add() | ast.Mult()) as sign, right):
                return (operator.add if isinstance(sign, ast.Add) else operator.mul)(made(left), made(right))
        raise ValueError(f"no sum or product of literals: {text}")

    return str(made(ast.parse(text, mode="eval").body))


def verdicts(path: Path) -> Iterator[dict[str, str]]:
    """One verdict a row."""
    with path.open(encoding="utf-8") as rows:
        for line in rows:
            if not line.strip():
                continue
            row = json.loads(line)
            typed = row["typed"] if "typed" in row else generated(row["typed_generate"])
            judged = judge_typed(typed, expected_from(row["expected"], row["policy"]))
            yield {"id": row["id"], "verdict": judged.label}


if __name__ == "__main__":
    for verdict in verdicts(Path(sys.argv[1])):
        sys.stdout.write(json.dumps(verdict) + "\n")
