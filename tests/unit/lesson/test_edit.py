"""Edits: undone to the byte, nothing outside their places moved, refused where they do not fit."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from boardproof.lesson.edit import EditRefused, apply, inverse
from boardproof.source import Edit, Source, Span


@st.composite
def sources_with_edits(draw: st.DrawFn) -> tuple[Source, Edit]:
    source = Source("a", draw(st.text(max_size=60)))
    places = sorted(draw(st.lists(st.integers(0, len(source.text)), max_size=8, unique=True)))
    pairs = zip(places[::2], places[1::2], strict=False)
    changes = [(Span("a", start, end), draw(st.text(max_size=6))) for start, end in pairs]
    return source, Edit(tuple(draw(st.permutations(changes))), "safe", source.sha256)


@given(sources_with_edits())
def test_a_change_undone_gives_the_same_bytes(case: tuple[Source, Edit]) -> None:
    source, edit = case
    changed, back = apply(source, edit), inverse(source, edit)
    assert apply(changed, back).text.encode() == source.text.encode()
    assert apply(source, inverse(changed, back)) == changed


@given(sources_with_edits())
def test_text_outside_the_places_never_changes(case: tuple[Source, Edit]) -> None:
    source, edit = case
    rest, done = apply(source, edit).text, 0
    for span, new in sorted(edit.changes, key=lambda change: change[0]):
        kept = source.text[done : span.start]
        assert rest.startswith(kept + new)
        rest, done = rest[len(kept + new) :], span.end
    assert rest == source.text[done:]


@pytest.mark.parametrize(
    ("changes", "reason"),
    [
        ([(Span("a", 0, 3), "x"), (Span("a", 2, 4), "y")], "overlap"),
        ([(Span("a", 2, 2), "x"), (Span("a", 2, 2), "y")], "overlap"),
        ([(Span("a", 3, 9), "x")], "outside"),
        ([(Span("a", 3, 2), "x")], "outside"),
        ([(Span("b", 0, 1), "x")], "another file"),
    ],
)
def test_changes_that_do_not_fit_are_refused(changes: list[tuple[Span, str]], reason: str) -> None:
    source = Source("a", "V = E")
    for job in (apply, inverse):
        with pytest.raises(EditRefused) as refused:
            job(source, Edit(tuple(changes), "safe", source.sha256))
        assert refused.value.reason == reason


def test_an_edit_for_another_text_is_refused() -> None:
    with pytest.raises(EditRefused) as refused:
        apply(Source("a", "V = E "), Edit((), "safe", Source("a", "V = E").sha256))
    assert refused.value.reason == "another text"
