"""Figures about a class: facility, discrimination, point-biserial, reliability, options; with how sure they are.

Formulas of classical test theory: T. L. Kelley, J. Educ. Psychol. 30 (1939) 17-24 (upper and lower 27 %); G. F. Kuder
and M. W. Richardson, Psychometrika 2 (1937) 151-160 (KR-20); L. J. Cronbach, Psychometrika 16 (1951) 297-334 (alpha);
L. S. Feldt, Psychometrika 30 (1965) 357-370 (its interval); E. B. Wilson, J. Am. Stat. Assoc. 22 (1927) 209-212.
All variances have the divisor N.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import Final

from boardproof.record import record

__all__ = [
    "ItemFigures",
    "Reliability",
    "alpha",
    "discrimination",
    "facility",
    "item_figures",
    "option_table",
    "point_biserial",
    "wilson",
]

SMALL: Final = (
    30  # below this many students intervals are given and no question is judged by discrimination alone
)
KELLEY: Final = 0.27
FEW: Final = 40  # below this many, thirds instead of 27 %
Z: Final = 1.959963984540054
Rows = Sequence[Sequence[float]]  # a row a student, a column an item


@record
class ItemFigures:
    """One question.

    Parameters
    ----------
    facility : float
        Mean share of its marks.
    least, most : float
        Interval of the facility, 95 %.
    discrimination : float or None
        Upper less lower group.
    correlation : float or None
        Point-biserial against the rest of the paper; None where all are alike.
    students : int
        Counted.
    suspect : str
        Why its key should be looked at; empty if nothing speaks against it.
    """

    facility: float
    least: float
    most: float
    discrimination: float | None
    correlation: float | None
    students: int
    suspect: str = ""


@record
class Reliability:
    """Cronbach's alpha (KR-20 for items of one mark) with its 95 % interval, and the standard error of a total."""

    value: float
    least: float
    most: float
    standard_error: float


def facility(scores: Sequence[float], most: float = 1.0) -> float:
    """Mean share of the marks.

    Parameters
    ----------
    scores : sequence of float
        A student each.
    most : float
        Marks that can be had.

    Examples
    --------
    >>> facility([1, 1, 0, 1])
    0.75
    """
    return math.fsum(scores) / len(scores) / most


def wilson(share: float, count: int) -> tuple[float, float]:
    """Interval of 95 % for a share.

    Parameters
    ----------
    share : float
        Seen.
    count : int
        Of how many.

    Examples
    --------
    >>> tuple(round(each, 3) for each in wilson(0.9, 10))
    (0.596, 0.982)
    """
    middle = share + Z * Z / (2 * count)
    half = Z * math.sqrt(share * (1 - share) / count + Z * Z / (4 * count * count))
    scale = 1 + Z * Z / count
    return max(0.0, (middle - half) / scale), min(1.0, (middle + half) / scale)


def discrimination(scores: Sequence[float], totals: Sequence[float], most: float = 1.0) -> float | None:
    """Facility in the upper group less that in the lower; None for fewer than six students.

    Parameters
    ----------
    scores, totals : sequences of float
        Of the item and of the paper, a student each.
    most : float
        Marks that can be had for the item.

    Notes
    -----
    Groups of 27 %, thirds below 40 students. Equal totals at the edge of a group count with their mean, so that the
    order of the class list cannot matter.

    Examples
    --------
    >>> discrimination([1, 1, 1, 0, 0, 0], [6, 5, 4, 3, 2, 1])
    1.0
    """
    count = len(scores)
    if count < 6:
        return None
    size = round(count * KELLEY) if count >= FEW else count // 3
    upper = _group(scores, totals, size, upper=True)
    return (upper - _group(scores, totals, size, upper=False)) / size / most


def _group(scores: Sequence[float], totals: Sequence[float], size: int, *, upper: bool) -> float:
    """Sum of an extreme group; those tied at its edge share the places left."""
    edge = sorted(totals, reverse=upper)[size - 1]
    inside = [
        score
        for score, total in zip(scores, totals, strict=True)
        if (total > edge if upper else total < edge)
    ]
    tied = [score for score, total in zip(scores, totals, strict=True) if total == edge]
    return math.fsum(inside) + (size - len(inside)) * math.fsum(tied) / len(tied)


def point_biserial(scores: Sequence[float], rest: Sequence[float]) -> float | None:
    """Correlation of an item with a total; None where either is constant.

    Parameters
    ----------
    scores, rest : sequences of float
        Of the item, and of the paper (without the item, for the corrected figure).

    Examples
    --------
    >>> round(point_biserial([1, 1, 0, 0], [4, 3, 2, 1]), 4)
    0.8944
    """
    mean_x, mean_y = facility(scores), facility(rest)
    across = math.fsum((x - mean_x) * (y - mean_y) for x, y in zip(scores, rest, strict=True))
    own = math.fsum((x - mean_x) ** 2 for x in scores) * math.fsum((y - mean_y) ** 2 for y in rest)
    return across / math.sqrt(own) if own > 1e-18 else None


def _variance(values: Sequence[float]) -> float:
    mean = facility(values)
    return math.fsum((each - mean) ** 2 for each in values) / len(values)


def alpha(rows: Rows) -> Reliability | None:
    """Cronbach's alpha; for items of one mark it is KR-20. None for fewer than two items or three students.

    Parameters
    ----------
    rows : sequence of sequences of float
        A row a student, a column an item.

    Notes
    -----
    The interval is Feldt's: (1 - alpha) F with N - 1 and (N - 1)(k - 1) degrees of freedom.

    Examples
    --------
    >>> round(alpha([[1, 1, 1], [1, 1, 0], [1, 0, 0], [0, 0, 0]]).value, 3)
    0.75
    """
    from scipy.stats import f  # slow to load, and only class reports need it

    students, items = len(rows), len(rows[0]) if rows else 0
    if students < 3 or items < 2:
        return None
    total = _variance([math.fsum(row) for row in rows])
    if total <= 0:
        return None
    parts = math.fsum(_variance([row[at] for row in rows]) for at in range(items))
    value = items / (items - 1) * (1 - parts / total)
    over, under = students - 1, (students - 1) * (items - 1)
    least = 1 - (1 - value) * float(f.ppf(0.975, over, under))
    most = 1 - (1 - value) * float(f.ppf(0.025, over, under))
    return Reliability(value, least, most, math.sqrt(total * max(0.0, 1 - value)))


def item_figures(rows: Rows, most: Sequence[float]) -> tuple[ItemFigures, ...]:
    """Figures of every item.

    Parameters
    ----------
    rows : sequence of sequences of float
        A row a student, a column an item.
    most : sequence of float
        Marks that can be had for each item.
    """
    totals = [math.fsum(row) for row in rows]
    return tuple(_figures([row[at] for row in rows], totals, best) for at, best in enumerate(most))


def _figures(scores: Sequence[float], totals: Sequence[float], best: float) -> ItemFigures:
    share = facility(scores, best)
    rest = [total - score for total, score in zip(totals, scores, strict=True)]
    apart, correlation = discrimination(scores, totals, best), point_biserial(scores, rest)
    suspect = ""
    if len(scores) >= SMALL and apart is not None and apart < 0:
        suspect = "Those who did well got it wrong more often than those who did badly: look at its key."
    elif len(scores) >= SMALL and correlation is not None and correlation < 0:
        suspect = "It goes against the rest of the paper: look at its key."
    return ItemFigures(share, *wilson(share, len(scores)), apart, correlation, len(scores), suspect)


def option_table(
    chosen: Sequence[str], key: str, totals: Sequence[float]
) -> Mapping[str, tuple[int, float | None, bool]]:
    """For each option: how many chose it, its correlation with the total, and whether it does its work.

    Parameters
    ----------
    chosen : sequence of str
        Letters, a student each.
    key : str
        The right one.
    totals : sequence of float
        Of the paper.

    Notes
    -----
    A wrong option works if at least 5 % chose it and its correlation is below nought.
    """
    found = {}
    for letter in sorted({*chosen, key} - {""}):
        picked = [float(each == letter) for each in chosen]
        correlation = point_biserial(picked, totals)
        count = int(sum(picked))
        works = letter == key or (count >= 0.05 * len(chosen) and correlation is not None and correlation < 0)
        found[letter] = (count, correlation, works)
    return found
