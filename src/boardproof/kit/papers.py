"""The `papers` job: a paper for each student, or sets with a seat plan, with keys, mark schemes and web quizzes."""

from __future__ import annotations

import json
import re
import sys
from argparse import Namespace
from collections.abc import Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context
from pathlib import Path
from typing import Any, Final

from boardproof.findings import Finding, worded
from boardproof.kit.files import read_folder, write_whole
from boardproof.kit.paper_questions import asked_of, families_named, pools_for
from boardproof.kit.paper_work import Job, Order, do, jobs_of
from boardproof.kit.progress import Progress
from boardproof.lesson.course import Course
from boardproof.practice.families import FAMILIES, family
from boardproof.practice.seats import SETS, seat_plan

__all__ = ["run", "students_named"]

MOST_STUDENTS: Final = 100_000
MOST_FOLDERS: Final = 100
STUDENT: Final = re.compile(r"[A-Za-z0-9][A-Za-z0-9_-]{0,15}")


def run(options: Namespace) -> int:
    """Make papers.

    Parameters
    ----------
    options : Namespace
        What the command line gave; `cli` says which words there are.

    Returns
    -------
    int
        0 if all is made, 1 if a question has no good draw, 2 if it was not done.
    """
    students = students_named(options.students)
    if isinstance(students, str):
        return _refuse(students)
    order = _order(options, students)
    if isinstance(order, str):
        return _refuse(order)
    findings = _faults(order)
    for each in findings:
        sys.stdout.write(f"{each.kind.code}: {worded(each).message} {worded(each).help}\n")
    if any(each.kind.severity == "error" for each in findings):
        return 1
    folder = _folder(options, order)
    if folder is None:
        return _refuse(
            f"There are {MOST_FOLDERS - 1} folders of such papers already. Name another place with --to."
        )
    jobs = jobs_of(order, folder)
    todo = [job for job in jobs if not (folder / job.name).exists()]
    with Progress(len(jobs), quiet=options.quiet or options.json) as progress:
        progress.skip(len(jobs) - len(todo))
        for name in _done(todo, options):
            progress.step(name)
    if options.json:
        print(json.dumps({"schema": 1, "folder": str(folder), "files": [job.name for job in jobs]}))  # noqa: T201 - what a program asked for
    elif not options.quiet:
        sys.stdout.write(
            f"{len(order.whos)} papers in {folder}. To go on after a stop, give the same command.\n"
        )
    return 0


def students_named(text: str | None) -> tuple[str, ...] | str:
    """Students' codes: a number of them, a list, or a file with one a line; or why they can't be read.

    Parameters
    ----------
    text : str or None
        As given.

    Examples
    --------
    >>> students_named("3"), students_named("S07, S12"), students_named(None)
    (('S01', 'S02', 'S03'), ('S07', 'S12'), ())
    """
    if text is None:
        return ()
    if text.isdecimal():
        many = int(text)
        if not 1 <= many <= MOST_STUDENTS:
            return f"Papers are made for 1 to {MOST_STUDENTS} students."
        width = max(2, len(text))
        return tuple(f"S{n:0{width}}" for n in range(1, many + 1))
    path = Path(text)
    if "," not in text and path.is_file():
        text = path.read_text(encoding="utf-8-sig")
    found = tuple(each.strip() for each in re.split(r"[,\n;]", text) if each.strip())
    wrong = next((each for each in found if not STUDENT.fullmatch(each)), None)
    if wrong is not None:
        return f"{wrong[:30]} is no student's code. Codes are letters and digits, such as S07; names stay at home."
    return found if len(set(found)) == len(found) else "A student's code stands there twice."


def _order(options: Namespace, students: tuple[str, ...]) -> Order | str:
    names = families_named(options.what)
    path = Path(options.what)
    if names is None and not path.is_file():
        return f"There is no lesson {options.what}, and no family of that name. Families: {', '.join(FAMILIES)}; all."
    sets = options.sets or 0
    if sets and not 2 <= sets <= len(SETS):
        return "There are 2 to 4 sets."
    whos = tuple(SETS[:sets]) if sets else students or ("S01",)
    course = Course() if names is not None else read_folder(path.parent)[0].course
    title = options.what.replace("-", " ") if names is not None else path.name.removesuffix(".lesson.md")
    if names is not None and "," not in options.what and options.what in FAMILIES:
        title = FAMILIES[options.what]
    return Order(
        options.what if names is not None else str(path.resolve()),
        whos,
        options.seed,
        options.kind,
        options.large,
        options.quiz,
        options.qti,
        options.paper,
        seat_plan(students, sets=sets) if sets and students else (),
        title[:1].upper() + title[1:],
        course.rules,
    )


def _faults(order: Order) -> tuple[Finding, ...]:
    names = families_named(order.what)
    if names is not None:
        return pools_for([family(name) for name in names], order.kind)[1]
    path = Path(order.what)
    questions, findings = asked_of(read_folder(path.parent)[0], path.name)
    return (*findings, *pools_for(questions, order.kind)[1])


def _folder(options: Namespace, order: Order) -> Path | None:
    """Where the papers go: papers of another order, which a class may hold, keep their folder."""
    root: Path = options.to or Path("papers")
    name = (
        Path(order.what).name.removesuffix(".lesson.md")
        if "/" in order.what
        else order.what.replace(",", "-")
    )
    noted = json.dumps({"what": order.what, "order": repr(order), "lesson": _content(order)})
    for number in range(1, MOST_FOLDERS):
        folder = root / f"{name}-{order.kind}-{order.seed}{f'-{number}' if number > 1 else ''}"
        note = folder / "order.json"
        if note.is_file() and note.read_text(encoding="utf-8") == noted:
            return folder
        if not folder.exists() or not any(folder.iterdir()):
            folder.mkdir(parents=True, exist_ok=True)
            write_whole(note, noted.encode())
            return folder
    return None


def _content(order: Order) -> str:
    return "" if families_named(order.what) else Path(order.what).read_text(encoding="utf-8")


def _done(jobs: Sequence[Job], options: Namespace) -> Iterator[str]:
    """Names of files as they are finished."""
    if options.cluster:
        yield from _on_a_cluster(jobs, options.cluster)
    elif options.workers > 1 and len(jobs) > 1:
        # Spawned: a forked process would inherit the typesetter's locks and might wait for ever.
        with ProcessPoolExecutor(options.workers, get_context("spawn")) as workers:
            yield from workers.map(do, jobs)
    else:
        yield from map(do, jobs)


def _on_a_cluster(jobs: Sequence[Job], address: str) -> Iterator[str]:
    # An extra, and a second to load.
    import distributed

    client: Any = distributed.Client
    finished: Any = distributed.as_completed
    with client(None if address == "local" else address) as cluster:
        for done in finished(cluster.map(do, jobs, pure=False, retries=3)):
            yield done.result()


def _refuse(words: str) -> int:
    sys.stderr.write(f"{words}\n")
    return 2
