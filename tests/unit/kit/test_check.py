"""Checking from the command line: exit statuses, sets of values, the time limit, what is imported."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from itertools import count
from typing import TYPE_CHECKING

import pytest

from boardproof.kit.check import check_file
from boardproof.kit.files import read_folder
from boardproof.kit.proof import prove_lessons
from house.tree import ROOT

if TYPE_CHECKING:
    from pathlib import Path

TRUE = "$$ E_both = (E_1 r_2 + E_2 r_1)/(r_1 + r_2) = 5 V $$"
WRONG = "$$ r_both = r_1 + r_2 $$"
LOOSE = "It has 7.77 V."
BUOY = ROOT / "examples" / "weather-buoy"


@pytest.mark.parametrize(
    ("body", "words", "status"),
    [
        (TRUE, [], 0),
        (TRUE, ["--strict"], 0),
        (WRONG, [], 1),
        (LOOSE, [], 0),
        (LOOSE, ["--strict"], 1),
    ],
)
def test_the_exit_status_says_whether_something_is_wrong(boardproof, lesson, body, words, status) -> None:
    assert boardproof("check", lesson(body), *words)[0] == status


def test_a_named_set_of_values_is_judged_with(boardproof, lesson) -> None:
    path = lesson("$$ r_both = 0.5 ohm $$")
    assert boardproof("check", path)[0] == 1
    assert boardproof("check", path, "--values", "fresh")[0] == 0


def test_an_unknown_set_of_values_is_not_done(boardproof, lesson) -> None:
    status, out, err = boardproof("check", lesson(TRUE), "--values", "frsh")
    assert (status, out) == (2, "")
    assert "There are: fresh" in err


def test_a_missing_file_names_a_near_one(boardproof, lesson) -> None:
    path = lesson(TRUE)
    status, out, err = boardproof("check", path.with_name("two-cels.lesson.md"))
    assert (status, out) == (2, "")
    assert "Did you mean two-cells.lesson.md?" in err


def test_a_folder_is_checked_lesson_by_lesson(boardproof, lesson) -> None:
    path = lesson(TRUE)
    lesson(WRONG, "one-more")
    status, out, _ = boardproof("check", path.parent, "--json")
    assert status == 1
    assert [json.loads(line)["file"] for line in out.splitlines()] == [
        "one-more.lesson.md",
        "two-cells.lesson.md",
    ]


def test_an_empty_folder_is_not_done(boardproof, tmp_path: Path) -> None:
    status, out, err = boardproof("check", tmp_path)
    assert (status, out) == (2, "")
    assert "NAME.lesson.md" in err


def test_what_is_no_text_is_not_done(boardproof, tmp_path: Path) -> None:
    (tmp_path / "odd.lesson.md").write_bytes(b"# \xff\xfe")
    (tmp_path / "folder.lesson.md").mkdir()
    for name in ("odd", "folder"):
        status, _, err = boardproof("check", tmp_path / f"{name}.lesson.md")
        assert status == 2
        assert err


@pytest.mark.skipif(
    os.name == "nt" or os.geteuid() == 0,
    reason="needs an ordinary user on Linux or macOS: run the tests as one",
)
def test_an_unreadable_file_is_not_done(boardproof, lesson) -> None:
    path = lesson(TRUE)
    path.chmod(0)
    status, _, err = boardproof("check", path)
    assert status == 2
    assert "can't be read" in err


def test_quiet_says_nothing_where_nothing_is_found(boardproof, lesson) -> None:
    assert boardproof("check", lesson(TRUE), "--quiet") == (0, "", "")


def test_statements_after_the_limit_are_not_checked_and_name_it(boardproof, lesson) -> None:
    status, out, err = boardproof("check", lesson(WRONG), "--limit", "0.000001")
    assert status == 2
    assert "not checked" in out
    assert "the limit of 1e-06 s was reached" in out
    assert "--limit SECONDS" in err


def test_the_limit_leaves_what_was_judged_before_it(lesson) -> None:
    body = f"{TRUE}\n\n{WRONG}\n\n```trap\nwrong: r_both = r_1\nbelief: series r not added\nNo.\n```"
    folder, _ = read_folder(lesson(body))
    asked = count()
    (proof,) = prove_lessons(folder, late=lambda: "the limit of 9 s was reached" if next(asked) > 3 else "")
    kinds = [judged.verdict.kind for judged in proof.checked.judged]
    assert kinds[0] == "true"
    assert kinds[-1] == "not-checked"
    assert kinds == sorted(kinds, key="not-checked".__eq__)
    assert proof.report.is_unfinished
    assert not check_file(lesson(TRUE))[0].is_unfinished


def test_checking_imports_nothing_slow() -> None:
    slow = ("numpy", "scipy", "rich", "starlette", "av", "jinja2", "lxml", "typst")
    program = (
        "import sys\nfrom boardproof.cli import main\n"
        f"status = main(['check', {str(BUOY)!r}, '--quiet'])\n"
        f"found = sorted(set({slow!r}) & set(sys.modules))\nsys.exit(' '.join(found) or status)"
    )
    environment = {**os.environ, "PYTHONPATH": str(ROOT / "src")}
    done = subprocess.run(
        [sys.executable, "-c", program], capture_output=True, text=True, env=environment, check=False
    )
    assert (done.returncode, done.stderr) == (0, "")


def test_resistances_that_cancel_are_a_finding_and_no_fault(boardproof, tmp_path: Path) -> None:
    path = tmp_path / "odd.lesson.md"
    body = "A = cell 6 V, -1 ohm\nR = resistor 1 ohm\nA across R\n"
    path.write_text(f"# A\n\n## B\n\n```circuit\n{body}```\n\n$$ I = 1 A $$\n", encoding="utf-8")
    status, out, _ = boardproof("check", path)
    assert status == 1
    assert "impossible-value" in out
