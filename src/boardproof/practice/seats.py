"""A seat plan for sets A to D: whoever sits beside, before or behind another has another set."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

__all__ = ["SETS", "seat_plan"]

SETS: Final = "ABCD"


def seat_plan(
    students: Sequence[str], *, across: int = 6, sets: int = 4
) -> tuple[tuple[tuple[str, str], ...], ...]:
    """Rows of desks, front first, each a student and a set.

    With four sets neighbours differ across corners too; with two or three at the sides, before and behind.

    Parameters
    ----------
    students : sequence of str
        Codes, in the order of desks.
    across : int
        Desks in a row.
    sets : int
        2 to 4.

    Examples
    --------
    >>> seat_plan(["S01", "S02", "S03"], across=2)
    ((('S01', 'A'), ('S02', 'B')), (('S03', 'C'),))
    """
    rows = [students[n : n + across] for n in range(0, len(students), across)]
    return tuple(
        tuple((student, SETS[_set(row, column, sets)]) for column, student in enumerate(line))
        for row, line in enumerate(rows)
    )


def _set(row: int, column: int, sets: int) -> int:
    if sets == 4:
        return 2 * (row % 2) + column % 2
    return (row + column) % sets
