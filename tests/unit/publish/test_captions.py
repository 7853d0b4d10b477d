"""Captions: what a reader of the web's own caption format says of them, and what the guidelines ask."""

from __future__ import annotations

from io import StringIO
from itertools import pairwise

import webvtt as judge
from hypothesis import given
from hypothesis import strategies as st

from boardproof.lesson.captions import Cue, read_captions, time_stamp
from boardproof.publish.captions import (
    LINE,
    SPEED,
    Chapter,
    Word,
    caption_cues,
    caption_lines,
    chapters_vtt,
    too_fast,
    webvtt,
)
from boardproof.source import Source

GLUE = "\N{NO-BREAK SPACE}"


def at_pace(text: str, milliseconds: int = 460) -> list[Word]:
    """Words at 130 a minute."""
    return [Word(word, n * milliseconds, (n + 1) * milliseconds) for n, word in enumerate(text.split(" "))]


words = st.lists(st.text(st.sampled_from("abcV.,&<>"), min_size=1, max_size=12), min_size=1, max_size=40)


@given(words)
def test_every_word_is_captioned_once_and_in_order(said: list[str]) -> None:
    cues = caption_cues(at_pace(" ".join(said)))
    assert " ".join(cue.text for cue in cues).split(" ") == said


@given(words)
def test_cues_follow_one_another_with_room_to_be_read(said: list[str]) -> None:
    cues = caption_cues(at_pace(" ".join(said)))
    assert all(cue.start < cue.end for cue in cues)
    assert all(one.end <= two.start for one, two in pairwise(cues))
    assert all(len(caption_lines(cue.text)) <= 2 for cue in cues)
    assert all(len(line) <= LINE for cue in cues for line in caption_lines(cue.text))


@given(words)
def test_a_reader_of_the_standard_reads_the_same_words(said: list[str]) -> None:
    # The judge is webvtt-py; it leaves mark-up in the text, so the words are compared as they are escaped.
    cues = caption_cues(at_pace(" ".join(said)))
    text = webvtt(cues, notes=["The physics department --> CC BY"], language="en-GB")
    read = list(judge.from_buffer(StringIO(text)))
    assert len(read) == len(cues)
    assert [each.start for each in read] == [time_stamp(cue.start) for cue in cues]
    again, unread = read_captions(Source("again.vtt", text))
    assert [cue.text for cue in again] == [" ".join(cue.text.replace("-->", "→").split()) for cue in cues]
    assert unread == ()


def test_a_value_and_its_unit_stay_together() -> None:
    said = f"The tired battery has a terminal p.d. of{GLUE}4.5{GLUE}volts and gives{GLUE}0.1{GLUE}amperes."
    assert [line for cue in caption_cues(at_pace(said)) for line in caption_lines(cue.text)] == [
        "The tired battery has a terminal p.d.",
        "of 4.5 volts and gives 0.1 amperes.",
    ]


def test_a_pause_is_never_in_one_caption_with_its_answer() -> None:
    task, answer = at_pace("What will it say?"), at_pace("Five volts.")
    later = [Word(each.text, each.start + 4000, each.end + 4000, n == 0) for n, each in enumerate(answer)]
    assert [cue.text for cue in caption_cues([*task, *later])] == ["What will it say?", "Five volts."]


def test_hurried_words_are_told() -> None:
    slow, quick = (caption_cues(at_pace("The mean forgets the resistances.", ms)) for ms in (460, 150))
    assert too_fast(slow) == ()
    assert too_fast(quick) == quick
    assert len(quick[0].text) * 1000 / (quick[0].end - quick[0].start) > SPEED


def test_chapters_are_cues_in_sequence() -> None:
    text = chapters_vtt(
        [Chapter("Two <cells>", 0, 4000), Chapter("Empty", 4000, 4000), Chapter("Ends", 4000, 9000)]
    )
    read = list(judge.from_buffer(StringIO(text)))
    assert [(each.start, each.end) for each in read] == [
        ("00:00:00.000", "00:00:04.000"),
        ("00:00:04.000", "00:00:09.000"),
    ]
    assert "Two &lt;cells&gt;" in text


def test_a_cue_without_time_or_words_is_left_out() -> None:
    assert webvtt([Cue(0, 0, "gone"), Cue(0, 900, " ")]) == "WEBVTT\n"
