"""Why a line of maths is not read: a finding, carried to where the reading began."""

from __future__ import annotations

from boardproof.algebra.kinds import KINDS
from boardproof.findings import Finding
from boardproof.source import Edit, Span

__all__ = ["Stopped", "stop"]


class Stopped(Exception):  # it ends one reading and is caught in `written`; a person sees the finding
    """Reading went no further; carries the finding that says why."""

    def __init__(self, finding: Finding) -> None:
        super().__init__(finding.kind.code)
        self.finding = finding


def stop(code: str, span: Span, edit: Edit | None = None, **facts: str) -> Stopped:
    """A finding of this room, ready to be raised; empty facts are left out.

    Parameters
    ----------
    code : str
        Row of the table of kinds.
    span : Span
        The place.
    edit : Edit, optional
        What would put it right; whoever knows the source fills in its hash.
    **facts : str
        What the sentences speak of.

    Examples
    --------
    >>> from boardproof.source import Span
    >>> stop("unread-maths", Span("x", 0, 1), why="it ends here", near="").finding.facts
    {'why': 'it ends here'}
    """
    told = {name: fact for name, fact in facts.items() if fact}
    return Stopped(Finding(KINDS[code], span, told, edit=edit))
