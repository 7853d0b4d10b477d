"""From a course folder to proved lessons: read, walk, check, in teaching order."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from pathlib import Path
from types import MappingProxyType

from boardproof.circuit.spelling import normal_name
from boardproof.findings import Diagnostic, Finding, worded
from boardproof.kit.argument import unfit
from boardproof.kit.files import CourseFolder, read_folder
from boardproof.kit.pack_brief import brief_findings
from boardproof.kit.question_check import question_findings
from boardproof.kit.report import CheckReport
from boardproof.lab.in_lesson import judge_block
from boardproof.lesson.course import Course, course_of
from boardproof.lesson.model import Leave, Lesson, Readings
from boardproof.lesson.read import read_lesson
from boardproof.prove.check import Checked, check
from boardproof.prove.follows import Established
from boardproof.prove.ledger import established_by
from boardproof.prove.pace import long_lesson
from boardproof.prove.walk import Walk, walk_lesson
from boardproof.prove.worlds import Worlds, values_from_readings
from boardproof.source import Source, Span

__all__ = ["Proof", "open_course", "prove_lessons", "read_lessons"]


@dataclass(frozen=True)
class Proof:
    """A lesson with everything that is known of it.

    Parameters
    ----------
    lesson : Lesson
        The model.
    course : Course
        The course's settings, the lesson's own merged in.
    walk : Walk
        What is on the board where.
    worlds : Worlds
        What names mean where.
    checked : Checked
        Statements and verdicts.
    report : CheckReport
        The same in words.
    """

    lesson: Lesson
    course: Course
    walk: Walk
    worlds: Worlds
    checked: Checked
    report: CheckReport


def prove_lessons(
    folder: CourseFolder,
    findings: tuple[Finding, ...] = (),
    *,
    only: str | None = None,
    values: str | None = None,
    late: Callable[[], str] = str,
) -> Iterator[Proof]:
    """Prove the lessons of a folder in teaching order; what one establishes the next may use.

    Parameters
    ----------
    folder : CourseFolder
        As it was read.
    findings : tuple of Finding
        What was found while reading it; they go with the first lesson.
    only : str, optional
        Name of the one lesson to prove; of those before it only the results are read.
    values : str, optional
        Name of a set of values to judge with.
    late : callable
        Gives the reason, in words, once no more statements shall be judged (see `deadline`).

    Yields
    ------
    Proof
        One a lesson.
    """
    established: dict[str, Established] = {}
    for source in folder.lessons:
        start = _started(source, folder, values)
        if only is not None and source.name != only:
            established |= established_by(start.walk, start.worlds, decimal=start.course.notation.mark)
            continue
        proof = _proved(start, folder, established, findings, late)
        findings = ()
        established |= proof.checked.established
        yield proof
        if only is not None:
            return


def read_lessons(folder: CourseFolder) -> Iterator[tuple[Walk, Worlds]]:
    """The lessons of a folder in teaching order, walked but not judged.

    Parameters
    ----------
    folder : CourseFolder
        As it was read.
    """
    for source in folder.lessons:
        start = _started(source, folder, None)
        yield start.walk, start.worlds


def open_course(path: Path) -> tuple[CourseFolder, tuple[Finding, ...], str | None]:
    """The course of a folder or lesson file, and the lesson's name if only that one is wanted.

    Parameters
    ----------
    path : Path
        A folder, or a ``*.lesson.md`` file; one listed in the ``course.toml`` beside it comes with its course.
    """
    alone, findings = read_folder(path)
    if path.is_dir() or not alone.lessons:
        return alone, findings, None
    name = alone.lessons[0].name
    if name.removesuffix(".lesson.md") not in alone.course.lessons:
        return alone, findings, None
    whole, _ = read_folder(alone.root)
    return whole, findings, name


@dataclass(frozen=True)
class _Started:
    lesson: Lesson
    unread: tuple[Finding, ...]
    course: Course
    walk: Walk
    worlds: Worlds


def _started(source: Source, folder: CourseFolder, values: str | None) -> _Started:
    lesson, unread = read_lesson(source)
    course = course_of(lesson.settings, folder.course)
    decimal = course.notation.mark
    walk = walk_lesson(
        lesson,
        folder.circuits,
        decimal=decimal,
        values=values,
        fixed=lambda givens, known: values_from_readings(givens, known, decimal=decimal),
    )
    read, found = _readings(lesson, walk, decimal)
    worlds = Worlds(walk.definitions, decimal=decimal, read=read)
    return _Started(lesson, (*unread, *found), course, walk, worlds)


def _readings(lesson: Lesson, walk: Walk, decimal: str) -> tuple[dict[str, Fraction], tuple[Finding, ...]]:
    """What `E as read` means, and what is to be said of the lesson's tables of readings."""
    values: dict[str, Fraction] = {}
    findings: tuple[Finding, ...] = ()
    blocks = [block for scene in lesson.scenes for block in scene.blocks if isinstance(block, Readings)]
    for block in blocks:
        judged = judge_block(block, decimal=decimal, stated=_stated(block, walk))
        values |= judged.values
        findings += judged.findings
    return values, findings


def _stated(block: Readings, walk: Walk) -> dict[str, Fraction]:
    """E and r of the cell that was measured, as its circuit line gives them."""
    part = walk.definitions.parts.get(normal_name(block.of.text.strip())) if block.of else None
    if part is None or part.emf is None or part.resistance is None:
        return {}
    worths = {"E": part.emf.value, "r": part.resistance.value}
    return {name: value for name, value in worths.items() if value is not None}


def _proved(
    start: _Started,
    folder: CourseFolder,
    established: Mapping[str, Established],
    before: tuple[Finding, ...],
    late: Callable[[], str],
) -> Proof:
    checked = check(start.walk, start.worlds, start.course, earlier=established, late=late)
    long = long_lesson(start.walk, start.worlds, start.course)
    unfitting = () if late() else tuple(unfit(start.walk, start.worlds))
    at_hand = {
        visit.place.circuit.id: visit.place.circuit for visit in start.walk.visits if visit.place.circuit
    }
    is_broken = any(visit.place.broken for visit in start.walk.visits)
    found = (
        *before,
        *start.unread,
        *start.walk.findings,
        *(() if is_broken else start.worlds.empty_lets(at_hand.values())),
        *checked.findings,
        *unfitting,
        *(() if late() else question_findings(start.walk, start.worlds)),
        *brief_findings(start.walk, start.course.notation.mark),
        *((long,) if long else ()),
    )
    diagnostics = _sorted(found, start.lesson)
    sources = MappingProxyType(_sources(folder, before))
    report = CheckReport(start.lesson.source, checked.judged, diagnostics, sources)
    return Proof(start.lesson, start.course, start.walk, start.worlds, checked, report)


def _sources(folder: CourseFolder, findings: tuple[Finding, ...]) -> dict[str, Source]:
    """Texts that findings stand in; a file that could not be read has none, but its name."""
    unread = {each.span.source: Source(each.span.source, "") for each in findings if each.span.source}
    read = (*folder.lessons, *folder.circuits.values(), *([folder.settings] if folder.settings else ()))
    return unread | {each.name: each for each in read}


def _sorted(findings: tuple[Finding, ...], lesson: Lesson) -> tuple[Diagnostic, ...]:
    """In words, in text order, each once, without what the teacher chose to leave."""
    left = _left(lesson)
    seen: dict[tuple[str, Span, str], Diagnostic] = {}
    for finding in findings:
        at = finding if finding.span.source else replace(finding, span=Span(lesson.source.name, 0, 0))
        diagnostic = worded(at)
        if diagnostic.severity != "error" and any(
            code == diagnostic.code and diagnostic.span.within(place) for code, place in left
        ):
            continue
        seen.setdefault((diagnostic.code, diagnostic.span, diagnostic.message), diagnostic)
    return tuple(sorted(seen.values(), key=lambda each: (each.span.source != lesson.source.name, each.span)))


def _left(lesson: Lesson) -> list[tuple[str, Span]]:
    """Findings that a comment accepts, with the block each comment stands before."""
    found = []
    for scene in lesson.scenes:
        for leave, block in zip(scene.blocks, scene.blocks[1:], strict=False):
            span = getattr(block, "span", None)
            if isinstance(leave, Leave) and isinstance(span, Span):
                found.append((leave.code, span))
    return found
