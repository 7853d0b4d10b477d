"""What the tool found: facts first, words made once, every surface draws the same record.

A *kind* is a row of a table that each room keeps for itself. A room returns `Finding` values (a kind, a
place and facts); `worded` turns one into a `Diagnostic`. Drawing them (terminal, JSON, pages) is left to the edge.
"""

from __future__ import annotations

import difflib
import string
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Literal

from boardproof.record import record
from boardproof.source import Edit, Source, Span

__all__ = [
    "Diagnostic",
    "Evidence",
    "Finding",
    "Kind",
    "Kinds",
    "Severity",
    "excerpt",
    "near_names",
    "worded",
]

Severity = Literal["error", "warning", "note"]
NOTHING: Mapping[str, str] = MappingProxyType({})


@record
class Kind:
    """One kind of finding: a row of a room's table.

    Parameters
    ----------
    code : str
        Two or three words joined by hyphens that name what is wrong.
    severity : {"error", "warning", "note"}
        What it does to the exit status: an error makes it 1.
    message, help : str
        Sentences with ``{fact}`` places. A help that lacks one of its facts is left out.
    page : str
        What it means, why it matters to a class, a sample that shows it and the sample put right (Markdown).
    """

    code: str
    severity: Severity
    message: str
    help: str = ""
    page: str = ""


class Kinds(Mapping[str, Kind]):
    """A room's table of kinds, by code; it refuses a second row of one code.

    Examples
    --------
    >>> table = Kinds([Kind("zero-count", "error", "{count}: no row at all.")])
    >>> table["zero-count"].severity
    'error'
    """

    def __init__(self, rows: Iterable[Kind]) -> None:
        """Take the rows in order."""
        self._rows: dict[str, Kind] = {}
        for row in rows:
            if row.code in self._rows:
                raise ValueError(f"two kinds of finding are called {row.code!r}")
            self._rows[row.code] = row

    def __getitem__(self, code: str) -> Kind:
        """The row with this code."""
        return self._rows[code]

    def __iter__(self) -> Iterator[str]:
        """Codes in table order."""
        return iter(self._rows)

    def __len__(self) -> int:
        """Number of rows."""
        return len(self._rows)


@dataclass(frozen=True, slots=True)
class Evidence:
    """How we know: enough for a teacher to be convinced without trusting the tool.

    Parameters
    ----------
    kind : str
        "identity", "factors", "counterexample", "dimensions", "figures", "working", "second-solution",
        "certificate", "source" or "machine".
    text : str
        One readable line.
    values : mapping of str to str
        Letter to value with unit, where numbers are given.
    """

    kind: str
    text: str
    values: Mapping[str, str] = field(default_factory=lambda: NOTHING)


@dataclass(frozen=True, slots=True)
class Finding:
    """A fact about a place, before words.

    Parameters
    ----------
    kind : Kind
        Row of the room's table.
    span : Span
        Where; the smallest place that shows it.
    facts : mapping of str to str
        What the kind's sentences speak of.
    evidence : tuple of Evidence
        How we know.
    related : tuple of (Span, str)
        Other places that belong to it, each with a word.
    edit : Edit or None
        What would put it right.
    severity : {"error", "warning", "note"} or None
        In place of the kind's, where this case is milder than usual.
    """

    kind: Kind
    span: Span
    facts: Mapping[str, str] = field(default_factory=lambda: NOTHING)
    evidence: tuple[Evidence, ...] = ()
    related: tuple[tuple[Span, str], ...] = ()
    edit: Edit | None = None
    severity: Severity | None = None


@record
class Diagnostic:
    """A finding in words, ready to be drawn; fields as in `Finding` and `Kind`."""

    code: str
    severity: Severity
    span: Span
    message: str
    help: str
    related: tuple[tuple[Span, str], ...]
    evidence: tuple[Evidence, ...]
    edit: Edit | None
    page: str


def worded(finding: Finding) -> Diagnostic:
    """Put a finding into words.

    Parameters
    ----------
    finding : Finding
        Its facts must hold every name that the kind's message speaks of.

    Returns
    -------
    Diagnostic
        The help is empty if one of its facts is missing.

    Examples
    --------
    >>> row = Kind("zero-count", "error", "{count}: no row at all.", "Write {better}.")
    >>> worded(Finding(row, Span("a", 0, 4), {"count": "3s0p"})).message
    '3s0p: no row at all.'
    """
    kind, facts = finding.kind, finding.facts
    wanted = {name for _, name, _, _ in string.Formatter().parse(kind.help) if name}
    helping = kind.help.format_map(dict(facts)) if wanted <= set(facts) else ""
    return Diagnostic(
        kind.code,
        finding.severity or kind.severity,
        finding.span,
        kind.message.format_map(dict(facts)),
        helping,
        finding.related,
        finding.evidence,
        finding.edit,
        kind.page,
    )


def near_names(word: str, known: Iterable[str]) -> tuple[str, ...]:
    """Up to four known names that look like `word`, nearest first.

    Parameters
    ----------
    word : str
        As typed.
    known : iterable of str
        The names that would have done.

    Examples
    --------
    >>> near_names("resistr", ["cell", "resistor", "switch"])
    ('resistor',)
    """
    return tuple(difflib.get_close_matches(word, sorted(set(known)), n=4, cutoff=0.6))


def excerpt(source: Source, span: Span) -> str:
    """The line that a place begins on, with a pointer under it.

    Parameters
    ----------
    source : Source
        The text the place is in.
    span : Span
        The place; only its first line is shown.

    Examples
    --------
    >>> text = Source("a", "A = cel 6 V")
    >>> print(excerpt(text, Span("a", 4, 7)))
      1 | A = cel 6 V
        |     ^^^
    """
    row, column = source.position(span.start)
    line = source.line(row).replace("\t", " ")
    length = max(1, min(span.end - span.start, len(line) - column + 1))
    gutter = str(row).rjust(3)
    return f"{gutter} | {line}\n{' ' * len(gutter)} | {' ' * (column - 1)}{'^' * length}"
