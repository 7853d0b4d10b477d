"""Lines of an argument as exact equations between unknowns, and results shown elsewhere put to use here.

Names are read by what they mean at the line's place. What is not known to the circuit's letters becomes an unknown:
a current or p.d. of one circuit, or what a group is. Proving with the equations is left to `follows`.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Protocol

from boardproof.algebra import meaning
from boardproof.algebra.expression import Expression, Relation, names_in
from boardproof.algebra.polynomial import RationalFunction
from boardproof.circuit.model import Circuit, CircuitId, Item, leaves, members
from boardproof.circuit.quantity import QuantityRef
from boardproof.prove.alike import Roles, roles
from boardproof.prove.eliminate import Poly
from boardproof.prove.rules import Scope, Unknowns
from boardproof.prove.wiring import wiring
from boardproof.record import record

__all__ = ["Equations", "Surroundings", "Unspoken", "shown_elsewhere"]


class Surroundings(Protocol):
    """What names mean at one place of a lesson, and which circuits they speak of."""

    @property
    def circuit(self) -> Circuit:
        """The circuit at hand."""

    @property
    def imagined(self) -> Circuit | None:
        """The circuit imagined just now (shorted, or with EMFs taken out)."""

    def means(self, name: str) -> QuantityRef | Expression | None:
        """The quantity that a name means, or the expression it stands for; None if nobody knows."""

    def circuit_of(self, circuit: CircuitId) -> Circuit | None:
        """The circuit with this hash, if it is the one at hand or that of a definition."""


class Unspoken(Exception):
    """A name or form that elimination does not know; it ends the reading of one relation."""


class Equations:
    """One question: its unknowns, its circuits, and how names are read.

    Parameters
    ----------
    world : Surroundings
        Where the line stands.
    with_numbers : bool
        Whether the values at hand are put in for letters.
    """

    def __init__(self, world: Surroundings, *, with_numbers: bool) -> None:
        """Begin with the circuit at hand and the one imagined."""
        self.world, self.with_numbers = world, with_numbers
        self.unknowns = Unknowns()
        self.scopes: dict[CircuitId, Scope] = {}
        self.shown: dict[str, Poly] = {}
        self.scope(world.circuit)
        if world.imagined is not None:
            self.scope(world.imagined)

    def scope(self, circuit: Circuit) -> Scope:
        """The rules' instances in a circuit; made when it is first spoken of."""
        found = self.scopes.get(circuit.id)
        if found is None:
            found = Scope(wiring(circuit.item, circuit.zero), len(self.scopes), self.unknowns)
            self.scopes[circuit.id] = found
        return found

    def elsewhere(self, circuit: CircuitId, world: Surroundings) -> Scope | None:
        """The same for a circuit that a name speaks of."""
        found = world.circuit_of(circuit)
        return None if found is None else self.scope(found)

    def name(self, name: str, world: Surroundings) -> RationalFunction:
        """A name as a ratio in letters; unknowns have letters of their own."""
        what = world.means(name)
        if what is None:
            raise Unspoken(name)
        if not isinstance(what, QuantityRef):
            return self.value(what, world)
        scope = self.scopes.get(what.circuit) or self.elsewhere(what.circuit, world)
        poly = None if scope is None else scope.quantity(what)
        if poly is None:
            raise Unspoken(name)
        self.shown.setdefault(name, poly)
        return self.valued(_joined(poly))

    def valued(self, ratio: RationalFunction) -> RationalFunction:
        """With this place's values put in, if numbers are named."""
        return ratio.substitute(self.world.circuit.values) if self.with_numbers else ratio

    def value(self, expression: Expression, world: Surroundings) -> RationalFunction:
        """An expression as a ratio in letters."""
        found = meaning.value(expression, lambda name: self.name(name, world))
        if isinstance(found, meaning.Unknown):
            raise Unspoken(found.reason)
        return found

    def equation(self, relation: Relation, world: Surroundings) -> tuple[Poly, Poly]:
        """Numerator and denominator of left less right."""
        if relation.sign not in ("=", "≈"):
            raise Unspoken(relation.sign)
        gap = self.value(relation.left, world) - self.value(relation.right, world)
        return self.split(gap.numerator), self.split(gap.denominator)

    def split(self, over: RationalFunction) -> Poly:
        """A polynomial parted into monomials of unknowns and what stands before them."""
        if over.is_zero:
            return {}
        letters = sorted((int(each[1:]), each) for each in over.letters if each.startswith("?"))
        parts: Poly = {(): over}
        for number, letter in letters:
            parts = {
                (*monomial, *(number,) * power): part
                for monomial, before in parts.items()
                for power, part in enumerate(before.coefficients(letter))
                if part
            }
        return parts

    def instances(self, rule: str) -> Iterator[Poly]:
        """What a rule says of every circuit spoken of so far."""
        for scope in list(self.scopes.values()):
            for poly in scope.instances(rule):
                if self.with_numbers:
                    poly = {each: self.valued(number) for each, number in poly.items()}  # noqa: PLW2901 - same poly
                yield {each: number for each, number in poly.items() if number}


def _joined(poly: Poly) -> RationalFunction:
    """A polynomial as one ratio, each unknown a letter."""
    total = RationalFunction.constant(0)
    for monomial, number in poly.items():
        term = number
        for unknown in monomial:
            term = term * RationalFunction.letter(f"?{unknown}")
        total = total + term
    return total


def shown_elsewhere(
    relations: Sequence[Relation], world: Surroundings, argument: Equations
) -> Iterator[Poly]:
    """What was shown there, said of everything here that has the same shape.

    Parameters
    ----------
    relations : sequence of Relation
        The result.
    world : Surroundings
        What its names mean where it was shown.
    argument : Equations
        Where it is to be used.

    Yields
    ------
    Poly
        Nought by that result.
    """
    names = {name.text for relation in relations for name in names_in(relation)}
    refs = [ref for name in names if isinstance(ref := world.means(name), QuantityRef)]
    base = _shown_on(refs, world)
    if base is None:
        return
    for scope in list(argument.scopes.values()):
        paths = {id(entry.item): path for path, entry in scope.wired.entries.items()}
        for entry in list(scope.wired.entries.values()):
            found = roles(base, entry.item)
            if found is None:
                continue
            read = _Reading(argument, world, scope, found, paths)
            for relation in relations:
                try:
                    gap = read.value(relation.left) - read.value(relation.right)
                except Unspoken:
                    continue
                yield argument.split(gap.numerator)


def _shown_on(refs: Sequence[QuantityRef], world: Surroundings) -> Item | None:
    """The smallest group, of the circuits that the names speak of, that holds all their parts."""
    circuits = [
        world.circuit,
        *(found for ref in refs if (found := world.circuit_of(ref.circuit)) is not None),
    ]
    letters = {ref.of[0] for ref in refs if ref.kind == "letter"}
    paths = {
        ref.of[0] for ref in refs if ref.kind not in ("letter", "count", "potential") and len(ref.of) == 1
    }
    for circuit in circuits:
        items = [entry.item for entry in wiring(circuit.item, circuit.zero).entries.values()]
        items.sort(key=lambda item: sum(1 for _ in leaves(item)))
        for item in items:
            own = {worth.letter for leaf in leaves(item) for worth in leaf.part.worths()}
            if letters <= own and paths <= _paths(item):
                return item
    return None


def _paths(item: Item) -> set[str]:
    found = {item.path}
    for member in members(item):
        found |= _paths(member)
    return found


@record
class _Reading:
    """Reads the names of a result by the roles that they play here."""

    argument: Equations
    world: Surroundings
    scope: Scope
    roles: Roles
    paths: Mapping[int, str]

    def value(self, expression: Expression) -> RationalFunction:
        found = meaning.value(expression, self.name)
        if isinstance(found, meaning.Unknown):
            raise Unspoken(found.reason)
        return found

    def name(self, name: str) -> RationalFunction:
        what = self.world.means(name)
        if what is None:
            raise Unspoken(name)
        if not isinstance(what, QuantityRef):
            return self.value(what)
        if what.kind in ("letter", "count"):
            if what.of[0] not in self.roles.letters:
                raise Unspoken(name)
            return self.argument.valued(self.roles.letters[what.of[0]] * what.sense)
        here = [self.paths.get(id(self.roles.items[path])) for path in what.of if path in self.roles.items]
        poly = (
            self.scope.quantity(replace(what, of=tuple(map(str, here))))
            if None not in here and here
            else None
        )
        if poly is None:
            raise Unspoken(name)
        return self.argument.valued(_joined(poly))
