"""The `listen` job from files to answers."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest

from boardproof.cli import main
from boardproof.kit.remembered import read_remembered

COURSE = Path(__file__).resolve().parents[3] / "examples" / "weather-buoy"
SAID = (
    "WEBVTT\n\n00:00:01.000 --> 00:00:06.000\nof that A gives point nine of an amp "
    "and B gives a mere point two of an amp\n\n"
    "00:00:06.000 --> 00:00:12.000\nE p is four point five times one point two <b>five point four volts</b>\n"
)


@pytest.fixture
def lesson(tmp_path: Path) -> Path:
    shutil.copytree(COURSE, tmp_path / "course")
    (tmp_path / "talk.vtt").write_text(SAID, encoding="utf-8")
    return tmp_path / "course" / "3-cells-in-parallel.lesson.md"


def heard(
    lesson: Path, capsys: pytest.CaptureFixture[str], *more: str
) -> tuple[int, dict[str, list[dict[str, str]]]]:
    talk = str(lesson.parents[1] / "talk.vtt")
    status = main(["listen", str(lesson), talk, "--json", *more])
    return status, json.loads(capsys.readouterr().out)


def test_a_slip_is_found_and_noted(lesson: Path, capsys: pytest.CaptureFixture[str]) -> None:
    notes = lesson.parents[1] / "notes.vtt"
    status, found = heard(lesson, capsys, "--notes", str(notes))
    assert status == 1
    (slip,) = found["findings"]
    assert slip["cue_start"] == "00:00:01.000"
    assert "point two of an amp" in slip["quote"]
    assert slip["kind"] == "number"
    assert notes.read_text(encoding="utf-8").startswith("WEBVTT\n")
    assert "00:00:01.000 --> " in notes.read_text(encoding="utf-8")


def test_what_is_no_claim_is_remembered(lesson: Path, capsys: pytest.CaptureFixture[str]) -> None:
    answers = lesson.parent / ".boardproof" / "answers.toml"
    answers.parent.mkdir()
    answers.write_text('[other]\nkept = "yes"\n', encoding="utf-8")
    _, found = heard(lesson, capsys)
    key = found["findings"][0]["key"]
    status, again = heard(lesson, capsys, "--not-a-claim", key)
    assert (status, again["findings"]) == (0, [])
    assert heard(lesson, capsys)[0] == 0
    assert 'kept = "yes"' in answers.read_text(encoding="utf-8")


def test_the_teachers_own_words_name_parts(lesson: Path, capsys: pytest.CaptureFixture[str]) -> None:
    talk = lesson.parents[1] / "talk.vtt"
    talk.write_text(
        "WEBVTT\n\n00:00:01.000 --> 00:00:09.000\nand the tired fellow has an EMF of six volts\n",
        encoding="utf-8",
    )
    assert heard(lesson, capsys, "--free")[1]["findings"] == []
    answers = lesson.parent / ".boardproof" / "answers.toml"
    answers.parent.mkdir()
    answers.write_text('[words]\n"the tired fellow" = "B"\n', encoding="utf-8")
    (slip,) = heard(lesson, capsys, "--free")[1]["findings"]
    assert "six volts" in slip["quote"]


@pytest.mark.parametrize(
    ("text", "what"),
    [
        ("[words", "[words"),
        ("words = 3", "no table"),
        ("[words]\nbig = 3", "names no part"),
        ("[words]\n" + "".join(f"w{n} = 'A'\n" for n in range(2001)), "more than 2,000"),
    ],
)
def test_a_memory_that_can_not_be_read_is_told(text: str, what: str, tmp_path: Path) -> None:
    (tmp_path / ".boardproof").mkdir()
    (tmp_path / ".boardproof" / "answers.toml").write_text(text, encoding="utf-8")
    _, (found,) = read_remembered(tmp_path)
    assert found.kind.code == "unread-memory"
    assert what == "[words" or what in found.facts["what"]


def test_words_for_people(lesson: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["listen", str(lesson), str(lesson.parents[1] / "talk.vtt")]) == 1
    shown = capsys.readouterr().out
    assert "1 slip" in shown
    assert "% of" in shown
    assert "Record again:" in shown


@pytest.mark.parametrize("text", [None, "no captions at all"])
def test_what_cannot_be_read_is_said(
    text: str | None, lesson: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    talk = lesson.parents[1] / "bad.vtt"
    if text is not None:
        talk.write_text(text, encoding="utf-8")
    assert main(["listen", str(lesson), str(talk)]) == 2
    assert "bad.vtt" in capsys.readouterr().err


def test_free_listening_runs_on_the_circuits(lesson: Path, capsys: pytest.CaptureFixture[str]) -> None:
    status, found = heard(lesson, capsys, "--free")
    assert status in {0, 1}
    assert set(found) == {"schema", "file", "findings", "questions", "summary"}
