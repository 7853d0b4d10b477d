"""A course: its lessons in order, its notation, and the one policy that everything reads."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Literal

__all__ = ["Course", "NotationSettings", "Pace", "Policy"]


@dataclass(frozen=True, slots=True)
class NotationSettings:
    """How letters and values are shown; reading accepts every spelling everywhere."""

    set: str = "Cambridge international"
    emf: str = "E"
    resistor: Literal["box", "zigzag"] = "box"
    decimal: Literal["point", "comma"] = "point"
    ohm: str = "Ω"
    parallel: str = "∥"
    labels: Literal["letters", "values", "both"] = "letters"

    @property
    def mark(self) -> str:
        """The decimal mark itself."""
        return "," if self.decimal == "comma" else "."


@dataclass(frozen=True, slots=True)
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


@dataclass(frozen=True, slots=True)
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
    extra: Mapping[str, object] = field(default_factory=lambda: MappingProxyType({}))
