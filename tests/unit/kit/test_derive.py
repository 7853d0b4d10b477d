"""Arguments shown, offered by route, and kept in a lesson."""

from __future__ import annotations

import json
import re
from typing import TYPE_CHECKING

from boardproof.derive.routes import ROUTES
from boardproof.kit.argument import route_named
from boardproof.kit.check import check_file

if TYPE_CHECKING:
    from pathlib import Path

EMPTY = "Say it.\n\n```derive E_both, r_both of both by same terminal p.d.\n```\n\nAnd that is that.\n"
KEPT = (
    "```derive I by inside out\n1. I = E_both/(R + r_both)   by cell rule, Ohm's law\n   My own words.\n```\n"
)


def troubles(path: Path) -> list[str]:
    (report,) = check_file(path)
    return [each.code for each in report.diagnostics if each.severity != "note"]


def test_an_empty_block_is_derived_and_every_step_is_proved(boardproof, lesson) -> None:
    status, out, _ = boardproof("derive", lesson(EMPTY))
    assert status == 0
    assert "by cell rule" in out
    assert "r_both = 1/(1/r_1 + 1/r_2)" in out
    assert "Each step is true of the circuit" in out


def test_a_target_on_the_command_line_is_derived_on_the_circuit_at_the_end(boardproof, lesson) -> None:
    path = lesson("`turn B`\n\nNow B pushes against A.")
    status, out, _ = boardproof(
        "derive", path, "--target", "E_both of both", "--route", "Same terminal pd", "--json"
    )
    (argument,) = json.loads(out)["arguments"]
    assert status == 0
    assert argument["route"] == "same terminal p.d."
    assert "-" in argument["steps"][-1]["maths"].partition("=")[2]
    assert all(step["proved"] for step in argument["steps"])


def test_values_end_the_argument_with_numbers(boardproof, lesson) -> None:
    _, out, _ = boardproof("derive", lesson(EMPTY), "--values", "fresh", "--json")
    numbers = json.loads(out)["arguments"][0]["closing"]["numbers"]
    assert any(line.endswith("6 V") for line in numbers)
    assert any(line.endswith("0.5 ohm") for line in numbers)


def test_all_routes_are_told_those_that_fit_in_front(boardproof, lesson) -> None:
    status, out, _ = boardproof("derive", lesson(EMPTY), "--all", "--json")
    routes = json.loads(out)["arguments"][0]["routes"]
    assert status == 0
    assert {each["route"] for each in routes} == set(ROUTES)
    fits = [each["fits"] for each in routes]
    assert fits == sorted(fits, reverse=True)
    assert all(each["why_not"] for each in routes if not each["fits"])
    # These cells could drive 7.5 A into a short: the routes that imagine one step aside.
    aside = [each["steps_aside"] for each in routes if each["fits"]]
    assert aside == sorted(aside)
    assert any(aside)


def test_a_route_that_does_not_fit_says_why(boardproof, lesson) -> None:
    status, out, _ = boardproof("derive", lesson(EMPTY), "--route", "same current")
    assert status == 1
    assert "does not have its parts in series" in out
    status, _, err = boardproof("derive", lesson(EMPTY), "--route", "by magic")
    assert status == 2
    assert "There is no route called by magic" in err


def test_check_finds_an_empty_block_whose_route_does_not_fit(lesson) -> None:
    assert troubles(lesson("```derive E_both of both by same current\n```\n")) == ["unfit-route"]


def test_keeping_changes_only_the_lines_of_the_block_and_the_lesson_checks_clean(boardproof, lesson) -> None:
    path = lesson(EMPTY + "\n" + KEPT)
    before = path.read_text(encoding="utf-8")
    status, out, _ = boardproof("derive", path, "--keep")
    after = path.read_text(encoding="utf-8")
    assert status == 0
    assert "they are yours" in out
    start = before.index("by same terminal p.d.\n") + len("by same terminal p.d.\n")
    assert after.startswith(before[:start])
    assert after.endswith(before[start:])
    added = after[start : len(after) - len(before[start:])]
    assert re.match(r"1\. V = E_1 - I_1 r_1", added)
    assert troubles(path) == []


def test_keeping_twice_changes_nothing(boardproof, lesson) -> None:
    path = lesson(EMPTY)
    boardproof("derive", path, "--keep")
    once = path.read_bytes()
    status, out, _ = boardproof("derive", path, "--keep")
    assert (status, path.read_bytes()) == (0, once)
    assert "Nothing was changed" in out


def test_line_ends_are_kept(boardproof, lesson) -> None:
    path = lesson(EMPTY)
    path.write_bytes(path.read_bytes().replace(b"\n", b"\r\n"))
    assert boardproof("derive", path, "--keep")[0] == 0
    assert b"\n" not in path.read_bytes().replace(b"\r\n", b"")


def test_an_argument_that_needs_new_names_says_what_to_add_first(boardproof, lesson) -> None:
    path = lesson("```derive E_both, r_both of both by open, then short\n```\n")
    before = path.read_bytes()
    status, out, _ = boardproof("derive", path, "--keep")
    assert status == 1
    assert "Add to the circuit block first: let" in out
    assert path.read_bytes() == before


def test_what_cannot_be_done_is_not_done(boardproof, lesson, tmp_path: Path) -> None:
    path = lesson("Nothing to derive.")
    assert boardproof("derive", path)[0] == 2
    assert boardproof("derive", tmp_path)[0] == 2
    assert boardproof("derive", tmp_path / "none.lesson.md")[0] == 2
    assert boardproof("derive", path, "--target", "")[0] == 2
    assert boardproof("derive", lesson(EMPTY), "--values", "stale")[0] == 2
    assert boardproof("derive", lesson(EMPTY), "--keep", "--target", "I")[0] == 2


def test_a_route_is_known_however_it_is_spelled() -> None:
    assert [route_named(words) for words in ("INSIDE OUT", "Two, three, n", "none")] == [
        "inside out",
        "two, three, n",
        None,
    ]


def test_an_ideal_source_loses_nothing_inside(boardproof, tmp_path: Path) -> None:
    path = tmp_path / "ideal.lesson.md"
    body = "A = source 6 V\nR = resistor 3 ohm\nA across R\n"
    path.write_text(
        f"# A\n\n## B\n\n```circuit\n{body}```\n\n```derive I by inside out\n```\n", encoding="utf-8"
    )
    assert boardproof("check", path, "--strict")[0] == 0
    _, out, _ = boardproof("derive", path)
    assert "1. I = E_A/R" in out
    assert "2. V = E_A  " in out
