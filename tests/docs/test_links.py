"""Links inside README and docs lead somewhere; every page can be reached; nothing names this machine."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from docs.fences import FENCE, PAGES
from house.tree import ROOT

LINK = re.compile(r"(!?)\[([^\]]*)\]\(([^)\s]+)\)")
CODE = re.compile(r"`[^`\n]*`")
ALSO = (ROOT / "CHANGELOG.md", ROOT / "THIRD_PARTY.md", ROOT / "examples" / "weather-buoy" / "README.md")
LARGEST_PICTURE = 250_000


def prose(page: Path) -> str:
    """A page without its blocks and code."""
    return CODE.sub("", FENCE.sub("", page.read_text(encoding="utf-8")))


def anchor(heading: str) -> str:
    """How a heading is linked to: small letters, hyphens for spaces."""
    return re.sub(r"[^\w\- ]", "", heading.lower().replace("`", "")).strip().replace(" ", "-")


def anchors(page: Path) -> set[str]:
    text = FENCE.sub("", page.read_text(encoding="utf-8"))
    return {anchor(found[1]) for found in re.finditer(r"^#+ (.+)$", text, re.MULTILINE)}


def broken(page: Path) -> list[str]:
    wrong = []
    for _, _, target in LINK.findall(prose(page)):
        if re.match(r"[a-z]+:", target):
            continue
        name, _, place = target.partition("#")
        path = (page.parent / name).resolve() if name else page
        if not path.exists() or not path.is_relative_to(ROOT):
            wrong.append(f"{target}: no such file")
        elif place and place not in anchors(path):
            wrong.append(f"{target}: no such heading")
    return wrong


@pytest.mark.parametrize("page", [*PAGES, *ALSO], ids=lambda page: str(page.relative_to(ROOT)))
def test_links_lead_somewhere(page: Path) -> None:
    assert broken(page) == []


def test_every_page_can_be_reached_from_the_readme() -> None:
    seen: set[Path] = set()
    waiting = [ROOT / "README.md"]
    while waiting:
        page = waiting.pop()
        if page in seen or page.suffix != ".md" or not page.is_file():
            continue
        seen.add(page)
        targets = [target.partition("#")[0] for _, _, target in LINK.findall(prose(page))]
        waiting += [(page.parent / name).resolve() for name in targets if name and ":" not in name]
    assert sorted(set(PAGES) - seen) == []


def test_pictures_are_small_and_have_words_for_whoever_cannot_see_them() -> None:
    shown = [(page, words, name) for page in PAGES for mark, words, name in LINK.findall(prose(page)) if mark]
    assert shown
    for page, words, name in shown:
        assert len(words.split()) >= 8, f"{page.name}: {name} needs a fuller text"
        assert (page.parent / name).stat().st_size <= LARGEST_PICTURE


def test_no_page_names_a_folder_of_this_machine() -> None:
    machine = re.compile(r"(?<![\w.])/(?:work|tmp|dev|root|home)/")
    told = [page.name for page in [*PAGES, *ALSO] if machine.search(page.read_text(encoding="utf-8"))]
    assert told == []
