"""The part or group that a path names: in the circuit at hand, or else by itself."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from types import MappingProxyType
from typing import Final

from boardproof.circuit.change import done_to, settled
from boardproof.circuit.definitions import Definitions
from boardproof.circuit.kinds import finding
from boardproof.circuit.model import Circuit, Copies, Family, Item, Leaf, Run, members
from boardproof.circuit.place import Missing, find, placed, standing_in_copies
from boardproof.circuit.quantity import QuantityRef
from boardproof.findings import Finding
from boardproof.record import record
from boardproof.source import Span

__all__ = ["Found", "Resolved", "Unresolved", "letters_of", "look_up", "missing", "own_circuit"]

NOWHERE: Final = Span("", 0, 0)


@record
class Resolved:
    """A quantity and the circuit it is asked of."""

    ref: QuantityRef
    circuit: Circuit


@record
class Unresolved:
    """A name or phrase that means nothing, or several things, here.

    Parameters
    ----------
    finding : Finding
        Why; give it a place with `at`.
    """

    finding: Finding

    def at(self, span: Span) -> Finding:
        """The finding at the place where the name stands."""
        return replace(self.finding, span=span)


@record
class Found:
    """A part or group in a circuit.

    Parameters
    ----------
    item : Item
        Without what was done to it.
    path : str
        The path that answers know it by: that of the first of a run of alike ones.
    circuit : Circuit
        The one at hand, or the group's own if it is not in it.
    is_here : bool
        Whether that is the circuit at hand.
    alike : Found or None
        One of the copies of a part that stands in the circuit only as several, all alike.
    emf_out : bool
        Whether its EMF was taken out.
    """

    item: Item
    path: str
    circuit: Circuit
    is_here: bool = True
    alike: Found | None = None
    emf_out: bool = False


def missing(code: str, **facts: str) -> Unresolved:
    """Nothing, and why; its place is given later.

    Parameters
    ----------
    code : str
        Of the kind.
    **facts : str
        What its sentences speak of.

    Examples
    --------
    >>> missing("unknown-name", word="E_z").finding.kind.code
    'unknown-name'
    """
    return Unresolved(finding(code, NOWHERE, related=(), **facts))


def letters_of(circuit: Circuit) -> tuple[str, ...]:
    """The letters that the parts of a circuit carry and those that count its members, each once, in order.

    Parameters
    ----------
    circuit : Circuit
        At hand.

    Examples
    --------
    >>> from boardproof.circuit.model import Part, Worth
    >>> letters_of(Circuit(Leaf("A", Part("A", "cell", Worth("E_1"), Worth("r_1")))))
    ('E_1', 'r_1')
    """
    return tuple(dict.fromkeys([*circuit.letters, *sorted(circuit.counts)]))


def own_circuit(known: Definitions, name: str, circuit: Circuit | None) -> Circuit | None:
    """A part or group by itself, with the values that the circuit at hand gives to its letters.

    Parameters
    ----------
    known : Definitions
        What the lesson defines.
    name : str
        Of the part or group.
    circuit : Circuit or None
        The one at hand.
    """
    own = known.circuits.get(name)
    if own is None:
        part = known.parts.get(name)
        if part is None:
            return None
        values = {worth.letter: worth.value for worth in part.worths() if worth.value is not None}
        own = Circuit(Leaf(name, part), MappingProxyType(values), None, name)
    if circuit is None:
        return own
    letters = {*letters_of(own), *(known.counts & set(circuit.values))}
    new = {**own.values, **{key: value for key, value in circuit.values.items() if key in letters}}
    return replace(own, item=settled(own.item, new), values=MappingProxyType(new))


def look_up(path: str, known: Definitions, circuit: Circuit | None) -> Found | Unresolved:
    """The part or group that a path names: in the circuit at hand, or else by itself.

    Parameters
    ----------
    path : str
        ``R``, ``bank.2.3``; names in normal form.
    known : Definitions
        What the lesson defines.
    circuit : Circuit or None
        The one at hand; without it, or if the path is not in it, the part or group is taken by itself.

    Returns
    -------
    Found or Unresolved
        ``unknown-name`` or ``no-such-member`` if there is none.

    Examples
    --------
    >>> from boardproof.circuit.model import Part
    >>> circuit = Circuit(Leaf("A", Part("A", "cell")))
    >>> look_up("A", Definitions(), circuit).is_here
    True
    >>> look_up("B", Definitions(), circuit).finding.kind.code
    'unknown-name'
    """
    name = path.split(".", maxsplit=1)[0]
    here = circuit.item if circuit else None
    why = ""
    if here is not None and circuit is not None:
        found = find(here, path, circuit.values)
        if not isinstance(found, Missing):
            inner, hows = done_to(found)
            return Found(inner, inner.path, circuit, emf_out="without emf" in hows)
        why = found.why
        if why and not standing_in_copies(here, name):
            return missing("no-such-member", what=why)
    own = own_circuit(known, name, circuit)
    if own is None:
        return missing("unknown-name", word=path)
    found = find(own.item, path, own.values) if own.item.path == name else own.item
    if isinstance(found, Missing):
        return missing("no-such-member", what=found.why or f"{name} has no members")
    inner, hows = done_to(found)
    alike = _alike(name, own.item, circuit) if circuit and name == path else None
    return Found(inner, inner.path, own, is_here=False, alike=alike, emf_out="without emf" in hows)


def _alike(name: str, own: Item, circuit: Circuit) -> Found | None:
    """The first of the copies of a part or group, if nothing tells them apart."""
    copies: list[Item] = [leaf for leaf in circuit.leaves if leaf.part.name == name]
    if not copies and not isinstance(own, Leaf | Family):
        runs = _runs(circuit.item)
        copies = [run.item for run, alone in runs if alone and placed(own, run.item.path) == run.item]
    return Found(copies[0], copies[0].path, circuit) if len(copies) == 1 else None


def _runs(item: Item) -> Iterator[tuple[Run, bool]]:
    """Every run of alike copies in a tree, and whether it is all of its copies."""
    if isinstance(item, Copies):
        for run in item.runs:
            yield run, len(item.runs) == 1
            yield from _runs(run.item)
    else:
        for member in members(item):
            yield from _runs(member)
