"""For N given like cells and a load: the arrangement with most current, its power and efficiency, and the classic rule.

The classic rule says that the current is greatest where the pack's resistance s r/p equals the load R. It holds
exactly where s = sqrt(N R/r) and p = sqrt(N r/R) are whole; else the best whole split is one of its neighbours, and
cells that may stay in the box can change it again.
"""

from __future__ import annotations

from fractions import Fraction
from math import isqrt, sqrt

from boardproof.record import record

__all__ = ["Given", "Split", "splits"]


@record
class Split:
    """N cells as rows.

    Parameters
    ----------
    series, rows : int
        Counts; their product may leave cells over.
    current, power, efficiency : Fraction
        In the load; the share of the power that reaches it.
    """

    series: int
    rows: int
    current: Fraction
    power: Fraction
    efficiency: Fraction


@record
class Given:
    """What can be done with the cells at hand.

    Parameters
    ----------
    whole : tuple of Split
        Every split that uses all cells, most current first.
    best_of_fewer : Split
        The best if some may stay out.
    is_matched : bool
        Whether the best split of all cells has s r/p = R exactly.
    ideal : float
        Cells in a row by the classic rule, whole or not.
    bound : float
        No arrangement of these cells, series-parallel or not, drives more current: E sqrt(N)/(2 sqrt(R r)).
    """

    whole: tuple[Split, ...]
    best_of_fewer: Split
    is_matched: bool
    ideal: float
    bound: float


def splits(cells: int, emf: Fraction, resistance: Fraction, load: Fraction) -> Given:
    """Every way to stand like cells in rows across a load.

    Parameters
    ----------
    cells : int
        How many.
    emf, resistance, load : Fraction
        Above nought.

    Notes
    -----
    The bound: a cell gives at most E^2/(4 r) to what is outside it, so I^2 R <= N E^2/(4 r). It is reached exactly if
    the classic rule has whole numbers.

    Examples
    --------
    A textbook's twenty cells of 0.5 ohm on 2.5 ohm (askfilo.com): ten in a row, two rows.

    >>> made = splits(20, Fraction(2), Fraction(1, 2), Fraction(5, 2))
    >>> made.whole[0].series, made.whole[0].rows, made.is_matched
    (10, 2, True)
    """
    divisors = {each for n in range(1, isqrt(cells) + 1) if cells % n == 0 for each in (n, cells // n)}
    whole = tuple(
        sorted(
            (_split(s, cells // s, emf, resistance, load) for s in divisors),
            key=lambda each: (-each.current, each.series),
        )
    )
    fewer = max(
        (_split(s, cells // s, emf, resistance, load) for s in range(1, cells + 1)),
        key=lambda each: (each.current, -each.series * each.rows),
    )
    matched = whole[0].series * resistance == load * whole[0].rows
    ideal = sqrt(cells * load / resistance)
    return Given(whole, fewer, matched, ideal, float(emf) * sqrt(cells) / (2 * sqrt(load * resistance)))


def _split(series: int, rows: int, emf: Fraction, resistance: Fraction, load: Fraction) -> Split:
    inside = series * resistance / rows
    current = series * emf / (load + inside)
    return Split(series, rows, current, current**2 * load, load / (load + inside))
