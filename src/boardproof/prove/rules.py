"""What the named rules say of a circuit: each instance as an exact polynomial equation between unknowns.

An unknown is known by its key: a current or p.d. belongs to one circuit, while an equivalent's EMF, resistance and
short-circuit current belong to the group as it is built, wherever it stands. Letters that parts carry are no unknowns.
Proving with the instances is left to `follows`.
"""

from __future__ import annotations

from collections.abc import Generator, Hashable, Iterator
from dataclasses import dataclass, field, replace
from functools import lru_cache
from typing import Final

from boardproof.algebra.polynomial import RationalFunction
from boardproof.circuit.model import (
    Across,
    Changed,
    Copies,
    Family,
    Item,
    Leaf,
    Network,
    Parallel,
    Series,
    has_cells,
)
from boardproof.circuit.quantity import QuantityRef
from boardproof.prove.eliminate import ONE, Poly, added, scaled, times
from boardproof.prove.wiring import Entry, Wiring, count_of

__all__ = ["RULES", "Scope", "Unknowns"]

RULES: Final = (
    "junction rule",
    "cell rule",
    "Ohm's law",
    "loop rule",
    "resistances in series",
    "resistances in parallel",
    "power",
)
"""Rules with instances, in the order in which they are tried when one is missing."""
NOTHING: Final[Poly] = {}
OWN_KINDS: Final = ("power", "power_given", "power_out", "heat", "lost_volts")


class Unknowns:
    """Numbers for the unknowns met, and which of them are positive."""

    def __init__(self) -> None:
        """Start with none."""
        self.numbers: dict[Hashable, int] = {}
        self.keys: list[Hashable] = []
        self.positive: set[int] = set()

    def of(self, *key: Hashable, positive: bool = False) -> Poly:
        """The unknown with this key, as a polynomial.

        Examples
        --------
        >>> known = Unknowns()
        >>> known.of("current", 0, 3), known.of("current", 0, 3)
        ({(0,): 1}, {(0,): 1})
        """
        number = self.numbers.setdefault(key, len(self.keys))
        if number == len(self.keys):
            self.keys.append(key)
        if positive:
            self.positive.add(number)
        return {(number,): ONE}


def _constant(value: RationalFunction) -> Poly:
    return {(): value} if value else NOTHING


def _less(left: Poly, right: Poly) -> Poly:
    return added(left, right, -ONE)


@lru_cache(maxsize=1024)
def _without_changes(item: Item) -> Item:
    """The item as far as its resistance goes: EMFs that were taken out are put back.

    Parameters
    ----------
    item : Item
        Any.
    """
    match item:
        case Changed(item=inner, how="without emf"):
            return _without_changes(inner)
        case Changed(item=inner):
            return replace(item, item=_without_changes(inner))
        case Series(items=items) | Parallel(items=items):
            return replace(item, items=tuple(map(_without_changes, items)))
        case Copies(runs=runs):
            return replace(item, runs=tuple(replace(run, item=_without_changes(run.item)) for run in runs))
        case Network(branches=branches):
            return replace(item, branches=tuple((_without_changes(each), x, y) for each, x, y in branches))
        case Across(source=source, load=load):
            return replace(item, source=_without_changes(source), load=_without_changes(load))
        case Leaf() | Family():
            return item


@lru_cache(maxsize=1024)
def _passes(item: Item) -> int:
    """0 if no current can pass whatever the p.d., 1 if it passes without resistance, 2 if with some."""
    match item:
        case Changed(how="open" | "removed"):
            return 0
        case Changed(how="shorted"):
            return 1
        case Changed(item=inner):
            return _passes(inner)
        case Leaf(part=part):
            if part.resistance is not None:
                return 2
            is_open = part.kind in ("capacitor", "voltmeter", "lamp", "diode")
            return 0 if is_open or (part.kind == "switch" and not part.closed) else 1
        case Series(items=items):
            each = [_passes(member) for member in items]
            return 0 if 0 in each else max(each)
        case Parallel(items=items):
            each = [_passes(member) for member in items]
            return 1 if 1 in each else max(each)
        case Copies(runs=runs, joined=joined):
            each = [_passes(run.item) for run in runs]
            through = 0 if 0 in each else max(each)
            return through if joined == "series" else 1 if 1 in each else max(each)
        case Network() | Family():
            return 2
        case Across():
            return 0


@dataclass(frozen=True)
class Scope:
    """The rules' instances in one circuit.

    Parameters
    ----------
    wired : Wiring
        The circuit.
    number : int
        Tells its currents and p.d.s from those of other circuits.
    unknowns : Unknowns
        Shared by all circuits of one argument.
    """

    wired: Wiring
    number: int
    unknowns: Unknowns
    asked: set[tuple[str, str]] = field(default_factory=set, compare=False)

    # Quantities.

    def current(self, entry: Entry) -> Poly:
        """Current from first to last end."""
        number, sign = entry.current
        return self._through(number, count_of(sign))

    def _through(self, number: int, weight: RationalFunction) -> Poly:
        return NOTHING if number < 0 else scaled(self.unknowns.of("current", self.number, number), weight)

    def rise(self, first: int, last: int) -> Poly:
        """Potential of `last` less that of `first`."""
        if first == last:
            return NOTHING
        key = self.unknowns.of("pd", self.number, min(first, last), max(first, last))
        return key if first < last else scaled(key, -ONE)

    def pd(self, entry: Entry) -> Poly:
        """Terminal p.d. of what holds cells, else the p.d. in the direction of its current."""
        if has_cells(entry.item):
            return self.rise(entry.first, entry.last)
        return self.rise(entry.last, entry.first)

    def emf(self, item: Item, *, emf_out: bool = False) -> Poly:
        """EMF of a part or group, last end over first."""
        if emf_out or not has_cells(item):
            return NOTHING
        match item:
            case Changed(item=inner, how="turned"):
                return scaled(self.emf(inner), -ONE)
            case Changed(how="without emf" | "shorted"):
                return NOTHING
            case Leaf(part=part) if part.emf is not None:
                return _constant(RationalFunction.letter(part.emf.letter))
        return self.unknowns.of("emf", item)

    def resistance(self, item: Item) -> Poly | None:
        """Resistance of a part or group; None if nothing can pass."""
        passes = _passes(item)
        if passes < 2:
            return NOTHING if passes else None
        while isinstance(item, Changed):
            item = item.item
        if isinstance(item, Leaf):
            assert item.part.resistance is not None
            return _constant(RationalFunction.letter(item.part.resistance.letter))
        return self.unknowns.of("resistance", _without_changes(item), positive=True)

    def quantity(self, ref: QuantityRef) -> Poly | None:
        """What a quantity of this circuit is, in parameters and unknowns; None if its part is not here."""
        if ref.kind in ("letter", "count"):
            return _constant(RationalFunction.letter(ref.of[0]) * ref.sense)
        if ref.kind == "potential" or (ref.kind == "pd" and len(ref.of) == 2):
            return self._between(ref)
        entry = self.wired.entry(ref.of[0]) if ref.of else None
        if entry is None:
            return None
        found = self._of_entry(ref, entry)
        return found if found is None or ref.sense > 0 else scaled(found, -ONE)

    def _between(self, ref: QuantityRef) -> Poly | None:
        low = ref.of[1] if ref.kind == "pd" else self.wired.zero
        nodes = [self.wired.nodes.get(name or "") for name in (low, ref.of[0])]
        if nodes[0] is None or nodes[1] is None:
            return None
        return scaled(self.rise(nodes[0], nodes[1]), count_of(ref.sense))

    def _of_entry(self, ref: QuantityRef, entry: Entry) -> Poly | None:
        match ref.kind:
            case "current":
                return self.current(entry)
            case "pd" | "terminal_pd":
                return self.pd(entry)
            case "emf":
                return self.emf(entry.item)
            case "resistance":
                return self.resistance(entry.item)
            case "short_circuit_current":
                return self.unknowns.of("short", entry.item)
        if ref.kind in OWN_KINDS:
            self.asked.add((ref.kind, ref.of[0]))
        return self.unknowns.of(ref.kind, self.number, *ref.of)

    # Instances.

    def instances(self, rule: str) -> Iterator[Poly]:
        """Every instance of a rule, or of what needs no rule ("")."""
        match rule:
            case "":
                yield from self._meanings()
            case "junction rule":
                yield from self._junctions()
            case "loop rule":
                yield from self._loops()
            case "cell rule":
                yield from self._cells()
            case "Ohm's law":
                yield from self._ohms()
            case "power":
                yield from self._powers()
            case "resistances in series":
                yield from self._in_series()
            case "resistances in parallel":
                yield from self._in_parallel()

    def _meanings(self) -> Iterator[Poly]:
        for entry in self.wired.entries.values():
            if entry.is_shorted and not entry.emf_out:
                yield _less(self.unknowns.of("short", entry.item), self.current(entry))

    def _junctions(self) -> Iterator[Poly]:
        for terms in self.wired.junctions:
            total = NOTHING
            for weight, current in terms:
                total = added(total, self._through(current, weight))
            yield total

    def _loops(self) -> Iterator[Poly]:
        """Every p.d. is a difference of heights, which says of all loops at once that they add up to nothing."""
        pairs = {(entry.first, entry.last) for entry in self.wired.entries.values()}
        pairs |= {ends for stretch in self.wired.stretches for ends in (stretch.outer, stretch.inner)}
        pairs |= {
            (a, b)
            for key in list(self.unknowns.keys)
            if isinstance(key, tuple) and key[:2] == ("pd", self.number)
            for a, b in [key[2:]]
        }
        for first, last in sorted({(min(pair), max(pair)) for pair in pairs}):
            if first != last:
                high, low = (self.unknowns.of("height", self.number, node) for node in (last, first))
                yield _less(self.rise(first, last), _less(high, low))
        for stretch in self.wired.stretches:
            yield _less(self.rise(*stretch.outer), scaled(self.rise(*stretch.inner), stretch.count))
        for entry in self.wired.entries.values():
            if isinstance(entry.item, Leaf):
                yield from self._law(entry)

    def _law(self, entry: Entry) -> Iterator[Poly]:
        """Rise over a part or group: its EMF less what its resistance takes."""
        resistance = None if entry.is_dead else self.resistance(entry.item)
        if resistance is not None and not isinstance(entry.item, Across):
            rise = self.rise(entry.first, entry.last)
            emf = self.emf(entry.item, emf_out=entry.emf_out)
            yield _less(_less(rise, emf), scaled(times(self.current(entry), resistance), -ONE))

    def _cells(self) -> Iterator[Poly]:
        for path, entry in self.wired.entries.items():
            if not has_cells(entry.item) or isinstance(entry.item, Across):
                continue
            yield from self._law(entry)
            key = ("short", entry.item)
            resistance = self.resistance(entry.item)
            if key in self.unknowns.numbers and resistance is not None:
                yield _less(self.emf(entry.item), times(self.unknowns.of(*key), resistance))
            if ("lost_volts", path) in self.asked:
                lost = self.unknowns.of("lost_volts", self.number, path)
                yield _less(added(self.pd(entry), lost), self.emf(entry.item, emf_out=entry.emf_out))

    def _ohms(self) -> Iterator[Poly]:
        for path, entry in self.wired.entries.items():
            if not has_cells(entry.item):
                yield from self._law(entry)
            elif ("lost_volts", path) in self.asked and (
                resistance := self.resistance(entry.item)
            ) is not None:
                lost = self.unknowns.of("lost_volts", self.number, path)
                yield _less(lost, times(self.current(entry), resistance))

    def _powers(self) -> Iterator[Poly]:
        paths = sorted({path for _, path in self.asked})
        for path in paths:
            entry = self.wired.entry(path)
            resistance = None if entry is None else self.resistance(entry.item)
            if entry is None or resistance is None:
                continue
            current, pd = self.current(entry), self.pd(entry)
            emf = self.emf(entry.item, emf_out=entry.emf_out)
            is_single = isinstance(entry.item, Leaf)
            given, out, heat, power = (
                self.unknowns.of(kind, self.number, path)
                for kind in ("power_given", "power_out", "heat", "power")
            )
            yield _less(out, times(pd, current))
            yield _less(power, times(pd, current))
            if is_single:
                yield _less(given, times(emf, current))
                yield _less(heat, times(times(current, current), resistance))
                yield _less(given, added(out, heat)) if has_cells(entry.item) else _less(power, heat)

    def _members(self, item: Item) -> list[tuple[Item, RationalFunction]]:
        match item:
            case Series(items=items) | Parallel(items=items):
                return [(member, ONE) for member in items]
            case Copies(runs=runs):
                return [(run.item, count_of(run.count)) for run in runs]
        return []

    def _groups(self, *, in_series: bool) -> Iterator[Item]:
        for entry in self.wired.entries.values():
            item = entry.item
            if isinstance(item, Copies) and (item.tied or item.link is not None):
                continue  # its ties and joints are parts of their own
            is_series = isinstance(item, Series) or (isinstance(item, Copies) and item.joined == "series")
            is_parallel = isinstance(item, Parallel) or (isinstance(item, Copies) and not is_series)
            if (is_series if in_series else is_parallel) and _passes(item) == 2:
                yield item

    def _in_series(self) -> Iterator[Poly]:
        for item in self._groups(in_series=True):
            total = self.resistance(item) or NOTHING
            for member, count in self._members(item):
                total = added(total, self.resistance(member) or NOTHING, -count)
            yield total

    def _in_parallel(self) -> Iterator[Poly]:
        """Reciprocals add; a group's reciprocal is an unknown of its own, tied to the resistance."""
        for item in self._groups(in_series=False):
            total: Poly = yield from self._reciprocal(item)
            for member, count in self._members(item):
                if _passes(member) == 2:
                    total = added(total, (yield from self._reciprocal(member)), -count)
            yield total

    def _reciprocal(self, item: Item) -> Generator[Poly, None, Poly]:
        resistance = self.resistance(item) or NOTHING
        if tuple(resistance) == ((),):
            return {(): resistance[()].reciprocal()}
        one_over = self.unknowns.of("one over", _without_changes(item), positive=True)
        yield _less(times(one_over, resistance), {(): ONE})
        return one_over
