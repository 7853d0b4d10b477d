"""Which pieces of wire are seen: rails cut at everything joined to them, loose ends taken off, junctions found."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from itertools import pairwise

from boardproof.picture.layout import Segment, SpotPlace

__all__ = ["Point", "junctions", "port_points", "trimmed"]

Point = tuple[float, float]


def _key(x: float, y: float) -> Point:
    return (round(x, 3), round(y, 3))


def port_points(place: SpotPlace) -> tuple[Point, Point]:
    """Both ends of a part's own wire.

    Parameters
    ----------
    place : SpotPlace
        Where a part stands, in u.

    Returns
    -------
    (Point, Point)
        Left and right, or upper and lower.

    Examples
    --------
    >>> from boardproof.circuit.model import Part
    >>> from boardproof.picture.plan import Spot
    >>> port_points(SpotPlace(Spot("R", Part("R", "resistor")), 10, 5, 0, 20, 3, 1, 0, 1))
    ((0, 5), (20, 5))
    """
    if place.is_upright:
        return _key(place.x, place.start), _key(place.x, place.end)
    return _key(place.start, place.y), _key(place.end, place.y)


def trimmed(segments: Sequence[Segment], held: Iterable[Point]) -> list[Segment]:
    """Wires without the pieces that lead to nothing that is seen.

    Parameters
    ----------
    segments : sequence of Segment
        Each level or upright.
    held : iterable of (float, float)
        Ends of parts that are seen, and terminals.

    Returns
    -------
    list of Segment
        Cut at every point where something is joined; none lies on another.

    Examples
    --------
    >>> dangling = [Segment(0, 0, 0, 4, 0), Segment(0, 4, 0, 9, 0)]
    >>> trimmed(dangling, [(0, 0), (4, 0)])
    [Segment(node=0, x1=0, y1=0, x2=4, y2=0, is_dotted=False)]
    """
    kept = set(held)
    ends = {_key(x, y) for s in segments for x, y in ((s.x1, s.y1), (s.x2, s.y2))} | kept
    pieces: dict[tuple[Point, Point], Segment] = {}
    for segment in segments:
        for piece in _cut(segment, ends):
            a, b = _key(piece.x1, piece.y1), _key(piece.x2, piece.y2)
            if a != b:
                pieces[min(a, b), max(a, b)] = piece
    while True:
        degree = Counter(point for pair in pieces for point in pair)
        loose = [pair for pair in pieces if any(degree[p] == 1 and p not in kept for p in pair)]
        if not loose:
            return list(pieces.values())
        for pair in loose:
            del pieces[pair]


def _cut(segment: Segment, points: set[Point]) -> list[Segment]:
    """The segment cut at the points that lie on it."""
    upright = segment.x1 == segment.x2
    if segment.is_dotted:
        return [segment]
    low, high = sorted((segment.y1, segment.y2) if upright else (segment.x1, segment.x2))
    fixed = segment.x1 if upright else segment.y1
    on = {
        (y if upright else x)
        for x, y in points
        if abs((x if upright else y) - fixed) < 2e-3 and low + 2e-3 < (y if upright else x) < high - 2e-3
    }
    marks = [low, *sorted(on), high]
    node = segment.node
    if upright:
        return [Segment(node, fixed, a, fixed, b) for a, b in pairwise(marks)]
    return [Segment(node, a, fixed, b, fixed) for a, b in pairwise(marks)]


def junctions(pieces: Sequence[Segment], places: Sequence[SpotPlace]) -> list[tuple[float, float, int]]:
    """Points where three wires or more meet, with their node.

    Parameters
    ----------
    pieces : sequence of Segment
        As `trimmed` leaves them.
    places : sequence of SpotPlace
        Parts that are seen.

    Examples
    --------
    >>> arms = [Segment(7, 0, 0, 4, 0), Segment(7, 4, 0, 8, 0), Segment(7, 4, 0, 4, 3)]
    >>> junctions(arms, [])
    [(4, 0, 7)]
    """
    degree: Counter[Point] = Counter()
    node: dict[Point, int] = {}
    for piece in pieces:
        for point in (_key(piece.x1, piece.y1), _key(piece.x2, piece.y2)):
            degree[point] += 1
            node[point] = piece.node
    for place in places:
        for point, at in zip(port_points(place), (place.first, place.last), strict=True):
            degree[point] += 1
            node[point] = at
    return [(x, y, node[x, y]) for (x, y), count in degree.items() if count > 2]
