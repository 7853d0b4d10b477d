"""Sentences: clauses, conditions, quotations, numbers in plain words."""

import pytest

from boardproof.lesson.model import Paragraph
from boardproof.lesson.read import read_lesson
from boardproof.prove.prose import Sentence, said_in
from boardproof.prove.walk import Place, Visit
from boardproof.source import Source


def sentence(text: str) -> Sentence:
    lesson, _ = read_lesson(Source("a", text))
    (paragraph,) = lesson.scenes[0].blocks
    assert isinstance(paragraph, Paragraph)
    place = Place(0, 0, None)
    return Sentence.of(
        [Visit(place, each, "text", paragraph, paragraph, each.span) for each in paragraph.content]
    )


def numbers(text: str) -> list[str]:
    return [loose.typed for loose in said_in(sentence(text), ".")]


def test_numbers_that_state_something_are_found() -> None:
    assert numbers("It takes 0.5 A, and half a volt is lost in ten ohms.") == [
        "0.5 A",
        "half a volt",
        "ten ohms",
    ]


@pytest.mark.parametrize("word", ["if", "only if", "when", "unless", "suppose", "let", "whether"])
def test_a_number_after_a_condition_word_states_nothing(word: str) -> None:
    assert numbers(f"We ask {word} it takes 0.5 A.") == []


def test_a_comma_ends_the_condition() -> None:
    assert numbers("If it is on, it takes 0.5 A.") == ["0.5 A"]


@pytest.mark.parametrize("said", ['"it takes 0.5 A"', "“it takes 0.5 A”"])
def test_somebodys_words_are_not_judged(said: str) -> None:
    assert numbers(f"Some say {said} and are wrong.") == []


def test_a_decimal_point_ends_no_clause() -> None:
    inner = sentence("The load takes 0.5 A at 1.25 V. It is warm.")
    start, end = inner.clause(inner.text.index("1.25"))
    assert inner.text[start:end] == "The load takes 0.5 A at 1.25 V"


def test_the_place_of_a_number_is_its_own() -> None:
    text = "With $I = 2 A$ the lamp takes 0.5 A now."
    (loose,) = said_in(sentence(text), ".")
    assert text[loose.span.start : loose.span.end] == "0.5 A"
