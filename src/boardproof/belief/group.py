"""A group of cells as its members' EMFs and resistances, with what stands at its terminals."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Final, Literal

from boardproof.algebra.polynomial import RationalFunction
from boardproof.circuit.look_up import Resolved
from boardproof.circuit.model import Across, Changed, Circuit, Copies, Item, Leaf, Parallel, Series, has_cells
from boardproof.circuit.place import Missing, find
from boardproof.circuit.quantity import QuantityKind, QuantityRef
from boardproof.record import record
from boardproof.solve.answers import Value, answers

__all__ = ["Group", "Member", "group_of"]

Joined = Literal["parallel", "series", "bank", "one"]
ONE: Final = RationalFunction.constant(1)
ZERO: Final = RationalFunction.constant(0)


@record
class Member:
    """A member: EMF (without sign), resistance, +1 or -1 for a turned one, and how many are like it."""

    emf: RationalFunction
    resistance: RationalFunction
    sign: int
    count: RationalFunction


@dataclass(frozen=True)
class Group:
    """Members joined in one way; in a bank `along` cells make a row and `across` rows stand side by side.

    Parameters
    ----------
    joined : {"parallel", "series", "bank", "one"}
        How.
    members : tuple of Member
        In order.
    load : RationalFunction or None
        Resistance at the terminals.
    along, across : RationalFunction
        Counts of a bank.
    """

    joined: Joined
    members: tuple[Member, ...]
    load: RationalFunction | None
    along: RationalFunction = ONE
    across: RationalFunction = ONE

    @cached_property
    def count(self) -> RationalFunction:
        """How many members."""
        return sum((each.count for each in self.members), ZERO)

    @cached_property
    def emf(self) -> RationalFunction:
        """Its EMF as it is."""
        if self.joined == "bank":
            return self.along * self.members[0].emf
        if self.joined != "parallel":
            return sum((m.count * m.emf * m.sign for m in self.members), ZERO)
        short = sum((m.count * m.emf * m.sign / m.resistance for m in self.members), ZERO)
        return short * self.resistance

    @cached_property
    def resistance(self) -> RationalFunction:
        """Its resistance as it is."""
        if self.joined == "bank":
            return self.along * self.members[0].resistance / self.across
        if self.joined != "parallel":
            return sum((m.count * m.resistance for m in self.members), ZERO)
        return 1 / sum((m.count / m.resistance for m in self.members), ZERO)


def group_of(quantity: Resolved) -> Group | None:
    """The group of cells that a quantity speaks of: its own, or the one that feeds its load.

    Parameters
    ----------
    quantity : Resolved
        A quantity and its circuit.
    """
    circuit, ref = quantity.circuit, quantity.ref
    closed = _inner(circuit.item)
    item: Item | None = closed.source if isinstance(closed, Across) else closed
    load = closed.load if isinstance(closed, Across) else None
    if ref.kind in {"emf", "resistance", "short_circuit_current", "terminal_pd"} and len(ref.of) == 1:
        found = find(circuit.item, ref.of[0], circuit.values)
        if isinstance(found, Missing):
            return None
        if load is not None and not _same(found, item):
            load = None
        item = found
    if item is None or not has_cells(item):
        return None
    outside = _resistance(load) if load is not None else None
    return _grouped(item, outside)


def _inner(item: Item) -> Item:
    while isinstance(item, Changed):
        item = item.item
    return item


def _same(one: Item, other: Item | None) -> bool:
    return other is not None and _inner(one) == _inner(other)


def _grouped(item: Item, load: RationalFunction | None) -> Group | None:
    match _inner(item):
        case Parallel(items=items):
            members = [_member(each, ONE) for each in items]
            joined: Joined = "parallel"
        case Series(items=items):
            kept_items = [each for each in items if not _is_bare(each)]
            if len(kept_items) == 1:
                return _grouped(kept_items[0], load)
            members = [_member(each, ONE) for each in kept_items]
            joined = "series"
        case Copies(joined=how, runs=runs):
            inner = _inner(runs[0].item)
            if len(runs) == 1 and isinstance(inner, Copies) and len(inner.runs) == 1 and inner.joined != how:
                cell = _member(inner.runs[0].item, ONE)
                outer, within = _count(runs[0].count), _count(inner.runs[0].count)
                along, across = (within, outer) if how == "parallel" else (outer, within)
                return Group("bank", (cell,), load, along, across) if cell else None
            members = [_member(each.item, _count(each.count)) for each in runs]
            joined = how
        case Leaf() as leaf:
            members, joined = [_member(leaf, ONE)], "one"
        case _:
            return None
    kept = tuple(each for each in members if each is not None)
    return Group(joined, kept, load) if len(kept) == len(members) else None


def _is_bare(item: Item) -> bool:
    """Whether it is no more than wire: a closed switch, an ideal ammeter."""
    if not isinstance(item, Leaf):
        return False
    part = item.part
    closed = part.kind == "switch" and part.closed
    return closed or part.kind == "wire" or (part.kind == "ammeter" and part.resistance is None)


def _count(count: int | str) -> RationalFunction:
    return RationalFunction.letter(count) if isinstance(count, str) else RationalFunction.constant(count)


def _member(item: Item, count: RationalFunction) -> Member | None:
    sign = 1
    while isinstance(item, Changed):
        if item.how != "turned":
            return None
        sign, item = -sign, item.item
    if isinstance(item, Leaf) and item.part.kind == "cell" and item.part.emf and item.part.resistance:
        emf, inside = (RationalFunction.letter(each.letter) for each in (item.part.emf, item.part.resistance))
        return Member(emf, inside, sign, count)
    if not item.path or not has_cells(item):
        return None
    ends = [_asked(kind, item) for kind in ("emf", "resistance")]
    return Member(ends[0], ends[1], sign, count) if ends[0] is not None and ends[1] is not None else None


def _asked(kind: str, item: Item) -> RationalFunction | None:
    kinds: dict[str, QuantityKind] = {"emf": "emf", "resistance": "resistance"}
    alone = Circuit(item)
    value = answers(alone, "letters").ask(QuantityRef(kinds[kind], (item.path,), alone.id))
    return value.exact if isinstance(value, Value) and isinstance(value.exact, RationalFunction) else None


def _resistance(load: Item) -> RationalFunction | None:
    inner = _inner(load)
    if isinstance(load, Leaf) and load.part.resistance is not None:
        return RationalFunction.letter(load.part.resistance.letter)
    return _asked("resistance", inner) if inner.path and not has_cells(inner) else None
