"""A new lesson checks without an error or a warning, whatever its circuit."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

import pytest

from boardproof.kit.check import check_file
from boardproof.kit.ground import ground_of

if TYPE_CHECKING:
    from pathlib import Path

CELLS = "A = cell 6 V, 1 ohm; B = cell 4 V, 2 ohm; R = resistor 5 ohm; "
CIRCUITS = {
    "single cell": "A = cell 6 V, 1 ohm; R = resistor 5 ohm; A across R",
    "single cell in letters": "A = cell; R = resistor; A across R",
    "series": CELLS + "(A + B) across R",
    "series of three in letters": "A, B, C = cell; R = resistor; row = A + B + C; row across R",
    "parallel": CELLS + "(A || B) across R",
    "parallel in letters": "A = cell E_1, r_1; B = cell E_2, r_2; R = resistor; (A || B) across R",
    "no load yet": "A = cell 6 V, 1 ohm; B = cell 4 V, 2 ohm; A || B",
    "turned in parallel": CELLS + "(A || -B) across R",
    "turned in series": CELLS + "(A - B) across R",
    "turned by a change": CELLS + "both = A || B; main = both across R but turn B",
    "bank": "A = cell 1.5 V, 0.5 ohm; bank = 3s4p of A; R = resistor 5 ohm; bank across R",
    "n in parallel": "A = cell; R = resistor; many = n of A in parallel; many across R",
    "mixed": CELLS + "C = cell 9 V, 3 ohm; ((A + B) || C) across R",
    "resistors side by side": "A = cell 6 V, 1 ohm; R1 = resistor 2 ohm; R2 = resistor 3 ohm; A across (R1 || R2)",
    "bridge": "A = cell 6 V, 1 ohm; P, T = resistor 2 ohm; Q, S = resistor 3 ohm; M = resistor 5 ohm\n"
    "network bridge\nA from d to a\nP from a to b\nQ from b to d\nS from a to c\nT from c to d\nM from b to c",
}


@pytest.mark.parametrize("name", CIRCUITS)
def test_the_lesson_checks_clean_and_holds_every_piece(boardproof, tmp_path: Path, name: str) -> None:
    status, _, err = boardproof("new", tmp_path / "my-lesson", CIRCUITS[name])
    assert (status, err) == (0, "")
    path = tmp_path / "my-lesson.lesson.md"
    (report,) = check_file(path)
    assert [(each.code, each.message) for each in report.diagnostics if each.severity != "note"] == []
    assert report.summary["traps"] == 1
    assert report.summary["not-checked"] == 0
    assert report.summary["true"] >= 4
    text = path.read_text(encoding="utf-8")
    for piece in (
        "# My lesson",
        "```circuit",
        "```derive",
        "1. ",
        "```pause",
        "answer:",
        "```claim",
        "## What comes next",
    ):
        assert piece in text
    assert "`focus" in text


def test_a_lesson_is_never_overwritten(boardproof, tmp_path: Path) -> None:
    path = tmp_path / "mine.lesson.md"
    path.write_text("# Mine\n", encoding="utf-8")
    status, _, err = boardproof("new", tmp_path / "mine", CIRCUITS["series"])
    assert status == 2
    assert "never overwritten" in err
    assert path.read_text(encoding="utf-8") == "# Mine\n"


def test_target_and_route_are_the_teachers(boardproof, tmp_path: Path) -> None:
    words = ("--target", "E_both, r_both of both", "--route", "lines on the graph")
    status, out, _ = boardproof("new", tmp_path / "lines", CIRCUITS["parallel"], *words, "--json")
    assert status == 0
    text = (tmp_path / "lines.lesson.md").read_text(encoding="utf-8")
    assert "```derive E_both, r_both of both by lines on the graph" in text
    assert json.loads(out)["file"].endswith("lines.lesson.md")


def test_what_cannot_be_derived_is_not_written(boardproof, tmp_path: Path) -> None:
    for words in (
        ["A = cel 6 V"],
        ["R = resistor 5 ohm"],
        [CIRCUITS["parallel"], "--target", "E_both of both", "--route", "same current"],
    ):
        status, _, err = boardproof("new", tmp_path / "none", *words)
        assert status == 1
        assert err
        assert not (tmp_path / "none.lesson.md").exists()


@pytest.mark.parametrize("name", ["../.hidden", "a/b/c", "", "x" * 300, "a\0b", "a\nb"])
def test_a_name_that_is_no_file_name_is_refused(boardproof, tmp_path: Path, name: str) -> None:
    status, _, _ = boardproof("new", f"{tmp_path}/{name}", CIRCUITS["series"])
    assert status == 2
    assert list(tmp_path.rglob("*.lesson.md")) == []


def test_in_a_course_with_a_comma_the_lesson_still_checks_clean(boardproof, tmp_path: Path) -> None:
    (tmp_path / "course.toml").write_text('[notation]\ndecimal = "comma"\n', encoding="utf-8")
    assert boardproof("new", tmp_path / "one", CIRCUITS["bank"])[0] == 0
    assert boardproof("check", tmp_path / "one.lesson.md", "--strict")[0] == 0


def test_the_group_gets_a_name_that_is_free() -> None:
    lines = ground_of("both = cell 6 V, 1 ohm; B = cell; R = resistor; (both || B) across R").lines
    assert lines[-2:] == ("bank = both || B", "main = bank across R")
