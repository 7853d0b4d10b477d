"""Potential as height: a loop unrolled, its parts below the curve on the same x, one hairline a volt."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from boardproof.algebra.expression import Name
from boardproof.circuit.model import Part
from boardproof.picture.axes import (
    Axes,
    GraphShape,
    Named,
    Point,
    axes_for,
    named_curves,
    thing,
    ticks,
    told_value,
)
from boardproof.picture.board import Piece
from boardproof.picture.drawing import Drawn, Frame, Label, Lettering, Mark, Outline, State, Text
from boardproof.picture.layout import SpotPlace
from boardproof.picture.measure import BODY, GRADES
from boardproof.picture.plan import Spot
from boardproof.picture.strokes import disc, path_of
from boardproof.picture.symbols import symbol

__all__ = ["potential_round"]


def potential_round(
    pieces: Sequence[Piece],
    lettering: Lettering,
    *,
    shape: GraphShape = "figure",
    node: str = "a",
    moment: str = "",
) -> Frame:
    r"""Potential as height, the loop unrolled: its pieces under it on the same x, both ends the same node.

    Parameters
    ----------
    pieces : sequence of Piece
        In order round the loop; their changes add up to nought.
    lettering : Lettering
        Measures labels.
    shape : {"figure", "figure near"}
        For a screen held far or near.
    node : str
        Letter of the node where the loop was cut.
    moment : str
        Name of the moment that the picture belongs to.

    Raises
    ------
    ValueError
        If the changes do not add up to nought.

    Examples
    --------
    >>> class Plain:
    ...     def extent(self, label):
    ...         return (0.5 * label.size * len(str(label.content)), label.size, 0.3 * label.size)
    >>> potential_round([Piece("cell", 6, kind="cell"), Piece("R", -6)], Plain()).alternative
    'Potential round the loop: cell up by 6\u202fV, R down by 6\u202fV.'
    """
    if abs(sum(piece.change for piece in pieces)) > 1e-9 * max(1.0, *(abs(p.change) for p in pieces)):
        raise ValueError("round a loop the changes of potential add up to nought")
    heights = [0.0]
    for piece in pieces:
        heights.append(heights[-1] + piece.change)
    low, high = min(heights), max(heights)
    least = min(0.0, low)
    axes = axes_for(
        shape, float(2 * len(pieces) + 1), high + 0.12 * (high - low or 1.0), lettering, least=least
    )
    drawn = [thing(axes, "axes", "axis", _levels(axes, low, high))]
    foot = axes.at(0.0, least)[1] + 3.4 * axes.size
    outline: list[Point] = [axes.at(0.0, 0.0)]
    steps: list[Drawn] = []
    under: list[Drawn] = []
    named: list[Named] = []
    for number, piece in enumerate(pieces):
        x1, x2 = 2 * number + 1.0, 2 * number + 2.0
        state: State = "focus" if piece.in_focus else "normal"
        # An EMF lifts the potential at one place; along a resistance it falls steadily.
        is_steep = piece.kind in {"cell", "source"}
        left, right = ((x1 + x2) / 2,) * 2 if is_steep else (x1, x2)
        start, end = axes.at(left, heights[number]), axes.at(right, heights[number + 1])
        outline += [start, end]
        stretch = [Outline(path_of([start, end]), "curve")]
        steps.append(thing(axes, f"potential:{number}", "curve", stretch, state))
        middle = ((left + right) / 2, (heights[number] + heights[number + 1]) / 2)
        named.append((f"{number}", piece.label, [middle], state))
        between = (axes.at(x1 - 0.5, 0)[0], axes.at(x2 + 0.5, 0)[0])
        under.append(_under(axes, piece, number, between, foot, state))
    outline.append(axes.at(axes.most_x, 0.0))
    flat: list[Mark] = [
        Outline(path_of([a, b]), "curve") for a, b in zip(outline[0::2], outline[1::2], strict=True)
    ]
    floor = axes.at(0.0, least)[1]
    corners = [(outline[0][0], floor), *outline, (outline[-1][0], floor)]
    drawn.insert(0, thing(axes, "area", "area", [Outline(path_of(corners, closed=True), "wash", "shade")]))
    drawn += [thing(axes, "potential", "curve", flat), *steps, *under, _loop_ends(axes, node, foot)]
    told = ", ".join(f"{piece.name} {_signed(piece.change)}" for piece in pieces)
    return named_curves(
        axes, drawn, named, "Potential as height", f"Potential round the loop: {told}.", shape, moment
    )


def _signed(change: float) -> str:
    return f"{'up' if change > 0 else 'down'} by {told_value(abs(change), 'V')}"


def _under(
    axes: Axes, piece: Piece, number: int, between: tuple[float, float], foot: float, state: State
) -> Drawn:
    """A piece's symbol below its stretch of the curve, its name below it."""
    start, end = between
    spot = Spot(f"{number}", Part(piece.name, piece.kind), forward=piece.change > 0)
    grade = replace(GRADES[0], case="bare", scale=min(1.0, (end - start) / 8))
    half = BODY[piece.kind][0] * grade.scale
    place = SpotPlace(spot, (start + end) / 2, foot, start, end, half, 1, 0, 1)
    content = Name(piece.name) if "_" in piece.name or len(piece.name) == 1 else piece.name
    name = Text(Label(content, axes.size), place.x, foot + 1.9 * grade.scale + 1.2 * axes.size)
    marks = [*symbol(place, grade, axes.size, zigzag=False), name]
    return thing(axes, f"part:{piece.name}", piece.kind, marks, state)


def _loop_ends(axes: Axes, node: str, foot: float) -> Drawn:
    """Where the loop was cut: the same point at both ends."""
    marks: list[Mark] = []
    for x, inner in ((0.0, 0.5), (axes.most_x, axes.most_x - 0.5)):
        at = axes.at(x, 0)[0]
        marks += [
            Outline(path_of([(at, foot), (axes.at(inner, 0)[0], foot)]), "wire"),
            disc(at, foot),
            Text(Label(node, axes.size, "italic"), at, foot + 1.7 * axes.size),
        ]
    return thing(axes, "ends", "words", marks)


def _levels(axes: Axes, low: float, high: float) -> list[Mark]:
    """One hairline a volt (or a round number of volts), numbered at the left."""
    marks: list[Mark] = []
    for value in (*(-v for v in ticks(-low)[1:]), *ticks(high)) if low < 0 else ticks(high):
        (x1, y), (x2, _) = axes.at(0.0, value), axes.at(axes.most_x, value)
        marks.append(Outline(path_of([(x1, y), (x2, y)]), "case"))
        marks.append(
            Text(Label(f"{value:g}".replace("-", "−"), axes.size), x1 - 0.9, y + 0.35 * axes.size, "end")
        )
    top = axes.at(0.0, axes.most_y)[1]
    marks.append(Text(Label("potential / V", axes.size), -2.5, top - 0.9 * axes.size, "start"))
    return marks
