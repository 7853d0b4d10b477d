"""The questions that papers are made of: a lesson's own with older ones of its course, or ready families."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final, Literal

from boardproof.findings import Finding
from boardproof.kit.files import CourseFolder
from boardproof.kit.question_check import no_draw
from boardproof.lesson import model
from boardproof.lesson.read import read_lesson
from boardproof.practice.draws import Pool, pool_of
from boardproof.practice.families import FAMILIES
from boardproof.practice.prepared import Prepared
from boardproof.practice.questions import prepare
from boardproof.practice.selection import BACK, exit_slip, hinge, spaced
from boardproof.prove.walk import walk_lesson
from boardproof.prove.worlds import Worlds
from boardproof.source import Source

__all__ = ["Kind", "asked_of", "families_named", "pools_for", "questions_of"]

Kind = Literal["practice", "exit", "hinge"]
EVERY: Final = "all"


def questions_of(source: Source, folder: CourseFolder) -> tuple[tuple[Prepared, ...], tuple[Finding, ...]]:
    """The question blocks of a lesson, made ready.

    Parameters
    ----------
    source : Source
        The lesson.
    folder : CourseFolder
        Its course.
    """
    lesson, _ = read_lesson(source)
    walk = walk_lesson(lesson, folder.circuits, decimal=folder.course.notation.decimal)
    worlds = Worlds(walk.definitions, decimal=folder.course.notation.decimal)
    ready: list[Prepared] = []
    findings: list[Finding] = []
    for visit in walk.visits:
        if isinstance(visit.element, model.Question):
            made, wrong = prepare(visit.element, worlds, visit.place.circuit)
            findings += wrong
            ready += [made] if made is not None else []
    return tuple(ready), tuple(findings)


def families_named(text: str) -> tuple[str, ...] | None:
    """Families by name: one with older topics mixed in, several as they are, or all; None if it names none.

    Parameters
    ----------
    text : str
        ``branches``; ``branches,bridge``; ``all``.

    Examples
    --------
    >>> families_named("lost-volts"), families_named("bridge,divider"), families_named("spring")
    (('lost-volts', 'one-cell'), ('bridge', 'divider'), None)
    """
    names = tuple(each.strip() for each in text.split(","))
    if names == (EVERY,):
        return tuple(FAMILIES)
    if any(each not in FAMILIES for each in names):
        return None
    return spaced(names[0]) if len(names) == 1 else names


def asked_of(folder: CourseFolder, name: str) -> tuple[tuple[Prepared, ...], tuple[Finding, ...]]:
    """A lesson's questions, then one each of older lessons at widening gaps.

    Parameters
    ----------
    folder : CourseFolder
        The whole course.
    name : str
        The lesson's file.
    """
    names = [source.name for source in folder.lessons]
    at = names.index(name)
    own, findings = questions_of(folder.lessons[at], folder)
    older = (questions_of(folder.lessons[at - gap], folder)[0][:1] for gap in BACK if at >= gap)
    return (*own, *(each for found in older for each in found)), findings


def pools_for(questions: Sequence[Prepared], kind: Kind) -> tuple[tuple[Pool, ...], tuple[Finding, ...]]:
    """Good draws for each question of a paper, and what has none.

    Parameters
    ----------
    questions : sequence of Prepared
        In order.
    kind : {"practice", "exit", "hinge"}
        A whole paper; the first question's first part; one choice with four wrong rules apart.
    """
    wanted = list(questions)
    if kind == "exit":
        wanted = [exit_slip(wanted[0])] if wanted else []
    if kind == "hinge":
        wanted = [made for each in wanted if (made := hinge(each)) is not None][:1]
    pools = [(each, pool_of(each)) for each in wanted]
    return (
        tuple(pool for _, pool in pools if pool is not None),
        tuple(no_draw(each) for each, pool in pools if pool is None),
    )
