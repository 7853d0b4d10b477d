"""Caption files of both kinds, and hostile ones."""

from __future__ import annotations

import pytest

from boardproof.lesson.captions import Cue, read_captions, time_stamp
from boardproof.source import Source


def read(text: str) -> tuple[tuple[Cue, ...], tuple[str, ...]]:
    cues, findings = read_captions(Source("talk.vtt", text))
    return cues, tuple(each.kind.code for each in findings)


def test_webvtt_with_notes_settings_and_tags() -> None:
    text = (
        "\ufeffWEBVTT - talk\r\n\r\nNOTE 00:00.000 --> 00:01.000\r\n\r\nSTYLE\r\n::cue {}\r\n\r\n"
        "one\r\n00:00:01.000 --> 00:00:02.500 align:start\r\n"
        "<v Ada>half an <00:00:01.400><c>amp</c></v>\r\n&amp; so\r\n"
    )
    assert read(text) == ((Cue(1000, 2500, "half an amp & so"),), ())


def test_subrip() -> None:
    text = "2\n00:01:03,004 --> 00:01:04,000\ntwo\n\n1\n00:00:01,000 --> 00:00:02,000\n<i>one</i>\n"
    assert [cue.text for cue in read(text)[0]] == ["one", "two"]
    assert time_stamp(read(text)[0][1].start) == "00:01:03.004"


@pytest.mark.parametrize("text", ["", "plain words", "<html><body>no</body></html>"])
def test_what_is_no_caption_file_is_told(text: str) -> None:
    assert read(text) == ((), ("unread-captions",))


def test_a_cue_with_bad_times_is_told_and_the_rest_is_read() -> None:
    cues, codes = read("WEBVTT\n\n1.5 --> 3\nlost\n\n00:01.000 --> 00:02.000\nkept\n")
    assert [cue.text for cue in cues] == ["kept"]
    assert codes == ("unread-cue",)


def test_limits() -> None:
    assert read("x" * 4_000_001)[1] == ("overlong-captions",)
    many = "WEBVTT\n\n" + "00:01.000 --> 00:02.000\na\n\n" * 20_010
    cues, codes = read(many)
    assert len(cues) == 20_000
    assert codes == ("overlong-captions",)
