"""The class as a web page: the picture, the same as a table, what they believe, whom to gather, figures; one file."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from typing import TYPE_CHECKING

from boardproof.practice.class_evidence import StudentWords
from boardproof.practice.class_view import Cell, ClassView, said
from boardproof.publish.class_marks import diamond, square
from boardproof.publish.palette import custom_properties
from boardproof.publish.web import Html
from boardproof.record import record

if TYPE_CHECKING:
    from jinja2 import Environment

__all__ = ["FigureRow", "catch_up_page", "class_page", "student_page"]

POLICY = "default-src 'none'; style-src 'unsafe-inline'; img-src data:"


@record
class FigureRow:
    """One question of the table of figures, in words and whole numbers."""

    question: str
    right: str
    facility: str
    discrimination: str
    correlation: str
    note: str = ""


def class_page(
    view: ClassView,
    *,
    title: str,
    day: str,
    figures: Sequence[FigureRow] = (),
    notes: Sequence[str] = (),
    evidence: Sequence[tuple[str, str]] = (),
) -> str:
    """The page for the teacher.

    Parameters
    ----------
    view : ClassView
        What is shown.
    title : str
        Of the papers.
    day : str
        When it was made.
    figures : sequence of FigureRow
        A question each.
    notes : sequence of str
        On reliability and the like.
    evidence : sequence of (str, str)
        Code of a student and a sentence.
    """
    return _made(
        "class.html", view=view, title=title, day=day, figures=figures, notes=notes, evidence=evidence
    )


def student_page(words: StudentWords, *, title: str, day: str) -> str:
    """A page for one student and parents.

    Parameters
    ----------
    words : StudentWords
        What is said.
    title : str
        Of the paper.
    day : str
        When it was made.
    """
    return _made("student.html", words=words, title=title, day=day)


def catch_up_page(
    students: Sequence[str], ideas: Sequence[str], tries: Sequence[str], *, title: str, day: str
) -> str:
    """A sheet for those who were not there: what was done, and questions to catch up with.

    Parameters
    ----------
    students : sequence of str
        Codes.
    ideas : sequence of str
        What was practised, in order.
    tries : sequence of str
        Questions.
    title : str
        Of the paper.
    day : str
        When it was made.
    """
    return _made("catch-up.html", students=students, ideas=ideas, tries=tries, title=title, day=day)


def _made(name: str, **values: object) -> str:
    return _templates().get_template(name).render(policy=POLICY, colours=_colours(), **values)


def _colours() -> Html:
    paper, slate, plain = custom_properties("paper"), custom_properties("slate"), custom_properties("print")
    return Html(
        f":root{{color-scheme:light;{paper}}}@media (prefers-color-scheme:dark){{:root{{color-scheme:dark;{slate}}}}}"
        f"@media print{{:root:root{{color-scheme:light;{plain}}}}}"
    )


def _cell(cell: Cell | None) -> Html:
    """A cell's sign, with its words for those who hear it."""
    if cell is None:
        return Html('<span aria-hidden="true">–</span><span class="unseen">not asked</span>')
    if cell.belief:
        return Html(f'{diamond(cell.belief)}<span class="unseen">wrong idea {cell.belief}</span>')
    return Html(f'{square(cell.quarters)}<span class="unseen">{cell.given} of {cell.of} marks</span>')


@cache
def _templates() -> Environment:
    from jinja2 import Environment, PackageLoader, StrictUndefined  # slow, and most jobs write no page

    made = Environment(
        loader=PackageLoader("boardproof.publish", "templates"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    made.filters["cell"] = _cell
    made.filters["diamond"] = lambda letter: Html(diamond(letter))
    made.filters["square"] = lambda quarters: Html(square(quarters))
    made.filters["said"] = said
    return made
