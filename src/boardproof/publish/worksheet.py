"""Worksheets, keys, mark schemes and the marking sheet as PDF; a code that eyes can read stands on each page."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, Literal

from boardproof.algebra.written import read_line
from boardproof.belief.catalogue import BELIEFS
from boardproof.practice.filled import circuit_given, filled, pieces
from boardproof.practice.papers import Paper
from boardproof.practice.prepared import Prepared
from boardproof.practice.records import Solved, Variant
from boardproof.practice.variants import shown_key
from boardproof.practice.worked import worked
from boardproof.publish.question_figure import question_frame
from boardproof.publish.svg import frame_svg
from boardproof.publish.typeset import Typesetter
from boardproof.source import Source

__all__ = ["Batch", "Printed", "print_batch"]

Printed = Literal["worksheets", "key", "mark-scheme", "marking-sheet"]
Value = dict[str, Any]


@dataclass(frozen=True)
class Batch:
    """Papers that are printed together.

    Parameters
    ----------
    title : str
        At the head.
    questions : tuple of Prepared
        In the order of each paper.
    papers : tuple of Paper
        In pile order.
    cautions : mapping of str to str
        Full caution by paper's code; missing where nothing can hurt.
    paper_size : {"a4", "letter"}
        Of the sheets.
    large : bool
        Large print: letters of 18 points.
    seats : tuple of tuple of (str, str)
        Rows of desks, student and set; empty without sets.
    """

    title: str
    questions: tuple[Prepared, ...]
    papers: tuple[Paper, ...]
    cautions: Mapping[str, str] = field(default_factory=dict)
    paper_size: Literal["a4", "letter"] = "a4"
    large: bool = False
    seats: tuple[tuple[tuple[str, str], ...], ...] = ()


def print_batch(batch: Batch, what: Printed, typesetter: Typesetter) -> bytes:
    """One PDF of a batch.

    Parameters
    ----------
    batch : Batch
        The papers.
    what : {"worksheets", "key", "mark-scheme", "marking-sheet"}
        Which of the four.
    typesetter : Typesetter
        Sets type.
    """
    sheet = _Sheet(batch, typesetter)
    values = {
        "title": batch.title,
        "what": what,
        "paper": batch.paper_size,
        "large": batch.large,
        "draft": False,
        "paper_only": "",
        "corrections": [],
        "cautions": [],
        "stamp": "",
        "marks": {},
        "papers": [sheet.paper(paper, what) for paper in batch.papers],
        "seats": [[list(pair) for pair in row] for row in batch.seats] if what == "marking-sheet" else [],
    }
    return typesetter.pdf("worksheet", values)


class _Sheet:
    """Turns papers into what the template reads."""

    def __init__(self, batch: Batch, typesetter: Typesetter) -> None:
        self.batch, self.typesetter = batch, typesetter

    def paper(self, paper: Paper, what: Printed) -> Value:
        rows = zip(self.batch.questions, paper.variants, strict=True)
        return {
            "code": paper.code,
            "who": paper.who,
            "caution": self.batch.cautions.get(paper.code, ""),
            "total": sum(part.asked.marks for each in self.batch.questions for part in each.parts),
            "questions": [self.question(n, each, variant, what) for n, (each, variant) in enumerate(rows, 1)],
        }

    def question(self, number: int, prepared: Prepared, variant: Variant, what: Printed) -> Value:
        is_sheet = what == "worksheets"
        circuit = circuit_given(prepared, variant.draw) if is_sheet else None
        figure = None
        if circuit is not None:
            made = question_frame(circuit, self.typesetter, prepared.question.topic or f"Question {number}")
            svg = frame_svg(made, self.typesetter, "print")
            figure = {"svg": svg, "width": made.width, "words": made.alternative or "Circuit"}
        return {
            "number": number,
            "name": prepared.question.name[:1].upper() + prepared.question.name[1:],
            "stem": self.runs(filled(prepared.question.stem, prepared, variant.draw)) if is_sheet else [],
            "figure": figure,
            "parts": [
                self.part(prepared, n, variant, solved, what) for n, solved in enumerate(variant.parts)
            ],
        }

    def part(self, prepared: Prepared, at: int, variant: Variant, solved: Solved, what: Printed) -> Value:
        asked = prepared.parts[at].asked
        made: Value = {
            "label": asked.label,
            "form": asked.form,
            "marks": asked.marks,
            "unit": asked.unit,
            "words": self.runs(filled(asked.words, prepared, variant.draw)),
            "options": [[option.letter, option.text] for option in solved.options],
            "names": [each.strip() for each in asked.name.split(",")],
        }
        if what == "worksheets":
            return made
        made["key"] = solved.shown
        if what == "key":
            made["working"] = [
                {"maths": self.runs_of(line.maths), "why": line.why}
                for line in worked(prepared, at, variant.draw, solved)
            ]
        if what == "mark-scheme":
            made["points"] = [[point.letter, point.words] for point in asked.points]
            made["after"] = list(asked.after)
        if what == "marking-sheet":
            made["wrong"] = _wrong_answers(solved, prepared, at)
        return made

    def runs(self, text: str) -> list[Value]:
        return [
            self.line(piece) if is_maths else {"text": piece, "style": ""} for piece, is_maths in pieces(text)
        ]

    def runs_of(self, text: str) -> list[Value]:
        """A line of working: a quantity in words stays in words, what it equals is maths."""
        left, equals, right = text.partition(" = ")
        if equals and " " in left:
            return [{"text": f"{left} = ", "style": ""}, self.line(right)]
        return [self.line(text)]

    def line(self, text: str) -> Value:
        """A line of maths set in type; as plain words if it can't be read as maths."""
        line, wrong = read_line(Source("line", text).slice(), known=()) if text else (None, ())
        if line is None or wrong or not (line.statements or line.bare) or " the " in text:
            return {"text": text, "style": ""}
        return {
            "maths": self.typesetter.markup(line),
            "words": self.typesetter.spoken(line),
            "display": False,
        }


def _wrong_answers(solved: Solved, prepared: Prepared, at: int) -> list[list[str]]:
    """What each wrong rule gives, and the rule in words, one line for each answer.

    Parameters
    ----------
    solved : Solved
        A part with its key.
    prepared : Prepared
        The question.
    at : int
        Number of the part.
    """
    found: dict[str, list[str]] = {}
    for belief, value in solved.wrong.items():
        found.setdefault(shown_key(value, prepared.parts[at].asked), []).append(
            BELIEFS[belief].words.rstrip(".")
        )
    return [[value, "; ".join(words[:2])] for value, words in sorted(found.items())]
