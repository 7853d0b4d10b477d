"""Listen to free talks about a circuit: ``python tests/outside/speech.py FOLDER``.

For each sub-folder ``circuit.json`` and ``captions.vtt`` are read, and nothing else. Findings go out one JSON object a
line: ``{"lesson": "07", "cue_start": "00:00:33.368", "quote": "words as they stand", "kind": "sign"}``.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Mapping
from fractions import Fraction
from pathlib import Path
from types import MappingProxyType
from typing import Any

if __name__ == "__main__":
    sys.path[:0] = [
        str(Path(__file__).resolve().parents[1]),
        str(Path(__file__).resolve().parents[2] / "src"),
    ]

from boardproof.circuit.model import Circuit
from boardproof.circuit.names import Resolved
from boardproof.circuit.quantity import QuantityRef
from boardproof.findings import Finding
from boardproof.lesson.captions import read_captions
from boardproof.listen.board import Board, Wire
from boardproof.listen.free import Free, listen_freely
from boardproof.listen.hear import Speech, hear
from boardproof.listen.slip import Report
from boardproof.prove.world import Meant, World
from boardproof.source import Source, Span
from outside.equations import SYMBOLS, UNREADABLE, circuit_of, letter_of


def board_of(case: Mapping[str, Any]) -> Board:
    """The circuit as a board; where values are left open, like letters get like values that only stand for any."""
    symbols = case.get("symbols", {})
    stand_in: dict[str, Fraction] = {}
    unlike = iter(Fraction(n) for n in (7, 3, 5, 2, 11, 13, 4, 17, 19, 23, 29, 31, 37, 41, 43, 47, 53, 59))

    def value(row: Mapping[str, Any], field: str, letter: str) -> Fraction:
        if row.get(field) is not None:
            return Fraction(str(row[field]))
        if letter not in stand_in:
            stand_in[letter] = next(unlike, Fraction(61))
        return stand_in[letter]

    wires = []
    for row in case["parts"]:
        name = row["name"]
        if row["kind"] == "cell":
            ohms = value(row, "r", letter_of(symbols, "r", name))
            wires.append(
                Wire(
                    name, ohms, row["minus"], row["plus"], value(row, "emf", letter_of(symbols, "emf", name))
                )
            )
        elif row["kind"] == "resistor":
            own = next((s for s, words in symbols.items() if words == f"resistance of {name}"), name)
            wires.append(Wire(name, value(row, "ohms", own), *row["nodes"], None, row.get("role") == "load"))
    ends = case.get("terminals")
    return Board(tuple(wires), tuple(ends) if ends else None, not stand_in, tuple(stand_in.items()))


def world_of(case: Mapping[str, Any]) -> World:
    """What the symbols mean, with the circuit's values."""
    symbols = case.get("symbols", {})
    bare = circuit_of({"circuit": case, "symbols": symbols})
    values: dict[str, Fraction] = {}
    for row in case["parts"]:
        if row["kind"] == "cell":
            if row.get("emf") is not None:
                values[letter_of(symbols, "emf", row["name"])] = Fraction(str(row["emf"]))
            if row.get("r"):
                values[letter_of(symbols, "r", row["name"])] = Fraction(str(row["r"]))
        elif row.get("ohms") is not None:
            own = next(
                (s for s, words in symbols.items() if words == f"resistance of {row['name']}"), row["name"]
            )
            values[own] = Fraction(str(row["ohms"]))
    circuit = Circuit(bare.item, MappingProxyType(values))
    parts = {row["name"] for row in case["parts"]}
    first = next((row["name"] for row in case["parts"] if row["kind"] == "cell"), "")

    def resolve(name: str) -> Meant:
        words = symbols.get(name)
        for pattern, kind, group in SYMBOLS if words else ():
            found = pattern.fullmatch(words)
            if not found:
                continue
            of = group or (found[1] if found.groups() else first)
            if of in parts or group:
                return Resolved(QuantityRef(kind, (of,), circuit.id), circuit)
        return Finding(
            UNREADABLE["unread-maths"], Span("x", 0, 1), {"reason": f"{name} is unknown", "hint": ""}
        )

    return World(circuit, resolve)


def listened(case: Mapping[str, Any], captions: str) -> tuple[Speech, Free]:
    """What is heard in one talk."""
    cues, _ = read_captions(Source("captions.vtt", captions))
    speech = hear(cues, sorted(case.get("symbols", {})))
    return speech, listen_freely(speech, board_of(case), world_of(case))


def report_of(case: Mapping[str, Any], captions: str) -> Report:
    """Findings and questions of one talk."""
    speech, found = listened(case, captions)
    return found.report(speech)


def main(folder: str) -> None:
    """Listen to every sub-folder."""
    for each in sorted(path for path in Path(folder).iterdir() if path.is_dir()):
        try:
            case = json.loads((each / "circuit.json").read_text(encoding="utf-8"))
            report = report_of(case, (each / "captions.vtt").read_text(encoding="utf-8"))
        except Exception as problem:  # noqa: BLE001 - one bad talk never stops the others
            print(f"{each.name}: {problem!r}", file=sys.stderr)
            continue
        for slip in report.findings:
            row = {"lesson": each.name, "cue_start": slip.time, "quote": slip.quote, "kind": slip.kind}
            print(json.dumps(row, ensure_ascii=False), flush=True)


if __name__ == "__main__":
    main(sys.argv[1])
