"""Statements and what was found out about them."""

from __future__ import annotations

import hashlib
from dataclasses import field
from typing import Literal

from boardproof.algebra.expression import Condition, Statement
from boardproof.findings import Evidence, Finding
from boardproof.record import record
from boardproof.source import Span

__all__ = ["GROUND", "Judged", "Said", "StatementKind", "Verdict", "VerdictKind", "statement_key"]

VerdictKind = Literal[
    "true",
    "true-only-when",
    "near-enough",
    "right-number-wrong-reason",
    "wrong",
    "units-differ",
    "not-checked",
]
StatementKind = Literal[
    "equation", "inequality", "limit", "number", "claim", "trap", "step", "answer", "sentence"
]
GROUND = "for all positive values"


@record
class Said:
    """One statement of a lesson: a relation, a limit, a number tied to a quantity, or a claim.

    Parameters
    ----------
    key : str
        Twelve hex digits of its text and circuit; it outlives edits elsewhere.
    kind : StatementKind
        Where it stands, or what it is.
    text : str
        As typed.
    span : Span
        Its place.
    place : int
        Number of the place in the walk through the lesson.
    relation : Statement or None
        The maths of it; None for words.
    condition : Condition or None
        What it is said under.
    """

    key: str
    kind: StatementKind
    text: str
    span: Span
    place: int
    relation: Statement | None = None
    condition: Condition | None = None


@record
class Verdict:
    """What was found out about a statement.

    Parameters
    ----------
    kind : VerdictKind
        The word for people.
    detail : str or None
        "other-direction", "early-rounding", "rounding" or "never".
    condition : str or None
        The simplest condition under which it is true.
    right : str or None
        What would be right.
    evidence : tuple of Evidence
        How we know.
    decided_by : str
        "identity", "factors", "grid", "squares", "order", "numbers" or "dimensions".
    follows : {"yes", "not-yet", "unknown", "not-asked"}
        Whether it follows from the lines above; asked of the lines of an argument only.
    missing : tuple of str
        What else it needs in order to follow.
    ground : str
        What it holds for.
    """

    kind: VerdictKind
    detail: str | None = None
    condition: str | None = None
    right: str | None = None
    evidence: tuple[Evidence, ...] = ()
    decided_by: str = "identity"
    follows: Literal["yes", "not-yet", "unknown", "not-asked"] = "not-asked"
    missing: tuple[str, ...] = ()
    ground: str = GROUND


@record
class Judged:
    """A statement with its verdict and the findings that come of it.

    `expected` is "wrong" in a trap; `met` says whether the verdict is what the place wants.
    """

    said: Said
    verdict: Verdict
    findings: tuple[Finding, ...] = field(default=())
    expected: Literal["true", "wrong"] = "true"
    met: bool = True


def statement_key(kind: str, text: str, circuit: str, nth: int) -> str:
    """Key of the `nth` statement of its kind, text and circuit in a lesson.

    Parameters
    ----------
    kind, text : str
        The statement's; white space in the text is of no account.
    circuit : str
        Id of the circuit it is about.
    nth : int
        From 0: which of several that are alike.

    Examples
    --------
    >>> len(statement_key("equation", "V = E", "3f", 0))
    12
    """
    plain = "\x1f".join((kind, " ".join(text.split()), circuit, str(nth)))
    return hashlib.sha256(plain.encode()).hexdigest()[:12]
