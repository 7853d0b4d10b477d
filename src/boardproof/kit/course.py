"""The `course` job: what each lesson leans on and establishes, printed and drawn, and where the order breaks."""

from __future__ import annotations

import json
import sys
from argparse import Namespace
from pathlib import Path

from boardproof.algebra.notation import Notation
from boardproof.findings import Diagnostic, worded
from boardproof.kit.files import CourseFolder, read_folder, write_whole
from boardproof.kit.proof import read_lessons
from boardproof.kit.report import CheckReport, findings_text
from boardproof.picture.lessons import LessonRow, lessons_frame
from boardproof.prove.ledger import LessonLedger, broken, ledger_of
from boardproof.publish.svg import frame_svg
from boardproof.publish.typeset import Typesetter
from boardproof.record import record
from boardproof.source import Source

__all__ = ["CourseLedger", "course_ledger", "drawn", "run"]


@record
class CourseLedger:
    """A course's lessons with what they lean on and establish.

    Parameters
    ----------
    title : str
        The course's.
    known : tuple of str
        What the class brings along.
    lessons : tuple of LessonLedger
        In teaching order.
    diagnostics : tuple of Diagnostic
        Where the order breaks, in words.
    sources : tuple of Source
        The lessons' texts.
    """

    title: str
    known: tuple[str, ...]
    lessons: tuple[LessonLedger, ...]
    diagnostics: tuple[Diagnostic, ...]
    sources: tuple[Source, ...]


def course_ledger(folder: CourseFolder) -> CourseLedger:
    """Read a course's ledger; nothing is judged.

    Parameters
    ----------
    folder : CourseFolder
        The course.
    """
    lessons = tuple(ledger_of(walk, worlds, decimal=worlds.decimal) for walk, worlds in read_lessons(folder))
    known = tuple(folder.course.known)
    found = tuple(worded(each) for each in broken(known, lessons))
    title = folder.course.title or folder.root.name
    sources = (*folder.lessons, *folder.circuits.values())
    return CourseLedger(title, known, lessons, found, sources)


def drawn(ledger: CourseLedger) -> str:
    """The order of the lessons as SVG.

    Parameters
    ----------
    ledger : CourseLedger
        The course's.
    """
    typesetter = Typesetter(Notation())
    return frame_svg(lessons_frame(ledger.title, _rows(ledger), typesetter), typesetter, "paper")


def _rows(ledger: CourseLedger) -> list[LessonRow]:
    early = {
        (each.span.source, each.message.split(" is used")[0])
        for each in ledger.diagnostics
        if each.code == "not-yet-taught"
    }
    rows = [LessonRow("What the class brings along", ledger.known, ())] if ledger.known else []
    for each in ledger.lessons:
        uses = tuple(dict.fromkeys(use.name for use in each.uses))
        names = tuple(dict.fromkeys(result.name for result in each.results))
        late = tuple(name for name in uses if (each.lesson, name) in early)
        rows.append(LessonRow(each.title, names, uses, late))
    return rows


def run(options: Namespace) -> int:
    """Print the ledger of the folder on the command line, and draw it if asked.

    Parameters
    ----------
    options : Namespace
        What the command line gave; `cli` says which words there are.

    Returns
    -------
    int
        Exit status: 0 if nothing is wrong, 1 if something in the material is, 2 if it was not done.
    """
    path: Path = options.folder
    if not path.is_dir():
        sys.stderr.write(f"{path} is no folder: name the course's folder.\n")
        return 2
    folder, findings = read_folder(path)
    if not folder.lessons:
        for each in findings:
            sys.stderr.write(f"{worded(each).message} {worded(each).help}".rstrip() + "\n")
        sys.stderr.write(f"There is no lesson in {path}: lessons are called NAME.lesson.md.\n")
        return 2
    ledger = course_ledger(folder)
    if options.draw is not None:
        if options.draw.exists() and not options.draw.read_bytes().startswith(b"<svg"):
            sys.stderr.write(f"{options.draw} is no picture. Nothing was written.\n")
            return 2
        write_whole(options.draw, drawn(ledger).encode())
    if options.json:
        sys.stdout.write(_json(ledger) + "\n")
    else:
        colour = sys.stdout.isatty() and not options.no_colour
        sys.stdout.write(_text(ledger, brief=options.quiet, colour=colour) + "\n")
    return 1 if ledger.diagnostics else 0


def _text(ledger: CourseLedger, *, brief: bool, colour: bool) -> str:
    blocks = []
    if not brief:
        if ledger.known:
            blocks.append(f"The class brings along: {', '.join(ledger.known)}.")
        blocks += [_lesson_text(number, each) for number, each in enumerate(ledger.lessons, start=1)]
    if ledger.diagnostics:
        sources = {each.name: each for each in ledger.sources}
        report = CheckReport(ledger.sources[0], (), ledger.diagnostics, sources)
        blocks.append(findings_text(report, colour=colour))
    elif not brief:
        blocks.append(
            "The order holds: nothing is used before it is taught, and no letter changes its meaning."
        )
    return "\n\n".join(blocks)


def _lesson_text(number: int, ledger: LessonLedger) -> str:
    declared = [use.name for use in ledger.uses if use.declared]
    used = [use.name for use in ledger.uses if not use.declared]
    rows = [f"{number}. {ledger.title}"]
    if declared:
        rows.append(f"   leans on      {', '.join(declared)}")
    if more := [name for name in used if name not in declared]:
        rows.append(f"   uses besides  {', '.join(more)}")
    if idle := [name for name in declared if name not in used]:
        rows.append(f"   not used in a kept step or a recall: {', '.join(idle)}")
    if ledger.results:
        rows.append(f"   establishes   {', '.join(dict.fromkeys(each.name for each in ledger.results))}")
    return "\n".join(rows)


def _json(ledger: CourseLedger) -> str:
    sources = {each.name: each for each in ledger.sources}
    return json.dumps(
        {
            "schema": 1,
            "title": ledger.title,
            "known": list(ledger.known),
            "lessons": [
                {
                    "file": each.lesson,
                    "title": each.title,
                    "leans_on": [{"name": use.name, "declared": use.declared} for use in each.uses],
                    "establishes": [{"name": result.name, "kind": result.kind} for result in each.results],
                    "letters": {letter: what for letter, (what, _) in each.meanings.items()},
                }
                for each in ledger.lessons
            ],
            "findings": [
                {
                    "code": each.code,
                    "file": each.span.source,
                    "line": sources[each.span.source].position(each.span.start)[0],
                    "message": each.message,
                    "help": each.help,
                }
                for each in ledger.diagnostics
            ],
        },
        ensure_ascii=False,
    )
