"""Judge labelled claims: ``python tests/outside/claims.py PATH``.

One JSON object a line comes in (definitions, letters, what is given, the claim), one goes out:
``{"key": ..., "verdict": "always|only_when|never|undecided", "condition": "...", "counterexample": {...},
"decided_by": "...", "seconds": ...}``.
Letters are positive, whole numbers go from 2 up.
"""

from __future__ import annotations

import ast
import json
import re
import sys
import time
from collections.abc import Mapping
from dataclasses import dataclass
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

    def greatest_of(self, tree: ast.expr, bound: Mapping[str, RationalFunction]) -> list[RationalFunction]:
        """The ratios of which a side is the greatest: those of ``max``, both signs of ``abs``, else one."""
        match tree:
            case ast.Call(func=ast.Name(id="max"), args=args):
                return [one for each in args for one in self.greatest_of(each, bound)]
            case ast.Call(func=ast.Name(id="abs"), args=[inner]):
                size = self.value(inner, bound)
                return [size, -size]
            case ast.Call(func=ast.Name(id=name), args=args):
                names, body = self.known[name]
                return self.greatest_of(
                    body, dict(zip(names, [self.value(each, bound) for each in args], strict=True))
                )
            case _:
                return [self.value(tree, bound)]


Cases = tuple[tuple[tuple[str, str, str], ...], ...]
"""One of the cases holds, each by all its comparisons of named sides."""
TURNED = {">": "<", ">=": "<="}
OPPOSITE = {"<": ">=", "<=": ">", ">": "<=", ">=": "<", "=": "!=", "!=": "="}


@dataclass
class Statements:
    """Reads joined comparisons; each side gets a name.

    Parameters
    ----------
    formulas : Formulas
        What names stand for.
    names : dict
        From the name of a side to its ratio; filled while reading.
    """

    formulas: Formulas
    names: dict[str, RationalFunction]

    def line(self, text: str) -> str:
        """A line in the words of the lesson language."""
        for mark in ("<=>", "=/="):
            halves = split_outside(text, mark)
            if len(halves) == 2 and all(COMPARED.search(half) for half in halves):
                one, other = (self.cases(half) for half in halves)
                if mark == "<=>":
                    return f"{written(one)} exactly when {written(other)}"
                return written(both(one, opposite(other)) + both(opposite(one), other))
        return written(self.cases(text))

    def cases(self, text: str) -> Cases:
        """Comparisons joined by and, or."""
        text = bare(text)
        if len(pieces := split_outside(text, " or ")) > 1:
            return tuple(case for each in pieces for case in self.cases(each))
        if len(pieces := split_outside(text, " and ")) > 1:
            out: Cases = ((),)
            for each in pieces:
                out = both(out, self.cases(each))
            return out
        return self.comparison(text)

    def comparison(self, text: str) -> Cases:
        """One comparison; sizes and greatest values become several."""
        left, sign, right = COMPARED.split(text)
        sign = {"=/=": "!="}.get(sign, sign)
        lefts, rights = (self.formulas.greatest_of(parsed(side), {}) for side in (left, right))
        if sign in TURNED:
            sign, lefts, rights = TURNED[sign], rights, lefts
        if sign in {"=", "!="} and len(lefts) + len(rights) > 2:
            raise ValueError(f"sizes joined by {sign}")
        # The greatest of the left is below the greatest of the right: each of the left below one of the right.
        out: Cases = ((),)
        for one in lefts:
            out = both(out, tuple(((self.name(one), sign, self.name(other)),) for other in rights))
        return out

    def name(self, value: RationalFunction) -> str:
        """A name for a side."""
        if value.is_zero:
            return "0"
        name = f"X_{len(self.names) + 1}"
        self.names[name] = value
        return name


def bare(text: str) -> str:
    """Without brackets around a whole statement; brackets around a side stay."""
    text = text.strip()
    if not (text.startswith("(") and text.endswith(")") and COMPARED.search(text)):
        return text
    inner = text[1:-1]
    depth = 0
    for mark in inner:
        depth += {"(": 1, ")": -1}.get(mark, 0)
        if depth < 0:
            return text
    return bare(inner)


def split_outside(text: str, mark: str) -> list[str]:
    """Pieces between marks that stand in no bracket."""
    pieces, depth, start, place = [], 0, 0, 0
    while place < len(text):
        depth += {"(": 1, ")": -1}.get(text[place], 0)
        if depth == 0 and text.startswith(mark, place):
            pieces.append(text[start:place])
            start = place = place + len(mark)
            continue
        place += 1
    return [*pieces, text[start:]]


def both(one: Cases, other: Cases) -> Cases:
    """Where both hold."""
    return tuple(first + second for first in one for second in other)


def opposite(cases: Cases) -> Cases:
    """Where it does not hold."""
    out: Cases = ((),)
    for case in cases:
        out = both(out, tuple(((left, OPPOSITE[sign], right),) for left, sign, right in case))
    return out


def written(cases: Cases) -> str:
    """Cases as maths."""
    return " or ".join(" and ".join(" ".join(each) for each in case) for case in cases)


def ruling_of(case: Mapping[str, Any]) -> Ruling:
    """The ruling on a case."""
    formulas = Formulas(case["definitions"])
    names: dict[str, RationalFunction] = {}
    read = Statements(formulas, names)
    given = [read.line(case["given"])] if case["given"] else []
    given += [f"{count} = 2, 3, ..." for count in case["whole"]]

    def meant(name: str) -> Meant:
        return names.get(name) or RationalFunction.letter(name)

    world = World(None, meant, definitions=Definitions(counts=frozenset(case["whole"])))
    means = Source("claim", read.line(case["claim"])).slice()
    said = Source("given", " and ".join(given)).slice() if given else None
    [(_, ruling)] = judge_claim([means], said, world)
    return ruling


def answer(case: Mapping[str, Any]) -> dict[str, Any]:
    """What is printed for a case."""
    began = time.perf_counter()
    verdict = ruling_of(case).verdict
    row: dict[str, Any] = {"key": case["key"], "verdict": WORDS.get(verdict.kind, "undecided")}
    if verdict.kind == "wrong" and verdict.detail != "never":  # refuted, but where it holds is not known
        row["verdict"] = "undecided"
    if verdict.kind == "true-only-when":
        row["condition"] = verdict.condition
    values = next((each.values for each in verdict.evidence if each.kind == "counterexample"), {})
    if values:
        row["counterexample"] = {name: str(Fraction(value)) for name, value in values.items()}
    if verdict.kind == "not-checked" and verdict.evidence:
        row["reason"] = verdict.evidence[0].text
    row["decided_by"] = verdict.decided_by
    row["seconds"] = round(time.perf_counter() - began, 4)
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
