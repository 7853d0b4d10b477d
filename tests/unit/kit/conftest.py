"""Lessons and the command line, as a teacher has them."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from boardproof.cli import main

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

CIRCUIT = """```circuit
A = cell E_1 = 6 V, r_1 = 1 ohm
B = cell E_2 = 3 V, r_2 = 2 ohm
R = resistor 10 ohm
both = A || B
main = both across R
values fresh: E_2 = 6 V, r_2 = 1 ohm
```
"""


@pytest.fixture
def lesson(tmp_path: Path) -> Callable[..., Path]:
    """Writes a lesson with a circuit of two unlike cells: its body, and its name."""

    def write(body: str, name: str = "two-cells") -> Path:
        path = tmp_path / f"{name}.lesson.md"
        path.write_text(f"# Two cells\n\n## Side by side\n\n{CIRCUIT}\n{body}\n", encoding="utf-8")
        return path

    return write


@pytest.fixture
def boardproof(capsys: pytest.CaptureFixture[str]) -> Callable[..., tuple[int, str, str]]:
    """Runs the command line: exit status, what it printed, what it complained of."""

    def run(*words: object) -> tuple[int, str, str]:
        try:
            status = main([str(word) for word in words])
        except SystemExit as stopped:
            status = int(stopped.code or 0)
        said = capsys.readouterr()
        return status, said.out, said.err

    return run
