"""A loop of a circuit with its changes of potential, for the picture of potential as height."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from boardproof.circuit.change import done_to
from boardproof.circuit.model import Across, Circuit, Copies, Item, Leaf, Parallel, Series, has_cells
from boardproof.circuit.quantity import QuantityKind, QuantityRef
from boardproof.picture.board import Piece
from boardproof.quantities import VOLT, Style, shown
from boardproof.solve.answers import Unknown, answers

__all__ = ["heights_round"]


def heights_round(circuit: Circuit, style: Style) -> tuple[Piece, ...]:
    """The pieces of one loop, from the minus end up through the source and down through the load.

    Parameters
    ----------
    circuit : Circuit
        Complete and with values; side by side the first way with a cell is taken.
    style : Style
        How values are shown.

    Returns
    -------
    tuple of Piece
        Their changes add up to nought; empty for a network, or where a value is missing.

    Examples
    --------
    >>> from boardproof.circuit.read import read_circuit
    >>> from boardproof.source import Source
    >>> typed = "A = cell 6 V, 1 ohm; R = resistor 5 ohm; A across R"
    >>> loop = read_circuit(Source("x", typed).slice()).at_hand
    >>> [(piece.name, piece.change) for piece in heights_round(loop, Style())]
    [('E_A', 6.0), ('r_A', -1.0), ('R', -5.0)]
    """
    if not isinstance(circuit.item, Across):
        return ()
    loop = _Loop(circuit, style)
    try:
        return tuple(loop.along(circuit.item.source, 1)) + tuple(loop.along(circuit.item.load, -1))
    except _Unknown:
        return ()


class _Unknown(Exception):
    """Ends a walk that meets a value nobody gave, or a network."""


class _Loop:
    """Walks along one way through a circuit."""

    def __init__(self, circuit: Circuit, style: Style) -> None:
        self.circuit, self.style, self.answers = circuit, style, answers(circuit)

    def value(self, kind: QuantityKind, path: str) -> Fraction:
        """A value of the circuit, if it has one."""
        found = self.answers.ask(QuantityRef(kind, (path,), self.circuit.id))
        if isinstance(found, Unknown):
            raise _Unknown
        return Fraction(found.exact)

    def along(self, item: Item, way: int) -> Iterator[Piece]:
        """Pieces of an item; `way` is -1 where the walk goes down through a load."""
        inner, hows = done_to(item)
        match inner:
            case Leaf():
                yield from self.part(inner, turned="turned" in hows)
            case Series(items=items):
                for each in items:
                    yield from self.along(each, way)
            case Parallel(items=items):
                yield from self.along(next((each for each in items if has_cells(each)), items[0]), way)
            case Copies(joined="parallel", runs=runs):
                yield from self.along(runs[0].item, way)
            case _:
                raise _Unknown

    def part(self, leaf: Leaf, *, turned: bool) -> Iterator[Piece]:
        """One part: an EMF lifts or lowers, a resistance lowers along its current."""
        part = leaf.part
        if part.emf is None:
            name = part.resistance.letter if part.resistance else part.name
            yield self.piece(name, -self.value("pd", leaf.path), part.kind)
            return
        sign = -1 if turned else 1
        yield self.piece(part.emf.letter, sign * self.value("emf", leaf.path), "cell")
        lost = self.value("lost_volts", leaf.path)
        if part.resistance is not None:
            yield self.piece(part.resistance.letter, -sign * lost, "resistor")

    def piece(self, name: str, change: Fraction, kind: str) -> Piece:
        """A piece with the size of its change beside it."""
        return Piece(name, float(change), shown(abs(change), VOLT, self.style), kind=kind)  # type: ignore[arg-type]  # a kind of part
