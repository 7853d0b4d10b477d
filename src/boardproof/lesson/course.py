"""A course: its lessons in order, its notation, and the one policy that everything reads."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from types import MappingProxyType
from typing import Any, Literal

from boardproof.findings import Finding
from boardproof.lesson.model import Settings
from boardproof.lesson.settings import COURSE, SETS, read_settings
from boardproof.record import record
from boardproof.source import Source

__all__ = ["Course", "NotationSettings", "Pace", "Policy", "course_of", "read_course"]


@record
class NotationSettings:
    """How letters and values are shown; reading accepts every spelling everywhere."""

    set: str = "Cambridge international"
    emf: Literal["E", "ε", "ℰ", "U_q", "U_0"] = "E"
    resistor: Literal["box", "zigzag"] = "box"
    decimal: Literal["point", "comma"] = "point"
    ohm: str = "Ω"
    parallel: Literal["∥", "||", "//"] = "∥"
    labels: Literal["letters", "values", "both"] = "letters"

    @property
    def mark(self) -> str:
        """The decimal mark itself."""
        return "," if self.decimal == "comma" else "."


@record
class Policy:
    """Figures, units and marks; each field as in ``course.toml``."""

    show: int = 3
    half: Literal["up", "even"] = "up"
    rounded: Literal["either", "≈"] = "either"
    working_units: Literal["optional", "required"] = "optional"
    unit_marks: str = "once a question"
    follow_through: str = "full"
    mark_letters: str = "M A B"
    show_that: str = "one more"


@record
class Pace:
    """Speaking pace and the longest lesson wanted, in minutes."""

    words_a_minute: int = 130
    longest_lesson: int = 6


@dataclass(frozen=True, slots=True)
class Course:
    """A course folder's settings; a lesson outside any course has the defaults.

    Parameters
    ----------
    lessons : tuple of str
        Names without ``.lesson.md``, in teaching order.
    known : tuple of str
        Results that the class brings along.
    """

    title: str = ""
    level: str = ""
    language: str = "en-GB"
    lessons: tuple[str, ...] = ()
    known: tuple[str, ...] = (
        "junction rule",
        "loop rule",
        "Ohm's law",
        "power",
        "resistances in series",
        "resistances in parallel",
    )
    notation: NotationSettings = field(default_factory=NotationSettings)
    policy: Policy = field(default_factory=Policy)
    pace: Pace = field(default_factory=Pace)
    rules: str = "the rules of your school and country"
    author: str = ""
    licence: str = ""
    address: str = ""
    extra: Mapping[str, object] = field(default_factory=lambda: MappingProxyType({}))


def read_course(source: Source) -> tuple[Course, tuple[Finding, ...]]:
    r"""Read ``course.toml``.

    Parameters
    ----------
    source : Source
        Its text.

    Returns
    -------
    (Course, tuple of Finding)
        What is missing, unknown or does not fit has the usual value.

    Examples
    --------
    >>> course, found = read_course(Source("course.toml", "[pace]\nlongest_lesson = '7 min'"))
    >>> course.pace.longest_lesson, found
    (7, ())
    """
    start = 1 if source.text.startswith("\ufeff") else 0
    given, found = read_settings(source.slice(start), COURSE)
    return _with(Course(), given), found


def course_of(settings: Settings, course: Course) -> Course:
    """A course as one lesson sees it: the lesson's own settings go before the course's.

    Parameters
    ----------
    settings : Settings
        The lesson's.
    course : Course
        The folder's.

    Examples
    --------
    >>> own = Settings(overrides={"notation": {"decimal": "comma"}})
    >>> course_of(own, Course()).notation.mark
    ','
    """
    return _with(course, settings.overrides)


def _with(course: Course, given: Mapping[str, object]) -> Course:
    changes: dict[str, Any] = {}
    for key, value in given.items():
        match key, value:
            case "notation", Mapping():
                row = SETS.get(str(value.get("set")), {})
                base = NotationSettings() if "set" in value else course.notation
                changes[key] = replace(base, **{**row, **value})
            case "policy", Mapping():
                changes[key] = replace(course.policy, **value)
            case "pace", Mapping():
                changes[key] = replace(course.pace, **_pace(value))
            case "cautions", Mapping():
                changes["rules"] = value.get("rules", course.rules)
            case (("lessons" | "known"), list()):
                changes[key] = tuple(value)
            case _:
                changes[key] = value
    return replace(course, **changes)


def _pace(given: Mapping[str, object]) -> dict[str, Any]:
    pace = dict(given)
    if isinstance(longest := pace.get("longest_lesson"), str):
        pace["longest_lesson"] = int(longest.removesuffix("utes").removesuffix("ute").removesuffix("min"))
    return pace
