"""The class on paper: the same picture, beliefs, groups and figures as tagged PDF, readable in grey."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from boardproof.practice.class_view import Cell, ClassView, said
from boardproof.publish.class_page import FigureRow
from boardproof.publish.sheet import Paper
from boardproof.publish.typeset import Typesetter

__all__ = ["class_pdf"]


def class_pdf(
    view: ClassView,
    typesetter: Typesetter,
    *,
    title: str,
    day: str,
    figures: Sequence[FigureRow] = (),
    notes: Sequence[str] = (),
    evidence: Sequence[tuple[str, str]] = (),
    paper: Paper = "a4",
) -> bytes:
    """The class as PDF.

    Parameters
    ----------
    view : ClassView
        What is shown.
    typesetter : Typesetter
        Sets it.
    title, day : str
        Of the papers; when it was made.
    figures : sequence of FigureRow
        A question each.
    notes : sequence of str
        On reliability and the like.
    evidence : sequence of (str, str)
        Code of a student and a sentence.
    paper : {"a4", "us-letter"}
        Size.
    """
    there = [row for row in view.rows if row.diagnosis is not None]
    away = f" Not there: {', '.join(view.absent)}." if view.absent else ""
    values: Mapping[str, object] = {
        "title": "Where the class stands",
        "line": f"{title}. {len(view.rows)} students, those who need most at the top.{away}",
        "stamp": day,
        "paper": paper,
        "language": "en",
        "region": None,
        "draft": False,
        "paper_only": "",
        "corrections": [],
        "cautions": [],
        "unproved": [],
        "statements": 0,
        "marks": {},
        "ideas": [each.name for each in view.ideas],
        "rows": [{"student": row.student, "cells": [_cell(each) for each in row.cells]} for row in there],
        "secure": [f"{each.secure}/{each.asked}" for each in view.ideas],
        "beliefs": [
            {"letter": letter, "words": said(belief), "count": f"{count} student{'' if count == 1 else 's'}"}
            for letter, belief, count in view.beliefs
        ],
        "opening": view.opening,
        "groups": [{"words": words, "students": ", ".join(students)} for words, students in view.groups],
        "evidence": [{"student": student, "words": words} for student, words in evidence],
        "figures": [
            [each.question, each.right, each.facility, each.discrimination, each.correlation, each.note]
            for each in figures
        ],
        "notes": list(notes),
    }
    return typesetter.pdf("class", values)


def _cell(cell: Cell | None) -> dict[str, object]:
    if cell is None:
        return {"kind": "none"}
    return (
        {"kind": "held", "letter": cell.belief}
        if cell.belief
        else {"kind": "share", "quarters": cell.quarters}
    )
