"""Every element of a generated lesson stands where its place says, whatever the line ends and notes around it."""

from __future__ import annotations

import random

import pytest

from boardproof.lesson.model import Display
from boardproof.lesson.read import read_lesson
from boardproof.lesson.sentence import Fill, Maths, Move, Paragraph, Tie, Words
from boardproof.source import Slice, Source

ELEMENTS = {
    Maths: ["$I r$", "$I = 0.5 A$", r"$\frac{E_1}{r_1}$", "$a\\$b$"],
    Fill: ["{I}", "{I in mA}", "{E_{1}}", "{R that makes I_2 = 0}", "{I to 2 figures}"],
    Tie: ["[half an ampere](=I)", '[50 mA](=free "from the label (both sides)")', "[[x] y](=f(I))"],
    Move: ["`focus A`", "``take main but turn B``", '`write "Hello"`'],
}
WORDS = [
    "The current",
    "so",
    "(a word)",
    "that is it.",
    "1.5 V",
    "x < y",
    "E_1 and r_1",
    "Ω",
    "𝄞",
    "snake_case_word",
    "5 * 3",
]
NOTES = ["", "", "", "<!-- mine: $x$ {y} -->"]


def a_lesson(seed: int) -> tuple[str, list[str]]:
    """A text and its elements in order."""
    chance = random.Random(seed)
    end = chance.choice(["\n", "\n", "\r\n", "\r"])
    elements: list[str] = []
    blocks = ["\ufeff# Title" if chance.random() < 0.2 else "# Title"]
    for _ in range(chance.randrange(1, 5)):
        margin = chance.choice(["", "", "> ", "- ", "  "])
        lines = []
        for _ in range(chance.randrange(1, 4)):
            pieces = ["So"]
            for _ in range(chance.randrange(1, 5)):
                element = chance.choice(ELEMENTS[chance.choice(list(ELEMENTS))])
                elements.append(element)
                pieces += element, chance.choice(WORDS), chance.choice(NOTES)
            lines.append(" ".join(pieces).rstrip())
        after = "> " if margin == "> " else " " * len(margin)
        blocks.append(margin + (end + after).join(lines))
        if chance.random() < 0.4:
            shown = chance.choice(["$$ V = E $$", f"$${end}V = E{end}{end}= I R{end}$$"])
            elements.append(shown)
            blocks.append(shown)
    return (end + end).join(blocks), elements


def elements_of(paragraphs: list[Paragraph | Display]) -> list[Maths | Fill | Tie | Move | Display]:
    found: list[Maths | Fill | Tie | Move | Display] = []
    for block in paragraphs:
        inside = [block] if isinstance(block, Display) else block.content
        found += [piece for piece in inside if not isinstance(piece, Words)]
    return found


@pytest.mark.parametrize("batch", range(4))
def test_the_place_of_every_element_holds_exactly_that_element(batch: int) -> None:
    for seed in range(batch * 250, batch * 250 + 250):
        text, expected = a_lesson(seed)
        lesson, found = read_lesson(Source("a.lesson.md", text))
        assert found == (), (text, found)
        elements = elements_of(list(lesson.scenes[0].blocks))
        assert [text[each.span.start : each.span.end] for each in elements] == expected, text


@pytest.mark.parametrize("batch", range(2))
def test_words_are_as_long_as_their_place_and_read_line_breaks_as_spaces(batch: int) -> None:
    for seed in range(batch * 250, batch * 250 + 250):
        text, _ = a_lesson(seed)
        lesson, _ = read_lesson(Source("a.lesson.md", text))
        for block in lesson.scenes[0].blocks:
            for piece in block.content if isinstance(block, Paragraph) else ():
                if isinstance(piece, Words):
                    place = text[piece.span.start : piece.span.end]
                    assert piece.text == place.replace("\r\n", " ").replace("\n", " ").replace("\r", " "), (
                        text
                    )
                    assert "mine" not in piece.text


def test_slices_of_the_five_lessons_hold_the_text_of_their_place() -> None:
    for seed in range(200):
        text, _ = a_lesson(seed)
        lesson, _ = read_lesson(Source("a.lesson.md", text))
        for each in elements_of(list(lesson.scenes[0].blocks)):
            for slice_ in (getattr(each, name, None) for name in ("text", "of", "words", "to")):
                for part in slice_ if isinstance(slice_, tuple) else (slice_,):
                    if isinstance(part, Slice):
                        assert part.text == text[part.span.start : part.span.end]
