"""What a name in the maths means: the teacher's own names first, then those that nobody has to define."""

from __future__ import annotations

from typing import Final

from boardproof.circuit.count import nodes_in
from boardproof.circuit.definitions import Definitions, Let
from boardproof.circuit.implied import HEADS, implied, near_to
from boardproof.circuit.look_up import Found, Resolved, Unresolved, letters_of, missing
from boardproof.circuit.model import Circuit
from boardproof.circuit.phrases import read_phrase
from boardproof.circuit.place import named_items
from boardproof.circuit.quantity import QuantityKind, QuantityRef
from boardproof.circuit.region import native
from boardproof.circuit.spelling import head, normal_name, squeezed
from boardproof.findings import near_names
from boardproof.quantities import (
    AMPERE,
    COULOMB,
    FARAD,
    JOULE,
    OHM,
    PURE,
    SECOND,
    VOLT,
    WATT,
    Dimension,
)
from boardproof.record import record

__all__ = ["Meaning", "dimension_of", "known_names", "resolve"]

DIMENSIONS: Final[dict[QuantityKind, Dimension]] = {
    "count": PURE,
    "emf": VOLT,
    "resistance": OHM,
    "capacitance": FARAD,
    "current": AMPERE,
    "pd": VOLT,
    "potential": VOLT,
    "terminal_pd": VOLT,
    "lost_volts": VOLT,
    "short_circuit_current": AMPERE,
    "power": WATT,
    "power_given": WATT,
    "power_out": WATT,
    "heat": WATT,
    "greatest_power": WATT,
    "efficiency": PURE,
    "charge": COULOMB,
    "energy": JOULE,
    "time_constant": SECOND,
    "cells_in": PURE,
}
BY_HEAD: Final[dict[str, Dimension]] = {"E": VOLT, "r": OHM, "R": OHM, "C": FARAD, "I": AMPERE, "V": VOLT}


@record
class Meaning:
    """A name that a `let` gives to an expression, still to be read as maths."""

    let: Let


def resolve(
    name: str, known: Definitions, circuit: Circuit | None, *, decimal: str = "."
) -> Resolved | Meaning | Unresolved:
    """What a name means at a place where `circuit` is at hand.

    Parameters
    ----------
    name : str
        As typed, in any spelling.
    known : Definitions
        What the lesson defines.
    circuit : Circuit or None
        The one at hand.
    decimal : str
        The course's decimal mark.

    Returns
    -------
    Resolved
        The quantity, and the circuit to ask it of: the one at hand; a group's own circuit if the group is not in
        it (with the values at hand); the circuit of a `when`.
    Meaning
        A `let` names an expression.
    Unresolved
        Unknown, of two meanings, or not in this circuit.

    Examples
    --------
    >>> from boardproof.circuit.read import read_circuit
    >>> from boardproof.source import Slice, Span
    >>> typed = "A = cell 6 V, 1 ohm; R = resistor 11 ohm; A across R"
    >>> read = read_circuit(Slice(typed, Span("x", 0, len(typed))))
    >>> [resolve(name, read.definitions, read.at_hand).ref.kind for name in ("E", "V_A", "I", "R")]
    ['letter', 'pd', 'current', 'letter']
    """
    name = normal_name(name)
    let = known.lets.get(name)
    if let:
        phrase = read_phrase(let.body, known, circuit, when=let.when, decimal=decimal)
        return Meaning(let) if phrase is None else phrase
    found = implied(name, known, circuit)
    if isinstance(found, Unresolved) and found.finding.kind.code == "unknown-name":
        others = (implied(each, known, circuit) for each in native(name))
        if (other := next((each for each in others if isinstance(each, Resolved)), None)) is not None:
            return other
        near = near_names(name, {*_known_letters(known, circuit), *near_to(name, circuit)})
        return missing("unknown-name", word=name, near=", ".join(near))
    return found


def _known_letters(known: Definitions, circuit: Circuit | None) -> frozenset[str]:
    """Letters, counts and lets of the lesson and of the circuit at hand."""
    here = letters_of(circuit) if circuit else ()
    return frozenset(here) | frozenset(known.letters) | known.counts | frozenset(known.lets)


def known_names(known: Definitions, circuit: Circuit | None) -> frozenset[str]:
    """Every name that means exactly one thing here, for cutting letters set side by side (``IR``).

    Parameters
    ----------
    known : Definitions
        What the lesson defines.
    circuit : Circuit or None
        The one at hand.

    Examples
    --------
    >>> from boardproof.circuit.read import read_circuit
    >>> from boardproof.source import Slice, Span
    >>> typed = "A = cell 6 V, 1 ohm; R = resistor 11 ohm; A across R"
    >>> read = read_circuit(Slice(typed, Span("x", 0, len(typed))))
    >>> {"E_A", "r_A", "R", "V_R", "I"} - known_names(read.definitions, read.at_hand)
    set()
    """
    subscripts = {squeezed(name) for name in known.names()}
    if circuit:
        subscripts |= {squeezed(name) for name in named_items(circuit.item)}
        subscripts |= {
            worth.letter.partition("_")[2] for leaf in circuit.leaves for worth in leaf.part.worths()
        }
        nodes = [node for node in nodes_in(circuit.item) if len(node) == 1]
        subscripts |= {a + b for a in nodes for b in nodes if a != b}
    implied_names = {f"{one}_{each}" for one in HEADS for each in subscripts if each} | set(HEADS)
    candidates = _known_letters(known, circuit)
    looked_up: dict[str, Found | Unresolved] = {}
    return candidates | {
        name
        for name in implied_names - candidates
        if isinstance(implied(name, known, circuit, looked_up), Resolved)
    }


def dimension_of(ref: QuantityRef, known: Definitions, circuit: Circuit | None = None) -> Dimension:
    """The dimension of a quantity.

    Parameters
    ----------
    ref : QuantityRef
        Which.
    known : Definitions
        For letters.
    circuit : Circuit or None
        The one it is asked of: members that were given values of their own carry letters that only it knows.

    Examples
    --------
    >>> dimension_of(QuantityRef("current", ("R",), "x"), Definitions())
    Dimension(volt=0, ampere=1, second=0)
    """
    if ref.kind in DIMENSIONS:
        return DIMENSIONS[ref.kind]
    letter = ref.of[0]
    if letter in known.letters:
        return known.letters[letter].dimension
    for leaf in circuit.leaves if circuit else ():
        part = leaf.part
        for worth, dimension in ((part.emf, VOLT), (part.resistance, OHM), (part.capacitance, FARAD)):
            if worth and worth.letter == letter:
                return dimension
    if letter in known.counts:
        return PURE
    return BY_HEAD.get(head(letter), PURE)
