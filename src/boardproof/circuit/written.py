"""Circuit expressions as written, before their names mean anything."""

from __future__ import annotations

from fractions import Fraction
from typing import Literal

from boardproof.circuit.model import Count, Kind
from boardproof.quantities import Unit
from boardproof.record import record
from boardproof.source import Span

__all__ = [
    "Act",
    "Assign",
    "Change",
    "ChangeWord",
    "Closed",
    "Copied",
    "Entry",
    "Gap",
    "Joined",
    "Ref",
    "Turned",
    "UseSet",
    "Varied",
    "Written",
]

ChangeWord = Literal["turn", "open", "close", "short", "no emf in", "remove"]


@record
class Entry:
    """One value after a kind: a quantity, a letter, both, or a state (``open``, ``lithium``)."""

    span: Span
    letter: str | None = None
    value: Fraction | None = None
    unit: Unit | None = None
    state: str | None = None


@record
class Act:
    """Something done to a part or group."""

    how: ChangeWord
    path: str
    span: Span


@record
class Assign:
    """New values, or another kind, for a part, a member or a letter."""

    name: str
    entries: tuple[Entry, ...]
    span: Span
    kind: Kind | None = None


@record
class UseSet:
    """A named set of values put in force."""

    name: str
    span: Span


Change = Act | Assign | UseSet


@record
class Ref:
    """A name or a path to a member: ``A``, ``bank.2.3``."""

    path: str
    span: Span


@record
class Gap:
    """The dots in ``A_3 || ... || A_n``."""

    span: Span


@record
class Turned:
    """Something the other way round."""

    of: Written
    span: Span


@record
class Joined:
    """Items in series (+) or side by side (||)."""

    sign: Literal["+", "||"]
    items: tuple[Written, ...]
    span: Span


@record
class Copied:
    """Copies of one thing; `shape` names the outer arrangement first."""

    of: Written
    shape: tuple[tuple[Literal["series", "parallel"], Count], ...]
    span: Span
    tied: bool = False
    link: Entry | None = None


@record
class Closed:
    """One thing across another."""

    first: Written
    second: Written
    span: Span


@record
class Varied:
    """A circuit and what is done to it."""

    base: Written
    changes: tuple[Change, ...]
    span: Span


Written = Ref | Gap | Turned | Joined | Copied | Closed | Varied
