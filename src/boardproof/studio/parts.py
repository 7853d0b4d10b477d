"""The parts of a scene's circuit that can be chosen in its picture, with their values as they may be typed."""

from __future__ import annotations

from fractions import Fraction
from typing import Any, Final

from boardproof.circuit.model import Part
from boardproof.kit.proof import Proof

__all__ = ["parts"]

MOST_PARTS: Final = 24
UNITS: Final = {"emf": "V", "resistance": "ohm", "capacitance": "F"}


def parts(proof: Proof, scene: int) -> list[dict[str, Any]]:
    """Parts of the circuit at hand at a scene's end.

    Parameters
    ----------
    proof : Proof
        The lesson.
    scene : int
        From 0.
    """
    found = [
        each.place.circuit for each in proof.walk.visits if each.place.scene == scene and each.place.circuit
    ]
    return [_told(leaf.path, leaf.part) for circuit in found[-1:] for leaf in circuit.leaves[:MOST_PARTS]]


def _told(path: str, part: Part) -> dict[str, Any]:
    values = [
        {"letter": worth.letter, "value": "" if worth.value is None else f"{_plain(worth.value)} {unit}"}
        for role, unit in UNITS.items()
        if (worth := getattr(part, role)) is not None
    ]
    return {"path": path, "kind": part.kind, "values": values, "closed": part.closed is not False}


def _plain(value: Fraction) -> str:
    """A value as it may be typed: a decimal if it has one, else a fraction."""
    text = f"{float(value):.9g}"
    return text if "e" not in text and Fraction(text) == value else str(value)
