"""A circuit as a tree of parts and groups, in the order in which a current driven by its cells would meet them.

Every item has two ends. A cell's first end is its minus, its last end its plus; a group's first and last ends are
those of its first and last members. An item without cells that stands beside one with cells (in `Parallel` or
`Across`) is walked the other way, from plus end to minus end, so its current is the one that the cells drive.

A change (`turn`, `open`, ...) wraps an item and keeps it, so that a part stays itself from picture to picture.
Solving, drawing and reading are left to others.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from functools import cached_property
from types import MappingProxyType
from typing import Literal

from boardproof.record import record
from boardproof.source import Span

__all__ = [
    "Across",
    "Changed",
    "Circuit",
    "CircuitId",
    "Copies",
    "Count",
    "Family",
    "How",
    "Item",
    "Kind",
    "Leaf",
    "Network",
    "Parallel",
    "Part",
    "Run",
    "Series",
    "Worth",
    "has_cells",
    "leaves",
    "members",
]

CircuitId = str
Kind = Literal[
    "cell", "source", "resistor", "switch", "ammeter", "voltmeter", "wire", "capacitor", "lamp", "diode"
]
_Chemistry = Literal["primary", "rechargeable", "lithium", "lead-acid"]
How = Literal["turned", "open", "shorted", "removed", "without emf"]
Count = int | str
"""A whole number from 1, or the letter of one."""


@record
class Worth:
    """A letter and, if it has one, its value in SI units."""

    letter: str
    value: Fraction | None = None
    span: Span | None = field(default=None, compare=False, repr=False)


@record
class Part:
    """One physical thing.

    Parameters
    ----------
    name : str
        As the teacher wrote it: ``A``, ``R_load``.
    kind : Kind
        What it is.
    emf : Worth or None
        Of a cell or an ideal source.
    resistance : Worth or None
        Inside a cell, of a resistor, or of a meter that is not ideal; None where there is none (an ideal
        source, a wire, an ideal ammeter: nought; an ideal voltmeter: no way through).
    capacitance : Worth or None
        Of a capacitor.
    closed : bool
        Of a switch.
    chemistry : _Chemistry
        Of a cell; decides the cautions only.
    """

    name: str
    kind: Kind
    emf: Worth | None = None
    resistance: Worth | None = None
    capacitance: Worth | None = None
    closed: bool = False
    chemistry: _Chemistry = "primary"
    span: Span | None = field(default=None, compare=False, repr=False)

    def worths(self) -> tuple[Worth, ...]:
        """The letters that the part carries, EMF first."""
        return tuple(worth for worth in (self.emf, self.resistance, self.capacitance) if worth is not None)


@record
class Leaf:
    """A part at its place; `path` is unique in a circuit: ``A``, ``bank.2.3``."""

    path: str
    part: Part
    span: Span | None = field(default=None, compare=False, repr=False)


@record
class Family:
    """Unlike parts numbered `first` to `last` of which only the general one is written: ``A_3 || ... || A_n``.

    The letters of `part` hold the index: a part ``A_k`` with ``E_k``, ``r_k``. `joined` says how the members are
    joined to each other where the family stands.
    """

    part: Part
    index: str
    first: int
    last: Count
    path: str
    joined: Literal["series", "parallel"] = "parallel"
    span: Span | None = field(default=None, compare=False, repr=False)


@record
class Series:
    """Items one behind the other, minus end first."""

    items: tuple[Item, ...]
    path: str = ""
    span: Span | None = field(default=None, compare=False, repr=False)


@record
class Parallel:
    """Items side by side, plus end to plus end."""

    items: tuple[Item, ...]
    path: str = ""
    span: Span | None = field(default=None, compare=False, repr=False)


@record
class Run:
    """Neighbours that are alike: members `first` to `first` + `count` - 1, each like `item`.

    `item` carries the path of the first of them; the others differ in that one number only.
    """

    first: int
    count: Count
    item: Item


@record
class Copies:
    """Copies of one item in series or in parallel, as runs of alike neighbours.

    Parameters
    ----------
    joined : {"series", "parallel"}
        How they are joined.
    runs : tuple of Run
        In order, without gaps, from member 1. A letter count stands alone in a single run.
    path : str
        The name it was given, or the path of this member (``bank``, ``bank.2``).
    tied : bool
        Whether neighbours of neighbouring rows are tied to each other (blocks in series drawn as rows with ties).
    link : Worth or None
        Resistance of each joint between neighbours.
    """

    joined: Literal["series", "parallel"]
    runs: tuple[Run, ...]
    path: str = ""
    tied: bool = False
    link: Worth | None = None
    span: Span | None = field(default=None, compare=False, repr=False)

    @property
    def count(self) -> Count:
        """How many there are; a letter if it is one."""
        total = 0
        for run in self.runs:
            if isinstance(run.count, str):
                return run.count
            total += run.count
        return total


@record
class Network:
    """Parts and groups between named nodes: anything that is not series-parallel.

    Parameters
    ----------
    branches : tuple of (Item, str, str)
        Each from its first to its second node.
    ends : tuple of (str, str) or None
        First (minus) and last (plus) end; None if it is complete in itself.
    """

    branches: tuple[tuple[Item, str, str], ...]
    ends: tuple[str, str] | None = None
    path: str = ""
    span: Span | None = field(default=None, compare=False, repr=False)


@record
class Across:
    """A closed circuit: `source` (the side with cells) and `load` share both ends."""

    source: Item
    load: Item
    path: str = ""
    span: Span | None = field(default=None, compare=False, repr=False)


@record
class Changed:
    """An item to which something was done: turned, broken open, shorted by a wire, taken away, EMFs taken out."""

    item: Item
    how: How
    span: Span | None = field(default=None, compare=False, repr=False)

    @property
    def path(self) -> str:
        """Path of the item itself."""
        return self.item.path


Item = Leaf | Family | Series | Parallel | Copies | Network | Across | Changed


@dataclass(frozen=True)
class Circuit:
    """A circuit with every change in force.

    Parameters
    ----------
    item : Item
        The tree.
    values : mapping of str to Fraction
        Letter to value in SI units (counts plain); letters without a value are missing.
    zero : str or None
        Node from which potential is counted.
    written : str
        The circuit expression in the teacher's words, for the excerpt and the text alternative.
    """

    item: Item
    values: Mapping[str, Fraction] = field(default_factory=lambda: MappingProxyType({}))
    zero: str | None = None
    written: str = field(default="", compare=False)

    @cached_property
    def id(self) -> CircuitId:
        """Hash of everything that decides an answer; equal circuits share it (places in the text are not shown)."""
        plain = repr((self.item, sorted(self.values.items()), self.zero))
        return hashlib.sha256(plain.encode()).hexdigest()[:16]

    @cached_property
    def leaves(self) -> tuple[Leaf | Family, ...]:
        """Every part, in order; one of each run of copies."""
        return tuple(leaves(self.item))

    @cached_property
    def letters(self) -> tuple[str, ...]:
        """The letters that parts carry, each once, in order."""
        return tuple(dict.fromkeys(worth.letter for leaf in self.leaves for worth in leaf.part.worths()))

    @cached_property
    def counts(self) -> frozenset[str]:
        """The letters that count members."""
        return frozenset(_counts(self.item))


def members(item: Item) -> tuple[Item, ...]:
    """What an item is made of, one level down, in order (one for each run of copies).

    Parameters
    ----------
    item : Item
        Any tree.

    Examples
    --------
    >>> a, b = Leaf("A", Part("A", "cell")), Leaf("B", Part("B", "cell"))
    >>> [each.path for each in members(Series((a, b)))], members(a)
    (['A', 'B'], ())
    """
    match item:
        case Series(items=items) | Parallel(items=items):
            return items
        case Copies(runs=runs):
            return tuple(run.item for run in runs)
        case Network(branches=branches):
            return tuple(branch for branch, _, _ in branches)
        case Across(source=source, load=load):
            return (source, load)
        case Changed(item=inner):
            return (inner,)
        case Leaf() | Family():
            return ()


def leaves(item: Item) -> Iterator[Leaf | Family]:
    """Every part of an item, in order; one of each run of copies.

    Parameters
    ----------
    item : Item
        Any tree; counts and changes are not looked at.

    Examples
    --------
    >>> cell, load = Leaf("A", Part("A", "cell")), Leaf("R", Part("R", "resistor"))
    >>> twelve = Copies("parallel", (Run(1, 12, cell),))
    >>> [each.path for each in leaves(Across(twelve, load))]
    ['A', 'R']
    """
    if isinstance(item, Leaf | Family):
        yield item
    for member in members(item):
        yield from leaves(member)


def _counts(item: Item) -> Iterator[str]:
    if isinstance(item, Copies):
        yield from (run.count for run in item.runs if isinstance(run.count, str))
    elif isinstance(item, Family) and isinstance(item.last, str):
        yield item.last
    for member in members(item):
        yield from _counts(member)


def has_cells(item: Item) -> bool:
    """Whether an item holds a cell or a source, working or not: it decides which end comes first.

    Parameters
    ----------
    item : Item
        Any tree.

    Examples
    --------
    >>> cell = Leaf("A", Part("A", "cell"))
    >>> has_cells(Changed(cell, "without emf")), has_cells(Leaf("R", Part("R", "resistor")))
    (True, False)
    """
    return any(leaf.part.kind in ("cell", "source") for leaf in leaves(item))
