"""A proved lesson's script as it would be said, piece by piece, for whoever compares a talk with it."""

from __future__ import annotations

from itertools import groupby

from boardproof.algebra.expression import Condition, Limit, Line, Relation
from boardproof.algebra.show import spoken
from boardproof.kit.proof import Proof
from boardproof.kit.telling import Telling
from boardproof.lesson.model import DeriveStep, Display
from boardproof.lesson.sentence import Fill, Maths, Tie
from boardproof.listen.script import Piece
from boardproof.prove.walk import Visit
from boardproof.source import Slice

__all__ = ["letters_of", "spoken_script"]

SAID = frozenset(
    {
        "text",
        "task",
        "answer",
        "refutation",
        "step words",
        "claim",
        "lab",
        "brief",
        "board",
        "step",
        "wrong",
        "stem",
    }
)


def spoken_script(proof: Proof) -> tuple[tuple[Piece, ...], ...]:
    """Paragraphs and board lines in order.

    Parameters
    ----------
    proof : Proof
        A lesson.
    """
    telling = Telling(proof)
    paragraphs: list[tuple[Piece, ...]] = []
    for _, group in groupby(proof.walk.visits, key=lambda visit: id(visit.paragraph or visit)):
        visits = [visit for visit in group if visit.role in SAID]
        pieces = tuple(piece for visit in visits for piece in _pieces(visit, telling) if piece.text.strip())
        if pieces:
            paragraphs.append(pieces)
    return tuple(paragraphs)


def letters_of(proof: Proof) -> frozenset[str]:
    """Every letter that means something somewhere in the lesson."""
    return frozenset(
        name
        for visit in proof.walk.visits
        if visit.place.circuit is not None
        for name in proof.worlds.known(visit.place.circuit)
    ) | frozenset(proof.walk.definitions.lets)


def _pieces(visit: Visit, telling: Telling) -> list[Piece]:
    world = telling.world(visit.place)
    match visit.element:
        case Maths(text=text):
            line = telling.line(text, visit.place)
            return [Piece(text.text, world=world)] if line is None else _lines(line, visit, telling)
        case Display(text=text) | DeriveStep(maths=text):
            return [
                piece for line in telling.lines(text, visit.place) for piece in _lines(line, visit, telling)
            ]
        case Slice() as text if visit.role == "wrong":
            line = telling.line(text, visit.place)
            return [Piece(spoken(line) if line else text.text, "wrong")]
        case Fill() | Tie():
            return [Piece(telling.spoken(visit), "value", world)]
        case _:
            return [Piece(telling.spoken(visit), world=world)]


def _lines(line: Line, visit: Visit, telling: Telling) -> list[Piece]:
    """A line's chains, each for itself, then its condition."""
    world = telling.world(visit.place)
    found: list[Piece] = []
    chain: list[Relation] = []
    for each in (*line.statements, None):
        if chain and (each is None or isinstance(each, Limit) or not each.chain):
            found.append(Piece(spoken(Line(tuple(chain))), "maths", world, _condition(line)))
            chain = []
        if isinstance(each, Limit):
            found.append(Piece(spoken(each), "limit", world))
        elif each is not None:
            chain.append(each)
    if not line.statements:
        found += [Piece(spoken(each)) for each in line.bare]
    if line.condition is not None:
        found.append(Piece(spoken(line.condition)))
    return found


def _condition(line: Line) -> Condition | None:
    return line.condition
