"""Reading whole lessons: the demo course, scenes, headings, settings, notes, and every kind of finding."""

from __future__ import annotations

import re
from fractions import Fraction
from pathlib import Path

import pytest

from boardproof.findings import worded
from boardproof.lesson.kinds import KINDS
from boardproof.lesson.model import (
    BoardBlock,
    Brief,
    CircuitBlock,
    Claim,
    Correction,
    Derive,
    Display,
    Leave,
    Pause,
    Question,
    Readings,
    Trap,
    Unread,
)
from boardproof.lesson.read import read_lesson
from boardproof.lesson.sentence import Paragraph
from boardproof.source import Source

BUOY = Path(__file__).parents[3] / "examples" / "weather-buoy"


def read(text: str) -> tuple[list[object], list[str]]:
    """The blocks of all scenes, and the codes found."""
    lesson, found = read_lesson(Source("a.lesson.md", text))
    return [block for scene in lesson.scenes for block in scene.blocks], [fault.kind.code for fault in found]


@pytest.mark.parametrize(
    ("name", "kinds"),
    [
        ("1-a-real-cell", {CircuitBlock: 3, Pause: 1, Derive: 1, BoardBlock: 1, Trap: 1, Claim: 1, Question: 1,
                           Display: 7}),
        ("2-cells-in-series", {CircuitBlock: 2, Pause: 1, Derive: 1, Trap: 1, Claim: 1, Question: 1, Display: 7}),
        ("3-cells-in-parallel", {CircuitBlock: 3, Pause: 1, Derive: 1, Trap: 1, Claim: 3, Question: 1, Display: 8}),
        ("4-one-cell-reversed", {CircuitBlock: 4, Pause: 2, Derive: 1, Trap: 2, Claim: 1, Display: 4}),
        ("5-rows-and-columns", {CircuitBlock: 3, Pause: 1, Trap: 1, Claim: 1, Question: 1, Readings: 1, Brief: 1,
                                 Display: 8}),
    ],
)  # fmt: skip
def test_a_lesson_of_the_buoy_is_read_whole_and_without_a_finding(name: str, kinds: dict[type, int]) -> None:
    text = (BUOY / f"{name}.lesson.md").read_bytes().decode()
    blocks, found = read(text)
    assert found == []
    assert {kind: sum(isinstance(block, kind) for block in blocks) for kind in kinds} == kinds
    assert not any(isinstance(block, Unread) for block in blocks)
    rest = {type(block) for block in blocks} - set(kinds)
    assert rest <= {Paragraph}
    assert sum(isinstance(block, CircuitBlock) for block in blocks) == text.count("```circuit")


def test_line_ends_and_a_byte_order_mark_change_places_only() -> None:
    text = (BUOY / "4-one-cell-reversed.lesson.md").read_bytes().decode()
    plain, _ = read_lesson(Source("a", text))
    for other in ("\ufeff" + text, text.replace("\n", "\r\n"), "\ufeff" + text.replace("\n", "\r\n")):
        lesson, found = read_lesson(Source("a", other))
        assert found == ()
        assert [scene.title for scene in lesson.scenes] == [scene.title for scene in plain.scenes]
        shapes = [[type(block) for block in scene.blocks] for scene in lesson.scenes]
        assert shapes == [[type(block) for block in scene.blocks] for scene in plain.scenes]
        assert [name.text for name in lesson.settings.leans_on] == [n.text for n in plain.settings.leans_on]


@pytest.mark.parametrize("code", sorted(KINDS))
def test_the_sample_of_a_kind_shows_it_and_the_one_put_right_does_not(code: str) -> None:
    samples = re.findall(r"````text\n(.*?)\n````", KINDS[code].page, re.DOTALL)
    assert len(samples) == 2
    assert code in read(samples[0])[1]
    assert read(samples[1])[1] == []


@pytest.mark.parametrize("code", sorted(KINDS))
def test_the_words_of_a_finding_speak_of_what_stands_there(code: str) -> None:
    sample = re.findall(r"````text\n(.*?)\n````", KINDS[code].page, re.DOTALL)[0]
    _, found = read_lesson(Source("a", sample))
    diagnostic = worded(next(fault for fault in found if fault.kind.code == code))
    assert "{" not in diagnostic.message + diagnostic.help or code == "unread-fill"
    assert diagnostic.help


def test_settings_are_read_with_their_places() -> None:
    text = (
        '```lesson\nleans_on = ["cell rule", "Ohm\'s law"]\nestablishes = ["x"]\nminutes = 5.5\nversion = "2"\n'
        '[[corrections]]\nwhat = "1.2, not 1.3"\nsince = 2026-01-05\n[notation]\ndecimal = "comma"\n```\n# T\n'
    )
    lesson, found = read_lesson(Source("a", text))
    settings = lesson.settings
    assert found == ()
    assert [text[name.span.start : name.span.end] for name in settings.leans_on] == ["cell rule", "Ohm's law"]
    assert (settings.minutes, settings.version) == (Fraction(11, 2), "2")
    assert settings.corrections == (Correction("1.2, not 1.3", "", "2026-01-05"),)
    assert dict(settings.overrides) == {"notation": {"decimal": "comma"}}


def test_a_broken_setting_is_shown_on_its_line() -> None:
    source = Source("a", "```lesson\nminutes = 5\nleans_on = [\n\nx = \n```\n# T\n")
    lesson, (fault,) = read_lesson(source)
    assert fault.kind.code == "unread-setting"
    assert source.position(fault.span.start)[0] == 5
    assert lesson.title == "T"


def test_an_unknown_setting_and_its_near_names_are_named() -> None:
    _, (fault,) = read_lesson(Source("a", "```lesson\n[policy]\nshows = 3\n```\n"))
    assert (fault.kind.code, dict(fault.facts)) == ("unknown-setting", {"word": "shows", "near": "show"})


def test_scenes_are_opened_by_second_headings_and_text_before_makes_one_without_title() -> None:
    lesson, found = read_lesson(Source("a", "# Title\n\nBefore.\n\n## One *big*\n\nA.\n\n## Two $I r$\n"))
    assert [(scene.title, len(scene.blocks)) for scene in lesson.scenes] == [
        ("", 1),
        ("One big", 1),
        ("Two $I r$", 0),
    ]
    assert (lesson.title, found) == ("Title", ())


def test_a_lesson_without_a_title_is_called_after_its_file() -> None:
    assert read_lesson(Source("units/cells.lesson.md", "## One\n"))[0].title == "cells"


def test_a_note_leaves_no_trace_and_may_hold_anything() -> None:
    blocks, found = read("One <!-- `x` $ { ```\n\n## no scene\n``` --> two.\n")
    assert found == []
    assert [[piece.text for piece in block.content] for block in blocks] == [["One"], ["two."]]
    assert "".join(piece.text for piece in read("One <!-- $ --> two.\n")[0][0].content) == "One  two."


def test_a_note_that_accepts_a_finding_stands_before_its_block() -> None:
    blocks, found = read(
        "## S\n\n<!-- leave crowded-board, because: all four\nmatter -->\n\n```board\nshow A\n```\n"
    )
    assert found == []
    assert isinstance(blocks[0], Leave)
    assert (blocks[0].code, blocks[0].reason) == ("crowded-board", "all four matter")
    assert isinstance(blocks[1], BoardBlock)


def test_a_note_about_leaving_something_else_is_only_a_note() -> None:
    assert read("<!-- leave this out next year -->\n\nText.\n")[1] == []


def test_lists_are_said_and_quotations_are_printed_only() -> None:
    blocks, found = read("- one\n- two\n\n1. first\n\n> said by nobody\n")
    assert found == []
    assert [(block.bullet, block.said) for block in blocks] == [
        ("-", True),
        ("-", True),
        ("1.", True),
        ("", False),
    ]


def test_board_maths_stands_alone_or_parts_a_paragraph() -> None:
    blocks, found = read("Before\n$$ a = b $$\nafter $$c = d$$ end.\n\n$$\nx = y\n\nz = w\n$$\n")
    assert found == []
    shapes = [type(block).__name__ for block in blocks]
    assert shapes == ["Paragraph", "Display", "Paragraph", "Display", "Paragraph", "Display"]
    assert blocks[-1].text.text == "x = y\n\nz = w"


def test_a_board_line_without_an_end_spoils_only_its_paragraph() -> None:
    blocks, found = read("$$ a = b\n\n## Next\n\nText with $x$.\n")
    assert found == ["never-closed"]
    assert [type(block) for block in blocks] == [Paragraph, Paragraph]


def test_a_block_without_an_end_is_reported_where_it_opens() -> None:
    source = Source("a", "# T\n\n```circuit\nA = cell\n")
    _, (fault,) = read_lesson(source)
    assert (fault.kind.code, source.position(fault.span.start)) == ("never-closed", (3, 1))


def test_indentation_never_turns_text_into_something_else() -> None:
    blocks, found = read("# T\n\n      Text with $x$.\n\n      ```circuit\n      A = cell\n      ```\n")
    assert found == []
    assert [type(block) for block in blocks] == [Paragraph, CircuitBlock]


def test_two_readings_of_one_text_are_equal() -> None:
    text = (BUOY / "5-rows-and-columns.lesson.md").read_bytes().decode()
    assert read_lesson(Source("a", text)) == read_lesson(Source("a", text))
