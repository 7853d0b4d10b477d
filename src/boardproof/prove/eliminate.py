"""Whether one polynomial equation follows from others: exact elimination, letters of the circuit as parameters.

An equation is a `Poly`, meaning "this is nought": unknowns are whole numbers, a monomial is the sorted tuple of its
unknowns, and what stands before it is an exact ratio of polynomials in the parameters, which are positive.
What the unknowns mean, and which equations a rule gives, is left to `rules` and `follows`.

Notes
-----
Linear equations are solved and put into the others as long as that makes new linear ones; what is left is multiplied
by monomials of degree 0, then 1, then 2, and eliminated by monomials (F. S. Macaulay, "The algebraic theory of
modular systems", 1916, from memory). An answer "follows" is a proof; "does not" is one only if nothing was left over.
"""

from __future__ import annotations

import time
from collections.abc import Iterable, Mapping, Sequence
from itertools import combinations_with_replacement
from typing import Final

from boardproof.algebra.polynomial import RationalFunction
from boardproof.record import record

__all__ = [
    "ONE",
    "Elimination",
    "Monomial",
    "OutOfTime",
    "Poly",
    "Row",
    "added",
    "eliminate",
    "scaled",
    "times",
]

Monomial = tuple[int, ...]
Poly = Mapping[Monomial, RationalFunction]
ONE: Final = RationalFunction.constant(1)
ROWS_AT_MOST: Final = 400
DEGREE_AT_MOST: Final = 2
TERMS_OF_A_FACTORING: Final = 60


class OutOfTime(Exception):
    """The time given is over; nothing has been found out."""


@record
class Row:
    """An equation that holds, and why.

    Parameters
    ----------
    poly : Poly
        What is nought.
    conditions : frozenset of RationalFunction
        It was divided by these; they must not be nought.
    used : frozenset of int
        Numbers of the hypotheses that it was made from.
    """

    poly: Poly
    conditions: frozenset[RationalFunction] = frozenset()
    used: frozenset[int] = frozenset()


@record
class Elimination:
    """What elimination came to.

    Parameters
    ----------
    rest : Row
        The line after all was put into it; an empty `poly` means that it follows.
    solved : tuple of (int, Row)
        Unknowns that were solved for, in order, each with the equation that gives it (coefficient one).
    left_over : tuple of Row
        Equations that stayed non-linear.
    """

    rest: Row
    solved: tuple[tuple[int, Row], ...]
    left_over: tuple[Row, ...]

    @property
    def follows(self) -> bool:
        """Whether the line is a consequence of the hypotheses."""
        return not self.rest.poly

    @property
    def is_decided(self) -> bool:
        """Whether a "no" is a proof too: everything was linear in the end."""
        return self.follows or not self.left_over


def added(left: Poly, right: Poly, factor: RationalFunction = ONE) -> dict[Monomial, RationalFunction]:
    """`left` plus `factor` times `right`.

    Parameters
    ----------
    left, right : Poly
        Any.
    factor : RationalFunction
        A ratio in the parameters.

    Examples
    --------
    >>> added({(1,): ONE}, {(1,): ONE, (): ONE}, -ONE)
    {(): -1}
    """
    result = dict(left)
    for monomial, number in right.items():
        term = number * factor
        total = result[monomial] + term if monomial in result else term
        if total.is_zero:
            result.pop(monomial, None)
        else:
            result[monomial] = total
    return result


def scaled(poly: Poly, factor: RationalFunction, by: Monomial = ()) -> dict[Monomial, RationalFunction]:
    """`poly` times a number and a monomial.

    Parameters
    ----------
    poly : Poly
        Any.
    factor : RationalFunction
        A ratio in the parameters.
    by : Monomial
        Unknowns.

    Examples
    --------
    >>> scaled({(2,): ONE}, ONE + 1, (1,))
    {(1, 2): 2}
    """
    return {tuple(sorted(monomial + by)): number * factor for monomial, number in poly.items()}


def times(left: Poly, right: Poly) -> dict[Monomial, RationalFunction]:
    """The product.

    Parameters
    ----------
    left, right : Poly
        Any.

    Examples
    --------
    >>> times({(1,): ONE, (): ONE}, {(1,): ONE, (): -ONE})
    {(1, 1): 1, (): -1}
    """
    result: dict[Monomial, RationalFunction] = {}
    for monomial, number in right.items():
        result = added(result, scaled(left, number, monomial))
    return result


def _unknowns(poly: Poly) -> frozenset[int]:
    return frozenset(unknown for monomial in poly for unknown in monomial)


def _is_linear(poly: Poly) -> bool:
    return all(len(monomial) <= 1 for monomial in poly)


def _must_not_vanish(pivot: RationalFunction) -> frozenset[RationalFunction]:
    """Factors of a pivot that could be nought for some positive values."""
    if pivot.one_signed:
        return frozenset()
    above = pivot.numerator
    if len(above.terms()) > TERMS_OF_A_FACTORING:
        return frozenset({above})
    return frozenset(factor for factor, _ in above.factors()[1] if not factor.one_signed)


def _weight(number: RationalFunction) -> tuple[int, int]:
    """How much one would rather not divide by it: plain numbers first, then short ones that cannot vanish."""
    if number.as_number is not None:
        return (0, 0)
    return (0 if number.one_signed else 1, len(number.terms()))


def _put(row: Row, unknown: int, given: Row) -> Row:
    """`row` with the unknown replaced by what `given` (coefficient one) says it is."""
    if not any(unknown in monomial for monomial in row.poly):
        return row
    worth = {monomial: -number for monomial, number in given.poly.items() if monomial != (unknown,)}
    result: dict[Monomial, RationalFunction] = {}
    for monomial, number in row.poly.items():
        rest = tuple(each for each in monomial if each != unknown)
        term: Poly = {rest: number}
        for _ in range(len(monomial) - len(rest)):
            term = times(term, worth)
        result = added(result, term)
    return Row(result, row.conditions | given.conditions, row.used | given.used)


def _divided(row: Row, number: RationalFunction) -> Row:
    poly = scaled(row.poly, number.reciprocal())
    return Row(poly, row.conditions | _must_not_vanish(number), row.used)


def _without_positive_factors(row: Row, positive: frozenset[int]) -> Row:
    """The row without unknowns that stand in every term and cannot be nought."""
    poly = row.poly
    for unknown in _unknowns(poly) & positive:
        while poly and all(unknown in monomial for monomial in poly):
            poly = {_less(monomial, (unknown,)): number for monomial, number in poly.items()}
    return Row(poly, row.conditions, row.used)


def _less(monomial: Monomial, part: Monomial) -> Monomial:
    rest = list(monomial)
    for each in part:
        rest.remove(each)
    return tuple(rest)


class _Clock:
    """Raises when the time is over; asked before every larger piece of work."""

    def __init__(self, seconds: float) -> None:
        self.end = time.thread_time() + seconds

    def look(self) -> None:
        if time.thread_time() > self.end:
            raise OutOfTime


def _near(line: Poly, rows: Sequence[Row]) -> list[Row]:
    """Rows that share unknowns with the line, step by step."""
    reached, waiting, near = set(_unknowns(line)), list(rows), []
    grown = True
    while grown:
        grown, still = False, []
        for row in waiting:
            own = _unknowns(row.poly)
            if own & reached:
                reached |= own
                near.append(row)
                grown = True
            else:
                still.append(row)
        waiting = still
    return near


def _explicit(poly: Poly) -> list[int]:
    """Unknowns that such an equation gives outright: they stand in one term of it, alone."""
    if _is_linear(poly):
        return sorted(_unknowns(poly))
    alone = {monomial[0] for monomial in poly if len(monomial) == 1}
    return sorted(alone - {unknown for monomial in poly if len(monomial) > 1 for unknown in monomial})


def _solve(rest: Row, rows: list[Row], clock: _Clock) -> tuple[Row, list[tuple[int, Row]], list[Row]]:
    """Solve rows one by one and put each into the line and all others, until nothing is left of the line.

    What stays of the rows gives no unknown outright.
    """
    solved: list[tuple[int, Row]] = []
    priced = [(row, _pivot(row.poly)) for row in rows]
    while True:
        usable = [pair for pair in priced if pair[1] is not None]
        if not usable or not rest.poly:
            return rest, solved, [row for row, _ in priced if row.poly]
        clock.look()
        chosen = min(usable, key=lambda pair: pair[1] or ())
        row, pivot = chosen
        assert pivot is not None
        unknown = pivot[-1]
        given = _divided(row, row.poly[unknown,])
        solved.append((unknown, given))
        rest = _put(rest, unknown, given)
        left = [pair for pair in priced if pair is not chosen]
        priced = []
        for pair in left:
            other = _put(pair[0], unknown, given)
            priced.append(pair if other is pair[0] else (other, _pivot(other.poly)))


def _pivot(poly: Poly) -> tuple[int, ...] | None:
    """The unknown that such an equation gives best, last in a tuple that says how much it costs; None for none."""
    explicit = _explicit(poly)
    if not explicit:
        return None
    (sign, length), unknown = min((_weight(poly[each,]), each) for each in explicit)
    return (0 if _is_linear(poly) else 1, sign, length, len(poly), unknown)


def eliminate(
    line: Poly,
    hypotheses: Iterable[Poly],
    *,
    positive: frozenset[int] = frozenset(),
    seconds: float = 0.5,
) -> Elimination:
    """Put hypotheses into a line until nothing is left of it, or nothing more can be put in.

    Parameters
    ----------
    line : Poly
        To be shown nought.
    hypotheses : iterable of Poly
        Each is nought; they are numbered from 0 in this order.
    positive : frozenset of int
        Unknowns that cannot be nought.
    seconds : float
        Calculating time allowed, more than 0; waiting for other work does not count.

    Raises
    ------
    OutOfTime, TooLarge
        If it takes too long, or an entry would grow beyond the term limit.

    Examples
    --------
    >>> E, R = RationalFunction.letter("E"), RationalFunction.letter("R")
    >>> ohm, loop = {(0,): R, (1,): -ONE}, {(1,): ONE, (): -E}  # I R = V, V = E
    >>> eliminate({(0,): ONE, (): -E / R}, [ohm, loop]).follows
    True
    """
    clock = _Clock(seconds)
    numbered = [Row(poly, used=frozenset({number})) for number, poly in enumerate(hypotheses)]
    rows = [_without_positive_factors(row, positive) for row in _near(line, numbered)]
    rest, solved, left_over = _solve(_without_positive_factors(Row(line), positive), rows, clock)
    left_over = [_without_positive_factors(row, positive) for row in left_over]
    if rest.poly and any(_explicit(row.poly) for row in left_over):
        rest, again, left_over = _solve(rest, left_over, clock)
        solved += again
    if rest.poly and left_over:
        rest = _by_monomials(rest, left_over, clock)
    return Elimination(rest, tuple(solved), tuple(left_over))


def _by_monomials(line: Row, rows: Sequence[Row], clock: _Clock) -> Row:
    """The line reduced by the rows times monomials, of rising degree."""
    near = _near(line.poly, rows)
    letters = sorted({unknown for row in near for unknown in _unknowns(row.poly)} | _unknowns(line.poly))
    for degree in range(DEGREE_AT_MOST + 1):
        factors = [by for size in range(degree + 1) for by in combinations_with_replacement(letters, size)]
        if len(factors) * len(near) > ROWS_AT_MOST:
            break
        raised = [Row(scaled(row.poly, ONE, by), row.conditions, row.used) for row in near for by in factors]
        reduced = _reduced(line, raised, clock)
        if not reduced.poly:
            return reduced
    return line


def _reduced(line: Row, rows: list[Row], clock: _Clock) -> Row:
    """The line after linear elimination with whole monomials as columns."""
    while rows:
        clock.look()
        place = min(range(len(rows)), key=lambda each: _column_cost(rows[each].poly))
        row = rows.pop(place)
        if set(row.poly) <= {()}:
            continue  # a condition between letters proves nothing here
        column = min(row.poly, key=lambda each: (each == (), *_weight(row.poly[each]), -len(each), each))
        pivot = _divided(row, row.poly[column])
        line = _cleared(line, column, pivot)
        rows = [cleared for other in rows if (cleared := _cleared(other, column, pivot)).poly]
        if not line.poly:
            break
    return line


def _column_cost(poly: Poly) -> tuple[int, int, int]:
    best = min((_weight(number) for number in poly.values()), default=(0, 0))
    return (best[0], len(poly), best[1])


def _cleared(row: Row, column: Monomial, pivot: Row) -> Row:
    head = row.poly.get(column)
    if head is None:
        return row
    return Row(added(row.poly, pivot.poly, -head), row.conditions | pivot.conditions, row.used | pivot.used)
