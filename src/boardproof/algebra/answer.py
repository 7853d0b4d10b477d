"""What comparing two expressions gives: always, never, only when, or undecided."""

from __future__ import annotations

from boardproof.algebra.expression import Relation
from boardproof.algebra.points import Point
from boardproof.algebra.polynomial import RationalFunction
from boardproof.record import record

__all__ = ["Always", "Answer", "Never", "Undecided", "When"]


@record
class Always:
    """True for all values. `decided_by`: identity, factors, squares or order; `text`: the proof in a line."""

    decided_by: str
    text: str


@record
class Never:
    """True for no values; `fails`: one point as an example."""

    decided_by: str
    text: str
    fails: Point | None = None


@record
class When:
    """True exactly in the cases.

    Parameters
    ----------
    cases : tuple of tuples of Relation
        One of the cases holds; a case holds if all its relations do.
    factors : tuple of RationalFunction
        The factors that decide.
    holds : mapping or None
        A point at which it is true; None if there is one, but none in fractions.
    fails : mapping
        A point at which it is not.
    """

    cases: tuple[tuple[Relation, ...], ...]
    factors: tuple[RationalFunction, ...]
    holds: Point | None
    fails: Point
    decided_by: str = "factors"


@record
class Undecided:
    """Neither proved nor refuted; `tries`: points at which it was true."""

    reason: str
    tries: int = 0


Answer = Always | Never | When | Undecided
