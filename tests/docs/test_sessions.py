"""Pages that show a session are lived through: files written, changes made, each command run and compared."""

from __future__ import annotations

import shlex
from pathlib import Path

import pytest

from boardproof.cli import main
from boardproof.quantities import NARROW_SPACE
from docs.fences import PAGES, Fence, fences
from house.tree import ROOT

SESSIONS = [page for page in PAGES if any(fence.word == "console" for fence in fences(page))]
PROMPT = "$ "


def steps(fence: Fence) -> list[tuple[str, str]]:
    """Each command of a block with what it printed."""
    found: list[tuple[str, str]] = []
    for line in fence.body.splitlines():
        if line.startswith(PROMPT):
            found.append((line.removeprefix(PROMPT), ""))
        else:
            found[-1] = (found[-1][0], f"{found[-1][1]}{line}\n")
    return found


def mend(fence: Fence) -> None:
    """Make a change in the file that it names: lines with - go, lines with + come in their place."""
    path = Path(fence.rest)
    old = "".join(f"{line[2:]}\n" for line in fence.body.splitlines() if line[:1] in "- ")
    new = "".join(f"{line[2:]}\n" for line in fence.body.splitlines() if line[:1] in "+ ")
    text = path.read_text(encoding="utf-8")
    assert text.count(old) == 1, f"{fence}: {old!r} stands {text.count(old)} times in {path}"
    path.write_text(text.replace(old, new), encoding="utf-8")


@pytest.mark.timeout(60)
@pytest.mark.parametrize("page", SESSIONS, ids=lambda page: str(page.relative_to(ROOT)))
def test_a_session_goes_as_the_page_shows_it(
    page: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    for fence in fences(page):
        match fence.word:
            case "lesson-file":
                Path(fence.rest).write_text(fence.body, encoding="utf-8")
            case "diff":
                mend(fence)
            case "console":
                for command, printed in steps(fence):
                    program, *words = shlex.split(command)
                    assert program == "boardproof", f"{fence}: only our own command is run here"
                    main(words)
                    out = capsys.readouterr().out.replace(NARROW_SPACE, " ")
                    assert out.rstrip("\n") == printed.rstrip("\n"), f"{fence}: {command}"


def test_the_first_lesson_is_a_session() -> None:
    assert ROOT / "docs" / "first-lesson.md" in SESSIONS
