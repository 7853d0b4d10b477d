"""Any words at all on the command line: a status and a sentence, never a traceback, never a file that nobody wanted."""

from __future__ import annotations

import random
from typing import TYPE_CHECKING

import pytest

from boardproof.cli import main

if TYPE_CHECKING:
    from pathlib import Path

PIECES = [
    "A = cell 6 V, 1 ohm", "B = cell 3 V, 2 ohm", "R = resistor 5 ohm", "A across R",
    "(A || B) across R", "A + B || R", "both = A || -B", "bank = 3s4p of A", "3s0p of A",
    "n of A in parallel", "network n", "A from a to b", "R from b to a", "let x = current in R",
    "values v: E_A = 1 V", "given V = 1 V", "zero at a", "use \x00", "use ../../x",
    "R = resistor -5 ohm", "A = source 6 V", "W = wire", "A across W", "but", "turn A", "= = =", "((((",
    "))))", "||||", ",,,,", "#", ";", "\x1b[2J", "\u202e", "Ω", "1e9", "9" * 400, "A" * 5000,
    "(" * 3000, "\ud800", "`", "$", "{", "%s", "{0}", "\\", "\r\n", "\t",
]  # fmt: skip
QUESTIONS = [
    "I", "I_9", "p.d. across R", "current in -A", "I -> 0 as R -> infinity", "R that makes I = 1 A",
    "1/0", "V/0", "I^999", "(" * 500, "\x1b[31m", "__import__('os')", "I when I when I", "", " ",
    "E as read", "I" * 401, "\ud800", "I = 1 A",
]  # fmt: skip


def run(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str]:
    try:
        status = main(list(words))
    except SystemExit as stopped:
        status = int(stopped.code or 0)
    said = capsys.readouterr()
    return status, said.out + said.err


def rubbish(seed: int) -> str:
    chance = random.Random(seed)
    return chance.choice(["; ", "\n", " "]).join(chance.choices(PIECES, k=chance.randint(1, 7)))


@pytest.mark.parametrize("start", range(0, 200, 50))
def test_any_circuit_is_answered_or_explained(capsys, start: int) -> None:
    for seed in range(start, start + 50):
        status, said = run(capsys, "solve", rubbish(seed), "--no-colour")
        assert status in {0, 1, 2}, seed
        assert said.strip(), seed
        assert "\x1b" not in said


@pytest.mark.parametrize("question", QUESTIONS)
def test_any_question_is_answered_or_explained(capsys, question: str) -> None:
    circuit = "A = cell 6 V, 1 ohm; R = resistor 5 ohm; A across R"
    status, said = run(capsys, "solve", circuit, f"--for={question}", "--no-colour")
    assert status in {0, 1, 2}
    assert "\x1b" not in said
    assert run(capsys, "solve", circuit, f"--given={question}", "--json")[0] in {0, 1, 2}


@pytest.mark.parametrize("seed", range(40))
def test_any_circuit_gives_a_lesson_or_a_reason_but_no_half_lesson(capsys, tmp_path: Path, seed: int) -> None:
    status, said = run(capsys, "new", str(tmp_path / "made"), rubbish(1000 + seed))
    assert status in {0, 1, 2}
    assert said.strip()
    assert [path.name for path in tmp_path.iterdir()] == (["made.lesson.md"] if status == 0 else [])


@pytest.mark.parametrize(
    "target", ["", "`", "```", "\n```\n# x", "of of of", "E_p of", "by by by", "x" * 5000, "\x1b[2J", ",,,,"]
)
def test_any_target_is_derived_or_refused(capsys, tmp_path: Path, target: str) -> None:
    path = tmp_path / "a.lesson.md"
    text = "# A\n\n## B\n\n```circuit\nA = cell 6 V, 1 ohm\nR = resistor 5 ohm\nA across R\n```\n"
    path.write_text(text, encoding="utf-8")
    status, said = run(capsys, "derive", str(path), f"--target={target}")
    assert status in {1, 2}
    assert said.strip()
    assert "\x1b" not in said
    assert path.read_text(encoding="utf-8") == text


@pytest.mark.parametrize("code", ["", "\x1b[2J", "../../etc", "a" * 5000, "{0}", "%s", "\ud800"])
def test_any_code_is_refused_in_plain_words(capsys, code: str) -> None:
    status, said = run(capsys, "why", code)
    assert status == 2
    assert "\x1b" not in said


@pytest.mark.parametrize(
    "text", ["\x1b[2Jhello $I = 1 A$", "a\u202eb $x = 1 V$", "\x00", "\x9b31m $R = 1 V$", "", "\ufeff"]
)
def test_a_lesson_cannot_steer_the_terminal(capsys, tmp_path: Path, text: str) -> None:
    path = tmp_path / "a.lesson.md"
    path.write_text(f"# A\n\n## B\n\n{text}\n\n$$ {text} = 1 V $$\n", encoding="utf-8")
    status, said = run(capsys, "check", str(path))
    assert status in {0, 1}
    assert not set(said) & {"\x1b", "\x00", "\x9b", "\u202e", "\r"}


@pytest.mark.parametrize("command", ["check", "build", "derive"])
@pytest.mark.parametrize(
    "name", ["", "/", "/dev/null", "a\0b", "x" * 5000, "~", "..", "*", "\ud800", "nul.lesson.md"]
)
def test_any_file_name_is_refused_in_plain_words(
    capsys, tmp_path: Path, monkeypatch, command: str, name: str
) -> None:
    monkeypatch.chdir(tmp_path)
    status, said = run(capsys, command, name)
    assert status == 2
    assert said.strip()
    assert list(tmp_path.iterdir()) == []
