"""The command line itself: help, version, words it does not know, how it starts and stops."""

from __future__ import annotations

import os
import subprocess
import sys

import pytest

from boardproof import __version__
from boardproof.cli import OUTPUTS as NAMED
from boardproof.kit.outputs import OUTPUTS
from house.tree import ROOT

COMMANDS = ("check", "build", "derive", "solve", "new", "why")
ENVIRONMENT = {**os.environ, "PYTHONPATH": str(ROOT / "src")}


@pytest.mark.parametrize("command", COMMANDS)
def test_every_command_has_help_and_the_options_that_all_share(boardproof, command: str) -> None:
    status, out, _ = boardproof(command, "--help")
    assert status == 0
    assert all(word in out for word in ("--json", "--quiet", "--no-colour", "--limit"))


def test_help_names_every_command_and_loads_no_job(boardproof) -> None:
    status, out, _ = boardproof("--help")
    assert status == 0
    assert all(command in out for command in COMMANDS)
    program = (
        "import sys, boardproof.cli\nprint(*sorted(n for n in sys.modules if n.startswith('boardproof')))"
    )
    words = [sys.executable, "-c", program]
    found = subprocess.run(words, capture_output=True, text=True, env=ENVIRONMENT, check=True).stdout.split()
    assert found == ["boardproof", "boardproof.cli"]


def test_version(boardproof) -> None:
    assert boardproof("--version") == (0, f"boardproof {__version__}\n", "")


@pytest.mark.parametrize(
    "words",
    [
        [],
        ["chek", "a"],
        ["check"],
        ["check", "a", "--limit", "0"],
        ["check", "a", "--limit", "nan"],
        ["check", "a", "--limit", "soon"],
        ["build", "a", "--paper", "a5"],
        ["solve"],
    ],
)
def test_words_it_does_not_know_are_not_done(boardproof, words: list[str]) -> None:
    status, out, err = boardproof(*words)
    assert (status, out) == (2, "")
    assert err


def test_help_names_the_outputs_that_are_made() -> None:
    assert NAMED == OUTPUTS


def test_an_interrupt_is_told_calmly(boardproof, monkeypatch) -> None:
    def stop(_: object) -> int:
        raise KeyboardInterrupt

    monkeypatch.setattr("boardproof.kit.why.run", stop)
    status, _, err = boardproof("why", "look-alike")
    assert status == 130
    assert err == "Stopped. Nothing half-written was left.\n"


def test_a_reader_that_has_gone_is_no_fault() -> None:
    words = f"{sys.executable} -m boardproof why overwide-equation | head -c 1"
    done = subprocess.run(["bash", "-c", words], capture_output=True, text=True, env=ENVIRONMENT, check=True)
    assert done.stderr == ""
