"""One slip at a time in whole right lessons: each is found on its line (or one off), and no other line is blamed.

`planted.txt` holds, under a lesson's name, what stands there and what a tired teacher might have typed instead.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from boardproof.kit.check import check_file

HERE = Path(__file__).parent


def slips() -> list[tuple[str, str, str]]:
    """Lesson, right text, wrong text."""
    found = []
    for block in (HERE / "planted.txt").read_text(encoding="utf-8").split("\n\n"):
        name, *lines = block.strip("\n").split("\n")
        found += [(name, *line.split(" ==> ")) for line in lines]
    return found  # type: ignore[return-value]  # each line has one arrow, else the test below fails


@pytest.mark.parametrize(("name", "right", "wrong"), slips())
def test_a_slip_is_found_where_it_stands_and_nowhere_else(
    name: str, right: str, wrong: str, tmp_path: Path
) -> None:
    text = (HERE / "right" / f"{name}.lesson.md").read_text(encoding="utf-8")
    assert right in text
    path = tmp_path / f"{name}.lesson.md"
    path.write_text(text.replace(right, wrong, 1), encoding="utf-8")
    (report,) = check_file(path)
    told = [
        (report.source.position(each.span.start)[0], each.code)
        for each in report.diagnostics
        if each.severity != "note"
    ]
    line = text.count("\n", 0, text.index(right)) + 1
    assert [line for at, _ in told if abs(at - line) <= 1]
    assert [each for each in told if abs(each[0] - line) > 1] == []


def test_there_are_many_slips() -> None:
    assert len(slips()) >= 60
