"""A circuit as an argument sees it: which currents and p.d.s are one and the same before any rule is used.

Every part and group is walked once. It gets two ends and one current, counted from its first to its last end. What
needs no rule is settled here: one node has one potential, one path has one current, a bare wire has no p.d., an open
switch no current, and neighbours that are copies of each other are alike. What rules say is made in `rules`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

from boardproof.algebra.polynomial import RationalFunction
from boardproof.circuit.model import (
    Across,
    Changed,
    Copies,
    Count,
    Family,
    Item,
    Leaf,
    Network,
    Parallel,
    Series,
    has_cells,
)
from boardproof.record import record

__all__ = ["Entry", "Stretch", "Wiring", "count_of", "wiring"]

Signed = tuple[int, int]
Term = tuple[RationalFunction, int]


@record
class Entry:
    """A part or group at its place.

    Parameters
    ----------
    item : Item
        The part or group, without what was done to it from outside.
    first, last : int
        Nodes of its ends.
    current : (int, int)
        Number and sign of its current, counted from `first` to `last`; number -1 is no current at all.
    is_dead : bool
        Broken or taken away: no current, and no law of its own.
    emf_out : bool
        Its EMFs are taken out.
    is_shorted : bool
        A wire lies over it, so its current is its short-circuit current.
    """

    item: Item
    first: int
    last: int
    current: Signed
    is_dead: bool
    emf_out: bool
    is_shorted: bool


@record
class Stretch:
    """The p.d. between two nodes is `count` times that between two others: a run of like members in series."""

    outer: tuple[int, int]
    inner: tuple[int, int]
    count: RationalFunction


@dataclass(frozen=True)
class Wiring:
    """What is joined to what.

    Parameters
    ----------
    entries : mapping of str to Entry
        By path; nameless groups have paths that begin with "*".
    junctions : tuple of tuple of (RationalFunction, int)
        Weighted currents that add up to nothing, where more than one path meets.
    stretches : tuple of Stretch
        Runs of like members in series.
    nodes : mapping of str to int
        Named nodes.
    runs : mapping of str to tuple of (int, Count)
        First member and length of each run of copies, by the path of the whole.
    zero : str or None
        Node from which potential is counted.
    """

    entries: Mapping[str, Entry]
    junctions: tuple[tuple[Term, ...], ...]
    stretches: tuple[Stretch, ...]
    nodes: Mapping[str, int]
    runs: Mapping[str, tuple[tuple[int, Count], ...]]
    zero: str | None

    def entry(self, path: str) -> Entry | None:
        """The part or group at a path; any member of a run of copies is as good as its first."""
        if path in self.entries:
            return self.entries[path]
        steps = path.split(".")
        name = steps[0]
        for step in steps[1:]:
            for first, count in self.runs.get(name, ()):
                if step.isdigit() and int(step) >= first and _covers(first, count, int(step)):
                    step = str(first)  # noqa: PLW2901 - the first of the run stands for it
            name = f"{name}.{step}"
        return self.entries.get(name)


def _covers(first: int, count: Count, member: int) -> bool:
    return isinstance(count, str) or member < first + count


def count_of(count: Count) -> RationalFunction:
    """A count as a number or a letter.

    Parameters
    ----------
    count : Count
        Of members.

    Examples
    --------
    >>> count_of("n"), count_of(3)
    (n, 3)
    """
    return RationalFunction.letter(count) if isinstance(count, str) else RationalFunction.constant(count)


@record
class _State:
    """What was done to the surroundings of an item."""

    emf_out: bool = False
    is_dead: bool = False
    is_shorted: bool = False


class _Walk:
    """Numbers nodes and currents while it goes through the tree; merged ones are sorted out at the end."""

    def __init__(self) -> None:
        self.node_of: list[int] = []
        self.current_of: list[Signed] = []
        self.sums: list[list[Term]] = []
        self.stretches: list[tuple[tuple[int, int], tuple[int, int], Count]] = []
        self.entries: dict[str, tuple[Item, int, int, int, _State]] = {}
        self.nodes: dict[str, int] = {}
        self.runs: dict[str, tuple[tuple[int, Count], ...]] = {}

    # Nodes and currents, merged by following references to a representative.

    def node(self) -> int:
        self.node_of.append(len(self.node_of))
        return len(self.node_of) - 1

    def root(self, node: int) -> int:
        while self.node_of[node] != node:
            node = self.node_of[node]
        return node

    def join(self, left: int, right: int) -> None:
        self.node_of[self.root(left)] = self.root(right)

    def current(self) -> int:
        self.current_of.append((len(self.current_of), 1))
        return len(self.current_of) - 1

    def flow(self, current: int) -> Signed:
        sign = 1
        while current >= 0 and self.current_of[current][0] != current:
            current, turn = self.current_of[current]
            sign *= turn
        return (current, sign) if current >= 0 else (-1, 1)

    def stop(self, current: int) -> None:
        root, _ = self.flow(current)
        if root >= 0:
            self.current_of[root] = (-1, 1)

    def same(self, left: int, right: int, sign: int = 1) -> None:
        (a, s), (b, t) = self.flow(left), self.flow(right)
        if a < 0 or b < 0:
            self.stop(left)
            self.stop(right)
        elif a != b:
            self.current_of[a] = (b, s * t * sign)
        elif s * t * sign < 0:
            self.stop(a)

    # The tree.

    def walk(self, item: Item, first: int, last: int, state: _State) -> int:
        """Go through an item; the number of its current from `first` to `last`."""
        if isinstance(item, Changed):
            return self.changed(item, first, last, state)
        current = self.current()
        self.entries[item.path or f"*{current}"] = (item, first, last, current, state)
        inner = _State(state.emf_out, state.is_dead)
        match item:
            case Leaf(part=part):
                is_open = part.kind == "capacitor" or (part.kind == "switch" and not part.closed)
                if state.is_dead or is_open or (part.kind == "voltmeter" and part.resistance is None):
                    self.stop(current)
                elif part.kind in ("wire", "switch", "ammeter") and part.resistance is None:
                    self.join(first, last)
            case Series(items=items):
                stops = [first, *(self.node() for _ in items[1:]), last]
                for member, start, end in zip(items, stops, stops[1:], strict=False):
                    self.same(self.walk(member, start, end, inner), current)
            case Parallel(items=items):
                total: list[Term] = [(count_of(-1), current)]
                driven = has_cells(item)
                total += [
                    self.branch(member, first, last, inner, back=driven and not has_cells(member))
                    for member in items
                ]
                self.sums.append(total)
            case Copies(tied=False, link=None):
                self.copies(item, first, last, current, inner)
            case Across(source=source, load=load):
                self.same(self.walk(source, first, last, inner), current)
                # Two sides with cells are joined plus to plus; a load is met from the plus end on.
                if has_cells(source) and has_cells(load):
                    self.same(self.walk(load, first, last, inner), current, -1)
                else:
                    self.same(self.walk(load, last, first, inner), current)
            case Network():
                self.network(item, first, last, current, inner)
            case Family() | Copies():
                pass  # unlike parts without end, or rows with ties and joints: seen from its ends only
        return current

    def branch(self, item: Item, first: int, last: int, state: _State, *, back: bool) -> Term:
        """A member between two nodes, with its share in the current from `first` to `last`."""
        if back:
            return count_of(-1), self.walk(item, last, first, state)
        return count_of(1), self.walk(item, first, last, state)

    def changed(self, item: Changed, first: int, last: int, state: _State) -> int:
        inner, current = item.item, self.current()
        match item.how:
            case "turned":
                self.same(self.walk(inner, last, first, state), current, -1)
            case "without emf":
                self.same(
                    self.walk(inner, first, last, _State(True, state.is_dead, state.is_shorted)), current
                )
            case "open" | "removed":
                self.same(self.walk(inner, first, last, _State(state.emf_out, True)), current)
                self.stop(current)
            case "shorted":
                self.walk(inner, first, last, _State(state.emf_out, state.is_dead, True))
                self.join(first, last)
        return current

    def copies(self, item: Copies, first: int, last: int, current: int, state: _State) -> None:
        self.runs[item.path] = tuple((run.first, run.count) for run in item.runs)
        if item.joined == "series":
            stops = [first, *(self.node() for _ in item.runs[1:]), last]
            for run, start, end in zip(item.runs, stops, stops[1:], strict=False):
                inside = (start, end) if run.count == 1 else (self.node(), self.node())
                self.same(self.walk(run.item, *inside, state), current)
                if run.count != 1:
                    self.stretches.append(((start, end), inside, run.count))
            return
        total: list[Term] = [(count_of(-1), current)]
        total += [(count_of(run.count), self.walk(run.item, first, last, state)) for run in item.runs]
        self.sums.append(total)

    def network(self, item: Network, first: int, last: int, current: int, state: _State) -> None:
        own: dict[str, int] = dict(zip(item.ends or (), (first, last), strict=False))
        meeting: dict[str, list[Term]] = {}
        for inner, start, end in item.branches:
            for name in (start, end):
                own.setdefault(name, -1)
                if own[name] < 0:
                    own[name] = self.node()
            through = self.walk(inner, own[start], own[end], state)
            meeting.setdefault(start, []).append((count_of(-1), through))
            meeting.setdefault(end, []).append((count_of(1), through))
        if item.ends:
            meeting[item.ends[0]].append((count_of(1), current))
            meeting[item.ends[1]].append((count_of(-1), current))
        else:
            self.stop(current)
        self.nodes.update(own)
        self.sums.extend(meeting.values())

    # What the sums alone say: dead ends carry nothing, and where two paths meet there is one current.

    def settle(self) -> tuple[tuple[Term, ...], ...]:
        while True:
            before = list(self.current_of)
            left = []
            for total in self.sums:
                terms = self.gathered(total)
                if len(terms) == 1:
                    self.stop(terms[0][1])
                elif len(terms) == 2 and (sign := _opposite(terms)):
                    self.same(terms[0][1], terms[1][1], sign)
                elif terms:
                    left.append(terms)
            if self.current_of == before:
                return tuple(left)

    def gathered(self, total: list[Term]) -> tuple[Term, ...]:
        """The sum with merged currents taken together."""
        found: dict[int, RationalFunction] = {}
        for weight, current in total:
            root, sign = self.flow(current)
            if root >= 0:
                found[root] = found.get(root, count_of(0)) + weight * sign
        return tuple((weight, root) for root, weight in found.items() if weight)


def _opposite(terms: tuple[Term, ...]) -> int:
    """Sign that makes two currents of a sum one, or 0 if they differ in more than sign."""
    left, right = terms[0][0], terms[1][0]
    return -1 if left == right else 1 if left == -right else 0


@lru_cache(maxsize=256)
def wiring(item: Item, zero: str | None = None) -> Wiring:
    """Walk through a circuit.

    Parameters
    ----------
    item : Item
        The circuit's tree.
    zero : str or None
        Node from which potential is counted.

    Examples
    --------
    >>> from boardproof.circuit.model import Part
    >>> loop = wiring(Across(Leaf("A", Part("A", "cell")), Leaf("R", Part("R", "resistor"))))
    >>> loop.entries["A"].current == loop.entries["R"].current
    True
    """
    walk = _Walk()
    first, last = walk.node(), walk.node()
    outermost = item
    while isinstance(outermost, Changed):
        outermost = outermost.item
    current = walk.walk(item, first, last, _State())
    if not isinstance(outermost, Across):
        walk.stop(current)
    junctions = walk.settle()
    entries = {
        path: Entry(
            inner, walk.root(a), walk.root(b), walk.flow(n), state.is_dead, state.emf_out, state.is_shorted
        )
        for path, (inner, a, b, n, state) in walk.entries.items()
    }
    stretches = tuple(
        Stretch((walk.root(a), walk.root(b)), (walk.root(c), walk.root(d)), count_of(count))
        for (a, b), (c, d), count in walk.stretches
    )
    nodes = {name: walk.root(node) for name, node in walk.nodes.items()}
    return Wiring(entries, junctions, stretches, nodes, walk.runs, zero)
