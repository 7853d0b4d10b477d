"""The demo course, as the first command of the README makes it: every output of every lesson."""

from __future__ import annotations

import json
import shutil
from pathlib import Path
from typing import TYPE_CHECKING

from boardproof.cli import main

if TYPE_CHECKING:
    import pytest

COURSE = Path(__file__).resolve().parents[2] / "examples" / "weather-buoy"


def test_every_output_of_every_lesson_is_made(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    course = Path(shutil.copytree(COURSE, tmp_path / "buoy", ignore=shutil.ignore_patterns("kits")))
    status = main(["build", str(course), "--paper", "a4", "--to", str(tmp_path / "kits"), "--quiet"])
    assert (
        status,
        [line for line in capsys.readouterr().err.splitlines() if "could not be made" in line],
    ) == (0, [])
    lessons = sorted(path.name.removesuffix(".lesson.md") for path in COURSE.glob("*.lesson.md"))
    for lesson in lessons:
        made = json.loads((tmp_path / "kits" / lesson / "kit.json").read_text(encoding="utf-8"))["files"]
        assert {"page.html", "player.html", "handout-a4.pdf", "proof.json", "thumbnail.png"} <= set(made), (
            lesson
        )
