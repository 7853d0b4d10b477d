"""Files about a marked class: the page, a page a student, the catch-up sheet, tables, and what waits in the queue."""

from __future__ import annotations

import csv
import io
import math
from collections.abc import Iterable, Mapping, Sequence
from typing import Final

from boardproof.practice.answer_table import cell_for_csv
from boardproof.practice.class_evidence import evidence, student_words, unsure
from boardproof.practice.class_view import ClassView, MarkedPaper
from boardproof.practice.marking import points_of, points_typed
from boardproof.practice.queue import Decision, Waiting
from boardproof.practice.records import Question
from boardproof.practice.statistics import SMALL, alpha, item_figures
from boardproof.publish.class_page import FigureRow, catch_up_page, class_page, student_page
from boardproof.publish.class_print import class_pdf
from boardproof.publish.typeset import Typesetter

__all__ = ["decisions_from", "report_files", "table"]

QUEUE_HEAD: Final = ("question", "part", "answers", "typed", "reads as", "points", "words for the student")
COUNTED: Final = frozenset({"absent", "excused"})


def table(rows: Iterable[Sequence[object]]) -> bytes:
    r"""Rows as CSV that a spreadsheet shows and never works out.

    Parameters
    ----------
    rows : iterable of rows
        Of anything.

    Examples
    --------
    >>> table([("S07", "=1+1")])
    b"\xef\xbb\xbfS07,'=1+1\r\n"
    """
    out = io.StringIO()
    writer = csv.writer(out)
    for row in rows:
        writer.writerow([cell_for_csv(str(each)) for each in row])
    return out.getvalue().encode("utf-8-sig", "replace")


def report_files(
    papers: Sequence[MarkedPaper],
    view: ClassView,
    waiting: Sequence[Waiting],
    tries: Mapping[str, Sequence[str]],
    *,
    title: str,
    day: str,
) -> dict[str, bytes]:
    """Every file by its name.

    Parameters
    ----------
    papers : sequence of MarkedPaper
        Of the class.
    view : ClassView
        Gathered from them.
    waiting : sequence of Waiting
        What is left for the teacher.
    tries : mapping of str to sequence of str
        Fresh questions by idea.
    title, day : str
        Of the papers; when it was made.
    """
    figures, notes = _figures(papers)
    told = [
        (row.student, line)
        for row in view.rows
        if row.diagnosis is not None
        for line in (*map(evidence, row.diagnosis.once), unsure(row.diagnosis))
        if line
    ]
    page = class_page(view, title=title, day=day, figures=figures, notes=notes, evidence=told)
    sheet = class_pdf(view, Typesetter(), title=title, day=day, figures=figures, notes=notes, evidence=told)
    found = {
        "class.html": page.encode(),
        "class.pdf": sheet,
        "class.csv": table(_class_rows(view)),
        "marks.csv": table(_mark_rows(papers)),
        "queue.csv": table(_queue_rows(waiting)),
    }
    by_student = {each.student: each for each in papers}
    for row in view.rows:
        if row.diagnosis is not None:
            words = student_words(row, view, by_student[row.student], tries)
            found[f"student-{row.student}.html"] = student_page(words, title=title, day=day).encode()
    if view.absent:
        ideas = [each.name for each in view.ideas]
        fresh = [text for each in ideas for text in tries.get(each, ())[:1]]
        found["catch-up.html"] = catch_up_page(view.absent, ideas, fresh, title=title, day=day).encode()
    return found


def _class_rows(view: ClassView) -> list[Sequence[object]]:
    rows: list[Sequence[object]] = [
        ("student", *(each.name for each in view.ideas), "marks", "of", "wrong ideas")
    ]
    for row in view.rows:
        cells = ["" if cell is None else f"{cell.given} of {cell.of}" for cell in row.cells]
        held = "; ".join(each.belief for each in row.diagnosis.once) if row.diagnosis else "not there"
        rows.append((row.student, *cells, row.given, row.of, held))
    return rows


def _mark_rows(papers: Sequence[MarkedPaper]) -> list[Sequence[object]]:
    head = (
        "student",
        "paper",
        "question",
        "part",
        "answer",
        "state",
        "marks",
        "of",
        "points",
        "verdict",
        "reason",
    )
    rows: list[Sequence[object]] = [(*head, "rule", "question version", "decided by", "mark")]
    for paper in papers:
        for mark in paper.marks:
            answer = mark.answer
            points = " ".join(f"{letter[:1]}{given}" for letter, given, _, _ in mark.points)
            given, of = sum(each[1] for each in mark.points), sum(each[2] for each in mark.points)
            why = mark.points[0][3] if mark.points else ""
            place = (answer.student, answer.paper, answer.question, answer.part, answer.typed, answer.state)
            trace = (mark.rule, mark.versions.get("question", ""), mark.decided_by, mark.id)
            rows.append((*place, given, of, points, mark.verdict, why, *trace))
    return rows


def _queue_rows(waiting: Sequence[Waiting]) -> list[Sequence[object]]:
    rows: list[Sequence[object]] = [QUEUE_HEAD]
    rows += [
        (each.question, each.part, len(each.answers), " | ".join(each.typed[:5]), "", "", "")
        for each in waiting
    ]
    return rows


def decisions_from(
    rows: Sequence[Sequence[str]], waiting: Sequence[Waiting], questions: Sequence[Question]
) -> tuple[Decision, ...]:
    """What the teacher filled into the queue's table.

    Parameters
    ----------
    rows : sequence of rows
        Of `queue.csv` as it came back.
    waiting : sequence of Waiting
        The groups.
    questions : sequence of Question
        Of a paper; their schemes say which points there are.
    """
    groups = {(each.question, each.part, cell_for_csv(" | ".join(each.typed[:5]))): each for each in waiting}
    found = []
    for row in rows[1:]:
        question, part, _, typed, reads, given, words = (*row, *[""] * 7)[:7]
        group = groups.get((question, part, typed))
        if group is None or not (reads.strip() or given.strip()):
            continue
        points = None
        if given.strip() and question.isdigit() and 0 < int(question) <= len(questions):
            asked = next((each for each in questions[int(question) - 1].parts if each.label == part), None)
            points = points_typed(given, points_of(asked)) if asked is not None else None
        found.append(Decision(question, part, group.key, reads.strip(), points, words.strip()))
    return tuple(found)


def _figures(papers: Sequence[MarkedPaper]) -> tuple[list[FigureRow], list[str]]:
    """Facility and the like of each part that everyone counted was asked; absent and excused are left out."""
    places: dict[tuple[str, str], int] = {}
    scores = []
    for paper in papers:
        marks = [each for each in paper.marks if each.verdict not in COUNTED]
        if not marks:
            continue
        own = {}
        for mark in marks:
            own[mark.answer.question, mark.answer.part] = sum(each[1] for each in mark.points)
            places.setdefault((mark.answer.question, mark.answer.part), sum(each[2] for each in mark.points))
        scores.append(own)
    names = sorted(places, key=lambda each: (int(each[0]) if each[0].isdigit() else 0, each[1]))
    if len(scores) < 3:
        return [], ["Figures need at least three students."]
    rows = [[float(own.get(place, 0)) for place in names] for own in scores]
    made = item_figures(rows, [places[place] or 1 for place in names])
    figures = []
    for at, (place, each) in enumerate(zip(names, made, strict=True)):
        full = sum(row[at] >= places[place] for row in rows)
        interval = f" ({each.least:.1f} to {each.most:.1f})" if len(rows) < SMALL else ""
        apart = "–" if each.discrimination is None else f"{each.discrimination:.1f}"
        along = "–" if each.correlation is None else f"{each.correlation:.1f}"
        figures.append(
            FigureRow(
                f"{place[0]}{place[1]}",
                f"{full} of {len(rows)}",
                f"{each.facility:.1f}{interval}",
                apart,
                along,
                each.suspect,
            )
        )
    return figures, [_reliability(rows)]


def _reliability(rows: Sequence[Sequence[float]]) -> str:
    found = alpha(rows)
    if found is None:
        return "Too few students or questions for a reliability."
    told = f"Reliability (alpha) {found.value:.1f}, between {max(found.least, 0):.1f} and {found.most:.1f}."
    told += f" A total is good to about {math.ceil(found.standard_error)} marks either way."
    if len(rows) < SMALL:
        told += " With fewer than 30 students these figures say little about single questions."
    return told
