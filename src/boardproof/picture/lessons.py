"""The order of lessons as a picture: what each establishes, and lines from there to the lessons that lean on it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from boardproof.picture.drawing import Drawn, Frame, Label, Lettering, Mark, Outline, Text
from boardproof.picture.sheet import bounds
from boardproof.picture.strokes import path_of

__all__ = ["LessonRow", "lessons_frame"]

LEFT, GAP, LANE, PAD = 3.0, 2.6, 2.2, 1.1
TITLE, SMALL = 1.75, 1.4
LEAD = 2.1
HEAD, DOT = 0.55, 0.28
STEP = 0.75


@dataclass(frozen=True, slots=True)
class LessonRow:
    """One lesson: its title, what it establishes, what it leans on; `early` are those that come too late for it."""

    title: str
    establishes: tuple[str, ...]
    leans_on: tuple[str, ...]
    early: tuple[str, ...] = ()


def lessons_frame(title: str, rows: Sequence[LessonRow], lettering: Lettering) -> Frame:
    """Lessons one under another, each in its plate; a result's line leaves on the right and comes back where it serves.

    Parameters
    ----------
    title : str
        The course's.
    rows : sequence of LessonRow
        In teaching order; the first may be what the class brings along.
    lettering : Lettering
        Measures labels.

    Examples
    --------
    >>> class Plain:
    ...     def extent(self, label):
    ...         return (0.5 * label.size * len(str(label.content)), label.size, 0.3 * label.size)
    >>> rows = [LessonRow("One", ("cell rule",), ()), LessonRow("Two", (), ("cell rule",))]
    >>> [each.id for each in lessons_frame("Cells", rows, Plain()).drawn]
    ['lesson:0', 'lesson:1', 'result:cell rule']
    """
    words = [label for row in rows for label in _labels(row)]
    width = max((lettering.extent(each)[0] for each in words), default=20.0) + 2 * PAD
    plates, tops, outs = [], [], dict[str, float]()
    y = LEFT
    for number, row in enumerate(rows):
        marks, height = _plate(row, y, width, outs, _coming_in(row, rows[:number]))
        plates.append(
            Drawn(f"lesson:{number}", "lesson", "normal", bounds(marks, lettering), tuple(marks), _told(row))
        )
        tops.append((y, height))
        y += height + GAP
    lanes = _lanes(rows, tops, outs, LEFT + width, lettering)
    right = max((each.box.right for each in lanes), default=LEFT + width)
    told = " ".join(_told(row) for row in rows)
    return Frame("course", "figure", right + LEFT, y - GAP + LEFT, (*plates, *lanes), title, told)


def _labels(row: LessonRow) -> list[Label]:
    return [Label(row.title, TITLE, "semibold"), *(Label(each, SMALL, "italic") for each in row.establishes)]


def _coming_in(row: LessonRow, before: Sequence[LessonRow]) -> int:
    """How many lines end at a lesson's plate; its title makes room for them."""
    return len(set(row.leans_on) & {name for each in before for name in each.establishes}) + len(row.early)


def _plate(
    row: LessonRow, top: float, width: float, outs: dict[str, float], coming: int
) -> tuple[list[Mark], float]:
    """A lesson's plate with its words; notes where each result leaves it."""
    head = max(PAD + 0.8 * TITLE, STEP * coming - 0.5)
    height = head + LEAD * len(row.establishes) + PAD + 0.2 * TITLE
    edge = [(LEFT, top), (LEFT + width, top), (LEFT + width, top + height), (LEFT, top + height)]
    marks: list[Mark] = [Outline(path_of(edge, closed=True), "outline")]
    y = top + PAD + 0.8 * TITLE
    for place, label in enumerate(_labels(row)):
        marks.append(Text(label, LEFT + PAD, y, "start"))
        if place:
            outs.setdefault(row.establishes[place - 1], y - 0.3 * SMALL)
        y = y + LEAD if place else top + head + LEAD
    return marks, height


def _lanes(
    rows: Sequence[LessonRow],
    tops: Sequence[tuple[float, float]],
    outs: dict[str, float],
    edge: float,
    lettering: Lettering,
) -> list[Drawn]:
    """One line for each result that is used, in a lane of its own."""
    drawn: list[Drawn] = []
    used: dict[int, int] = {}
    for name, out in outs.items():
        users = [number for number, row in enumerate(rows) if name in row.leans_on]
        if not users:
            continue
        x = edge + LANE * (len(drawn) + 1)
        marks: list[Mark] = []
        ends = []
        for number in users:
            top, height = tops[number]
            used[number] = used.get(number, 0) + 1
            y = top + min(height - 0.5, 0.6 + STEP * used[number])
            ends.append(y)
            late = name in rows[number].early
            marks.append(Outline(path_of([(x, y), (edge, y)]), "measure", dash=(0.5, 0.45) if late else ()))
            head = [(edge + HEAD, y - 0.4 * HEAD), (edge, y), (edge + HEAD, y + 0.4 * HEAD)]
            marks.append(Outline(path_of(head, closed=True), "solid", "ink"))
        marks += [_dot(x, y) for y in sorted(ends)[:-1] if y > out]
        marks.append(
            Outline(path_of([(edge, out), (x, out), (x, ends[-1] if ends[-1] > out else ends[0])]), "wire")
        )
        drawn.append(
            Drawn(f"result:{name}", "result", "normal", bounds(marks, lettering), tuple(marks), name)
        )
    return drawn


def _dot(x: float, y: float) -> Outline:
    """Where a line branches off."""
    return Outline(
        f"M{x - DOT} {y}A{DOT} {DOT} 0 1 1 {x + DOT} {y}A{DOT} {DOT} 0 1 1 {x - DOT} {y}Z", "solid", "ink"
    )


def _told(row: LessonRow) -> str:
    parts = [f"{row.title}."]
    if row.leans_on:
        parts.append(f"Leans on {', '.join(row.leans_on)}.")
    if row.establishes:
        parts.append(f"Establishes {', '.join(row.establishes)}.")
    if row.early:
        parts.append(f"Not yet taught there: {', '.join(row.early)}.")
    return " ".join(parts)
