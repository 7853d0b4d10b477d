"""What to improve next: the largest part of the budget decides."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from boardproof.lab.result import Result
from boardproof.lab.uncertain import Uncertain, budget

__all__ = ["next_step"]

ADVICE: Final[Mapping[str, str]] = {
    "scatter of the readings": "more readings and currents farther apart; switch on only to read",
    "gain of the voltmeter": "a better or calibrated voltmeter; more readings do not help",
    "zero of the voltmeter": "read the voltmeter with its leads joined and take that off",
    "gain of the ammeter": "a better or calibrated ammeter; more readings do not help",
    "zero of the ammeter": "read the ammeter with nothing connected and take that off",
    "tolerance of the loads": "measure the loads, or the current itself",
}


def next_step(result: Result) -> str:
    """One sentence on what would make E and r surer.

    Parameters
    ----------
    result : Result
        With its budget.

    Examples
    --------
    >>> from fractions import Fraction as F
    >>> from boardproof.lab.readings import Reading
    >>> from boardproof.lab.result import measure
    >>> next_step(measure([Reading(n, F(n), F(5 - n)) for n in (1, 2)]))
    'a third reading at least: two say nothing about their own scatter.'
    """
    if result.degrees < 1:
        return "a third reading at least: two say nothing about their own scatter."
    if not (result.E.u or result.r.u):
        return "the readings lie exactly on a line: note one more decimal place."
    told = []
    for name, value in (("E", result.E), ("r", result.r)):
        cause, share = _largest(value)
        told.append((cause, f"{share:.0%} of what makes {name} uncertain is the {cause}".replace("%", " %")))
    advice = [ADVICE.get(_kind(cause), "") for cause, _ in told]
    if told[0][0] == told[1][0]:
        return f"{told[0][1]}, and most of r's too: {advice[0]}."
    return f"{told[0][1]}: {advice[0]}. {told[1][1]}: {advice[1]}."


def _largest(value: Uncertain) -> tuple[str, float]:
    rows = budget(value)
    return (rows[0][0], rows[0][2]) if rows else ("scatter of the readings", 1.0)


def _kind(cause: str) -> str:
    """A cause without the run that it belongs to."""
    return next((known for known in ADVICE if cause.startswith(known)), cause)
