"""What a belief looks at: a quantity, its circuit in letters, and what stands beside or in line with its part."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Final, Literal

from boardproof.algebra.polynomial import RationalFunction
from boardproof.circuit.change import done_to
from boardproof.circuit.lay_flat import lay_flat
from boardproof.circuit.look_up import Resolved
from boardproof.circuit.model import (
    Across,
    Circuit,
    Copies,
    Item,
    Leaf,
    Network,
    Parallel,
    Part,
    Series,
    Worth,
    has_cells,
    leaves,
    members,
)
from boardproof.circuit.place import remade
from boardproof.circuit.quantity import QuantityKind, QuantityRef
from boardproof.record import record
from boardproof.solve.answers import Value, answers
from boardproof.solve.arithmetic import Arithmetic
from boardproof.solve.reduce import Reduction, reduced_item

__all__ = ["Among", "Ground", "asked", "letter", "rewritten"]

STAND_IN: Final = "W_believed"


def letter(name: str) -> RationalFunction:
    """A letter of the circuit."""
    return RationalFunction.letter(name)


def asked(circuit: Circuit, kind: QuantityKind, *of: str, sense: int = 1) -> RationalFunction | None:
    """A quantity of a circuit in letters; None where it has no answer.

    Parameters
    ----------
    circuit : Circuit
        With its changes.
    kind : QuantityKind
        What is asked.
    *of : str
        Of which part or group.
    sense : +1 or -1
        Direction.
    """
    found = answers(circuit, "letters").ask(QuantityRef(kind, of, circuit.id, sense))
    return found.exact if isinstance(found, Value) and isinstance(found.exact, RationalFunction) else None


def rewritten(item: Item, each: Callable[[Item], Item | None]) -> Item:
    """A tree in which `each` puts something in place of what it knows; None leaves an item to its members.

    Parameters
    ----------
    item : Item
        Any tree.
    each : function from Item to Item or None
        The change.
    """
    new = each(item)
    return remade(item, lambda inner: rewritten(inner, each)) if new is None else new


@record
class Among:
    """Resistances that stand in one group, and which of them is asked of.

    Parameters
    ----------
    joined : {"series", "parallel"}
        How.
    resistances : tuple of RationalFunction
        In the order written.
    at : int
        The one asked of; -1 if the whole group is.
    group : Item or None
        The group in the tree; None where it is one of a network.
    current, pd : RationalFunction or None
        The group's own, as they are.
    is_direct : bool
        Whether the part itself is the member.
    """

    joined: Literal["series", "parallel"]
    resistances: tuple[RationalFunction, ...]
    at: int
    group: Item | None
    current: RationalFunction | None
    pd: RationalFunction | None
    is_direct: bool


@dataclass(frozen=True)
class Ground:
    """A quantity with its circuit, for the rules.

    Parameters
    ----------
    quantity : Resolved
        What is asked.
    before : Circuit or None
        The circuit before a change, if the question speaks of one.
    """

    quantity: Resolved
    before: Circuit | None = None

    @property
    def circuit(self) -> Circuit:
        """In which it is asked."""
        return self.quantity.circuit

    @property
    def kind(self) -> QuantityKind:
        """What is asked."""
        return self.quantity.ref.kind

    @property
    def path(self) -> str:
        """Of which part or group; empty for a letter."""
        return self.quantity.ref.of[0] if self.quantity.ref.of else ""

    @cached_property
    def right(self) -> RationalFunction | None:
        """The true answer."""
        return self.again(self.circuit)

    @cached_property
    def part(self) -> Part | None:
        """The part asked of; None for a group."""
        return next((leaf.part for leaf in self.circuit.leaves if leaf.path == self.path), None)

    def again(self, circuit: Circuit) -> RationalFunction | None:
        """The same question asked of another circuit."""
        ref = self.quantity.ref
        return asked(circuit, ref.kind, *ref.of, sense=ref.sense)

    def changed(self, each: Callable[[Item], Item | None]) -> RationalFunction | None:
        """The same question after a change of the tree; None if that changes nothing."""
        item = rewritten(self.circuit.item, each)
        return None if item == self.circuit.item else self.again(replace(self.circuit, item=item))

    def with_resistance(self, group: Item, resistance: RationalFunction) -> RationalFunction | None:
        """The same question if a group without cells had another resistance."""
        stand_in = Part(STAND_IN, "resistor", resistance=Worth(STAND_IN))
        found = self.changed(lambda item: Leaf(item.path or STAND_IN, stand_in) if item is group else None)
        return None if found is None else _put(found, resistance)

    @cached_property
    def beside(self) -> Among | None:
        """What stands parallel to the part asked of, nearest first."""
        return self._among("parallel") or self._flat()

    @cached_property
    def in_line(self) -> Among | None:
        """What stands in series with the part asked of."""
        return self._among("series")

    def _among(self, joined: Literal["series", "parallel"]) -> Among | None:
        whole, _ = done_to(self.circuit.item)
        chain = _chain(whole, self.path) if self.path else []
        for place, item in reversed(list(enumerate(chain))):
            inner, _ = done_to(item)
            if has_cells(inner) or _joint(inner) != joined:
                continue
            rows = _rows(inner)
            resistances = [_resistance(each) for each in rows]
            if len(rows) < 2 or None in resistances:
                continue
            held = chain[place + 1 :]
            at = next((n for n, row in enumerate(rows) if any(row is each for each in held)), -1)
            is_direct = at >= 0 and done_to(rows[at])[0].path == self.path
            known = tuple(each for each in resistances if each is not None)
            return Among(joined, known, at, inner, *self._own(inner, joined), is_direct)
        return None

    def _own(self, group: Item, joined: str) -> tuple[RationalFunction | None, RationalFunction | None]:
        """Current and p.d. of a group, by its members where it has no name."""
        if group.path:
            return asked(self.circuit, "current", group.path), asked(self.circuit, "pd", group.path)
        rows = [done_to(each)[0].path for each in _rows(group)]
        flows, rises = ([asked(self.circuit, kind, row) for row in rows if row] for kind in ("current", "pd"))
        if len(flows) < len(rows) or None in flows or None in rises:
            return None, None
        zero = RationalFunction.constant(0)
        found = [[each for each in some if each is not None] for some in (flows, rises)]
        if joined == "series":
            return found[0][0], sum(found[1], zero)
        return sum(found[0], zero), found[1][0]

    def groups(self) -> tuple[Among, ...]:
        """Every group without cells, innermost first, as a whole."""
        return tuple(filter(None, map(self._group, _passive(self.circuit.item))))

    def _group(self, item: Item) -> Among | None:
        inner, _ = done_to(item)
        joint = _joint(inner)
        if joint not in {"series", "parallel"}:
            return None
        found = [_resistance(each) for each in _rows(inner)]
        known = tuple(each for each in found if each is not None)
        if len(known) < 2 or len(known) < len(found):
            return None
        return Among(
            "series" if joint == "series" else "parallel", known, -1, inner, None, None, is_direct=False
        )

    def _flat(self) -> Among | None:
        """Single resistors that join the same two nodes of a network."""
        flat = lay_flat(self.circuit)
        own = next((branch for branch in flat.branches if branch.path == self.path), None)
        if own is None or own.leaf is None or not isinstance(own.leaf, Leaf) or has_cells(own.leaf):
            return None
        alike = [
            branch
            for branch in flat.branches
            if {branch.tail, branch.head} == {own.tail, own.head}
            and isinstance(branch.leaf, Leaf)
            and branch.leaf.part.resistance is not None
            and not has_cells(branch.leaf)
        ]
        if len(alike) < 2 or any(branch.in_series or branch.in_parallel for branch in alike):
            return None
        resistances = tuple(
            letter(branch.leaf.part.resistance.letter)
            for branch in alike
            if isinstance(branch.leaf, Leaf) and branch.leaf.part.resistance is not None
        )
        pd = asked(self.circuit, "pd", self.path)
        total = None if pd is None else sum((pd / each for each in resistances), RationalFunction.constant(0))
        return Among("parallel", resistances, alike.index(own), None, total, pd, is_direct=True)


def _put(found: RationalFunction, resistance: RationalFunction) -> RationalFunction | None:
    try:
        return found.substitute({STAND_IN: resistance})
    except ZeroDivisionError:
        return None


def _passive(item: Item) -> list[Item]:
    """Groups without cells, innermost first."""
    below = [each for member in members(item) for each in _passive(member)]
    return below if has_cells(item) or isinstance(item, Leaf) else [*below, item]


def _chain(item: Item, path: str) -> list[Item]:
    """The items from the whole down to the one at a path; empty if it is not there."""
    if item.path == path and not isinstance(item, Across):
        return [item]
    for member in members(item):
        below = _chain(member, path)
        if below:
            return [item, *below]
    return []


def _joint(item: Item) -> str:
    match item:
        case Series():
            return "series"
        case Parallel():
            return "parallel"
        case Copies(joined=joined):
            return joined
        case _:
            return ""


def _rows(item: Item) -> tuple[Item, ...]:
    """Members, each copy by itself; nothing where a letter counts them."""
    if not isinstance(item, Copies):
        return members(item)
    if any(isinstance(run.count, str) for run in item.runs):
        return ()
    return tuple(run.item for run in item.runs for _ in range(int(run.count)))


def _resistance(item: Item) -> RationalFunction | None:
    if isinstance(item, Network) or any(leaf.part.kind in {"capacitor", "switch"} for leaf in leaves(item)):
        return None
    step = reduced_item(item, Arithmetic("letters"))
    if not isinstance(step, Reduction):
        return None
    found = step.line.resistance
    return found if isinstance(found, RationalFunction) and not found.is_zero else None
