"""A circuit laid flat: its parts as branches between numbered nodes, alike copies as one branch with its factors.

Direction: a branch runs as its group is walked. An item without cells beside one with cells is walked from plus
to minus; a turned cell keeps the group's direction and is marked, anything else that is turned is walked backwards.

A broken part is an open branch; a broken group breaks at its last end (``open:PATH``). Joints between copies:
in rows each cell is joined to the next of its row; in tied blocks neighbouring columns are tied at every inner level.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise
from types import MappingProxyType

from boardproof.circuit.change import done_to
from boardproof.circuit.count import whole
from boardproof.circuit.model import (
    Across,
    Changed,
    Circuit,
    Copies,
    Count,
    Family,
    How,
    Item,
    Leaf,
    Network,
    Parallel,
    Part,
    Run,
    Series,
    Worth,
    has_cells,
)
from boardproof.circuit.network import Branch, FlatNetwork, Terminals
from boardproof.circuit.place import moved
from boardproof.record import record

__all__ = ["has_loop", "lay_flat"]


@record
class _Under:
    """What the groups around an item say of everything in it."""

    in_series: tuple[Count, ...] = ()
    in_parallel: tuple[Count, ...] = ()
    emf_out: bool = False
    removed: bool = False
    turned: bool = False
    is_open: bool = False


def lay_flat(circuit: Circuit | Item) -> FlatNetwork:
    """The branches and nodes of a circuit, or of a group by itself.

    Parameters
    ----------
    circuit : Circuit or Item
        A circuit with its values (they decide the size of tied copies), or a bare tree.

    Returns
    -------
    FlatNetwork
        Node 0 is the first end and node 1 the last, where there are ends.

    Examples
    --------
    >>> pair = Parallel((Leaf("A", Part("A", "cell")), Leaf("R", Part("R", "resistor"))))
    >>> [(branch.path, branch.tail, branch.head) for branch in lay_flat(pair).branches]
    [('A', 0, 1), ('R', 1, 0)]
    """
    item = circuit.item if isinstance(circuit, Circuit) else circuit
    layer = _Layer(circuit.values if isinstance(circuit, Circuit) else {})
    bare, _ = done_to(item)
    is_complete = isinstance(bare, Network) and bare.ends is None
    if is_complete:
        layer.lay(item, -1, -1, _Under())
    else:
        first, last = layer.node(), layer.node()
        layer.lay(item, first, last, _Under())
    return FlatNetwork(
        layer.nodes,
        tuple(layer.branches),
        MappingProxyType(layer.ends),
        MappingProxyType(layer.names),
        None if is_complete or isinstance(bare, Across) else (0, 1),
        MappingProxyType(layer.factors),
    )


class _Layer:
    """Lays items between nodes, from the outside in."""

    def __init__(self, values: Mapping[str, Fraction]) -> None:
        self.values = values
        self.nodes = 0
        self.branches: list[Branch] = []
        self.ends: dict[str, Terminals] = {}
        self.names: dict[str, int] = {}
        self.factors: dict[str, tuple[tuple[Count, ...], tuple[Count, ...]]] = {}

    def node(self) -> int:
        self.nodes += 1
        return self.nodes - 1

    def lay(self, item: Item, first: int, last: int, under: _Under) -> None:
        if isinstance(item, Changed):
            self._changed(item, first, last, under)
            return
        if item.path:
            self.ends.setdefault(item.path, (first, last))
            if under.in_series or under.in_parallel:
                self.factors.setdefault(item.path, (under.in_series, under.in_parallel))
        match item:
            case Leaf() | Family():
                self._leaf(item, first, last, under)
            case Series(items=items):
                self._series([(each, under) for each in items], first, last)
            case Parallel(items=items):
                self._parallel(items, first, last, under)
            case Copies():
                self._copies(item, first, last, under)
            case Network():
                self._network(item, first, last, under)
            case Across(source=source, load=load):
                self.lay(source, first, last, under)
                is_beside = has_cells(source) and has_cells(load)
                self.lay(load, *((first, last) if is_beside else (last, first)), under)

    def _leaf(self, leaf: Leaf | Family, tail: int, head: int, under: _Under) -> None:
        part = leaf.part
        is_cell = part.kind in {"cell", "source"}
        if under.turned and not is_cell:
            tail, head = head, tail
        blocked = (part.kind == "switch" and not part.closed) or (
            part.kind == "voltmeter" and part.resistance is None
        )
        in_series, in_parallel = under.in_series, under.in_parallel
        self.branches.append(
            Branch(
                leaf,
                leaf.path,
                tail,
                head,
                turned=under.turned and is_cell,
                emf_out=under.emf_out,
                is_open=blocked or under.removed or under.is_open,
                is_drawn=not under.removed,
                in_series=in_series,
                in_parallel=in_parallel,
            )
        )

    def _changed(self, item: Changed, first: int, last: int, under: _Under) -> None:
        inner, hows = done_to(item)
        under = replace(
            under,
            emf_out=under.emf_out or "without emf" in hows,
            removed=under.removed or "removed" in hows,
        )
        if "shorted" in hows and not under.removed:
            self._wire(f"short:{inner.path}", first, last, under)
        if inner.path:
            self.ends.setdefault(inner.path, (last, first) if "turned" in hows else (first, last))
        if isinstance(inner, Leaf | Family):
            self.lay(inner, first, last, replace(under, turned="turned" in hows, is_open="open" in hows))
            return
        if "open" in hows and not under.removed:
            outside, last = last, self.node()
            self._wire(f"open:{inner.path}", last, outside, under, is_open=True)
        first, last = (last, first) if "turned" in hows else (first, last)
        self.lay(inner, first, last, under)

    def _wire(self, path: str, tail: int, head: int, under: _Under, *, is_open: bool = False) -> None:
        factors = (under.in_series, under.in_parallel)
        self.branches.append(
            Branch(None, path, tail, head, is_open=is_open, in_series=factors[0], in_parallel=factors[1])
        )

    def _series(self, items: list[tuple[Item, _Under]], first: int, last: int) -> None:
        for place, (each, under) in enumerate(items):
            end = last if place == len(items) - 1 else self.node()
            self.lay(each, first, end, under)
            first = end

    def _parallel(self, items: tuple[Item, ...], first: int, last: int, under: _Under) -> None:
        with_cells = [has_cells(each) for each in items]
        for each, is_source in zip(items, with_cells, strict=True):
            is_driven = any(with_cells) and not is_source
            self.lay(each, *((last, first) if is_driven else (first, last)), under)

    def _copies(self, copies: Copies, first: int, last: int, under: _Under) -> None:
        if copies.tied:
            self._tied(copies, first, last, under)
            return
        if copies.joined == "parallel":
            for run in copies.runs:
                more = replace(under, in_parallel=_times(under.in_parallel, run.count))
                self.lay(run.item, first, last, more)
            return
        items: list[tuple[Item, _Under]] = []
        for run in copies.runs:
            if copies.link and items:
                items.append((_joint(copies, run.first - 1, 0), under))
            items.append((run.item, replace(under, in_series=_times(under.in_series, run.count))))
            if copies.link and isinstance(run.count, int) and run.count > 1:
                joints = replace(under, in_series=_times(under.in_series, run.count - 1))
                items.append((_joint(copies, run.first, 0), joints))
        self._series(items, first, last)

    def _tied(self, copies: Copies, first: int, last: int, under: _Under) -> None:
        """Blocks in series, drawn as rows whose neighbours are tied at every inner level."""
        blocks = [each for run in copies.runs for each in self._each(run, copies.path)]
        below: list[int] = []
        for level, block in enumerate(blocks, 1):
            columns, hows = self._columns(block)
            below = below or [first] * len(columns)
            is_last = level == len(blocks)
            above = [last if is_last else self.node() for _ in columns]
            self.ends.setdefault(f"{copies.path}.{level}", (below[0], above[0]))
            for column, start, end in zip(columns, below, above, strict=True):
                each = column
                for how in hows:
                    each = Changed(each, how)
                self.lay(each, start, end, under)
            if "shorted" in done_to(block)[1] and not under.removed:
                self._wire(f"short:{copies.path}.{level}", below[0], above[0], under)
            if not is_last:
                for column_number, (one, other) in enumerate(pairwise(above), 1):
                    self._tie(copies, level, column_number, one, other, under)
            below = above

    def _tie(self, copies: Copies, level: int, column: int, one: int, other: int, under: _Under) -> None:
        if copies.link is None:
            self._wire(f"link:{copies.path}.{level}.{column}", one, other, under)
        else:
            self.lay(_joint(copies, level, column), one, other, under)

    def _columns(self, block: Item) -> tuple[list[Item], tuple[How, ...]]:
        """The members of a block one by one, and what was done to the whole block and so to each of them."""
        inner, hows = done_to(block)
        passed_on = tuple(how for how in hows if how != "shorted")
        if isinstance(inner, Copies):
            return [each for run in inner.runs for each in self._each(run, inner.path)], passed_on
        return [inner], passed_on

    def _each(self, run: Run, path: str) -> list[Item]:
        many = whole(run.count, self.values) or 1
        numbers = range(run.first, run.first + many)
        return [moved(run.item, f"{path}.{run.first}", f"{path}.{number}") for number in numbers]

    def _network(self, network: Network, first: int, last: int, under: _Under) -> None:
        nodes: dict[str, int] = {}
        if network.ends:
            nodes = {network.ends[0]: first, network.ends[1]: last}
        for _, *both in network.branches:
            for name in both:
                if name not in nodes:
                    nodes[name] = self.node()
        if not (under.in_series or under.in_parallel):
            for name, number in nodes.items():
                self.names.setdefault(name, number)
        for item, tail, head in network.branches:
            self.lay(item, nodes[tail], nodes[head], under)


def _times(factors: tuple[Count, ...], count: Count) -> tuple[Count, ...]:
    return factors if count == 1 else (*factors, count)


def _joint(copies: Copies, level: int, column: int) -> Leaf:
    """The resistance of one joint as a part."""
    path = f"link:{copies.path}.{level}" + (f".{column}" if column else "")
    return Leaf(path, Part("link", "resistor", resistance=copies.link or Worth("R_link")))


def has_loop(circuit: Circuit | Item) -> bool:
    """Whether there is any closed way round for a current.

    Parameters
    ----------
    circuit : Circuit or Item
        With its changes in force: an open switch closes no way round.

    Examples
    --------
    >>> has_loop(Leaf("A", Part("A", "cell")))
    False
    """
    flat = lay_flat(circuit)
    above = list(range(flat.nodes))

    def top(node: int) -> int:
        while above[node] != node:
            node = above[node]
        return node

    for branch in flat.branches:
        if branch.is_open:
            continue
        tail, head = top(branch.tail), top(branch.head)
        if tail == head or branch.in_parallel:
            return True
        above[tail] = head
    return False
