"""What every output walks, and what every sheet carries."""

from __future__ import annotations

from dataclasses import replace

from boardproof.publish.document import CautionItem, PauseItem, Prose, Stamp
from boardproof.publish.marks import MARKS
from boardproof.publish.walk import cautions_first, labels, walk
from boardproof.publish.web import clock
from unit.publish import sample


def test_walk_meets_everything_answers_included() -> None:
    kinds = {type(item).__name__ for item in walk(sample.document())}
    assert kinds == {
        "Prose", "Formula", "Steps", "Figure", "PauseItem", "TrapItem", "ClaimItem", "CautionItem", "QuestionItem",
    }  # fmt: skip
    pause = next(item for item in walk(sample.document()) if isinstance(item, PauseItem))
    assert set(pause.answer) <= set(walk(sample.document()))
    assert any(isinstance(item, Prose) for item in pause.answer)


def test_labels_are_all_the_maths_of_a_document_and_of_its_pictures() -> None:
    found = list(labels(sample.document(), 1.15))
    assert {label.size for label in found if label.content == sample.TOGETHER} == {1.15}
    assert any(label.content == "being charged" for label in found)
    assert not any(label.content == "the hidden answer" for label in found)


def test_the_stamp_says_what_is_proved_and_what_not() -> None:
    assert sample.STAMP.words == "version 2 · every statement proved, 25 November 2026"
    assert sample.DRAFT.words == "DRAFT, 1 of 23 statements not proved, 25 November 2026"
    left = replace(sample.STAMP, unproved=("Scene 1: not checked.",))
    assert left.words == "version 2 · 1 of 23 statements not proved, 25 November 2026"
    assert "DRAFT" in Stamp("1", sample.MADE, draft=True, statements=4).words


def test_a_caution_that_no_item_shows_in_full_stands_first() -> None:
    document = sample.document()
    assert cautions_first(document, (sample.CAUTION,)) == ()
    other = replace(sample.CAUTION, full="Lithium cells can catch fire. Follow your rules.")
    assert cautions_first(document, (sample.CAUTION, other)) == (other,)
    scenes = tuple(
        replace(
            scene,
            items=tuple(
                replace(item, in_full=False) if isinstance(item, CautionItem) else item
                for item in scene.items
            ),
        )
        for scene in document.scenes
    )
    assert cautions_first(replace(document, scenes=scenes), (sample.CAUTION,)) == (sample.CAUTION,)


def test_times_are_minutes_and_seconds() -> None:
    assert [clock(each) for each in (0, 59.6, 125)] == ["0:00", "1:00", "2:05"]


def test_every_verdict_has_a_mark_and_a_word_of_its_own() -> None:
    assert len({mark.word for mark in MARKS.values()}) == len(MARKS) == 8
    assert len({mark.pieces for mark in MARKS.values()}) == 8
