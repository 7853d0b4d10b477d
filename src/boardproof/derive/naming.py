"""Names for the quantities an argument speaks of: the lesson's own first, then those that nobody has to define.

A `Naming` is also what the checker reads the written lines by, so a name that was given out means that quantity and
no other. A quantity that has no name gets a definition, which the lesson must then hold.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace

from boardproof.algebra import meaning
from boardproof.algebra.expression import Expression
from boardproof.algebra.polynomial import RationalFunction
from boardproof.circuit.model import Across, Changed, Circuit, CircuitId, Item, Leaf, has_cells
from boardproof.circuit.quantity import QuantityRef
from boardproof.circuit.spelling import squeezed
from boardproof.prove.equations import Surroundings
from boardproof.prove.wiring import Entry, Wiring, wiring
from boardproof.solve.answers import Value, answers

__all__ = ["Nameless", "Naming", "subscript"]

STEMS = {"emf": "E", "resistance": "r", "current": "I", "pd": "V"}


class Nameless(Exception):
    """A quantity has no name and could not be given one; holds what it is, in words."""


def subscript(leaf: Leaf) -> str:
    """The subscript that a part's letters share, else its name.

    Parameters
    ----------
    leaf : Leaf
        At its place.

    Examples
    --------
    >>> from boardproof.circuit.model import Part, Worth
    >>> subscript(Leaf("A", Part("A", "cell", Worth("E_1"), Worth("r_1"))))
    '1'
    """
    subscripts = {worth.letter.partition("_")[2] for worth in leaf.part.worths()}
    shared = subscripts.pop() if len(subscripts) == 1 else ""
    return shared if shared and "." not in leaf.path else squeezed(leaf.path)


@dataclass
class Naming:
    """Gives names and remembers them.

    Parameters
    ----------
    world : Surroundings
        What the lesson's names mean at this place.
    lets : iterable of str
        Names that the lesson defines itself.
    """

    world: Surroundings
    lets: Iterable[str] = ()
    given: dict[str, QuantityRef] = field(default_factory=dict)
    defined: dict[str, str] = field(default_factory=dict)
    groups: dict[str, str] = field(default_factory=dict)
    circuits: dict[CircuitId, Circuit] = field(default_factory=dict)

    def __post_init__(self) -> None:
        """Look up what the lesson's own names mean."""
        self.circuit = self.world.circuit
        self.id = self.circuit.id
        self.wired: Wiring = wiring(self.circuit.item, self.circuit.zero)
        self.own: dict[QuantityRef, str] = {}
        for name in self.lets:
            ref = self.world.means(name)
            if isinstance(ref, QuantityRef):
                self.own.setdefault(ref, name)

    @property
    def imagined(self) -> Circuit | None:
        """Nothing is imagined."""
        return None

    def means(self, name: str) -> QuantityRef | Expression | None:
        """What a name means: as given out here, else as the lesson has it."""
        return self.given[name] if name in self.given else self.world.means(name)

    def circuit_of(self, circuit: CircuitId) -> Circuit | None:
        """The circuit with this hash."""
        return self.circuits.get(circuit) or self.world.circuit_of(circuit)

    def entry(self, path: str) -> Entry:
        """The part or group at a path."""
        found = self.wired.entry(path)
        if found is None:
            raise Nameless(path)
        return found

    def name(self, kind: str, path: str) -> str:
        """A name for a quantity of the circuit at hand.

        Raises
        ------
        Nameless
            If the part or group has no name itself, or its usual name means something else.
        """
        item = self.entry(path).item
        if isinstance(item, Leaf) and kind in ("emf", "resistance"):
            worth = item.part.emf if kind == "emf" else item.part.resistance
            if worth is not None:
                return worth.letter
        ref = QuantityRef(kind, (path,), self.id)  # type: ignore[arg-type]  # kinds are those of STEMS
        for known, own in self.own.items():
            if replace(known, circuit=self.id) == ref and self._same_group(known, item):
                return own
        if path.startswith("*") or not path:
            raise Nameless(f"the {kind} of a group without a name")
        return self._given(
            f"{STEMS[kind]}_{subscript(item) if isinstance(item, Leaf) else squeezed(path)}", ref
        )

    def _same_group(self, known: QuantityRef, item: Item) -> bool:
        """Whether a let of another circuit speaks of this very group."""
        if known.circuit == self.id:
            return True
        circuit = self.world.circuit_of(known.circuit)
        if circuit is None or known.kind in ("current", "pd"):
            return False
        there = wiring(circuit.item, circuit.zero).entry(known.of[0])
        return there is not None and there.item == item

    def _given(self, name: str, ref: QuantityRef) -> str:
        """Give a name out, if the lesson means that quantity by it."""
        meant = self.given.get(name) or self.world.means(name)
        if not isinstance(meant, QuantityRef) or not self._is_same(meant, ref):
            raise Nameless(name)
        self.given[name] = meant
        return name

    def _is_same(self, one: QuantityRef, other: QuantityRef) -> bool:
        if one == other:
            return True
        if one.kind != other.kind:
            return False
        values = [self._asked(ref) for ref in (one, other)]
        return values[0] is not None and values[0] == values[1]

    def _asked(self, ref: QuantityRef) -> RationalFunction | None:
        if ref.kind in ("letter", "count"):
            return RationalFunction.letter(ref.of[0])
        circuit = self.circuit_of(ref.circuit)
        found = None if circuit is None else answers(circuit, "letters").ask(ref)
        return found.exact if isinstance(found, Value) else None

    def outside(self, kind: str, path: str) -> str:
        """The name of a group's current or p.d.: the plain letter if the group is all that drives the circuit."""
        entry = self.entry(path)
        for other in self.wired.entries.values():
            source = other.item.source if isinstance(other.item, Across) else None
            load = other.item.load if isinstance(other.item, Across) else None
            if source is not None and load is not None and has_cells(load) and not has_cells(source):
                source = load
            while isinstance(source, Changed):
                source = source.item
            if source is not None and source == entry.item:
                ref = QuantityRef(kind, (path,), self.id)  # type: ignore[arg-type]  # kinds are those of STEMS
                try:
                    return self._given(STEMS[kind], ref)
                except Nameless:
                    break
        return self.name(kind, path)

    def other(self, kind: str, path: str, circuit: Circuit, name: str, phrase: str) -> str:
        """A name for a quantity of another circuit: the lesson's own, else one that the lesson must define."""
        ref = QuantityRef(kind, (path,), circuit.id)  # type: ignore[arg-type]  # kinds are those of circuits
        self.circuits[circuit.id] = circuit
        for known, own in self.own.items():
            if known == ref or (known.kind == kind and known.of == ref.of and self._is_same(known, ref)):
                return own
        if self.world.means(name) is not None or self.given.get(name, ref) != ref:
            raise Nameless(name)
        self.given[name] = ref
        self.defined[name] = phrase
        return name

    def plain(self, name: str, kind: str) -> str:
        """The plain letter of the circuit's own current or p.d., if it means one here."""
        meant = self.world.means(name)
        if not isinstance(meant, QuantityRef) or meant.kind != kind:
            raise Nameless(f"the {kind} of the circuit")
        self.given[name] = meant
        return name

    def value(self, name: str) -> RationalFunction | None:
        """What a name comes to in its circuit, in letters; None if nothing fixes it."""
        ref = self.means(name)
        if isinstance(ref, QuantityRef):
            return self._asked(ref)
        return None if ref is None else self.worth(ref)

    def worth(self, expression: Expression) -> RationalFunction | None:
        """What an expression comes to in letters; None if nothing fixes it."""

        def read(name: str) -> RationalFunction | meaning.Unknown:
            found = self.value(name)
            return meaning.Unknown(name) if found is None else found

        found = meaning.value(expression, read)
        return None if isinstance(found, meaning.Unknown) else found
