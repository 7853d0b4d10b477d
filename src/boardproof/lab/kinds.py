"""What can be wrong with a table of readings: one row a kind."""

from __future__ import annotations

from typing import Final

from boardproof.findings import Finding, Kind, Kinds
from boardproof.source import Span

__all__ = ["KINDS", "finding"]

KINDS: Final = Kinds(
    (
        Kind(
            "unread-cell",
            "error",
            "Row {row}, column {column}: {what}.",
            "The row is left out until this is put right.",
            "A reading is one number; its unit stands in the heading of its column. Nothing is guessed, because a "
            "comma or a slip of the pen can move a point by a factor of a thousand.\n\n"
            "Before: `1,500 | 1.2` in a course that writes 1.5\n\nAfter: `1500 | 1.2`",
        ),
        Kind(
            "unread-heading",
            "error",
            "Column {column}: {what}.",
            "Head the columns like `I / mA | V / V` or `R / ohm | V / V`.",
            "A heading names a quantity and, after a stroke, the unit of every number below it.\n\n"
            "Before: `current (mA) | V / V`\n\nAfter: `I / mA | V / V`",
        ),
        Kind(
            "no-line",
            "error",
            "No line can be drawn through these readings: {what}.",
            "Take readings at two different loads at least, better at six.",
            "A line needs two different points, and its uncertainty a third.\n\nBefore: six readings at one load\n\n"
            "After: readings from a small current to a large one",
        ),
        Kind(
            "unused-column",
            "note",
            "Column {column} ({heading}) takes no part in the line.",
            "",
            "The line V = E - I r needs the p.d. and the current, or the p.d. and the load.\n\nBefore: a column of "
            "times\n\nAfter: as it is, if the times are kept for other reasons",
        ),
        Kind(
            "unknown-result",
            "error",
            "I don't find {word} in these readings.",
            "A line through p.d. and current gives an EMF (E) and a resistance (r).",
            "What `find:` asks for must be what the line gives.\n\nBefore: `find: C`\n\nAfter: `find: E, r`",
        ),
    )
)


def finding(code: str, span: Span, **facts: str) -> Finding:
    """A finding of this room's kinds.

    Parameters
    ----------
    code : str
        Its kind.
    span : Span
        Where.
    **facts
        What its sentences speak of.

    Examples
    --------
    >>> finding("unread-cell", Span("x", 0, 1), text="1,00").kind.code
    'unread-cell'
    """
    return Finding(KINDS[code], span, facts)
