"""The changelog speaks to teachers, a sentence a change, and the versions agree."""

from __future__ import annotations

import re
import tomllib

import boardproof
from house.tree import ROOT

LONGEST_ENTRY = 240


def entries(text: str) -> list[tuple[str, list[str]]]:
    """Versions with their entries, in the order of the file."""
    parts = re.split(r"^## (\S+?),? .*$|^## (\S+)$", text, flags=re.MULTILINE)[1:]
    found = []
    for first, second, body in zip(parts[::3], parts[1::3], parts[2::3], strict=True):
        points = [" ".join(point.split()) for point in re.split(r"^- ", body, flags=re.MULTILINE)[1:]]
        found.append((first or second, points))
    return found


def faults(text: str) -> list[str]:
    told = entries(text)
    wrong = [f"{version}: nothing told" for version, points in told if not points]
    for version, points in told:
        wrong += [
            f"{version}: not a sentence: {point}" for point in points if not re.match(r"[A-Z`].*\.$", point)
        ]
        wrong += [f"{version}: too long: {point}" for point in points if len(point) > LONGEST_ENTRY]
    numbers = [tuple(map(int, version.split("."))) for version, _ in told]
    return wrong + (["not newest first"] if numbers != sorted(set(numbers), reverse=True) else [])


def test_the_changelog_tells_each_change_in_a_sentence() -> None:
    text = (ROOT / "CHANGELOG.md").read_text(encoding="utf-8")
    assert faults(text) == []
    assert entries(text)[0][0] == boardproof.__version__


def test_the_versions_agree() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    assert project["version"] == boardproof.__version__


def test_a_poor_entry_is_seen() -> None:
    text = "# What changed\n\n## 0.1.0\n\n- fixed stuff\n\n## 0.2.0, May\n"
    assert faults(text) == ["0.2.0: nothing told", "0.1.0: not a sentence: fixed stuff", "not newest first"]
