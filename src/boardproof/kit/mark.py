"""The `mark` job: answers to papers marked, a queue for what a person must decide, the class, and the markbook."""

from __future__ import annotations

import json
import sys
from argparse import Namespace
from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

from boardproof.kit.class_report import decisions_from, report_files
from boardproof.kit.files import write_whole
from boardproof.kit.mark_work import changed_questions, marked, paper_of, prepared_of, records_in, source_of
from boardproof.practice.answer_files import entry_grid, read_answers, table_in
from boardproof.practice.answer_table import Problem
from boardproof.practice.class_view import MarkedPaper, class_view
from boardproof.practice.draws import first_good
from boardproof.practice.filled import filled
from boardproof.practice.markbook import Markbook, open_markbook
from boardproof.practice.marking import points_of
from boardproof.practice.prepared import Prepared
from boardproof.practice.queue import (
    Decision,
    Waiting,
    applied,
    decisions_in,
    queue_of,
    with_readings,
    written,
)
from boardproof.practice.records import Answer, Mark

__all__ = ["run"]


def run(options: Namespace) -> int:
    """Mark papers.

    Parameters
    ----------
    options : Namespace
        What the command line gave; `cli` says which words there are.

    Returns
    -------
    int
        0 if all is marked, 1 if answers are left in the queue or rows were not read, 2 if it was not done.
    """
    folder: Path = options.papers
    papers, source = records_in(folder), source_of(folder)
    if not papers:
        return _refuse(f"{folder} holds no papers. Make some with: boardproof papers")
    try:
        known = prepared_of(source)
    except (OSError, ValueError):
        known = {}
    if not known:
        return _refuse("The lesson or family that these papers were made from is not there any more.")
    if options.grid:
        return _grid(options.grid, papers, source)
    address = options.markbook or f"sqlite:///{folder.resolve() / 'marks.db'}"
    book = open_markbook(address)
    try:
        if options.export or options.erase:
            return _one_student(book, options)
        return _mark(options, book, papers, source)
    finally:
        book.close()


def _refuse(words: str) -> int:
    sys.stderr.write(f"{words}\n")
    return 2


def _grid(to: Path, papers: Sequence[str], source: str) -> int:
    """Write the spreadsheet for typing in what stands on paper."""
    heads = [json.loads(line) for line in papers]
    _, _, questions, _ = paper_of(papers[0], source, again=True)
    parts = [
        (str(number), asked.label, " ".join(point.letter for point in points_of(asked)))
        for number, question in enumerate(questions, 1)
        for asked in question.parts
    ]
    write_whole(to, entry_grid([(each["student"], each["paper"]) for each in heads], parts))
    sys.stdout.write(f"Entry grid for {len(heads)} papers: {to}\n")
    return 0


def _one_student(book: Markbook, options: Namespace) -> int:
    if options.export:
        sys.stdout.write(book.export(options.export) + "\n")
        return 0
    sys.stdout.write(
        f"{book.erase(options.erase)} answers of {options.erase} are deleted, with their marks.\n"
    )
    return 0


def _mark(options: Namespace, book: Markbook, papers: Sequence[str], source: str) -> int:
    today = datetime.now(UTC).date().isoformat()
    book.expire(today)
    answers, problems = _answers(options, papers)
    if not answers and problems:
        for file, each in problems:
            sys.stderr.write(f"{file}, row {each.row}: {each.reason}.\n")
        return 2
    earlier = [each.answer for each in book.latest()] if options.again or not options.answers else []
    seen = {(each.student, each.paper, each.question, each.part) for each in answers}
    answers += [each for each in earlier if (each.student, each.paper, each.question, each.part) not in seen]
    found, waiting = _decided(options, papers, answers, source)
    heads = [json.loads(line) for line in papers]
    book.add_papers((each["paper"], each["student"], str(each["seed"])) for each in heads)
    marks = [mark for paper in found for mark in paper.marks]
    book.add_answers([each.answer for each in marks], source=_names(options), delete_by=options.delete_by)
    book.add_marks(marks)
    tries = {each.question.topic or each.question.name: _fresh(each) for each in prepared_of(source).values()}
    title = options.papers.name.replace("-", " ")
    files = report_files(
        found, class_view(found), waiting, tries, title=title[:1].upper() + title[1:], day=today
    )
    to = options.to or options.papers / "marked"
    for name, content in files.items():
        write_whole(to / name, content)
    _tell(options, found, waiting, problems, changed_questions(papers, source), to)
    return 1 if waiting or problems else 0


def _names(options: Namespace) -> str:
    return ", ".join(path.name for path in options.answers) or "the markbook"


def _answers(options: Namespace, papers: Sequence[str]) -> tuple[list[Answer], list[tuple[str, Problem]]]:
    """All files together, the last one counting where one part is answered twice; each with its paper."""
    codes = {head["student"]: head["paper"] for head in map(json.loads, papers)}
    found: dict[tuple[str, str, str], Answer] = {}
    problems: list[tuple[str, Problem]] = []
    for path in options.answers:
        read, wrong = read_answers(path.read_bytes(), path.name, papers=codes)
        problems += [(path.name, each) for each in wrong]
        for each in read:
            if not each.paper:
                problems.append((path.name, Problem(0, f"there is no paper for {each.student}")))
                continue
            found[each.student, each.question, each.part] = each
    return list(found.values()), list(dict.fromkeys(problems))


def _decided(
    options: Namespace, papers: Sequence[str], answers: Sequence[Answer], source: str
) -> tuple[tuple[MarkedPaper, ...], tuple[Waiting, ...]]:
    """Mark, take the teacher's decisions from the queue's table, and mark what they touch once more."""

    def go(given: Sequence[Answer]) -> tuple[MarkedPaper, ...]:
        return marked(
            papers, given, source, again=options.again, workers=options.workers, cluster=options.cluster or ""
        )

    found = go(answers)
    waiting = queue_of(mark for paper in found for mark in paper.marks)
    decided = _decisions(options, waiting, found)
    if not decided:
        return found, waiting
    if any(each.reads for each in decided):
        read = with_readings(answers, waiting, decided)
        given = {(each.paper, each.student, each.question, each.part): each for each in answers if each.paper}
        found = tuple(
            replace(each, marks=tuple(_as_given(mark, given) for mark in each.marks)) for each in go(read)
        )
    found = tuple(replace(each, marks=applied(each.marks, waiting, decided)) for each in found)
    return found, queue_of(mark for paper in found for mark in paper.marks)


def _decisions(
    options: Namespace, waiting: Sequence[Waiting], found: Sequence[MarkedPaper]
) -> tuple[Decision, ...]:
    """What was decided before and what the queue's table says now; all of it is kept for the next time."""
    folder = options.to or options.papers / "marked"
    kept, filled_in = folder / "decisions.jsonl", folder / "queue.csv"
    decided = decisions_in(kept.read_text("utf-8")) if kept.is_file() else ()
    if waiting and filled_in.is_file():
        now = decisions_from(table_in(filled_in.read_bytes(), filled_in.name), waiting, found[0].questions)
        decided = tuple({(each.question, each.part, each.key): each for each in (*decided, *now)}.values())
    if decided:
        write_whole(kept, written(decided).encode())
    return decided


def _as_given(mark: Mark, given: Mapping[tuple[str, str, str, str], Answer]) -> Mark:
    """A mark on what the student typed, though the teacher's reading was marked."""
    answer = mark.answer
    own = given.get((answer.paper, answer.student, answer.question, answer.part))
    if own is None or own.typed == answer.typed:
        return mark
    rule = f"read as {answer.typed[:30]}"
    return replace(mark, id=f"{mark.id}-read", answer=own, rule=rule, decided_by="teacher")


def _fresh(prepared: Prepared) -> tuple[str, ...]:
    """A question once more with numbers of its own."""
    draw = first_good(prepared)
    if draw is None:
        return ()
    words = (prepared.question.stem, *(f"({each.label}) {each.words}" for each in prepared.question.parts))
    return (filled(" ".join(words), prepared, draw).replace("$", ""),)


def _tell(
    options: Namespace,
    found: Sequence[MarkedPaper],
    waiting: Sequence[Waiting],
    problems: Sequence[tuple[str, Problem]],
    changed: dict[str, tuple[str, ...]],
    to: Path,
) -> None:
    if options.json:
        told = {
            "schema": 1,
            "folder": str(to),
            "papers": len(found),
            "marks": [
                {
                    "student": mark.answer.student,
                    "paper": mark.answer.paper,
                    "question": mark.answer.question,
                    "part": mark.answer.part,
                    "verdict": mark.verdict,
                    "points": [list(point) for point in mark.points],
                    "beliefs": list(mark.beliefs),
                    "carried": {label: str(value) for label, value in mark.follow_through.items()},
                    "decided_by": mark.decided_by,
                }
                for paper in found
                for mark in paper.marks
            ],
            "waiting": [
                {
                    "question": each.question,
                    "part": each.part,
                    "typed": list(each.typed),
                    "answers": len(each.answers),
                }
                for each in waiting
            ],
            "unread": [{"file": file, "row": each.row, "reason": each.reason} for file, each in problems],
            "changed": {name: list(codes) for name, codes in changed.items()},
        }
        sys.stdout.write(json.dumps(told, ensure_ascii=False) + "\n")
        return
    for file, each in problems:
        sys.stdout.write(f"Not read: {file}, row {each.row}: {each.reason}.\n")
    for name, codes in changed.items():
        how = (
            "marked with the key as it is now; both marks are kept"
            if options.again
            else "--again marks them anew"
        )
        sys.stdout.write(f"“{name}” was changed since {len(codes)} papers were made: {how}.\n")
    if options.queue:
        for group in waiting:
            sys.stdout.write(
                f"  {group.question}{group.part}  {len(group.answers)} x  {ascii(group.typed[0])[1:-1][:60]}\n"
            )
    if not options.quiet:
        sys.stdout.write(f"{len(found)} papers marked, in {to}.\n")
        if waiting:
            many = sum(len(each.answers) for each in waiting)
            sys.stdout.write(
                f"{many} answers in {len(waiting)} groups wait for you: fill in queue.csv, mark again.\n"
            )
