"""Judge labelled claims: ``python tests/outside/claims.py PATH``.

One JSON object a line comes in (definitions, letters, what is given, the claim), one goes out:
``{"key": ..., "verdict": "always|only_when|never|undecided", "condition": "...", "counterexample": {...}}``.
Letters are positive, whole numbers go from 2 up.
"""

from __future__ import annotations

import ast
import json
import re
import sys
from collections.abc import Mapping
from fractions import Fraction
from pathlib import Path
from typing import Any

if __name__ == "__main__":
    sys.path.insert(0, str(Path(__file__).resolve().parents[2] / "src"))

from boardproof.algebra.polynomial import RationalFunction
from boardproof.circuit.definitions import Definitions
from boardproof.prove.bench import Ruling
from boardproof.prove.claims import judge_claim
from boardproof.prove.world import Meant, World
from boardproof.source import Source

WORDS = {"true": "always", "true-only-when": "only_when", "wrong": "never", "not-checked": "undecided"}
COMPARED = re.compile(r"(=/=|<=|>=|=|<|>)")
SIDE_BY_SIDE = "par(a, b) = a*b/(a + b)"
Formula = tuple[tuple[str, ...], ast.expr]


def parsed(text: str) -> ast.expr:
    """A formula as a tree; nothing is ever run."""
    return ast.parse(text.strip().replace("^", "**"), mode="eval").body


class Formulas:
    """What the names of a case stand for.

    Parameters
    ----------
    definitions : list of str
        ``I(R) = E/(R + r)`` or ``D = R + r``.
    """

    def __init__(self, definitions: list[str]) -> None:
        """Read the definitions."""
        self.known: dict[str, Formula] = {}
        for each in (SIDE_BY_SIDE, *definitions):
            head, _, body = each.partition("=")
            name, _, arguments = head.strip().partition("(")
            names = tuple(one.strip() for one in arguments.rstrip(") ").split(",") if one.strip())
            self.known[name.strip()] = (names, parsed(body))

    def value(self, tree: ast.expr, bound: Mapping[str, RationalFunction]) -> RationalFunction:
        """The exact ratio that a tree stands for."""
        match tree:
            case ast.Constant(value=int() as number):
                return RationalFunction.constant(number)
            case ast.Name(id=name):
                if name in bound:
                    return bound[name]
                formula = self.known.get(name)
                return RationalFunction.letter(name) if formula is None else self.value(formula[1], {})
            case ast.Call(func=ast.Name(id=name), args=args):
                names, body = self.known[name]
                return self.value(
                    body, dict(zip(names, [self.value(each, bound) for each in args], strict=True))
                )
            case ast.UnaryOp(op=ast.USub(), operand=inner):
                return -self.value(inner, bound)
            case ast.BinOp(left=left, op=ast.Pow(), right=ast.Constant(value=int() as power)):
                return self.value(left, bound) ** power
            case ast.BinOp(left=left, op=operator, right=right):
                first, second = self.value(left, bound), self.value(right, bound)
                match operator:
                    case ast.Add():
                        return first + second
                    case ast.Sub():
                        return first - second
                    case ast.Mult():
                        return first * second
                    case ast.Div():
                        return first / second
        raise ValueError(ast.dump(tree))


def named(text: str, formulas: Formulas, names: dict[str, RationalFunction]) -> str:
    """A line with a name for each side of each comparison, in the words of the lesson language."""
    out: list[str] = []
    for piece in re.split(r"(\band\b|\bor\b|<=>)", text):
        if piece.strip() in {"and", "or", "<=>"}:
            out.append("exactly when" if piece.strip() == "<=>" else piece.strip())
            continue
        inner = piece.strip()
        inner = (
            inner[1:-1] if inner.startswith("(") and inner.endswith(")") and COMPARED.search(inner) else inner
        )
        for side in COMPARED.split(inner):
            if COMPARED.fullmatch(side):
                out.append({"=/=": "!="}.get(side, side))
                continue
            size = re.fullmatch(r"\s*abs\((.*)\)\s*", side)
            name = f"X_{len(names) + 1}"
            names[name] = formulas.value(parsed(size[1] if size else side), {})
            out.append(f"abs({name})" if size else "0" if side.strip() == "0" else name)
    return " ".join(out)


def ruling_of(case: Mapping[str, Any]) -> Ruling:
    """The ruling on a case."""
    formulas = Formulas(case["definitions"])
    names: dict[str, RationalFunction] = {}
    given = [named(case["given"], formulas, names)] if case["given"] else []
    given += [f"{count} = 2, 3, ..." for count in case["whole"]]

    def meant(name: str) -> Meant:
        return names.get(name) or RationalFunction.letter(name)

    world = World(None, meant, definitions=Definitions(counts=frozenset(case["whole"])))
    means = Source("claim", named(case["claim"], formulas, names)).slice()
    said = Source("given", " and ".join(given)).slice() if given else None
    [(_, ruling)] = judge_claim([means], said, world)
    return ruling


def answer(case: Mapping[str, Any]) -> dict[str, Any]:
    """What is printed for a case."""
    verdict = ruling_of(case).verdict
    row: dict[str, Any] = {"key": case["key"], "verdict": WORDS.get(verdict.kind, "undecided")}
    if verdict.kind == "true-only-when":
        row["condition"] = verdict.condition
    values = next((each.values for each in verdict.evidence if each.kind == "counterexample"), {})
    if values:
        row["counterexample"] = {name: str(Fraction(value)) for name, value in values.items()}
    if verdict.kind == "not-checked" and verdict.evidence:
        row["reason"] = verdict.evidence[0].text
    return row


def main(path: str) -> None:
    """Judge every line of a file; a case that can't be judged says why and never stops the others."""
    for line in Path(path).read_text(encoding="utf-8").splitlines():
        case = json.loads(line)
        try:
            found = answer(case)
        except Exception as problem:  # noqa: BLE001 - a bad case never stops the others
            found = {"key": case["key"], "verdict": "undecided", "reason": repr(problem)}
        print(json.dumps(found, ensure_ascii=False), flush=True)


if __name__ == "__main__":
    main(sys.argv[1])
