"""The answers of the circuit at a glance: what the lesson's names come to."""

from __future__ import annotations

from typing import Any, Final

from boardproof.algebra.expression import Name
from boardproof.algebra.meaning import Unknown
from boardproof.algebra.polynomial import RationalFunction
from boardproof.kit.proof import Proof
from boardproof.kit.telling import Telling
from boardproof.prove.walk import Place
from boardproof.publish.document import Maths
from boardproof.quantities import shown
from boardproof.source import Source
from boardproof.studio.piece import Pieces

__all__ = ["answers"]

MOST_ROWS: Final = 9


def answers(proof: Proof, page: Pieces) -> list[list[dict[str, Any]]]:
    """Rows of name and value, for the circuit at hand at each scene's end.

    Parameters
    ----------
    proof : Proof
        The lesson.
    page : Pieces
        Sets the names.
    """
    telling = Telling(proof)
    return [_scene(telling, page, number) for number in range(len(proof.lesson.scenes))]


def _scene(telling: Telling, page: Pieces, number: int) -> list[dict[str, Any]]:
    places = [
        each.place
        for each in telling.proof.walk.visits
        if each.place.scene == number and each.place.circuit is not None and each.place.circuit.values
    ]
    if not places:
        return []
    place = places[-1]
    assert place.circuit is not None
    parts = [f"I_{leaf.path.removeprefix('R_')}" for leaf in place.circuit.leaves if leaf.part.kind == "cell"]
    names = dict.fromkeys([*telling.proof.walk.definitions.lets, "I", "V", *parts])
    rows = [row for name in names if (row := _row(telling, page, name, place))]
    return rows[:MOST_ROWS]


def _row(telling: Telling, page: Pieces, name: str, place: Place) -> dict[str, Any] | None:
    value = telling.value(Source("name", name).slice(), place)
    if isinstance(value, Unknown):
        return None
    exact, dimension = value
    if isinstance(exact, RationalFunction):
        return None
    return {"name": page.runs([Maths(Name(name))]), "value": shown(exact, dimension, telling.style)}
