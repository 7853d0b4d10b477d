"""The blocks of the docs: lesson samples to be checked, sessions to be run, settings to be read."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from house.tree import ROOT

if TYPE_CHECKING:
    from pathlib import Path

PAGES = (ROOT / "README.md", *sorted((ROOT / "docs").rglob("*.md")))
FENCE = re.compile(
    r"^(?P<ticks>`{3,})(?P<about>[^`\n]*)\n(?P<body>.*?)^(?P=ticks)[ ]*$", re.MULTILINE | re.DOTALL
)
EXPECTS = re.compile(r"^expects (.+)$")


@dataclass(frozen=True)
class Fence:
    """One block of a page: the word after its backticks, the rest of that line, its text, its line."""

    page: Path
    word: str
    rest: str
    body: str
    line: int

    def __str__(self) -> str:
        return f"{self.page.relative_to(ROOT)}:{self.line}"

    @property
    def expected(self) -> list[str]:
        """Codes of the findings that the sample shows on purpose."""
        found = EXPECTS.match(self.rest)
        return sorted(code.strip() for code in found[1].split(",")) if found else []

    @property
    def lesson(self) -> str:
        """The sample as a whole lesson: with a title, a scene and, for lines of a circuit, their block."""
        body = f"```circuit\n{self.body}```\n" if self.word == "circuit-sample" else self.body
        if body.lstrip().startswith(("# ", "```lesson")):
            return body
        return (
            f"# A sample\n\n{body}"
            if body.lstrip().startswith("## ")
            else f"# A sample\n\n## A scene\n\n{body}"
        )


def fences(page: Path) -> list[Fence]:
    """Every block of a page, in order."""
    text = page.read_text(encoding="utf-8")
    found = []
    for each in FENCE.finditer(text):
        word, _, rest = each["about"].strip().partition(" ")
        found.append(Fence(page, word, rest.strip(), each["body"], text.count("\n", 0, each.start()) + 1))
    return found


def all_fences(*words: str) -> list[Fence]:
    """Every block of README and docs with one of these words."""
    return [fence for page in PAGES for fence in fences(page) if fence.word in words]
