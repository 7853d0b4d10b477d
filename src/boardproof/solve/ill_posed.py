"""Why a question about a circuit has no answer: the kinds of finding, and the structure that shows the cause.

Causes are found from how the parts are joined, before anything is solved, and name the parts. Everything that the
cause does not touch is still answered.
"""

from __future__ import annotations

from collections.abc import Iterable

from boardproof.circuit.network import Branch
from boardproof.findings import Finding, Kind, Kinds
from boardproof.source import Span

__all__ = ["KINDS", "because", "listed", "place_of"]

KINDS = Kinds(
    [
        Kind("clashing-sources", "error", "{what}", "{mend}", "Sources without resistance side by side must agree."),
        Kind("shorted-source", "error", "{what}", "{mend}", "A source without resistance joined to itself by wire."),
        Kind("wire-loop", "error", "{what}", "{mend}", "How a current shares between wires is not fixed."),
        Kind("floating-part", "error", "{what}", "{mend}", "Nothing fixes the potential of a part joined at one end."),
        Kind("no-closed-path", "error", "{what}", "{mend}", "A current needs a closed path."),
        Kind("not-fixed", "error", "The readings leave {letters} open.", "One more would fix it: {which}.", ""),
        Kind("impossible-value", "error", "{letter} = {value} cannot be.", "{forced}", ""),
        Kind("clashing-readings", "error", "No value of {letters} fits all the readings.", "{which}", ""),
        Kind(
            "no-value",
            "warning",
            "{letter} has no value, so {what} has no number.",
            "Give it one: `but {letter} = ...`.",
        ),
        Kind("unlike-cells", "note", "{what}: with unlike cells it can't be told by letters alone.", "{mend}"),
        Kind("overlong-formula", "note", "The formula for {what} has over {limit} terms.", "Give values to some."),
        Kind("no-such-quantity", "error", "{what} has no meaning here: {reason}.", ""),
    ]
)  # fmt: skip
NOWHERE = Span("", 0, 0)


def listed(names: Iterable[str], word: str = "and") -> str:
    """Names as in a sentence.

    Examples
    --------
    >>> listed(["A", "B", "C"])
    'A, B and C'
    """
    *most, last = list(names) or [""]
    return f"{', '.join(most)} {word} {last}" if most else last


def place_of(branches: Iterable[Branch]) -> Span:
    """Where the first of these parts stands in the text."""
    spans = (branch.leaf.span or branch.leaf.part.span for branch in branches if branch.leaf is not None)
    return next((span for span in spans if span is not None), NOWHERE)


def because(code: str, span: Span | None = None, **facts: str) -> Finding:
    """A finding of this room.

    Parameters
    ----------
    code : str
        Row of `KINDS`.
    span : Span or None
        Where; None if no text is known.
    facts : str
        What the row's sentences speak of.
    """
    return Finding(KINDS[code], span or NOWHERE, facts)
