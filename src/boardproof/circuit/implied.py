"""Names that nobody has to define: ``E_A``, ``r_both``, ``I_2``, ``V_ab``, and E, r, R, I, V by themselves.

Names that the teacher gave (`let`) come first; they are `names`' work.
"""

from __future__ import annotations

from typing import Final

from boardproof.circuit.change import done_to
from boardproof.circuit.count import how_many, nodes_in
from boardproof.circuit.definitions import Definitions
from boardproof.circuit.look_up import Found, Resolved, Unresolved, look_up, missing, own_circuit
from boardproof.circuit.model import Across, Circuit, Family, Leaf, Network, Part, has_cells
from boardproof.circuit.of_a_part import CELLS, carried_letter, quantity_of
from boardproof.circuit.part import at_index
from boardproof.circuit.place import named_items
from boardproof.circuit.quantity import QuantityKind, QuantityRef
from boardproof.circuit.spelling import head, squeezed

__all__ = ["implied", "near_to"]


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
            own = own_circuit(known, part.name, circuit)
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
    letters = {carried_letter(leaf.part, kind) for leaf in alone}
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
