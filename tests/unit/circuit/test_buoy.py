"""The demo course: its circuits read without a finding, are written back, and its names mean what they should."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from boardproof.circuit.define import define
from boardproof.circuit.look_up import Resolved
from boardproof.circuit.names import resolve
from boardproof.circuit.read import read_circuit
from boardproof.circuit.write import write
from boardproof.source import Slice, Source, Span

BUOY = Path(__file__).parents[3] / "examples" / "weather-buoy"
LESSONS = sorted(BUOY.glob("*.lesson.md"))
FILES = {path.name: Source(path.name, path.read_text(encoding="utf-8")) for path in BUOY.glob("*.circuit")}


def blocks(path: Path) -> list[Slice]:
    text = path.read_text(encoding="utf-8")
    found = re.finditer(r"(?ms)^```circuit\n(.*?)^```", text)
    return [Slice(each[1], Span(path.name, each.start(1), each.end(1))) for each in found]


def test_there_are_five_lessons() -> None:
    assert len(LESSONS) == 5


@pytest.mark.parametrize("path", LESSONS, ids=lambda path: path.name)
def test_every_circuit_reads_without_a_finding_and_is_written_back(path: Path) -> None:
    known, wrong = define(blocks(path), FILES)
    assert wrong == ()
    for block in blocks(path):
        reading = read_circuit(block, known)
        assert reading.findings == ()
        circuit = reading.at_hand
        if circuit is None or circuit.values.keys() - {*circuit.letters, *circuit.counts}:
            continue  # a count that was fixed for one member keeps its number only
        text = write(circuit)
        back = read_circuit(Slice(text, Span("written", 0, len(text)))).at_hand
        assert back == circuit


@pytest.mark.parametrize("path", LESSONS, ids=lambda path: path.name)
def test_every_quantity_the_teacher_names_has_a_meaning_where_it_is_defined(path: Path) -> None:
    known, _ = define(blocks(path), FILES)
    at_hand = None
    for block in blocks(path):
        reading = read_circuit(block, known)
        at_hand = reading.at_hand or at_hand
        for name, let in known.lets.items():
            if let.span.within(block.span) and name != "N":
                assert isinstance(resolve(name, known, at_hand), Resolved), name
