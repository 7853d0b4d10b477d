"""What can be wrong with a brief: one row a kind."""

from __future__ import annotations

from typing import Final

from boardproof.findings import Finding, Kind, Kinds
from boardproof.source import Span

__all__ = ["KINDS", "finding"]

KINDS: Final = Kinds(
    (
        Kind(
            "brief-unmet",
            "error",
            "{arrangement} gives {value}; needed: {bound} {needed}.",
            "{better}",
            "A brief is judged against the pack: least p.d. at the load, most with no load, current through each "
            "cell, sag, energy, mass and cost. Nominal values hide the lost volts.\n\n"
            "Before: eight cells of 1.5 V and 0.4 Ω in a row for 12 V at 3 A\n\nAfter: ten in a row, four rows",
        ),
        Kind(
            "unread-brief",
            "error",
            "I can't read {text} under {field}.",
            "Write something like `{form}`.",
            "Each line of a brief is a word, a colon and a quantity with its unit, perhaps with `at least`, `at most` "
            "or `about` before it.\n\nBefore: `voltage: twelve at load`\n\nAfter: `voltage: at least 12 V at the load`",
        ),
        Kind(
            "incomplete-brief",
            "error",
            "The brief doesn't say {what}.",
            "Add a line such as `{form}`.",
            "A pack cannot be sized without a voltage, a current and a cell.\n\nBefore: `voltage: 12 V` alone\n\n"
            "After: with `current: 3 A` and `cells: A` below it",
        ),
        Kind(
            "unknown-cell",
            "error",
            "I don't know a cell called {name} with an EMF and a resistance.",
            "{near}",
            "A cell of a brief is defined with its values in the lesson's circuit, in the cell library, or with its "
            "figures on the line.\n\nBefore: `cells: Z`\n\nAfter: `cells: Z 1.5 V, 0.4 ohm`",
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
    >>> finding("incomplete-brief", Span("x", 0, 1), what="which cells").kind.code
    'incomplete-brief'
    """
    return Finding(KINDS[code], span, facts)
