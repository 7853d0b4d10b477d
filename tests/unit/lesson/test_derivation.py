"""The derive block: routes and rules whose names hold commas, lines that lean on lines, words below them."""

from __future__ import annotations

from typing import Any

import pytest

from boardproof.lesson.derivation import ROUTES, RULES
from boardproof.lesson.read import read_lesson
from boardproof.source import Source


def derive(text: str) -> tuple[Any, list[str]]:
    lesson, found = read_lesson(Source("a", text))
    return lesson.scenes[0].blocks[0], [fault.kind.code for fault in found]


@pytest.mark.parametrize("route", ROUTES)
@pytest.mark.parametrize("manner", [(), ("with numbers",), ("briefly",), ("with numbers", "briefly")])
def test_every_route_is_read_with_every_manner(route: str, manner: tuple[str, ...]) -> None:
    block, found = derive(f"```derive E_p, r_p of both by {', '.join((route, *manner))}\n```\n")
    assert found == []
    assert [target.text for target in block.targets] == ["E_p", "r_p"]
    assert (block.group.text, block.route.text, block.manner) == ("both", route, manner)


@pytest.mark.parametrize("headline", ["I", "I by backwards", "I of row 2 of bank", "I, briefly"])
def test_group_route_and_manner_may_be_left_out(headline: str) -> None:
    block, found = derive(f"```derive {headline}\n```\n")
    assert ([target.text for target in block.targets], found) == (["I"], [])


def test_a_route_is_read_whatever_its_capitals_and_full_stops() -> None:
    assert derive("```derive V of A by Same terminal pd\n```\n")[1] == []


@pytest.mark.parametrize("route", ["magic", "short, then EMFs taken out, quickly", "same current, backwards"])
def test_a_route_that_nobody_knows_is_named(route: str) -> None:
    block, found = derive(f"```derive V of A by {route}\n```\n")
    assert (block.route.text, found) == (route, ["unknown-route"])


@pytest.mark.parametrize("rule", RULES)
def test_every_rule_is_read(rule: str) -> None:
    block, found = derive(f"```derive I\n1. V = E by {rule}\n2. V = I R by {rule}, algebra from 1\n```\n")
    assert found == []
    assert [[each.text for each in step.rules] for step in block.steps] == [[rule], [rule, "algebra"]]
    assert [step.maths.text for step in block.steps] == ["V = E", "V = I R"]


def test_a_taught_result_may_hold_commas_and_the_word_by() -> None:
    text = '```lesson\nleans_on = ["more current, less p.d.", "one by one"]\n```\n```derive I\n'
    lesson, found = read_lesson(
        Source("a", text + "1. x by y = z by one by one, more current, less p.d., algebra\n```\n")
    )
    step = lesson.scenes[0].blocks[0].steps[0]
    assert found == ()
    assert step.maths.text == "x by y = z"
    assert [rule.text for rule in step.rules] == ["one by one", "more current, less p.d.", "algebra"]


@pytest.mark.parametrize(
    ("tail", "lines"), [("from 1", (1,)), ("from 1, 2", (1, 2)), ("from lines 1 and 2", (1, 2)), ("", ())]
)
def test_a_step_leans_on_the_lines_it_names(tail: str, lines: tuple[int, ...]) -> None:
    block, found = derive(f"```derive I\n1. a = b\n2. b = c\n3. a = c by algebra {tail}\n```\n")
    assert (block.steps[2].from_, block.steps[2].maths.text, found) == (lines, "a = c", [])


def test_words_belong_to_the_line_above_them() -> None:
    block, found = derive(
        "```derive I\n1. a = b by algebra\n   One. `focus A`\n\n   Two.\n# not this\n2. b = c\n```\n"
    )
    assert found == []
    assert [len(step.words) for step in block.steps] == [2, 0]


def test_lines_out_of_order_or_leaning_forwards_are_reported() -> None:
    assert derive("```derive I\n1. a = b\n3. b = c by algebra from 1\n```\n")[1] == ["step-order"]
    assert derive("```derive I\n1. a = b by algebra from 1\n```\n")[1] == ["later-line"]
