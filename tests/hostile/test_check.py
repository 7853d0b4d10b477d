"""Spoiled lessons: whatever is cut, doubled or put in, a check ends with findings and never with a fault."""

import random
from pathlib import Path

import pytest

from boardproof.kit.check import check_file
from boardproof.kit.report import json_report, text_report

ROOT = Path(__file__).resolve().parents[2]
SAMPLES = [
    path.read_text(encoding="utf-8")
    for path in sorted([*(ROOT / "examples").rglob("*.lesson.md"), *(ROOT / "tests").rglob("*.lesson.md")])
]
PIECES = [
    "`",
    "$",
    "$$",
    "{",
    "}",
    "[",
    "](",
    "](",
    "```",
    "(",
    ")",
    "||",
    "+",
    "-",
    "_",
    "^",
    "0",
    "1",
    "2",
    "=",
    "/",
    "but",
    "turn",
    "across",
    "of",
    "in_series",
    "from",
    "by",
    "#",
    "answer:",
    "means:",
    "when",
    "E_1",
    "r_1",
    "R",
    "I",
    "V",
    "6_V",
    "1_ohm",
    "short",
    "open",
    "take",
    "remove",
    "n",
    "m",
    "...",
    "\\frac",
    "->",
    "∞",
    "as_n",
    "<",
    ">",
    "if",
    "3s4p",
    "A",
    "B",
    "both",
    "row",
    "main",
    "{E_as_read}",
]


def spoiled(text: str, chance: random.Random) -> str:
    for _ in range(chance.randint(1, 12)):
        at = chance.randrange(len(text))
        what = chance.random()
        if what < 0.35:
            text = text[:at] + text[at + chance.randint(1, 20) :]
        elif what < 0.7:
            text = text[:at] + chance.choice(PIECES).replace("_", " ") + text[at:]
        elif what < 0.85:
            other = chance.randrange(len(text))
            text = text[:at] + text[other : other + chance.randint(1, 60)] + text[at:]
        else:
            lines = text.split("\n")
            one, two = chance.randrange(len(lines)), chance.randrange(len(lines))
            lines[one], lines[two] = lines[two], lines[one]
            text = "\n".join(lines)
    return text


@pytest.mark.parametrize("seed", range(40))
def test_a_spoiled_lesson_gives_findings_and_no_fault(seed: int, tmp_path: Path) -> None:
    chance = random.Random(seed)
    path = tmp_path / "a.lesson.md"
    path.write_text(spoiled(chance.choice(SAMPLES), chance), encoding="utf-8")
    for report in check_file(path):
        assert text_report(report)
        assert json_report(report)


def test_a_value_as_read_in_a_lesson_without_any_circuit_is_a_finding(tmp_path: Path) -> None:
    path = tmp_path / "a.lesson.md"
    path.write_text("# T\n\n## One\n\nIt is {E as read}.\n", encoding="utf-8")
    (report,) = check_file(path)
    assert [each.code for each in report.diagnostics] == ["unread-quantity"]
