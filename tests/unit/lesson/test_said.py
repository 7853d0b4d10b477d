"""What is said and printed of a paragraph."""

from __future__ import annotations

from boardproof.lesson.read import read_lesson
from boardproof.lesson.said import printed_words, spoken_words, word_count
from boardproof.lesson.sentence import Paragraph
from boardproof.source import Source


def paragraph(text: str) -> Paragraph:
    lesson, found = read_lesson(Source("a", text))
    assert found == ()
    block = lesson.scenes[0].blocks[0]
    assert isinstance(block, Paragraph)
    return block


def test_moves_and_notes_are_neither_said_nor_printed() -> None:
    block = paragraph("Look `focus B` <!-- slowly -->at B `plain`, now.\nIt has {r_2}, [*three* ohms](=r_2).")
    shown = printed_words(block, lambda fill: f"<{fill.of.text}>", lambda maths: maths.text.text)
    assert shown == "Look at B, now. It has <r_2>, three ohms."


def test_maths_is_said_as_the_caller_says_it() -> None:
    block = paragraph("So $V = 2 V$ is left.")
    assert spoken_words(block, str, lambda maths: "V is two volts") == "So V is two volts is left."


def test_a_quotation_is_printed_and_not_said() -> None:
    block = paragraph("> Push over hindrance.")
    assert spoken_words(block, str, str) == ""
    assert printed_words(block, str, str) == "Push over hindrance."


def test_words_are_counted_without_bare_signs() -> None:
    assert word_count("one - two ... don't 3.5") == 4
