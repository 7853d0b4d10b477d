"""What every wrong belief computes for a quantity of a circuit, whichever circuit it is.

Beliefs about a group of cells stand in `rules`; those about resistors, changes and cells together in modules of their
own. Several values of one belief (`r of one cell`, which?) stay several thoughts.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction
from typing import Final

from boardproof.belief.cells import CELLS, is_of_the_load
from boardproof.belief.changes import CHANGES
from boardproof.belief.ground import Ground, rewritten
from boardproof.belief.resistors import RESISTORS
from boardproof.belief.rules import RULED, believed
from boardproof.belief.thought import Thought, just
from boardproof.circuit.look_up import Resolved
from boardproof.circuit.model import Changed, Circuit, Item, Leaf, Worth, members
from boardproof.circuit.quantity import QuantityRef

__all__ = ["COMPUTED", "thoughts"]

COMPUTED: Final = frozenset({*RULED, *CELLS, *CHANGES, *RESISTORS})
"""Beliefs that give a value; the others are about orders, directions, readings or words."""
NOW: Final = "_now"
OF_READINGS: Final = frozenset({"loaded_reading_is_emf", "r_is_v_over_i", "emf_needs_no_care"})
"""Beliefs that only matter where an EMF or an internal resistance is to be found."""
FREE: Final = frozenset({"parallel_strongest_wins"})
"""Beliefs of `rules` that choose among several values by size, which is done here."""


def thoughts(quantity: Resolved, before: Circuit | None = None) -> Mapping[str, Thought]:
    """What each belief that applies makes of a quantity, where that differs from the right formula.

    Parameters
    ----------
    quantity : Resolved
        A quantity of a circuit.
    before : Circuit, optional
        The circuit before a change, if the question speaks of one.

    Returns
    -------
    mapping of str to Thought
        By belief.

    Examples
    --------
    >>> from boardproof.circuit.names import resolve
    >>> from boardproof.circuit.read import read_circuit
    >>> from boardproof.source import Source
    >>> typed = "A = cell E, r; R = resistor; S = resistor; A across (R || S)"
    >>> read = read_circuit(Source("x", typed).slice())
    >>> found = thoughts(resolve("I_R", read.definitions, read.at_hand))
    >>> found["equal_split_at_junction"].formula
    (E*R + E*R_S)/(2*r*R + 2*r*R_S + 2*R*R_S)
    """
    ground, now = _grounded(quantity, before)
    if ground.right is None:
        return {}
    found: dict[str, Thought] = {}
    for belief in sorted(COMPUTED):
        for thought in _of(belief, ground):
            if thought.formula != ground.right or len(thought.cases) > 1:
                found.setdefault(belief, thought.with_values(now) if now else thought)
                break
    return found


def _grounded(quantity: Resolved, before: Circuit | None) -> tuple[Ground, Mapping[str, Fraction]]:
    """The question with letters of its own where a change gave a letter another value, and those values."""
    circuit, ref = quantity.circuit, quantity.ref
    if ref.kind == "letter":
        ref = _of_a_cell(ref, circuit)
    old = before.values if before is not None else {}
    changed = {name for name, value in circuit.values.items() if old.get(name, value) != value}
    if changed:
        item = rewritten(
            circuit.item, lambda item: _renamed(item, changed) if isinstance(item, Leaf) else None
        )
        circuit = replace(circuit, item=item)
    ref = replace(ref, circuit=circuit.id)
    return Ground(Resolved(ref, circuit), before), {name + NOW: circuit.values[name] for name in changed}


def _of_a_cell(ref: QuantityRef, circuit: Circuit) -> QuantityRef:
    """A cell's letter as what it is of the cell."""
    for leaf in circuit.leaves:
        for kind, worth in (("emf", leaf.part.emf), ("resistance", leaf.part.resistance)):
            if leaf.part.kind == "cell" and worth is not None and worth.letter == ref.of[0]:
                return replace(ref, kind="emf" if kind == "emf" else "resistance", of=(leaf.path,))
    return ref


def _renamed(leaf: Leaf, names: set[str]) -> Leaf:
    def new(worth: Worth | None) -> Worth | None:
        return Worth(worth.letter + NOW) if worth is not None and worth.letter in names else worth

    part = replace(leaf.part, emf=new(leaf.part.emf), resistance=new(leaf.part.resistance))
    return replace(leaf, part=part)


def _of(belief: str, ground: Ground) -> tuple[Thought, ...]:
    """By the first table that has something to say; a sum that divides by nought is nobody's answer."""
    made: tuple[Thought, ...] = ()
    if belief == "turned_in_parallel_just_subtracts" and not _has_turned(ground.circuit.item):
        return ()
    if belief in OF_READINGS and ground.kind not in {"emf", "resistance", "letter"}:
        return ()
    try:
        if belief in RULED and belief not in FREE and _is_for_groups(ground):
            made = just(*believed(belief, ground.quantity))
        for table in (CELLS, CHANGES, RESISTORS):
            if not made and belief in table:
                made = table[belief](ground)
    except ZeroDivisionError:
        return ()
    return made


def _has_turned(item: Item) -> bool:
    return (isinstance(item, Changed) and item.how == "turned") or any(map(_has_turned, members(item)))


def _is_for_groups(ground: Ground) -> bool:
    return ground.kind not in {"current", "pd", "power"} or is_of_the_load(ground)
