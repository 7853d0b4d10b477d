"""The worlds of a lesson: one for each circuit that is at hand somewhere, and the values that readings fix."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from fractions import Fraction

from boardproof.algebra import meaning
from boardproof.algebra.expression import Name, Relation, names_in
from boardproof.algebra.polynomial import RationalFunction
from boardproof.algebra.written import read_line
from boardproof.circuit.definitions import Definitions
from boardproof.circuit.look_up import Resolved, Unresolved
from boardproof.circuit.model import Circuit
from boardproof.circuit.names import Meaning, known_names, resolve
from boardproof.circuit.phrases import read_phrase
from boardproof.circuit.read import Given, circuit_at
from boardproof.circuit.region import regional
from boardproof.findings import Finding
from boardproof.prove.kinds import finding
from boardproof.prove.walk import Place
from boardproof.prove.world import Meant, World
from boardproof.solve.inverse import Reading, inverse
from boardproof.source import Slice, Span

__all__ = ["Worlds", "values_from_readings"]


class Worlds:
    """Gives the world of each place; equal circuits share one.

    Parameters
    ----------
    definitions : Definitions
        Of the whole lesson.
    decimal : str
        The course's decimal mark.
    read : mapping of str to Fraction
        Values that readings give, by letter: what `as read` means.
    """

    def __init__(
        self, definitions: Definitions, *, decimal: str = ".", read: Mapping[str, Fraction] | None = None
    ) -> None:
        """Make none before it is asked for."""
        self.definitions, self.decimal = definitions, decimal
        self.read = read or {}
        self._worlds: dict[object, World] = {}
        self._known: dict[object, frozenset[str]] = {}

    def at(self, place: Place) -> World:
        """The world of a place."""
        key = (place.circuit.id if place.circuit else None, place.imagined)
        if key not in self._worlds:
            self._worlds[key] = self.of(place.circuit, self._imagined(place))
        return self._worlds[key]

    def of(self, circuit: Circuit | None, imagined: Circuit | None = None) -> World:
        """The world in which a circuit is at hand."""

        def meant(name: str) -> Meant:
            return self.meant(name, circuit)

        return World(circuit, meant, definitions=self.definitions, imagined=imagined, elsewhere=self.of)

    def known(self, circuit: Circuit | None) -> frozenset[str]:
        """Names into which letters side by side may be cut."""
        key = circuit.id if circuit else None
        if key not in self._known:
            names = known_names(self.definitions, circuit)
            self._known[key] = names | regional(names)
        return self._known[key]

    def meant(self, name: str, circuit: Circuit | None) -> Meant:
        """What a name means where a circuit is at hand."""
        found = resolve(name, self.definitions, circuit, decimal=self.decimal)
        match found:
            case Resolved():
                return self.as_read(found)
            case Unresolved(finding=trouble):
                nothing = circuit is None and not self.definitions.names()
                return finding("no-circuit", trouble.span) if nothing else trouble
            case Meaning(let=let):
                line, findings = read_line(let.body, known=self.known(circuit), decimal=self.decimal)
                if line is None or not line.bare:
                    reason = "the let names no expression"
                    return (
                        findings[0]
                        if findings
                        else finding("unchecked-statement", let.span, facts={"reason": reason})
                    )
                return line.bare[0]

    def empty_lets(self, circuits: Iterable[Circuit | None]) -> Iterator[Finding]:
        """Why a `let` means nothing in any of these circuits; one that means something in some is right."""
        worlds = [self.of(circuit) for circuit in circuits]
        for name, let in self.definitions.lets.items():
            troubles = [_trouble(world, world.meant(name)) for world in worlds]
            last = troubles[-1] if troubles else None
            if last is not None and all(troubles):
                yield last if last.span.source else replace(last, span=let.span)

    def phrase(self, text: Slice, circuit: Circuit | None) -> Meant:
        """What a name, a phrase or an expression in braces or after ``=`` means."""
        found = read_phrase(text, self.definitions, circuit, decimal=self.decimal)
        match found:
            case Resolved():
                return self.as_read(found)
            case Unresolved(finding=trouble):
                return replace(trouble, span=text.span)
            case None:
                line, findings = read_line(text, known=self.known(circuit), decimal=self.decimal)
                if line is None or not line.bare:
                    facts = {"reason": "it is neither a name nor an expression"}
                    return findings[0] if findings else finding("unchecked-statement", text.span, facts=facts)
                return line.bare[0]

    def as_read(self, found: Resolved) -> Meant:
        """A value from readings, where one is asked for."""
        if found.ref.kind != "as_read":
            return found
        name = found.ref.of[0]
        if name not in self.read:
            reason = f"no readings give {name}"
            return finding("unchecked-statement", Span("", 0, 0), facts={"reason": reason})
        return RationalFunction.constant(self.read[name])

    def _imagined(self, place: Place) -> Circuit | None:
        circuit = place.circuit
        for path, word in place.imagined:
            text = f"{word} {path}"
            put, _ = circuit_at(
                Slice(text, Span("", 0, len(text))), self.definitions, circuit, decimal=self.decimal
            )
            circuit = put or circuit
        return circuit if place.imagined else None


def _trouble(world: World, found: Meant) -> Finding | None:
    """Why something means nothing; None if it means something."""
    if isinstance(found, Finding):
        return found
    if isinstance(found, Resolved | RationalFunction):
        return None
    return next((trouble for name in names_in(found) if (trouble := world.trouble(name))), None)


def values_from_readings(
    givens: tuple[Given, ...], definitions: Definitions, *, decimal: str = "."
) -> tuple[Mapping[str, Fraction], tuple[Finding, ...]]:
    """The letters that `given` readings fix, with their values.

    Parameters
    ----------
    givens : tuple of Given
        Readings and the circuits they were taken in.
    definitions : Definitions
        Of the lesson.
    decimal : str
        The course's decimal mark.

    Returns
    -------
    (mapping of str to Fraction, tuple of Finding)
        What is wrong with a reading stands at the reading.
    """
    worlds = Worlds(definitions, decimal=decimal)
    readings: list[Reading] = []
    findings: list[Finding] = []
    for given in givens:
        for text in given.readings:
            line, wrong = read_line(text, known=worlds.known(given.circuit), decimal=decimal)
            findings += wrong
            for each in line.statements if line else ():
                value = meaning.number(each.right) if isinstance(each, Relation) else None
                name = each.left.text if isinstance(each, Relation) and isinstance(each.left, Name) else ""
                found = worlds.meant(name, given.circuit) if name and value is not None else None
                if isinstance(found, Resolved) and value is not None:
                    readings.append(Reading(found.ref, value, found.circuit, said=text.text.strip()))
                else:
                    reason = f"{text.text.strip()} is no reading: write a name, an equals sign and a value"
                    trouble = (
                        found
                        if isinstance(found, Finding)
                        else finding("unchecked-statement", text.span, facts={"reason": reason})
                    )
                    findings.append(replace(trouble, span=text.span))
    if not readings:
        return {}, tuple(findings)
    result = inverse(readings)
    findings += [replace(each, span=givens[-1].span) for each in result.findings]
    if any(each.kind.code == "impossible-value" for each in result.findings):
        return {}, tuple(findings)  # used on, it would be told again at every circuit
    return result.values, tuple(findings)
