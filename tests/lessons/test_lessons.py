"""Lessons with planted mistakes: each expected finding stands in a comment on the line before it.

``<!-- expect CODE, CODE -->`` in the text, ``# expect CODE`` inside a block. Findings that are not expected fail too.
"""

import re
from collections import Counter
from pathlib import Path

import pytest

from boardproof.kit.check import check_file

RIGHT = sorted((Path(__file__).parent / "right").glob("*.lesson.md"))
MISTAKES = sorted((Path(__file__).parent / "mistakes").glob("*.lesson.md"))
EXPECT = re.compile(r"^\s*(?:<!--|#)\s*expect ([a-z, -]+?)\s*(?:-->)?\s*$")


def expected(text: str) -> Counter[tuple[int, str]]:
    """Line and code of each finding that the lesson announces."""
    wanted: Counter[tuple[int, str]] = Counter()
    waiting: list[str] = []
    for number, line in enumerate(text.splitlines(), 1):
        if found := EXPECT.match(line):
            waiting += [code.strip() for code in found[1].split(",")]
        elif waiting:
            wanted.update((number, code) for code in waiting)
            waiting = []
    return wanted


@pytest.mark.parametrize("path", MISTAKES, ids=lambda path: path.name.removesuffix(".lesson.md"))
def test_each_planted_mistake_is_found_on_its_line_and_nothing_else(path: Path) -> None:
    (report,) = check_file(path)
    found = Counter((report.source.position(each.span.start)[0], each.code) for each in report.diagnostics)
    assert found == expected(path.read_text(encoding="utf-8"))


@pytest.mark.parametrize("path", RIGHT, ids=lambda path: path.name.removesuffix(".lesson.md"))
def test_a_right_lesson_is_not_blamed(path: Path) -> None:
    (report,) = check_file(path)
    told = [
        (report.source.position(each.span.start)[0], each.code, each.message) for each in report.diagnostics
    ]
    assert told == []
    assert report.summary["not-checked"] == 0


def test_there_are_lessons_with_mistakes() -> None:
    assert len(MISTAKES) >= 10
    assert len(RIGHT) >= 6
