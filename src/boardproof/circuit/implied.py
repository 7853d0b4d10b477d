"""Names that nobody has to define: ``E_A``, ``r_both``, ``I_2``, ``V_ab``, and E, r, R, I, V by themselves.

Names that the teacher gave (`let`) come first; they are `names`' work.
"""

from __future__ import annotations

from dataclasses import replace
from types import MappingProxyType
from typing import Final

from boardproof.circuit.build import is_closed
from boardproof.circuit.change import done_to, settled
from boardproof.circuit.count import how_many, nodes_in
from boardproof.circuit.definitions import Definitions
from boardproof.circuit.kinds import finding
from boardproof.circuit.model import Across, Circuit, Family, Item, Leaf, Network, Part, has_cells, leaves
from boardproof.circuit.part import at_index
from boardproof.circuit.place import Missing, find, named_items, standing_in_copies
from boardproof.circuit.quantity import QuantityKind, QuantityRef
from boardproof.circuit.spelling import head, squeezed
from boardproof.findings import Finding
from boardproof.record import record
from boardproof.source import Span

__all__ = [
    "Found",
    "Resolved",
    "Unresolved",
    "implied",
    "letters_of",
    "look_up",
    "missing",
    "near_to",
    "quantity_of",
]

NOWHERE: Final = Span("", 0, 0)
CELLS: Final = frozenset({"cell", "source"})


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
    >>> from boardproof.circuit.model import Worth
    >>> letters_of(Circuit(Leaf("A", Part("A", "cell", Worth("E_1"), Worth("r_1")))))
    ('E_1', 'r_1')
    """
    return tuple(dict.fromkeys([*circuit.letters, *sorted(circuit.counts)]))


def _own_circuit(known: Definitions, name: str, circuit: Circuit | None) -> Circuit | None:
    """A part or group by itself, with the values that the circuit at hand gives to its letters."""
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
    own = _own_circuit(known, name, circuit)
    if own is None:
        return missing("unknown-name", word=path)
    found = find(own.item, path, own.values) if own.item.path == name else own.item
    if isinstance(found, Missing):
        return missing("no-such-member", what=found.why or f"{name} has no members")
    inner, hows = done_to(found)
    alike = _alike(name, circuit) if circuit and name == path else None
    return Found(inner, inner.path, own, is_here=False, alike=alike, emf_out="without emf" in hows)


def _alike(name: str, circuit: Circuit) -> Found | None:
    """The first of the copies of a part, if nothing tells them apart."""
    copies = [leaf for leaf in circuit.leaves if leaf.part.name == name]
    return Found(copies[0], copies[0].path, circuit) if len(copies) == 1 else None


def _carried_letter(part: Part, kind: QuantityKind) -> str | None:
    """The letter a part carries for its EMF, resistance or capacitance."""
    worth = {"emf": part.emf, "resistance": part.resistance, "capacitance": part.capacitance}.get(kind)
    return worth.letter if worth else None


OF_A_GROUP: Final = frozenset({"emf", "resistance", "capacitance", "short_circuit_current", "cells_in"})
OF_CELLS: Final = frozenset(
    {
        "emf",
        "terminal_pd",
        "lost_volts",
        "short_circuit_current",
        "power_given",
        "power_out",
        "greatest_power",
    }
)
SAID: Final[dict[QuantityKind, str]] = {
    "emf": "The EMF",
    "capacitance": "The capacitance",
    "terminal_pd": "The terminal p.d.",
    "lost_volts": "The lost volts",
    "short_circuit_current": "The short-circuit current",
    "power_given": "The power given by the EMF",
    "power_out": "The power out",
    "greatest_power": "The greatest power",
    "resistance": "The resistance",
    "current": "The current",
    "pd": "The p.d.",
}


def quantity_of(kind: QuantityKind, found: Found, name: str, sense: int = 1) -> Resolved | Unresolved:
    """A quantity of a part or group, if it has such a one.

    Parameters
    ----------
    kind : QuantityKind
        What is asked.
    found : Found
        Of what.
    name : str
        As it was called, for the finding.
    sense : +1 or -1
        -1 if it was named the other way round.
    """
    item, circuit = found.item, found.circuit
    what = SAID.get(kind, f"The {kind}")
    if isinstance(item, Leaf | Family):
        part = item.part
        if (kind in OF_CELLS and part.kind not in CELLS) or (
            kind == "capacitance" and part.kind != "capacitor"
        ):
            return missing("not-of-this", what=what, name=name, kind=f"a {part.kind}")
        letter = None if found.emf_out and kind == "emf" else _carried_letter(part, kind)
        if letter:
            return Resolved(
                QuantityRef("letter", (letter,), circuit.id, sense if kind == "emf" else 1), circuit
            )
    elif kind in (OF_A_GROUP - {"cells_in"}) | {"current", "pd"} and is_closed(item):
        return missing("not-of-this", what=what, name=name, kind="a complete circuit, which has no ends")
    elif kind == "emf" and not has_cells(item):
        return missing("not-of-this", what=what, name=name, kind="a group without cells")
    elif kind == "capacitance" and all(leaf.part.kind != "capacitor" for leaf in leaves(item)):
        return missing("not-of-this", what=what, name=name, kind="a group without capacitors")
    if not found.is_here and kind not in OF_A_GROUP and not is_closed(item):
        if found.alike:
            return quantity_of(kind, found.alike, name, sense)
        several = f"{name} is not in this circuit by itself"
        return missing("no-such-member", what=several)
    return Resolved(QuantityRef(kind, (found.path,), circuit.id, sense), circuit)


# ---- names

HEADS: Final[dict[str, QuantityKind]] = {
    "E": "emf",
    "r": "resistance",
    "R": "resistance",
    "C": "capacitance",
    "I": "current",
    "V": "pd",
}


def implied(
    name: str,
    known: Definitions,
    circuit: Circuit | None,
    looked_up: dict[str, Found | Unresolved] | None = None,
) -> Resolved | Unresolved:
    """What a name means without a `let`.

    Parameters
    ----------
    name : str
        In normal form.
    known : Definitions
        What the lesson defines.
    circuit : Circuit or None
        The one at hand.
    looked_up : dict, optional
        What each path names there; whoever asks for many names keeps one, and it is filled.

    Returns
    -------
    Resolved or Unresolved
        A letter that parts carry comes first, then quantities of parts and groups by their names or by the
        subscript that a part's letters share. Two claims make it ``two-meanings``.
    """
    letter = _letter(name, known, circuit)
    if letter:
        return letter
    before, line, subscript = name.partition("_")
    kind = HEADS.get(before)
    if kind is None:
        return missing("unknown-name", word=name)
    if not line:
        return _plain(name, kind, circuit)
    claims = _claims(before, kind, subscript, known, circuit, {} if looked_up is None else looked_up)
    meant = [claim for _, claim in claims if isinstance(claim, Resolved)]
    if len({(each.ref.kind, each.ref.of, each.ref.sense) for each in meant}) > 1:
        (a, first), (b, _), *_ = [claim for claim in claims if isinstance(claim[1], Resolved)]
        assert isinstance(first, Resolved)
        return missing("two-meanings", name=name, a=a, b=b, better=a)
    if meant:
        return meant[0]
    return claims[0][1] if claims else missing("unknown-name", word=name)


def _letter(name: str, known: Definitions, circuit: Circuit | None) -> Resolved | None:
    """A letter that a part of the circuit at hand carries, or any part of the lesson, or a count."""
    if circuit:
        if name in circuit.counts:
            return Resolved(QuantityRef("count", (name,), circuit.id), circuit)
        if name in circuit.letters or _of_family(name, circuit):
            return Resolved(QuantityRef("letter", (name,), circuit.id), circuit)
    if name in known.counts:
        where = circuit or Circuit(Leaf("", Part("", "wire")))
        return Resolved(QuantityRef("count", (name,), where.id), where)
    for part in known.parts.values() if name in known.letters else ():
        if any(worth.letter == name for worth in part.worths()):
            own = _own_circuit(known, part.name, circuit)
            assert own is not None
            return Resolved(QuantityRef("letter", (name,), own.id), own)
    for each in known.circuits.values():
        if _of_family(name, each):
            return Resolved(QuantityRef("letter", (name,), each.id), each)
    return None


def _of_family(name: str, circuit: Circuit) -> bool:
    """Whether a name is the letter of one member of a family: ``E_3``, ``E_n`` of ``E_k``."""
    for leaf in circuit.leaves:
        if isinstance(leaf, Family):
            for worth in leaf.part.worths():
                stem = at_index(worth.letter, leaf.index, "")
                number = name[len(stem) :] if name.startswith(stem) else ""
                if number == leaf.last or (number.isdigit() and int(number) >= leaf.first):
                    return True
    return False


def _claims(
    before: str,
    kind: QuantityKind,
    subscript: str,
    known: Definitions,
    circuit: Circuit | None,
    looked_up: dict[str, Found | Unresolved],
) -> list[tuple[str, Resolved | Unresolved]]:
    """Everything that the subscript can stand for, each with its name in words."""
    claims: list[tuple[str, Resolved | Unresolved]] = []
    paths = dict.fromkeys([*_named(subscript, known), *_sharing(subscript, circuit)])
    for path in paths:
        if path not in looked_up:
            looked_up[path] = look_up(path, known, circuit)
        found = looked_up[path]
        if isinstance(found, Unresolved):
            claims.append((path, found))
            continue
        is_cell = isinstance(found.item, Leaf | Family) and found.item.part.kind in CELLS
        is_part = isinstance(found.item, Leaf | Family)
        if (before == "r" and is_part and not is_cell) or (before == "R" and is_cell):
            continue
        asked = quantity_of(kind, found, path)
        words = {"current": f"current in {path}", "pd": f"p.d. across {path}"}.get(kind, f"{kind} of {path}")
        claims.append((words, asked))
    if before == "V" and len(subscript) == 2 and circuit and set(subscript) <= nodes_in(circuit.item):
        a, b = subscript[0], subscript[1]
        ref = QuantityRef("pd", (a, b), circuit.id)
        claims.append((f"p.d. from {a} to {b}", Resolved(ref, circuit)))
    return claims


def _named(subscript: str, known: Definitions) -> list[str]:
    """Paths whose name is this subscript."""
    first, dot, rest = subscript.partition(".")
    return [name + dot + rest for name in known.names() if name == first or squeezed(name) == first]


def _sharing(subscript: str, circuit: Circuit | None) -> list[str]:
    """Parts of the circuit at hand whose letters all have this subscript."""
    if circuit is None:
        return []
    found: list[str] = []
    for leaf in circuit.leaves:
        subscripts = {worth.letter.partition("_")[2] for worth in leaf.part.worths()}
        if subscripts == {subscript}:
            found.append(leaf.path)
    return found


def _plain(name: str, kind: QuantityKind, circuit: Circuit | None) -> Resolved | Unresolved:
    """E, r, R, C of the only part of its kind; I and V of the side without cells, or of a plain loop."""
    if circuit is None:
        return missing("unknown-name", word=name)
    if kind in {"current", "pd"}:
        return _of_the_load(name, kind, circuit)
    wanted = {
        "E": CELLS,
        "r": frozenset({"cell"}),
        "R": frozenset({"resistor"}),
        "C": frozenset({"capacitor"}),
    }
    parts = {leaf.part.name: leaf for leaf in circuit.leaves if leaf.part.kind in wanted[name]}
    alone = list(parts.values())
    letters = {_carried_letter(leaf.part, kind) for leaf in alone}
    if len(alone) == 1 or (alone and len(letters) == 1):
        found = Found(alone[0], alone[0].path, circuit)
        return quantity_of(kind, found, name)
    if not alone:
        return missing("unknown-name", word=name)
    words = [f"{kind} of {each}" for each in parts]
    return missing("two-meanings", name=name, a=words[0], b=words[1], better=words[0])


def _of_the_load(name: str, kind: QuantityKind, circuit: Circuit) -> Resolved | Unresolved:
    item, _ = done_to(circuit.item)
    if isinstance(item, Across):
        if has_cells(item.load):
            a, b = item.source.path, item.load.path
            return missing(
                "two-meanings", name=name, a=f"the {kind} of {a}", b=f"that of {b}", better=f"current in {a}"
            )
        return Resolved(QuantityRef(kind, (item.load.path,), circuit.id), circuit)
    if isinstance(item, Network) and item.ends is None and kind == "current" and _is_plain_loop(item):
        driving = [branch for branch, _, _ in item.branches if has_cells(branch)]
        first = driving[0] if driving else item.branches[0][0]
        return Resolved(QuantityRef("current", (first.path,), circuit.id), circuit)
    return missing("unknown-name", word=name)


def _is_plain_loop(network: Network) -> bool:
    """Whether every node joins exactly two branches, each of which is one part."""
    ends = [node for _, *both in network.branches for node in both]
    single = all(how_many(branch, {}) == 1 for branch, _, _ in network.branches)
    return single and all(ends.count(node) == 2 for node in ends)


def near_to(name: str, circuit: Circuit | None) -> list[str]:
    """Names that could have been meant: the head with every part and group at hand.

    Parameters
    ----------
    name : str
        One that means nothing, in normal form.
    circuit : Circuit or None
        The one at hand.

    Examples
    --------
    >>> near_to("E_a", Circuit(Leaf("A_1", Part("A_1", "cell"))))
    ['E_A1']
    """
    before = head(name)
    here = named_items(circuit.item) if circuit else {}
    return [f"{before}_{squeezed(each)}" for each in here]
