"""Texts and places in them."""

import pytest

from boardproof.source import Slice, Source, Span


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_lines_are_counted_whatever_ends_them(end: str) -> None:
    text = Source("a", f"one{end}two{end}three")
    assert text.position(len(f"one{end}two{end}")) == (3, 1)
    assert [text.line(n) for n in (1, 2, 3)] == ["one", "two", "three"]


def test_columns_count_letters_and_not_bytes() -> None:
    text = Source("a", "Ω = 𝑅 x")
    assert text.position(text.text.index("x")) == (1, 7)


def test_equality_of_slices_ignores_their_place() -> None:
    assert Slice("A", Span("a", 0, 1)) == Slice("A", Span("b", 4, 5))


def test_a_part_of_a_slice_keeps_its_place() -> None:
    whole = Source("a", "  A || B  ").slice()
    trimmed = whole.trimmed()
    assert (trimmed.text, trimmed.span) == ("A || B", Span("a", 2, 8))
    assert trimmed.part(5, 6).span == Span("a", 7, 8)


def test_white_space_alone_trims_to_nothing() -> None:
    assert Source("a", "   ").slice().trimmed().text == ""
