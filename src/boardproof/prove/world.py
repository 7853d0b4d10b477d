"""What names mean at one place: as ratios of letters, as the scene's numbers, with their dimensions."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from fractions import Fraction
from functools import cached_property
from types import MappingProxyType

from boardproof.algebra import meaning
from boardproof.algebra.dimension import dimensioned
from boardproof.algebra.expression import Expression, Name
from boardproof.algebra.meaning import Unknown
from boardproof.algebra.polynomial import RationalFunction
from boardproof.circuit.definitions import Definitions
from boardproof.circuit.look_up import Resolved
from boardproof.circuit.model import Across, Changed, Circuit, CircuitId, Item, leaves
from boardproof.circuit.names import dimension_of, known_names
from boardproof.circuit.quantity import QuantityRef
from boardproof.findings import Finding, worded
from boardproof.prove.makes import value_that_makes
from boardproof.quantities import Dimension
from boardproof.solve.answers import Unknown as NoAnswer
from boardproof.solve.answers import answers

__all__ = ["Meant", "World"]

Meant = Resolved | Expression | RationalFunction | Finding
"""A quantity, the expression that a name stands for, a ratio already known, or why it means nothing."""


class World:
    """What names mean where one circuit is at hand; each name is looked up once.

    Parameters
    ----------
    circuit : Circuit or None
        At hand.
    resolve : callable
        Gives what a name means (see `Meant`).
    definitions : Definitions, optional
        What the lesson defines: its counts, and the dimensions of its letters.
    imagined : Circuit or None
        The circuit imagined just now.
    elsewhere : callable, optional
        Gives the world of another circuit, for values that are looked for there.
    """

    def __init__(
        self,
        circuit: Circuit | None,
        resolve: Callable[[str], Meant],
        *,
        definitions: Definitions | None = None,
        imagined: Circuit | None = None,
        elsewhere: Callable[[Circuit], World] | None = None,
    ) -> None:
        """Nothing is looked up before it is asked for."""
        self._circuit, self.imagined, self._resolve = circuit, imagined, resolve
        self.elsewhere = elsewhere
        self.definitions = definitions or Definitions()
        self.counts = self.definitions.counts
        self._meant: dict[str, Meant] = {}
        self._circuits: dict[CircuitId, Circuit] = {}

    @property
    def circuit(self) -> Circuit:
        """The circuit at hand; an empty one is never asked."""
        assert self._circuit is not None
        return self._circuit

    @property
    def at_hand(self) -> Circuit | None:
        """The circuit at hand, if there is one."""
        return self._circuit

    def with_name(self, name: str, meant: Meant) -> World:
        """The same with one more name in it."""

        def resolve(asked: str) -> Meant:
            return meant if asked == name else self.meant(asked)

        return World(self._circuit, resolve, definitions=self.definitions, imagined=self.imagined)

    def meant(self, name: str) -> Meant:
        """What a name means, looked up once."""
        if name not in self._meant:
            found = self._resolve(name)
            if isinstance(found, Resolved):
                self._circuits[found.circuit.id] = found.circuit
            self._meant[name] = found
        return self._meant[name]

    def means(self, name: str) -> QuantityRef | Expression | None:
        """The quantity that a name means, or the expression it stands for; None if nobody knows."""
        found = self.meant(name)
        if isinstance(found, Resolved):
            return found.ref
        return None if isinstance(found, Finding | RationalFunction) else found

    def circuit_of(self, circuit: CircuitId) -> Circuit | None:
        """The circuit with this hash, if it is the one at hand or that of a definition."""
        if self._circuit is not None and self._circuit.id == circuit:
            return self._circuit
        return self._circuits.get(circuit)

    def trouble(self, name: Name) -> Finding | None:
        """Why a name means nothing here, with the name's own place; None if it means something."""
        found = self.meant(name.text)
        if not isinstance(found, Finding):
            return None
        return Finding(
            found.kind, name.span or found.span, found.facts, found.evidence, found.related, found.edit
        )

    @cached_property
    def first_index(self) -> int:
        """Where the circuit's own family of parts begins."""
        return min((family.first for family in self.definitions.families.values()), default=1)

    @cached_property
    def load_letters(self) -> frozenset[str]:
        """Letters that the load carries."""
        item = self._circuit.item if self._circuit else None
        while isinstance(item, Changed):
            item = item.item
        loads = leaves(item.load) if isinstance(item, Across) else ()
        return frozenset(worth.letter for leaf in loads for worth in leaf.part.worths())

    def in_letters(self, name: str) -> RationalFunction | Unknown:
        """The exact ratio of letters that a name stands for."""
        found = self.meant(name)
        match found:
            case Resolved():
                return self._asked(found, "letters")
            case RationalFunction():
                return found
            case Finding():
                return Unknown(_reason(found))
            case _:
                return meaning.value(found, self.in_letters, first=self.first_index)

    def in_numbers(self, name: str) -> Fraction | Unknown:
        """The scene's value of a name, in SI units."""
        found = self.meant(name)
        match found:
            case Resolved():
                value: RationalFunction | Unknown = self._asked(found, "exact")
            case RationalFunction():
                value = found
            case Finding():
                return Unknown(_reason(found))
            case _:
                value = meaning.value(found, self.constant, first=self.first_index)
        if isinstance(value, Unknown):
            return value
        number = value.as_number
        return Unknown(f"{name} has no value here") if number is None else number

    def constant(self, name: str) -> RationalFunction | Unknown:
        """The scene's value of a name, as a ratio."""
        number = self.in_numbers(name)
        return number if isinstance(number, Unknown) else RationalFunction.constant(number)

    def _asked(self, means: Resolved, way: str) -> RationalFunction | Unknown:
        if means.ref.kind == "value_that_makes":
            return self._made(means, way)
        found = answers(means.circuit, "letters" if way == "letters" else "exact").ask(means.ref)
        if isinstance(found, NoAnswer):
            return Unknown(_reason(found.reason))
        exact = found.exact
        return exact if isinstance(exact, RationalFunction) else RationalFunction.constant(exact)

    def _made(self, means: Resolved, way: str) -> RationalFunction | Unknown:
        """The value of a letter that makes a statement true where its circuit is at hand."""
        here = self._circuit is not None and means.circuit.id == self._circuit.id
        if not here and self.elsewhere is None:
            return Unknown("it speaks of another circuit")
        world = self if here or self.elsewhere is None else self.elsewhere(means.circuit)
        values = means.circuit.values if way == "exact" else {}
        found = value_that_makes(means.ref, world, values)
        return found if isinstance(found, Unknown) else found.substitute(values)

    def names(self) -> frozenset[str]:
        """Every name that means one thing here."""
        return known_names(self.definitions, self._circuit)

    def dimension(self, name: str) -> Dimension | None:
        """The dimension of a name; None if nothing is known of it."""
        found = self.meant(name)
        match found:
            case Resolved():
                return self.dimension_of_ref(found)
            case Finding() | RationalFunction():
                return None
            case _:
                inner = dimensioned(found, self.dimension)
                return inner if isinstance(inner, Dimension) else None

    def dimension_of_ref(self, found: Resolved) -> Dimension:
        """The dimension of a quantity; a value of a letter has the letter's."""
        if found.ref.kind == "value_that_makes":
            letter = QuantityRef("letter", found.ref.of[:1], found.circuit.id)
            return dimension_of(letter, self.definitions, found.circuit)
        return dimension_of(found.ref, self.definitions, found.circuit)

    def values(self) -> Mapping[str, Fraction]:
        """The values in force, by letter."""
        return self._circuit.values if self._circuit else {}

    def sense(self, name: str) -> str:
        """In which direction a name counts, in words; empty if it has none."""
        found = self.meant(name)
        if not isinstance(found, Resolved) or found.ref.kind not in {"current", "pd"}:
            return ""
        of = " and ".join(found.ref.of)
        kinds = {leaf.path: leaf.part.kind for leaf in leaves(found.circuit.item)}
        if found.ref.kind == "current":
            return (
                f"out of the plus of {of}"
                if kinds.get(of, "cell") in {"cell", "source"}
                else f"along {of} as it is written"
            )
        return (
            f"across {of}, plus less minus"
            if kinds.get(of, "cell") in {"cell", "source"}
            else f"along the current in {of}"
        )

    @cached_property
    def _exact(self) -> frozenset[Fraction]:
        return frozenset(self._circuit.values.values()) if self._circuit else frozenset()

    def exact_values(self) -> frozenset[Fraction]:
        """Every value that the scene gives."""
        return self._exact

    def with_values(self, values: Mapping[str, Fraction]) -> World:
        """The same names where some letters have other values, in every circuit that has them."""

        def changed(circuit: Circuit) -> Circuit:
            here = {letter: value for letter, value in values.items() if letter in circuit.letters}
            here |= {letter: value for letter, value in values.items() if letter in circuit.counts}
            return replace(circuit, values=MappingProxyType({**circuit.values, **here}))

        def resolve(name: str) -> Meant:
            found = self.meant(name)
            if not isinstance(found, Resolved):
                return found
            circuit = changed(found.circuit)
            return Resolved(replace(found.ref, circuit=circuit.id), circuit)

        circuit = changed(self._circuit) if self._circuit else None
        return World(circuit, resolve, definitions=self.definitions, elsewhere=self.elsewhere)

    def without_load(self) -> World | None:
        """The same names with nothing joined to the terminals; None where there is no load to take off."""
        if self._circuit is None:
            return None
        opened = _without_load(self._circuit.item)
        if opened is None:
            return None
        circuit = Circuit(
            opened, self._circuit.values, self._circuit.zero, f"{self._circuit.written} but remove the load"
        )
        here = self._circuit.id

        def resolve(name: str) -> Meant:
            found = self.meant(name)
            if isinstance(found, Resolved) and found.circuit.id == here:
                ref = QuantityRef(found.ref.kind, found.ref.of, circuit.id, found.ref.sense)
                return Resolved(ref, circuit)
            return found

        return World(circuit, resolve, definitions=self.definitions, elsewhere=self.elsewhere)


def _reason(finding: Finding) -> str:
    """A finding's sentence as it goes on after a colon."""
    message = worded(finding).message
    is_word = message[1:2].islower() or message.startswith(("A ", "I "))
    first = message[:1].lower() if is_word and not message.startswith("I ") else message[:1]
    return first + message[1:].rstrip(".")


def _without_load(item: Item) -> Item | None:
    match item:
        case Across(source=source, load=load, path=path, span=span) if any(True for _ in leaves(load)):
            return Across(source, Changed(load, "removed"), path, span)
        case Changed(item=inner, how=how, span=span):
            opened = _without_load(inner)
            return None if opened is None else Changed(opened, how, span)
        case _:
            return None
