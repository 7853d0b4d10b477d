"""Results beside each other: two cells, a class's groups, and cells joined in series or in parallel."""

from __future__ import annotations

import math
from collections.abc import Sequence

from boardproof.lab.chance import chi_square_above, student_above
from boardproof.lab.coverage import half_width
from boardproof.lab.result import Result
from boardproof.lab.uncertain import Uncertain, derived, effective_degrees
from boardproof.record import record

__all__ = ["Agreement", "ClassSpread", "agreement", "class_spread", "in_parallel", "in_series"]


@record
class Agreement:
    """How two values agree.

    Parameters
    ----------
    difference : Uncertain
        First less second; what both share has cancelled.
    standard : float
        The difference in standard uncertainties.
    chance : float
        How often equal things would come out as far apart.
    reach : float
        Half of the 95 % interval of the difference.
    """

    difference: Uncertain
    standard: float
    chance: float
    reach: float

    @property
    def agrees(self) -> bool:
        """Whether nought lies within the 95 % interval of the difference."""
        return abs(self.difference.value) <= self.reach


def agreement(first: Uncertain, second: Uncertain) -> Agreement:
    """Compare two values, say a prediction and what was measured.

    Parameters
    ----------
    first, second : Uncertain
        Causes that both name are taken once.

    Examples
    --------
    >>> from boardproof.lab.uncertain import measured
    >>> told = agreement(measured(1.50, 0.03, "a"), measured(1.45, 0.04, "b"))
    >>> round(told.standard, 2), told.agrees
    (1.0, True)
    """
    difference = first - second
    size = difference.u
    standard = abs(difference.value) / size if size else (math.inf if difference.value else 0.0)
    chance = (
        student_above(standard, max(1.0, effective_degrees(difference))) if size else float(standard == 0)
    )
    return Agreement(difference, standard, chance, half_width(difference) if size else 0.0)


def in_series(cells: Sequence[Result]) -> tuple[Uncertain, Uncertain]:
    """E and r of measured cells in series.

    Parameters
    ----------
    cells : sequence of Result
        One or more.
    """
    E, r = cells[0].E, cells[0].r
    for each in cells[1:]:
        E, r = E + each.E, r + each.r
    return E, r


def in_parallel(cells: Sequence[Result]) -> tuple[Uncertain, Uncertain]:
    """E and r of measured cells in parallel, plus to plus.

    Parameters
    ----------
    cells : sequence of Result
        One or more, each with r above nought.

    Notes
    -----
    r = 1/sum(1/r_k), E = r sum(E_k/r_k): the mean of the EMFs with the conductances as weights.
    """
    E, r = cells[0].E, cells[0].r
    for each in cells[1:]:
        joined = derived(lambda x, y: x * y / (x + y), r, each.r)
        E = derived(lambda a, x, b, y: (a * y + b * x) / (x + y), E, r, each.E, each.r)
        r = joined
    return E, r


@record
class ClassSpread:
    """One quantity as several groups found it.

    Parameters
    ----------
    mean : float
        Weighted by the groups' own standard uncertainties.
    u : float
        Of the mean, by what the groups state.
    spread : float
        Standard deviation of the groups' values.
    stated : float
        Root mean square of their stated uncertainties.
    ratio : float
        Birge's ratio: how much more the groups differ than they state; about 1 where all is well.
    chance : float
        How often groups with these uncertainties would differ as much.
    """

    mean: float
    u: float
    spread: float
    stated: float
    ratio: float
    chance: float


def class_spread(values: Sequence[Uncertain]) -> ClassSpread:
    """The class's spread against the uncertainties that its groups state.

    Parameters
    ----------
    values : sequence of Uncertain
        Two or more, each with an uncertainty of its own.

    Examples
    --------
    >>> from boardproof.lab.uncertain import measured
    >>> told = class_spread([measured(v, 0.02, str(v)) for v in (0.38, 0.40, 0.42)])
    >>> round(told.mean, 3), round(told.spread, 3), round(told.ratio, 2)
    (0.4, 0.02, 1.0)
    """
    count = len(values)
    weights = [1 / each.u**2 for each in values]
    mean = sum(w * each.value for w, each in zip(weights, values, strict=True)) / sum(weights)
    plain = sum(each.value for each in values) / count
    squares = sum(w * (each.value - mean) ** 2 for w, each in zip(weights, values, strict=True))
    return ClassSpread(
        mean,
        math.sqrt(1 / sum(weights)),
        math.sqrt(sum((each.value - plain) ** 2 for each in values) / (count - 1)),
        math.sqrt(sum(each.u**2 for each in values) / count),
        math.sqrt(squares / (count - 1)),
        chi_square_above(squares, count - 1),
    )
