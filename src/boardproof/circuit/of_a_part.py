"""Quantities that a part or group has, by their kinds."""

from __future__ import annotations

from typing import Final

from boardproof.circuit.build import is_closed
from boardproof.circuit.look_up import Found, Resolved, Unresolved, missing
from boardproof.circuit.model import Family, Leaf, Part, has_cells, leaves
from boardproof.circuit.quantity import QuantityKind, QuantityRef

__all__ = ["CELLS", "carried_letter", "quantity_of"]

CELLS: Final = frozenset({"cell", "source"})


def carried_letter(part: Part, kind: QuantityKind) -> str | None:
    """The letter a part carries for its EMF, resistance or capacitance.

    Parameters
    ----------
    part : Part
        Any part.
    kind : QuantityKind
        Which of them; None comes back for any other.
    """
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
        letter = None if found.emf_out and kind == "emf" else carried_letter(part, kind)
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
