"""Time at the course's pace."""

from fractions import Fraction

from boardproof.lesson.course import Course, Pace
from boardproof.lesson.read import read_lesson
from boardproof.prove.pace import long_lesson, scene_seconds
from boardproof.prove.walk import walk_lesson
from boardproof.prove.worlds import Worlds
from boardproof.source import Source

COURSE = Course(pace=Pace(words_a_minute=60, longest_lesson=1))


def timed(text: str) -> tuple[tuple[Fraction, ...], str | None]:
    walk = walk_lesson(read_lesson(Source("a", text))[0], {})
    worlds = Worlds(walk.definitions)
    found = long_lesson(walk, worlds, COURSE)
    return scene_seconds(walk, worlds, COURSE), None if found is None else found.facts.get("line")


def test_words_are_said_at_the_pace_and_pauses_wait() -> None:
    pause = "```pause 20 s\nTry it now.\nanswer:\nYes.\n```\n"
    seconds, cut = timed(f"# T\n\n## One\n\nfour words are said\n\n## Two\n\n> printed only\n\n{pause}")
    assert seconds == (4, 20 + 3 + 1)
    assert cut is None


def test_a_long_lesson_is_cut_where_a_scene_begins_near_half_time() -> None:
    words = "word " * 30
    _, cut = timed(f"# T\n\n## One\n\n{words}\n\n## Two\n\n{words}\n\n## Three\n\nend\n")
    assert cut == "7"
