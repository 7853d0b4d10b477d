"""Kinds of finding about practice questions."""

from __future__ import annotations

from typing import Final

from boardproof.findings import Finding, Kind, Kinds
from boardproof.source import Span

__all__ = ["KINDS", "finding"]

KINDS: Final = Kinds(
    [
        Kind(
            "unread-ask",
            "error",
            "I can't read what is asked: {reason}.",
            "Write `ask: QUANTITY as FORM, N marks`; forms are number, expression in LETTERS, choice of N, ranking, "
            "arrow, shown.",
            "Every part of a question says what is asked, in which form, and for how many marks.\n\n"
            "Before: `ask: I as picture, 2 marks`\n\nAfter: `ask: I as number, 2 marks`",
        ),
        Kind(
            "unread-range",
            "error",
            "I can't read this range: {reason}.",
            "Write `E = one of 6, 9, 12 V` or `r = 1 to 3 ohm in steps of 0.5`.",
            "A range says which values a letter may take. Its unit is that of the letter.\n\n"
            "Before: `r = between 1 and 3 ohm`\n\nAfter: `r = 1 to 3 ohm in steps of 1`",
        ),
        Kind(
            "no-good-draw",
            "error",
            "No numbers from these ranges make a good question: {reason}.",
            "Widen a range, or take smaller steps.",
            "A draw is good if every answer comes out in at most three figures, is sensible, and differs from what "
            "each wrong belief gives there.\n\n"
            "Before: `R = one of 7, 11, 13 ohm` where no current comes out in three figures\n\n"
            "After: `R = 1 to 12 ohm in steps of 0.5`",
        ),
        Kind(
            "belief-without-answer",
            "warning",
            "The belief {belief} gives no wrong answer to any part of this question.",
            "Ask for something it speaks of, or leave it out of `tell apart`.",
            "A question can tell a belief apart only where its believer would write something else.\n\n"
            "Before: `tell apart: turned cell not noticed` where no cell is turned\n\n"
            "After: the same question `but turn B`",
        ),
        Kind(
            "beliefs-alike",
            "warning",
            "{one} and {other} give the same answer to every part of this question.",
            "Another quantity may tell them apart.",
            "Two beliefs that lead to one formula can't be told apart by its value, whatever the numbers are.\n\n"
            "Before: only the current in the load is asked for\n\nAfter: a part that asks for one cell's current",
        ),
        Kind(
            "answerless-part",
            "error",
            "This part has no answer: {reason}.",
            "Every letter of the circuit needs a value or a range.",
            "A question is drawn from numbers, so each answer must follow from the circuit and the ranges.\n\n"
            "Before: `A = cell E, r` and a range for E only\n\nAfter: ranges for E and r",
        ),
    ]
)


def finding(code: str, span: Span, **facts: str) -> Finding:
    """A finding of this table.

    Parameters
    ----------
    code : str
        Of the kind.
    span : Span
        Where.
    **facts : str
        What its sentences speak of.

    Examples
    --------
    >>> finding("unread-ask", Span("x", 0, 3), reason="no form").facts["reason"]
    'no form'
    """
    return Finding(KINDS[code], span, facts)
