"""Course settings: every value of the demo course, notation rows, what a lesson overrides."""

from __future__ import annotations

from pathlib import Path

import pytest

from boardproof.lesson.course import Course, course_of, read_course
from boardproof.lesson.read import read_lesson
from boardproof.lesson.settings import SETS
from boardproof.source import Source

BUOY = Path(__file__).parents[3] / "examples" / "weather-buoy"


def read(text: str) -> tuple[Course, list[str]]:
    course, found = read_course(Source("course.toml", text))
    return course, [fault.kind.code for fault in found]


def test_the_demo_course_names_every_setting_at_its_usual_value() -> None:
    course, found = read((BUOY / "course.toml").read_bytes().decode())
    usual = Course()
    assert found == []
    assert (course.notation, course.policy, course.pace) == (usual.notation, usual.policy, usual.pace)
    assert course.known == usual.known
    assert course.lessons[2] == "3-cells-in-parallel"
    assert course.rules == "the school's rules for practical work"


def test_an_empty_file_is_a_course_of_usual_values() -> None:
    assert read("") == (Course(), [])


@pytest.mark.parametrize("name", SETS)
def test_a_notation_row_gives_its_letters_and_a_line_below_overrides_them(name: str) -> None:
    course, found = read(f'[notation]\nset = "{name}"\n')
    assert found == []
    for key, value in SETS[name].items():
        assert getattr(course.notation, key) == value
    course, _ = read(f'[notation]\nset = "{name}"\nemf = "E"\n')
    assert course.notation.emf == "E"


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("titel = 'x'", "unknown-setting"),
        ("[notation]\ndecimals = 'comma'", "unknown-setting"),
        ("[notation]\ndecimal = 'dot'", "wrong-setting"),
        ("[policy]\nshow = 0", "wrong-setting"),
        ("[policy]\nshow = true", "wrong-setting"),
        ("lessons = 'one'", "wrong-setting"),
        ("pace = 3", "wrong-setting"),
        ("[pace]\nlongest_lesson = 'a while'", "wrong-setting"),
        ("title = ", "unread-setting"),
    ],
)
def test_a_setting_that_does_not_fit_is_reported_and_left_at_its_usual_value(text: str, code: str) -> None:
    assert read(text) == (Course(), [code])


def test_a_wrong_setting_is_shown_where_it_stands() -> None:
    source = Source("course.toml", "\ufefftitle = 'x'\r\n[policy]\r\nshow = 99\r\n")
    _, (fault,) = read_course(source)
    assert source.position(fault.span.start) == (3, 1)
    assert source.text[fault.span.start : fault.span.end] == "show"


def test_a_lesson_overrides_what_it_names_and_nothing_else() -> None:
    course, _ = read('[notation]\nset = "India"\n[pace]\nlongest_lesson = 9\n')
    lesson, found = read_lesson(
        Source("a", '```lesson\nlanguage = "de"\n[notation]\ndecimal = "comma"\n[policy]\nshow = 4\n```\n')
    )
    own = course_of(lesson.settings, course)
    assert found == ()
    assert (own.notation.emf, own.notation.decimal, own.policy.show) == ("ε", "comma", 4)
    assert (own.pace.longest_lesson, own.language) == (9, "de")
