"""What speaks for a belief, in sentences for the teacher; and what a student reads, in plain words without labels."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from boardproof.practice.class_view import ClassView, MarkedPaper, Row, said
from boardproof.practice.diagnosis import Diagnosis, Held
from boardproof.record import record

__all__ = ["StudentWords", "evidence", "student_words", "unsure"]


def evidence(held: Held) -> str:
    """How many answers are exactly what a belief gives, and what it can't be told from.

    Parameters
    ----------
    held : Held
        A belief.

    Examples
    --------
    >>> evidence(Held("parallel_adds_emfs", 0.97, 3, 4, True))
    '3 of 4 answers are exactly what this gives: EMFs in parallel add.'
    """
    what = said(held.belief)
    what = what[:1].lower() + what[1:] if not what[:2].isupper() else what
    told = f"{held.agreeing} of {held.asked} answers are exactly what this gives: {what}."
    if held.alike:
        others = "; ".join(said(each) for each in held.alike)
        told += f" These questions can't tell it from: {others}."
    return told


def unsure(diagnosis: Diagnosis) -> str:
    """What may be there but is not enough to be said; empty if nothing is.

    Parameters
    ----------
    diagnosis : Diagnosis
        Of one student.
    """
    near = [each for each in diagnosis.held if not each.claimed and each.probability >= 0.3 and each.agreeing]
    if not near:
        return ""
    return f"Perhaps, on one answer only: {said(near[0].belief)}. Ask once more before saying so."


@record
class StudentWords:
    """A page for a student and parents.

    Parameters
    ----------
    student : str
        A code.
    can : tuple of str
        What the student can do.
    next_one : str
        One thing to work on.
    questions : tuple of str
        Two to try.
    """

    student: str
    can: tuple[str, ...]
    next_one: str
    questions: tuple[str, ...]


def student_words(
    row: Row, view: ClassView, paper: MarkedPaper, tries: Mapping[str, Sequence[str]]
) -> StudentWords:
    """What to say to one student: no probabilities, no label, no rank.

    Parameters
    ----------
    row : Row
        The student's.
    view : ClassView
        Of the class; only the names of its ideas are used.
    paper : MarkedPaper
        The student's.
    tries : mapping of str to sequence of str
        Name of an idea to fresh questions about it.
    """
    pairs = [(idea.name, cell) for idea, cell in zip(view.ideas, row.cells, strict=True) if cell is not None]
    can = tuple(name for name, cell in pairs if cell.secure)
    open_ones = sorted(
        (cell.given / cell.of if cell.of else 0.0, name) for name, cell in pairs if not cell.secure
    )
    if not open_ones:
        return StudentWords(row.student, can, "Nothing is open. Explain one of these to a friend.", ())
    name = open_ones[0][1]
    lost = [mark for mark in paper.marks if any(given < of for _, given, of, _ in mark.points)]
    hint = next((mark for mark in lost if _idea_of(mark.answer.question, paper) == name), None)
    told = f"Look once more at “{name}”."
    if hint is not None:
        told += f" In question {hint.answer.question}{hint.answer.part} you wrote {hint.answer.typed or 'nothing'}."
        told += f" {hint.points[-1][3]}"
    fresh = [text for _, each in open_ones for text in tries.get(each, ())]
    return StudentWords(row.student, can, told, tuple(fresh[:2]))


def _idea_of(number: str, paper: MarkedPaper) -> str:
    question = paper.questions[int(number) - 1] if number.isdigit() else None
    return (question.topic or question.name) if question is not None else ""
