"""Where a class stands: marked papers gathered by idea, with who believes what and what to do next.

Whole numbers of students, never shares of a small class. Absent and excused students are left out of every figure.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from fractions import Fraction
from string import ascii_lowercase
from typing import Final

from boardproof.belief.catalogue import BELIEFS
from boardproof.practice.diagnosis import Diagnosis, Item, Response, diagnose
from boardproof.practice.records import Mark, Question, Variant
from boardproof.record import record

__all__ = [
    "Cell",
    "ClassView",
    "Idea",
    "MarkedPaper",
    "Row",
    "class_view",
    "items_of",
    "responses_of",
    "said",
]

SECURE: Final = Fraction(3, 4)
LEFT_OUT: Final = frozenset({"absent", "excused"})
NO_EVIDENCE: Final = frozenset({"blank", "not reached", "absent", "excused", "unreadable", "to be decided"})
SLIPS: Final = frozenset({"power_of_ten", "sign", "near_miss"})


@record
class MarkedPaper:
    """One student's paper with its marks.

    Parameters
    ----------
    student : str
        A code.
    questions : tuple of Question
        In order.
    variants : tuple of Variant
        The student's numbers.
    marks : tuple of Mark
        The latest of each part.
    """

    student: str
    questions: tuple[Question, ...]
    variants: tuple[Variant, ...]
    marks: tuple[Mark, ...]


@record
class Cell:
    """One student at one idea: marks given of how many, a belief held there by its letter; None if not asked."""

    given: int
    of: int
    belief: str = ""

    @property
    def quarters(self) -> int:
        """How full the square is: 0 only for nothing, 4 only for all."""
        if self.given in {0, self.of}:
            return 4 * (self.given == self.of and self.of > 0)
        return min(3, max(1, round(4 * self.given / self.of)))

    @property
    def secure(self) -> bool:
        """Three quarters of the marks and no wrong idea."""
        return not self.belief and self.of > 0 and Fraction(self.given, self.of) >= SECURE


@record
class Row:
    """A student: code, a cell an idea, marks in all, and what is believed (None for those who were not there)."""

    student: str
    cells: tuple[Cell | None, ...]
    given: int
    of: int
    diagnosis: Diagnosis | None


@record
class Idea:
    """A column: its name, how many are secure of how many who were asked."""

    name: str
    secure: int
    asked: int


@record
class ClassView:
    """The picture of a class.

    Parameters
    ----------
    rows : tuple of Row
        Those most in need first; students who were not there last.
    ideas : tuple of Idea
        In the order of the papers.
    beliefs : tuple of (str, str, int)
        Letter, belief and number of students who hold it, most frequent first.
    groups : tuple of (str, tuple of str)
        What to take up again, and with whom.
    opening : str
        For the next lesson.
    questions : int
        Parts that were asked.
    absent : tuple of str
        Codes.
    """

    rows: tuple[Row, ...]
    ideas: tuple[Idea, ...]
    beliefs: tuple[tuple[str, str, int], ...]
    groups: tuple[tuple[str, tuple[str, ...]], ...]
    opening: str
    questions: int
    absent: tuple[str, ...]


def said(belief: str) -> str:
    """A belief as its believer would say it, without the full stop.

    Parameters
    ----------
    belief : str
        Its key.

    Examples
    --------
    >>> said("equal_split_at_junction")
    'Every junction halves the current'
    """
    known = BELIEFS.get(belief)
    return known.words.rstrip(".") if known is not None else belief.replace("_", " ")


def items_of(questions: Sequence[Question], variants: Sequence[Variant]) -> dict[tuple[str, str], Item]:
    """What each part of a paper can tell: belief and value, by number of the question and label of the part.

    Parameters
    ----------
    questions, variants : sequences
        Of the paper, in order.
    """
    found = {}
    for number, (question, variant) in enumerate(zip(questions, variants, strict=True), 1):
        for asked, solved in zip(question.parts, variant.parts, strict=True):
            if solved.options:
                pairs = tuple((belief, each.letter) for each in solved.options for belief in each.beliefs)
            else:
                pairs = tuple(
                    (name, repr(value)) for name, value in solved.wrong.items() if value != solved.key
                )
            found[str(number), asked.label] = Item(f"{number}{asked.label}", pairs, len(solved.options))
    return found


def responses_of(paper: MarkedPaper) -> tuple[Response, ...]:
    """The evidence in a student's marks; blank, unread and carried-on answers say nothing.

    Parameters
    ----------
    paper : MarkedPaper
        Of one student.
    """
    items = items_of(paper.questions, paper.variants)
    found = []
    for mark in paper.marks:
        item = items.get((mark.answer.question, mark.answer.part))
        if item is None or mark.verdict in NO_EVIDENCE or mark.follow_through:
            continue
        right = all(given == of for _, given, of, _ in mark.points)
        if mark.verdict in {"right", "right_but_figures", "unit_missing"} and not mark.beliefs:
            found.append(Response(item, "right"))
        elif mark.decided_by == "teacher":
            found.append(Response(item, "right" if right else "wrong"))
        elif mark.verdict in SLIPS and not mark.beliefs:
            found.append(Response(item, "slip"))
        else:
            found.append(Response(item, "other", mark.beliefs))
    return tuple(found)


def class_view(papers: Sequence[MarkedPaper]) -> ClassView:
    """Gather a class.

    Parameters
    ----------
    papers : sequence of MarkedPaper
        A student each.
    """
    names = tuple(
        dict.fromkeys(question.topic or question.name for each in papers for question in each.questions)
    )
    present = [each for each in papers if not _not_there(each)]
    diagnoses = {each.student: diagnose(responses_of(each)) for each in present}
    counts: dict[str, int] = {}
    for diagnosis in diagnoses.values():
        for held in diagnosis.once:
            counts[held.belief] = counts.get(held.belief, 0) + 1
    ordered = sorted(counts, key=lambda each: (-counts[each], each))
    letters = dict(zip(ordered, _letters(), strict=False))
    rows = [_row(each, names, diagnoses[each.student], letters) for each in present]
    rows.sort(key=_need)
    absent = tuple(sorted(each.student for each in papers if _not_there(each)))
    rows += [Row(each, tuple(None for _ in names), 0, 0, None) for each in absent]
    ideas = tuple(_idea(name, [row.cells[at] for row in rows]) for at, name in enumerate(names))
    beliefs = tuple((letters[each], each, counts[each]) for each in ordered)
    asked = len({(mark.answer.question, mark.answer.part) for each in papers for mark in each.marks})
    groups = _groups(rows, beliefs)
    return ClassView(
        tuple(rows), ideas, beliefs, groups, _opening(ideas, beliefs, len(present)), asked, absent
    )


def _letters() -> Iterable[str]:
    yield from ascii_lowercase
    yield from (first + second for first in ascii_lowercase for second in ascii_lowercase)


def _not_there(paper: MarkedPaper) -> bool:
    return bool(paper.marks) and all(mark.verdict in LEFT_OUT for mark in paper.marks)


def _row(paper: MarkedPaper, names: Sequence[str], diagnosis: Diagnosis, letters: Mapping[str, str]) -> Row:
    held = [each.belief for each in diagnosis.once]
    cells: dict[str, list[int]] = {}
    beliefs: dict[str, str] = {}
    for mark in paper.marks:
        if mark.verdict in LEFT_OUT or not mark.answer.question.isdigit():
            continue
        question = paper.questions[int(mark.answer.question) - 1]
        cell = cells.setdefault(question.topic or question.name, [0, 0])
        cell[0] += sum(given for _, given, _, _ in mark.points)
        cell[1] += sum(of for _, _, of, _ in mark.points)
        mine = next((each for each in held if each in mark.beliefs), None)
        if mine is not None:
            beliefs.setdefault(question.topic or question.name, letters[mine])
    made = tuple(
        Cell(cells[name][0], cells[name][1], beliefs.get(name, "")) if name in cells else None
        for name in names
    )
    return Row(
        paper.student, made, sum(a for a, _ in cells.values()), sum(b for _, b in cells.values()), diagnosis
    )


def _need(row: Row) -> tuple[float, str]:
    held = sum(bool(cell and cell.belief) for cell in row.cells)
    return (row.given / row.of if row.of else 1.0) - held, row.student


def _idea(name: str, cells: Sequence[Cell | None]) -> Idea:
    asked = [each for each in cells if each is not None]
    return Idea(name, sum(each.secure for each in asked), len(asked))


def _groups(
    rows: Sequence[Row], beliefs: Sequence[tuple[str, str, int]]
) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Each student once: with those of the most frequent belief, of a weak start, or ready to go on."""
    left = {row.student: row for row in rows if row.diagnosis is not None}
    found = []
    for letter, belief, _ in beliefs:
        own = [
            student
            for student, row in left.items()
            if any(cell and cell.belief == letter for cell in row.cells)
        ]
        if own:
            found.append((f"{letter}: {said(belief)}", tuple(own)))
        for each in own:
            del left[each]
    weak = [
        student for student, row in left.items() if row.of and Fraction(row.given, row.of) < Fraction(1, 2)
    ]
    if weak:
        found.append(("once more from the start, with a worked example", tuple(weak)))
    ready = [student for student in left if student not in weak]
    if ready:
        found.append(("ready to go on", tuple(ready)))
    return tuple(found)


def _opening(ideas: Sequence[Idea], beliefs: Sequence[tuple[str, str, int]], present: int) -> str:
    """A proposal for the start of the next lesson."""
    asked = [each for each in ideas if each.asked]
    if not asked:
        return "No answers yet. They appear here as they come in."
    weakest = min(asked, key=lambda each: each.secure / each.asked)
    again = f"Ask “{weakest.name}” again in two days, with new numbers."
    if not beliefs:
        return f"No wrong idea stands out. {again}"
    letter, belief, count = beliefs[0]
    return (
        f"{count} of {present} work as if: {said(belief)}. Trap {letter} belongs in the next lesson. {again}"
    )
