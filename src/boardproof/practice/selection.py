"""Which questions go together: a topic with older ones mixed in, an exit slip, a hinge question."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from boardproof.practice.families import FAMILIES
from boardproof.practice.prepared import Prepared, PreparedPart, distinct

__all__ = ["exit_slip", "hinge", "spaced"]

BACK: Final = (1, 3, 6)
"""How many topics back the older questions come from: gaps that widen."""
HINGE_OPTIONS: Final = 5


def spaced(topic: str, topics: Sequence[str] = tuple(FAMILIES)) -> tuple[str, ...]:
    """A topic with older ones at widening gaps.

    Parameters
    ----------
    topic : str
        The new one.
    topics : sequence of str
        All, in the order of the course.

    Examples
    --------
    >>> spaced("d", ["a", "b", "c", "d"])
    ('d', 'c', 'a')
    """
    at = topics.index(topic)
    return (topic, *(topics[at - gap] for gap in BACK if at >= gap))


def exit_slip(prepared: Prepared) -> Prepared:
    """The first part alone: one minute at the end of a lesson.

    Parameters
    ----------
    prepared : Prepared
        A question.
    """
    return _only(prepared, prepared.parts[0], "exit")


def hinge(prepared: Prepared) -> Prepared | None:
    """One choice whose four wrong options are four wrong rules apart; None if no part has four.

    Parameters
    ----------
    prepared : Prepared
        A question.

    Examples
    --------
    >>> from boardproof.practice.families import family
    >>> hinge(family("one-cell")).parts[0].asked.options
    5
    """
    numeric = [part for part in prepared.parts if part.is_numeric]
    best = max(numeric, key=lambda part: len(distinct(part)), default=None)
    if best is None or len(distinct(best)) < HINGE_OPTIONS - 1:
        return None
    asked = replace(
        best.asked, form="choice", options=HINGE_OPTIONS, marks=1, points=best.asked.points[-1:], after=()
    )
    return _only(prepared, replace(best, asked=asked), "hinge")


def _only(prepared: Prepared, part: PreparedPart, kind: str) -> Prepared:
    asked = replace(part.asked, label="", after=())
    question = prepared.question
    short = replace(
        question,
        id=f"{int(question.id, 16) ^ int.from_bytes(kind.encode()[:4], 'big'):012x}",
        version=f"{int(question.version, 16) ^ int.from_bytes(kind.encode()[:4], 'big'):012x}",
        parts=(asked,),
        tell_apart=tuple(each for each in question.tell_apart if part.thoughts and each in part.thoughts[0]),
    )
    return replace(prepared, question=short, parts=(replace(part, asked=asked),))
