"""Any text at all is read: no exception, always a lesson, every place within the text, within seconds."""

from __future__ import annotations

import random
import time
from pathlib import Path

import pytest

from boardproof.findings import worded
from boardproof.lesson.course import Course, course_of, read_course
from boardproof.lesson.kinds import KINDS
from boardproof.lesson.model import Lesson, Unread
from boardproof.lesson.read import read_lesson
from boardproof.source import Source

LESSONS = [
    path.read_bytes().decode("utf-8")
    for path in sorted((Path(__file__).parents[2] / "examples" / "weather-buoy").glob("*.lesson.md"))
]
FRAGMENTS = [
    "```", "~~~", "```circuit\n", "```pause 20 s\n", "```derive I of A by same current\n", "```trap\n", "```claim x\n",
    "```question q\n", "```readings of A\n", "```brief b\n", "```board\n", "```lesson\n", "```\n", "$", "$$", "\\$",
    "{", "}", "{I in mA}", "[", "](=I)", '](=free "x")', "](", ")", "`", "``", "`focus A`", "<!--", "-->",
    "<!-- leave a-b, because: c -->", "# ", "## ", "### ", "\n", "\n\n", "\r\n", "\r", "- ", "1. ", "> ", "    ", "\t",
    "*", "**", "_", "E_1", "answer:", "wrong:", "means:", "vary:", "ask:", "table:", "(a) ", "1. x by algebra from 2\n",
    "| a | b |\n", "---\n", "===\n", "\\", "\x00", "\ufeff", "\u2028", "\u00a0", "\ud800", "𝄞", "é", "  ", "x = 1\n",
    "[a]: b\n", "<div>", "![a](b)", "<https://a>", " by ", " from 1", ", with numbers", "#", " # c", "a" * 300,
]  # fmt: skip
STRETCHED = [
    "`", "$", "$$", "{", "[", "(", "*", "_", "**a ", "*a_b ", "> ", "- ", "1. ", "```\n", "<!--", "[a](", "[[a]",
    "![", "{{a", "{a", "[a", "$a ", "`a``b", "\\", "a by ", "a, ", "# a\n", "## a\n\n", "[x](=", '"', "<", "&", "\r",
    "\x0b\n", "\u2028", "|", "*a **b _c ", "> - ", "$$\n", "$$ a\n", "leave a-b ", " <!-- leave a-b", '["', "a = [",
    "(a) b\n", "x: ", "a\n\n", " ",
]  # fmt: skip


def rubbish(seed: int) -> str:
    chance = random.Random(seed)
    match seed % 3:
        case 0:
            return "".join(chance.choices(FRAGMENTS, k=chance.randrange(1, 60)))
        case 1:
            text = chance.choice(LESSONS)
            start = chance.randrange(len(text))
            text = text[start : start + chance.randrange(20, 900)]
            for _ in range(chance.randrange(1, 12)):
                place = chance.randrange(len(text) + 1)
                text = text[:place] + chance.choice(FRAGMENTS) + text[place + chance.randrange(3) :]
            return text
        case _:
            return "".join(
                chr(chance.choice((chance.randrange(0x80), chance.randrange(0x3000)))) for _ in range(200)
            )


def assert_whole(source: Source) -> Lesson:
    lesson, found = read_lesson(source)
    assert isinstance(lesson, Lesson)
    length = len(source.text)
    for scene in lesson.scenes:
        assert 0 <= scene.span.start <= scene.span.end <= length
        for block in scene.blocks:
            span = block.text.span if isinstance(block, Unread) else block.span
            assert 0 <= span.start <= span.end <= length
    for fault in found:
        assert fault.kind.code in KINDS
        assert 0 <= fault.span.start <= fault.span.end <= length, fault
        assert worded(fault).message
    return lesson


@pytest.mark.parametrize("batch", range(5))
def test_a_thousand_odd_texts_are_each_read_to_a_lesson_in_seconds(batch: int) -> None:
    started = time.process_time()
    for seed in range(batch * 1000, batch * 1000 + 1000):
        assert_whole(Source("odd.lesson.md", rubbish(seed)))
    assert time.process_time() - started < 30


@pytest.mark.parametrize("piece", STRETCHED)
@pytest.mark.parametrize("block", ["", "```lesson\n", "```pause\n", "```derive\n1. ", "```question\n(a) "])
def test_one_piece_repeated_without_end_is_read_in_time(piece: str, block: str) -> None:
    started = time.process_time()
    assert_whole(Source("long.lesson.md", block + piece * (3_000 // len(piece))))
    assert time.process_time() - started < 15


@pytest.mark.parametrize("text", ["a" * 2_000_001, "\n" * 20_001, "## a\n\nb\n\n" * 5_001])
def test_a_lesson_beyond_a_limit_is_reported_not_read(text: str) -> None:
    _, found = read_lesson(Source("large.lesson.md", text))
    assert {fault.kind.code for fault in found} == {"over-limit"}


@pytest.mark.parametrize(
    "text",
    [
        "[" * 100_000, "a = " + "[" * 5_000, "minutes = 1e999999999", "x = " + "9" * 5_000, "notation = 1",
        "[notation]\nset = 1", "lessons = [1]", "known = 'x'", "[pace]\nlongest_lesson = '999 min'", "a\x00b",
        "[pace]\nwords_a_minute = true", "title = '\ud800'", "[[notation]]\nset = 'IB'",
        '"\\u0000" = 1', "\ufefftitle = 'x'",
    ],
)  # fmt: skip
def test_any_course_file_gives_a_course(text: str) -> None:
    course, found = read_course(Source("course.toml", text))
    assert isinstance(course, Course)
    assert all(worded(fault).message for fault in found)
    lesson, _ = read_lesson(Source("a.lesson.md", f"```lesson\n{text}\n```\n"))
    assert isinstance(course_of(lesson.settings, course), Course)
