"""Ready questions on the trade's standard topics: lessons of one question each, read like a teacher's own."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction
from functools import cache
from importlib.resources import files
from typing import Final

from boardproof.lesson import model
from boardproof.lesson.read import read_lesson
from boardproof.practice.prepared import Prepared
from boardproof.practice.questions import prepare
from boardproof.prove.walk import walk_lesson
from boardproof.prove.worlds import Worlds
from boardproof.source import Source

__all__ = ["FAMILIES", "difficulty", "family", "family_text"]

FAMILIES: Final[Mapping[str, str]] = {
    "one-cell": "one cell and its load",
    "lost-volts": "lost volts",
    "open-switch": "the open switch",
    "straight-line": "the line of p.d. against current",
    "short-circuit": "the short-circuit current",
    "two-readings": "internal resistance from two readings",
    "greatest-power": "the greatest power",
    "divider": "the potential divider",
    "branches": "currents in branches",
    "another-lamp": "one more lamp",
    "bridge": "the bridge",
    "series-cells": "cells in series",
    "turned-cell": "one cell turned round",
    "like-cells-in-parallel": "like cells in parallel",
    "unlike-cells-in-parallel": "unlike cells in parallel",
    "bank": "a bank of like cells",
    "count-rows": "how many rows",
    "capacitors": "capacitors",
}
"""Key and topic, in the order in which a course usually meets them: earlier ones are older topics."""
HARDEST: Final = 24


def family_text(key: str) -> Source:
    """The lesson that a family is.

    Parameters
    ----------
    key : str
        Of `FAMILIES`.
    """
    folder = files("boardproof.practice") / "families_text"
    return Source(f"{key}.lesson.md", (folder / f"{key}.lesson.md").read_text(encoding="utf-8"))


@cache
def family(key: str) -> Prepared:
    """A family's question, made ready.

    Parameters
    ----------
    key : str
        Of `FAMILIES`.

    Examples
    --------
    >>> family("one-cell").question.topic
    'one cell and its load'
    """
    lesson, found = read_lesson(family_text(key))
    walk = walk_lesson(lesson, {})
    worlds = Worlds(walk.definitions)
    for visit in walk.visits:
        if isinstance(visit.element, model.Question):
            made, wrong = prepare(visit.element, worlds, visit.place.circuit, topic=FAMILIES[key], source=key)
            assert made is not None, (key, found, wrong)
            return replace(made, question=replace(made.question, difficulty=difficulty(made)))
    raise AssertionError(key)


def difficulty(prepared: Prepared) -> Fraction:
    """How hard a question is, from 0 to 1, by what must be kept in mind at once.

    Parameters
    ----------
    prepared : Prepared
        A question.

    Notes
    -----
    Letters and terms of the hardest answer's formula, and two for each part that leans on another, over 24, at most 1.
    A stated measure and no more: how hard a class finds a question only its marks tell.
    """
    sizes = [
        len(formula.letters) + len(formula.numerator.terms()) + len(formula.denominator.terms())
        for part in prepared.parts
        for formula in part.formulas
    ]
    leaning = sum(2 for part in prepared.parts if part.asked.after)
    return min(Fraction(max(sizes, default=0) + leaning, HARDEST), Fraction(1))
