"""Each lesson sample in the docs is checked, and shows the findings that it says it shows, and no other."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from boardproof.kit.check import check_file
from boardproof.lesson.course import read_course
from boardproof.source import Source
from docs.fences import Fence, all_fences

if TYPE_CHECKING:
    from pathlib import Path

SAMPLES = all_fences("lesson-sample", "circuit-sample")
SETTINGS = all_fences("course-sample")
KNOWN = {
    "",
    "text",
    "sh",
    "json",
    "python",
    "console",
    "diff",
    "lesson-file",
    "lesson-sample",
    "circuit-sample",
    "course-sample",
}


@pytest.mark.parametrize("fence", SAMPLES, ids=str)
def test_a_sample_shows_the_findings_it_says_it_shows(fence: Fence, tmp_path: Path) -> None:
    path = tmp_path / "sample.lesson.md"
    path.write_text(fence.lesson, encoding="utf-8")
    (report,) = check_file(path)
    told = sorted(each.code for each in report.diagnostics if each.severity != "note")
    assert told == fence.expected, [each.message for each in report.diagnostics]


@pytest.mark.parametrize("fence", SETTINGS, ids=str)
def test_a_sample_of_settings_is_read_whole(fence: Fence) -> None:
    _, found = read_course(Source("course.toml", fence.body))
    assert [(each.kind.code, dict(each.facts)) for each in found] == []


def test_there_are_samples_and_every_block_says_what_it_is() -> None:
    assert len(SAMPLES) >= 20
    assert len(SETTINGS) >= 2
    assert {fence.word for fence in all_fences(*KNOWN)} <= KNOWN
