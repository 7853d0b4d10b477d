"""What a listener reports: slips, questions, and how much was understood."""

from __future__ import annotations

import hashlib

from boardproof.record import record

__all__ = ["Report", "Slip", "best_of"]


@record
class Slip:
    """Something that was said and is not true, or that the teacher should be asked about.

    Parameters
    ----------
    start, end : int
        Words of the speech, half open.
    time : str
        When its caption begins.
    quote : str
        The words as they stand.
    kind : str
        What would mend it: number, unit, dimension, sign, direction, wrong_part, formula, comparison, overgeneral,
        condition, definition.
    right : str
        What would have been right.
    sure : float
        From 0 to 1; below 0.5 it is a question.
    instead : str
        A sentence to record in its place; empty if there is none.
    """

    start: int
    end: int
    time: str
    quote: str
    kind: str
    right: str
    sure: float = 0.9
    instead: str = ""

    @property
    def key(self) -> str:
        """Names the slip beside the lesson, so that "not a claim" is remembered: it outlives a new cut of the video."""
        plain = f"{self.kind}\x1f{' '.join(self.quote.lower().split())}"
        return hashlib.sha256(plain.encode()).hexdigest()[:8]

    @property
    def note(self) -> str:
        """What to show on screen."""
        return f"Correction: {self.instead or self.right}"


@record
class Report:
    """What was heard.

    Parameters
    ----------
    findings, questions : tuple of Slip
        Sure ones; those to ask about.
    heard, checked : int
        Statements heard, and those of them that were checked.
    words, understood : int
        Words said, and those that were placed in the script or read as a statement.
    """

    findings: tuple[Slip, ...]
    questions: tuple[Slip, ...]
    heard: int
    checked: int
    words: int
    understood: int


def best_of(slips: list[Slip]) -> tuple[tuple[Slip, ...], tuple[Slip, ...]]:
    """Findings and questions, one for each stretch of speech: the surest.

    Parameters
    ----------
    slips : list of Slip
        In any order.
    """
    kept: list[Slip] = []
    for slip in sorted(slips, key=lambda each: (-each.sure, each.end - each.start)):
        if all(slip.end <= each.start or each.end <= slip.start for each in kept):
            kept.append(slip)
    kept.sort(key=lambda each: each.start)
    return tuple(s for s in kept if s.sure >= 0.5), tuple(s for s in kept if s.sure < 0.5)
