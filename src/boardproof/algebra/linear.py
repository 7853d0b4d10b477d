"""Linear equations, solved exactly: with letters in them (without fractions), and with numbers only.

Notes
-----
Fraction-free Gauss-Jordan elimination: E. H. Bareiss, "Sylvester's identity and multistep integer-preserving
Gaussian elimination", Mathematics of Computation 22 (1968). Every division below is exact.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Any

from boardproof.algebra.polynomial import RationalFunction, reduced
from boardproof.algebra.product import times
from boardproof.algebra.ring import LETTERS, constant_in, lift, raw_matrix
from boardproof.record import record

__all__ = ["Singular", "solve_exact", "solve_linear"]


@record
class Singular:
    """Equations that do not fix every unknown, or that contradict each other.

    Parameters
    ----------
    rank : int
        Number of independent equations.
    free : tuple of int
        Columns of the unknowns that could be chosen at will.
    consistent : bool
        Whether the equations have a solution at all.
    """

    rank: int
    free: tuple[int, ...]
    consistent: bool


def solve_linear(
    matrix: Sequence[Sequence[RationalFunction]], right: Sequence[RationalFunction]
) -> tuple[RationalFunction, ...] | Singular:
    """The unknowns of a system with letters in it.

    Parameters
    ----------
    matrix : sequence of rows
        Coefficients; there may be more rows than unknowns.
    right : sequence
        Right sides, one a row.

    Returns
    -------
    tuple of RationalFunction, or Singular
        Solutions in lowest terms.

    Raises
    ------
    TooLarge
        If an entry grows beyond the term limit.

    Examples
    --------
    >>> E, R, r = (RationalFunction.letter(name) for name in ("E", "R", "r"))
    >>> solve_linear([[R + r]], [E])
    ((E)/(r + R),)
    """
    rows, one = _raw_rows([[*row, side] for row, side in zip(matrix, right, strict=True)])
    columns = len(matrix[0]) if matrix else 0
    previous, rank, free = one, 0, []
    for column in range(columns):
        pick = _pivot(rows, rank, column)
        if pick is None:
            free.append(column)
            continue
        rows[rank], rows[pick] = rows[pick], rows[rank]
        pivot = rows[rank]
        for place, row in enumerate(rows):
            if place != rank:
                rows[place] = _cleared(row, pivot, column, previous)
        previous, rank = pivot[column], rank + 1
    consistent = all(row[columns].is_zero() for row in rows[rank:])
    if free or not consistent:
        return Singular(rank, tuple(free), consistent)
    return tuple(reduced(rows[place][columns], rows[place][place]) for place in range(columns))


def _pivot(rows: list[list[Any]], start: int, column: int) -> int | None:
    """The row with the shortest entry that is not nought."""
    candidates = [place for place in range(start, len(rows)) if not rows[place][column].is_zero()]
    return min(candidates, key=lambda place: len(rows[place][column]), default=None)


def _cleared(row: list[Any], pivot: list[Any], column: int, previous: Any) -> list[Any]:
    """The row without its entry in the pivot's column."""
    head, lead = row[column], pivot[column]
    result = []
    for mine, other in zip(row, pivot, strict=True):
        kept = mine if mine.is_zero() else times(lead, mine)
        value = kept if head.is_zero() or other.is_zero() else kept - times(head, other)
        result.append(value if value.is_zero() else value / previous)
    return result


def solve_exact(
    matrix: Sequence[Sequence[Fraction]], right: Sequence[Fraction]
) -> tuple[Fraction, ...] | Singular:
    """The unknowns of a system of numbers, exactly.

    Parameters
    ----------
    matrix : sequence of rows
        Coefficients; there may be more rows than unknowns.
    right : sequence
        Right sides, one a row.

    Examples
    --------
    >>> one, two = Fraction(1), Fraction(2)
    >>> solve_exact([[one, one], [one, -one]], [two, one])
    (Fraction(3, 2), Fraction(1, 2))
    >>> solve_exact([[one, one], [two, two]], [one, one])
    Singular(rank=1, free=(1,), consistent=False)
    """
    columns = len(matrix[0]) if matrix else 0
    if len(matrix) == columns and columns:
        try:
            found = raw_matrix(matrix).solve(raw_matrix([[side] for side in right]))
            return tuple(Fraction(int(each.p), int(each.q)) for each in found.entries())
        except ZeroDivisionError:
            pass  # singular: the elimination below says how
    whole = raw_matrix([[*row, side] for row, side in zip(matrix, right, strict=True)])
    echelon, rank = whole.rref()
    leads = [next(j for j in range(columns + 1) if echelon[i, j] != 0) for i in range(rank)]
    consistent = columns not in leads
    free = tuple(column for column in range(columns) if column not in leads)
    if free or not consistent:
        return Singular(rank - (not consistent), free, consistent)
    sides = [echelon[row, columns] for row in range(columns)]
    return tuple(Fraction(int(each.p), int(each.q)) for each in sides)


def _raw_rows(rows: Sequence[Sequence[RationalFunction]]) -> tuple[list[list[Any]], Any]:
    """Rows as polynomials of one ring (each row times its denominators), and the ring's one."""
    size = max((entry.over.context().nvars() for row in rows for entry in row), default=LETTERS.size)
    result = []
    for row in rows:
        if all(entry.under.is_one() for entry in row):
            result.append([lift(entry.over, size) for entry in row])
            continue
        common = RationalFunction.constant(1)
        for entry in row:
            common = common * (entry.denominator / common).numerator
        result.append([lift((entry * common).over, size) for entry in row])
    return result, constant_in(1, size)
