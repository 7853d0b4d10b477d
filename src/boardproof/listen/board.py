"""The circuit that is being talked about, with everything it can show; and the same after a change."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cached_property
from types import MappingProxyType
from typing import Final, Literal

from boardproof.algebra.polynomial import RationalFunction
from boardproof.circuit.model import Across, Circuit, Item, Leaf, Network, Part, Worth
from boardproof.circuit.quantity import QuantityKind, QuantityRef
from boardproof.quantities import AMPERE, OHM, PURE, VOLT, WATT, Dimension
from boardproof.record import record
from boardproof.solve.answers import Value, answers

__all__ = ["Board", "Fact", "Row", "Wire"]

FactKind = Literal[
    "emf",
    "resistance",
    "current",
    "pd",
    "lost",
    "power_given",
    "power_out",
    "heat",
    "short",
    "efficiency",
    "potential",
    "share",
]
DIMENSIONS: Final[dict[str, Dimension]] = {
    "emf": VOLT, "pd": VOLT, "lost": VOLT, "potential": VOLT, "current": AMPERE, "short": AMPERE, "resistance": OHM,
    "power_given": WATT, "power_out": WATT, "heat": WATT, "greatest": WATT, "efficiency": PURE, "share": PURE,
}  # fmt: skip
GROUP, WHOLE = "group", "whole"


@record
class Wire:
    """A part between two nodes: a cell (its minus first) or a resistor.

    Parameters
    ----------
    name : str
        Of the part.
    ohms : Fraction
        Its resistance; inside a cell its own.
    first, last : str
        Nodes.
    emf : Fraction or None
        Of a cell.
    is_load : bool
        Whether it is what the circuit feeds.
    """

    name: str
    ohms: Fraction
    first: str
    last: str
    emf: Fraction | None = None
    is_load: bool = False

    @property
    def is_cell(self) -> bool:
        """Whether it has an EMF."""
        return self.emf is not None


@record
class Fact:
    """One value that the circuit shows.

    Parameters
    ----------
    kind : str
        Which quantity.
    of : str
        A part, "row 1", "whole", "loop" or a node.
    value : Fraction
        In SI units; a cell's current is positive when it leaves the plus.
    """

    kind: str
    of: str
    value: Fraction

    @property
    def dimension(self) -> Dimension:
        """Its dimension."""
        return DIMENSIONS[self.kind]


@record
class Row:
    """Cells (and resistors) one behind the other between two junctions, from its minus end to its plus end."""

    name: str
    wires: tuple[tuple[Wire, int], ...]
    first: str
    last: str

    @property
    def emf(self) -> Fraction:
        """Sum of the EMFs, turned ones subtracted."""
        return sum(((wire.emf or Fraction(0)) * sense for wire, sense in self.wires), Fraction(0))

    @property
    def ohms(self) -> Fraction:
        """Sum of the resistances."""
        return sum((wire.ohms for wire, _ in self.wires), Fraction(0))

    @property
    def has_turned(self) -> bool:
        """Whether its cells do not all push the same way."""
        return len({sense for wire, sense in self.wires if wire.is_cell}) > 1


@dataclass(frozen=True)
class Board:
    """A circuit of cells and resistors.

    Parameters
    ----------
    wires : tuple of Wire
        Its parts.
    ends : tuple of (str, str) or None
        Plus and minus terminal.
    has_values : bool
        Whether the values are the lesson's; if not, they only stand for any, and no number is judged by them.
    letters : tuple of (str, Fraction)
        Letters of the circuit with the values that they have here.
    """

    wires: tuple[Wire, ...]
    ends: tuple[str, str] | None = None
    has_values: bool = True
    letters: tuple[tuple[str, Fraction], ...] = ()

    @cached_property
    def cells(self) -> tuple[Wire, ...]:
        """The cells."""
        return tuple(wire for wire in self.wires if wire.is_cell)

    @cached_property
    def resistors(self) -> tuple[Wire, ...]:
        """Everything else."""
        return tuple(wire for wire in self.wires if not wire.is_cell)

    @cached_property
    def loads(self) -> tuple[Wire, ...]:
        """What is fed: the marked ones; the only resistor if none is marked."""
        marked = tuple(wire for wire in self.wires if wire.is_load)
        return marked or (self.resistors if len(self.resistors) == 1 else ())

    def of(self, name: str) -> Wire | None:
        """A part by its name."""
        return next((wire for wire in self.wires if wire.name == name), None)

    # -- solving

    @cached_property
    def _circuit(self) -> Circuit:
        values: dict[str, Fraction] = {}
        made: list[tuple[Wire, Leaf]] = []
        for wire in self.wires:
            letter = f"r_{wire.name}"
            values[letter] = wire.ohms
            if wire.emf is None:
                part = Part(wire.name, "resistor", resistance=Worth(letter))
            else:
                values[f"E_{wire.name}"] = wire.emf
                part = Part(wire.name, "cell", Worth(f"E_{wire.name}"), Worth(letter))
            made.append((wire, Leaf(wire.name, part)))
        loads = [leaf for wire, leaf in made if wire.is_load]
        inside = tuple(
            (leaf, wire.first, wire.last)
            for wire, leaf in made
            if not (wire.is_load and self.ends and len(loads) == 1)
        )
        item: Item = Network(inside, (self.ends[1], self.ends[0]) if self.ends else None, GROUP)
        if self.ends and len(loads) == 1:
            item = Across(item, loads[0], WHOLE)
        return Circuit(item, MappingProxyType(values))

    def _ask(self, kind: QuantityKind, of: str) -> Fraction | None:
        circuit = self._circuit
        found = answers(circuit).ask(QuantityRef(kind, (of,), circuit.id))
        if not isinstance(found, Value):
            return None
        exact = found.exact.as_number if isinstance(found.exact, RationalFunction) else found.exact
        return exact if isinstance(exact, Fraction) else None

    @cached_property
    def currents(self) -> dict[str, Fraction]:
        """Current of each part: out of a cell's plus, through a resistor from its first node."""
        found: dict[str, Fraction] = {}
        for wire in self.wires:
            value = self._ask("current", wire.name)
            if value is None:
                continue
            found[wire.name] = abs(value) if not wire.is_cell else value
        return found

    @cached_property
    def potentials(self) -> dict[str, Fraction]:
        """Potential of each node above the minus terminal (or the lowest)."""
        start = self.ends[1] if self.ends else self.wires[0].first if self.wires else ""
        found = {start: Fraction(0)}
        for _ in self.wires:
            for wire in self.wires:
                if not wire.is_cell or wire.name not in self.currents or wire.emf is None:
                    continue
                rise = wire.emf - self.currents[wire.name] * wire.ohms
                if wire.first in found:
                    found.setdefault(wire.last, found[wire.first] + rise)
                elif wire.last in found:
                    found.setdefault(wire.first, found[wire.last] - rise)
        for _ in self.resistors:
            for wire in self.resistors:
                value = self._ask("pd", wire.name)
                if value is None:
                    continue
                for here, there, sense in ((wire.first, wire.last, -1), (wire.last, wire.first, 1)):
                    if here in found and there not in found:
                        found[there] = found[here] + sense * value * (
                            1 if not self._is_walked_back(wire) else -1
                        )
        low = min(found.values()) if not self.ends else Fraction(0)
        return {node: value - low for node, value in found.items()}

    def _is_walked_back(self, wire: Wire) -> bool:
        """A load beside cells is walked from plus to minus, whatever its nodes say."""
        return bool(wire.is_load and self.ends and wire.first == self.ends[1])

    # -- facts

    @cached_property
    def facts(self) -> tuple[Fact, ...]:
        """Every value that may be spoken of."""
        return tuple(self._facts())

    def _facts(self) -> Iterator[Fact]:
        for wire in self.wires:
            yield from self._of_cell(wire) if wire.is_cell else self._of_resistor(wire)
        for row in self.rows:
            yield from self._of_row(row)
        for number, (name, ohms) in enumerate(self.branches, 1):
            yield Fact("resistance", f"branch {number}", ohms)
            if name in self.currents:
                yield Fact("current", f"branch {number}", abs(self.currents[name]))
                yield Fact("pd", f"branch {number}", abs(self.currents[name]) * ohms)
        yield from self._of_whole()
        for node, value in self.potentials.items():
            yield Fact("potential", node, value)

    def _of_cell(self, wire: Wire) -> Iterator[Fact]:
        name, emf, ohms = wire.name, wire.emf or Fraction(0), wire.ohms
        yield Fact("emf", name, emf)
        yield Fact("resistance", name, ohms)
        if ohms:
            yield Fact("short", name, emf / ohms)
        current = self.currents.get(name)
        if current is None:
            return
        pd = emf - current * ohms
        yield from (
            Fact("current", name, current), Fact("pd", name, pd), Fact("lost", name, abs(current * ohms)),
            Fact("power_given", name, emf * current), Fact("power_out", name, pd * current),
            Fact("heat", name, current**2 * ohms),
        )  # fmt: skip
        if emf:
            yield Fact("efficiency", name, pd / emf)

    def _of_resistor(self, wire: Wire) -> Iterator[Fact]:
        yield Fact("resistance", wire.name, wire.ohms)
        current = self.currents.get(wire.name)
        if current is not None:
            yield Fact("current", wire.name, current)
            yield Fact("pd", wire.name, current * wire.ohms)
            yield Fact("heat", wire.name, current**2 * wire.ohms)

    def _of_row(self, row: Row) -> Iterator[Fact]:
        yield Fact("emf", row.name, row.emf)
        yield Fact("resistance", row.name, row.ohms)
        if row.ohms:
            yield Fact("short", row.name, row.emf / row.ohms)
        wire, sense = next((pair for pair in row.wires if pair[0].is_cell), row.wires[0])
        if wire.name in self.currents:
            current = self.currents[wire.name] * sense
            yield Fact("current", row.name, current)
            yield Fact("pd", row.name, row.emf - current * row.ohms)
            yield Fact("lost", row.name, abs(current * row.ohms))

    def _of_whole(self) -> Iterator[Fact]:
        inside = sum((wire.ohms for wire in self.cells), Fraction(0))
        fed = [wire for wire in self.loads if wire.name in self.currents]
        given = sum((self.currents.get(w.name, Fraction(0)) * (w.emf or 0) for w in self.cells), Fraction(0))
        lost = sum((self.currents.get(w.name, Fraction(0)) ** 2 * w.ohms for w in self.cells), Fraction(0))
        if self.ends:
            emf, ohms = self._ask("emf", GROUP), self._ask("resistance", GROUP)
            if emf is not None and ohms is not None:
                yield Fact("emf", "whole", emf)
                yield Fact("resistance", "whole", ohms)
                if len(fed) == 1:
                    yield Fact("resistance", "loop", ohms + fed[0].ohms)
                    yield Fact("lost", "whole", abs(self.currents[fed[0].name] * ohms))
                if ohms:
                    yield Fact("short", "whole", abs(emf / ohms))
                    yield Fact("greatest", "whole", emf**2 / (4 * ohms))
        if (loop := self.loop) is not None:
            yield Fact("emf", "whole", abs(loop.emf))
            yield Fact("resistance", "loop", loop.ohms)
            yield Fact("resistance", "whole", inside)
        yield from self._outside()
        for wire in fed:
            current = self.currents[wire.name]
            yield Fact("current", "whole", current)
            yield Fact("pd", "whole", current * wire.ohms)
            yield Fact("power_out", "whole", current**2 * wire.ohms)
            if given > 0:
                yield Fact("efficiency", "whole", current**2 * wire.ohms / given)
        yield Fact("power_given", "whole", given)
        yield Fact("heat", "whole", lost)
        yield Fact("heat", "all", given)
        heats = sum((self.currents.get(w.name, Fraction(0)) ** 2 * w.ohms for w in self.wires), Fraction(0))
        yield Fact("heat", "every", heats)

    def _outside(self) -> Iterator[Fact]:
        """What a lone cell sees outside: the equivalent of the resistors, and the total with its own."""
        if len(self.cells) != 1:
            return
        cell = self.cells[0]
        current = self.currents.get(cell.name)
        if current and cell.emf:
            yield Fact("resistance", "outside", cell.emf / current - cell.ohms)
            yield Fact("resistance", "loop", cell.emf / current)
            yield Fact("current", "whole", current)
            yield Fact("emf", "whole", cell.emf)
            yield Fact("pd", "whole", cell.emf - current * cell.ohms)
        for pair in self.side_by_side:
            inverse = sum((1 / wire.ohms for wire in pair if wire.ohms), Fraction(0))
            if inverse:
                yield Fact("resistance", "+".join(wire.name for wire in pair), 1 / inverse)

    @cached_property
    def side_by_side(self) -> tuple[tuple[Wire, ...], ...]:
        """Resistors that share both ends."""
        groups: dict[frozenset[str], list[Wire]] = {}
        for wire in self.resistors:
            groups.setdefault(frozenset({wire.first, wire.last}), []).append(wire)
        return tuple(tuple(many) for many in groups.values() if len(many) > 1)

    # -- shape

    @cached_property
    def branches(self) -> tuple[tuple[str, Fraction], ...]:
        """Ways between two junctions through resistors only: the first part's name, and the resistance."""
        found: list[tuple[str, Fraction]] = []
        used: set[str] = set()
        for wire in self.resistors:
            if wire.name not in used and not wire.is_load and {wire.first, wire.last} & self.junctions:
                start = wire.first if wire.first in self.junctions else wire.last
                chain, _, _ = self._walk(wire, start, self.junctions)
                used |= {each.name for each, _ in chain}
                if not any(each.is_cell for each, _ in chain):
                    found.append((wire.name, sum((each.ohms for each, _ in chain), Fraction(0))))
        return tuple(found)

    @cached_property
    def junctions(self) -> set[str]:
        """Nodes where more than two parts meet, and the terminals."""
        degree = Counter(node for wire in self.wires for node in (wire.first, wire.last))
        return {node for node, count in degree.items() if count != 2} | set(self.ends or ())

    @cached_property
    def rows(self) -> tuple[Row, ...]:
        """Chains of two or more parts with a cell among them, between two junctions."""
        junctions = self.junctions
        found: list[Row] = []
        used: set[str] = set()
        for wire in self.wires:
            if wire.is_load or wire.name in used or not ({wire.first, wire.last} & junctions):
                continue
            start = wire.first if wire.first in junctions else wire.last
            chain = self._walk(wire, start, junctions)
            used |= {each.name for each, _ in chain[0]}
            if len(chain[0]) > 1 and any(each.is_cell for each, _ in chain[0]):
                found.append(_directed(f"row {len(found) + 1}", *chain, self.ends))
        return tuple(found)

    def _walk(self, wire: Wire, node: str, junctions: set[str]) -> tuple[list[tuple[Wire, int]], str, str]:
        chain: list[tuple[Wire, int]] = []
        start = node
        current: Wire | None = wire
        while current is not None:
            chain.append((current, 1 if current.first == node else -1))
            node = current.last if current.first == node else current.first
            seen = {each.name for each, _ in chain}
            current = (
                None
                if node in junctions
                else next(
                    (
                        w
                        for w in self.wires
                        if w.name not in seen and not w.is_load and node in (w.first, w.last)
                    ),
                    None,
                )
            )
        return chain, start, node

    @cached_property
    def loop(self) -> Row | None:
        """The circuit as one loop, if it is one."""
        degree = Counter(node for wire in self.wires for node in (wire.first, wire.last))
        if not self.wires or any(count != 2 for count in degree.values()) or len(degree) != len(self.wires):
            return None
        chain, start, end = self._walk(self.wires[0], self.wires[0].first, {self.wires[0].first})
        return Row("loop", tuple(chain), start, end) if len(chain) == len(self.wires) else None

    # -- changes

    def without(self, names: frozenset[str]) -> Board:
        """With parts taken away."""
        return replace(self, wires=tuple(wire for wire in self.wires if wire.name not in names))

    def with_row(self, row: Row) -> Board:
        """With one more row like one that it has, between the same ends."""
        nodes: dict[str, str] = {}

        def moved(node: str) -> str:
            return node if node in {row.first, row.last} else nodes.setdefault(node, f"{node}+")

        made = [replace(w, name=f"{w.name}+", first=moved(w.first), last=moved(w.last)) for w, _ in row.wires]
        return replace(self, wires=(*self.wires, *made))

    def turned(self, names: frozenset[str]) -> Board:
        """With cells the other way round."""
        return replace(
            self,
            wires=tuple(replace(w, first=w.last, last=w.first) if w.name in names else w for w in self.wires),
        )

    def shorted(self, names: frozenset[str]) -> Board:
        """With parts bridged by a wire."""
        return replace(
            self,
            wires=tuple(
                replace(w, ohms=Fraction(1, 10**9), emf=None) if w.name in names else w for w in self.wires
            ),
        )

    def with_ohms(self, names: frozenset[str], ohms: Fraction) -> Board:
        """With other resistances."""
        return replace(self, wires=tuple(replace(w, ohms=ohms) if w.name in names else w for w in self.wires))

    def joined(self, how: Literal["series", "parallel"], count: int | None = None) -> Board | None:
        """The cells (or so many of them, if they are alike) all in series or all in parallel, across the same load."""
        load = self.loads[0] if len(self.loads) == 1 else None
        cells = self.cells[:count] if count else self.cells
        if load is None or not cells or (count and len({(c.emf, c.ohms) for c in self.cells}) > 1):
            return None
        if count and count > len(self.cells):
            cells = tuple(replace(self.cells[0], name=f"{self.cells[0].name}{n}") for n in range(count))
        made = []
        for n, cell in enumerate(cells):
            ends = (
                ("q", "p")
                if how == "parallel"
                else (f"n{n}" if n else "q", f"n{n + 1}" if n + 1 < len(cells) else "p")
            )
            made.append(replace(cell, first=ends[0], last=ends[1]))
        return Board((*made, replace(load, first="p", last="q", is_load=True)), ("p", "q"))


def _directed(
    name: str, chain: list[tuple[Wire, int]], start: str, end: str, ends: tuple[str, str] | None
) -> Row:
    """The row from its minus end to its plus end: towards the plus terminal, else as most of its EMF pushes."""
    row = Row(name, tuple(chain), start, end)
    backwards = (ends and start == ends[0]) or (not (ends and end == ends[0]) and row.emf < 0)
    return (
        Row(name, tuple((wire, -sense) for wire, sense in reversed(chain)), end, start) if backwards else row
    )
