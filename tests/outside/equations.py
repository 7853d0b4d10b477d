"""Judge labelled equations about circuits: ``python tests/outside/equations.py PATH``.

One JSON object a line comes in (circuit, meaning of the symbols, statement), one goes out:
``{"id": ..., "verdict": "always|only_if|never|dimension_error|unchecked", "condition": "..."}``.
"""

from __future__ import annotations

import json
import re
import sys
from collections.abc import Mapping
from pathlib import Path
from typing import Any

if __name__ == "__main__":
    sys.path.insert(0, str(Path(__file__).resolve().parents[2] / "src"))

from boardproof.algebra.kinds import KINDS as UNREADABLE
from boardproof.algebra.written import read_line
from boardproof.circuit.look_up import Resolved
from boardproof.circuit.model import Across, Circuit, Item, Leaf, Network, Part, Worth
from boardproof.circuit.quantity import QuantityRef
from boardproof.findings import Finding
from boardproof.prove.bench import chains
from boardproof.prove.judge import judge
from boardproof.prove.verdict import Verdict
from boardproof.prove.world import Meant, World
from boardproof.source import Source, Span

WORDS = {
    "true": "always",
    "true-only-when": "only_if",
    "wrong": "never",
    "units-differ": "dimension_error",
    "not-checked": "unchecked",
}
GROUP, WHOLE = "group", "whole"
SYMBOLS = (
    (re.compile(r"(?:equivalent|total) emf between terminals"), "emf", GROUP),
    (re.compile(r"(?:equivalent|total|internal) resistance between terminals"), "resistance", GROUP),
    (re.compile(r"(?:terminal )?voltage between terminals"), "pd", GROUP),
    (re.compile(r"short[- ]circuit current.*"), "short_circuit_current", GROUP),
    (re.compile(r"emf of each cell"), "emf", None),
    (re.compile(r"internal resistance of each cell"), "resistance", None),
    (re.compile(r"emf of (\w+)"), "emf", None),
    (re.compile(r"(?:internal )?resistance of (\w+)"), "resistance", None),
    (re.compile(r"(?:terminal )?voltage (?:of|across) (\w+)"), "pd", None),
    (re.compile(r"current (?:through|in) (\w+)"), "current", None),
    (re.compile(r"power in (\w+)"), "power", None),
)


def letter_of(symbols: Mapping[str, str], kind: str, name: str) -> str:
    """The symbol that stands for what a part carries; one of our own if the case names none."""
    each = "emf of each cell" if kind == "emf" else "internal resistance of each cell"
    wanted = (
        {f"emf of {name}"} if kind == "emf" else {f"internal resistance of {name}", f"resistance of {name}"}
    )
    for symbol, words in symbols.items():
        if words in wanted or (words == each and kind in {"emf", "r"}):
            return symbol
    return f"{'E' if kind == 'emf' else 'r'}_{name}"


def part_of(row: Mapping[str, Any], symbols: Mapping[str, str]) -> tuple[Part, str, str]:
    """A part with its first and last node."""
    name = row["name"]
    if row["kind"] == "cell":
        emf, inner = letter_of(symbols, "emf", name), letter_of(symbols, "r", name)
        resistance = None if row.get("r") == 0 else Worth(inner)
        part = Part(name, "cell" if resistance else "source", Worth(emf), resistance)
        return part, row["minus"], row["plus"]
    own = next((symbol for symbol, words in symbols.items() if words == f"resistance of {name}"), name)
    return Part(name, "resistor", resistance=Worth(own)), *row["nodes"]


def circuit_of(case: Mapping[str, Any]) -> Circuit:
    """The case's circuit: what lies between the terminals, and the load across it if one is marked."""
    rows = case["circuit"]["parts"]
    made = [(row, *part_of(row, case["symbols"])) for row in rows]
    terminals = case["circuit"].get("terminals")
    inside = [(Leaf(p.name, p), a, b) for row, p, a, b in made if row.get("role") != "load" or not terminals]
    ends = (terminals[1], terminals[0]) if terminals else None
    item: Item = Network(tuple(inside), ends, GROUP)
    loads = [Leaf(part.name, part) for row, part, _, _ in made if row.get("role") == "load"]
    if terminals and loads:
        item = Across(item, loads[0], WHOLE)
    return Circuit(item)


def world_of(case: Mapping[str, Any]) -> World:
    """What the case's symbols mean on its circuit."""
    circuit = circuit_of(case)
    parts = {row["name"] for row in case["circuit"]["parts"]}
    cells = [row["name"] for row in case["circuit"]["parts"] if row["kind"] == "cell"]

    def resolve(name: str) -> Meant:
        words = case["symbols"].get(name)
        for pattern, kind, group in SYMBOLS if words else ():
            found = pattern.fullmatch(words)
            if not found:
                continue
            of = group or (found[1] if found.groups() else cells[0])
            if of in parts or group:
                return Resolved(QuantityRef(kind, (of,), circuit.id), circuit)
        return Finding(
            UNREADABLE["unread-maths"], Span("x", 0, 1), {"reason": f"{name} is unknown", "hint": ""}
        )

    return World(circuit, resolve)


def verdict_of(case: Mapping[str, Any]) -> Verdict | str:
    """The verdict on a case; with several relations the gravest."""
    source = Source(case["id"], case["statement"])
    line, findings = read_line(source.slice(), known=tuple(case["symbols"]))
    if line is None:
        return findings[0].kind.code
    world = world_of(case)
    verdicts = [
        judge(each, world, condition=line.condition, chain=chain).verdict
        for each, chain in zip(line.statements, chains(line.statements), strict=True)
    ]
    order = ["true", "true-only-when", "not-checked", "wrong", "units-differ"]
    return max(verdicts, key=lambda each: order.index(each.kind) if each.kind in order else 2)


def answer(case: Mapping[str, Any]) -> dict[str, str]:
    """What is printed for a case; a case that can't be judged says why."""
    try:
        found = verdict_of(case)
    except Exception as problem:  # noqa: BLE001 - a bad case never stops the others
        return {"id": case.get("id", ""), "verdict": "unchecked", "reason": repr(problem)}
    if isinstance(found, str):
        return {"id": case["id"], "verdict": "unchecked", "reason": found}
    row = {"id": case["id"], "verdict": WORDS.get(found.kind, "unchecked")}
    if found.condition and found.kind == "true-only-when":
        row["condition"] = found.condition
    if found.kind == "not-checked" and found.evidence:
        row["reason"] = found.evidence[0].text
    return row


def main(path: str) -> None:
    """Judge every line of a file."""
    for number, line in enumerate(Path(path).read_text(encoding="utf-8").splitlines(), 1):
        if not line.strip():
            continue
        try:
            case = json.loads(line)
        except ValueError as problem:
            print(json.dumps({"id": f"line {number}", "verdict": "unchecked", "reason": str(problem)}))
            continue
        print(json.dumps(answer(case), ensure_ascii=False), flush=True)


if __name__ == "__main__":
    main(sys.argv[1])
