"""A network on its way to a drawing: embedded without crossings, braced, turned right way up, points made one."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

from boardproof.picture.planar import Edge, rotation_of, through_order

__all__ = ["Net", "embedded", "faces_of", "merged"]


@dataclass(frozen=True, slots=True)
class Net:
    """An embedded network: edges from left to right by `order`, edge numbers clockwise at each point.

    The last edge is the one that closes the net outside; `real` counts those that are branches.
    """

    ends: tuple[Edge, ...]
    turn: Mapping[int, tuple[int, ...]]
    order: Mapping[int, int]
    real: int


def _planar_part(ends: list[Edge], outer: Edge) -> tuple[list[int], list[int]]:
    """Branches that together can be drawn without crossings, first ones first; and the rest."""
    if rotation_of([*ends, outer]) is not None:
        return list(range(len(ends))), []
    kept: list[int] = []
    for number in range(len(ends)):
        if rotation_of([*(ends[n] for n in kept), ends[number], outer]) is not None:
            kept.append(number)
    return kept, [n for n in range(len(ends)) if n not in kept]


@lru_cache(maxsize=256)
def embedded(points: int, ends: tuple[Edge, ...], outer: Edge) -> tuple[list[int], list[int], Net]:
    """The branches that can be drawn without crossings, the rest, and the first ones' net.

    Unseen edges are added until each point has a way on from both sides.

    Parameters
    ----------
    points : int
        How many; numbered from 0.
    ends : tuple of (int, int)
        The points of each branch.
    outer : (int, int)
        Points at the left and at the right.

    Examples
    --------
    >>> kept, loose, net = embedded(4, ((0, 2), (2, 1), (0, 3), (3, 1), (2, 3)), (0, 1))
    >>> kept, loose, net.real
    ([0, 1, 2, 3, 4], [], 5)
    """
    kept, loose = _planar_part(list(ends), outer)
    edges = [*(ends[n] for n in kept), outer]
    real = len(kept)
    while (order := through_order(range(points), edges, *outer)) is None:
        edges.insert(-1, _brace(points, edges, outer))
    turn = rotation_of(edges)
    assert turn is not None
    number = {frozenset(pair): n for n, pair in enumerate(edges)}
    place = {point: n for n, point in enumerate(order)}
    around = {
        point: tuple(number[frozenset((point, other))] for other in near) for point, near in turn.items()
    }
    directed = tuple((a, b) if place[a] < place[b] else (b, a) for a, b in edges)
    return kept, loose, _right_way_up(Net(directed, around, place, real), outer)


def _brace(points: int, edges: list[Edge], outer: Edge) -> Edge:
    """An unseen edge that brings a hanging piece nearer to being held from two sides."""
    near: dict[int, set[int]] = {point: set() for point in range(points)}
    for a, b in edges:
        near[a].add(b)
        near[b].add(a)
    reached = _reached(near, outer[0], None)
    apart = next((point for point in range(points) if point not in reached), None)
    if apart is not None:
        return (outer[0], apart)
    for cut in range(points):
        root = outer[0] if cut != outer[0] else outer[1]
        held = _reached(near, root, cut)
        hanging = [point for point in near[cut] if point not in held]
        inner = [point for point in near[cut] if point in held]
        for a in hanging:
            for b in inner:
                if rotation_of([*edges, (a, b)]) is not None:
                    return (a, b)
    raise AssertionError("a net that holds together has a place for a brace")


def _reached(near: Mapping[int, set[int]], start: int, without: int | None) -> set[int]:
    seen, waiting = {start}, [start]
    while waiting:
        fresh = near[waiting.pop()] - seen - {without}
        seen |= fresh
        waiting += fresh
    return seen


def _right_way_up(net: Net, outer: Edge) -> Net:
    """The net, turned over if the branch named first would leave the left end below the one named last."""
    around = net.turn[outer[0]]
    at = around.index(len(net.ends) - 1)
    # The closing edge runs below all, so clockwise from it at the left end come the branches from the highest down.
    rows = [n for n in around[at + 1 :] + around[:at] if n < net.real]
    if not rows or rows.index(min(rows)) <= rows.index(max(rows)):
        return net
    flipped = {point: tuple(reversed(edges)) for point, edges in net.turn.items()}
    return Net(net.ends, flipped, net.order, net.real)


def merged(net: Net, chosen: Sequence[int]) -> tuple[Net, dict[int, tuple[int, int]]] | None:
    """The net with each chosen edge's points in one; None if they can't share a rail. Also (above, below) by edge.

    Parameters
    ----------
    net : Net
        Points, edges and faces of a circuit without crossings.
    chosen : sequence of int
        Edges that are to stand upright.

    Examples
    --------
    >>> _, _, net = embedded(4, ((0, 2), (2, 1), (0, 3), (3, 1), (2, 3)), (0, 1))
    >>> merged(net, [4])[1]
    {4: (2, 3)}
    >>> merged(net, [4, 0]) is None
    True
    """
    owner: dict[int, int] = {}
    for number in chosen:
        a, b = net.ends[number]
        if a in owner or b in owner:
            return None
        owner[a], owner[b] = a, a
    ends = [(owner.get(a, a), owner.get(b, b)) for a, b in net.ends]
    points = sorted({owner.get(point, point) for point in net.order})
    left, right = net.ends[-1]
    alive = [pair for n, pair in enumerate(ends) if n not in chosen]
    order = through_order(points, alive, left, right)
    if order is None:
        return None
    place = {point: n for n, point in enumerate(order)}
    turn = {point: net.turn[point] for point in points}
    for number in chosen:
        a, b = net.ends[number]
        turn[a] = _after(net.turn[a], number) + _after(net.turn[b], number)
    directed = tuple((a, b) if place[a] <= place[b] else (b, a) for a, b in ends)
    halves: dict[int, tuple[int, int]] = {}
    for number in chosen:
        pair = _above_below(net, directed, number)
        if pair is None:
            return None
        halves[number] = pair
    return Net(directed, turn, place, net.real), halves


def _after(around: tuple[int, ...], edge: int) -> tuple[int, ...]:
    at = around.index(edge)
    return around[at + 1 :] + around[:at]


def _above_below(net: Net, directed: Sequence[Edge], number: int) -> tuple[int, int] | None:
    """Which of an edge's points is the upper one in their shared rail; both must have ways to both sides."""
    a, b = net.ends[number]
    merged = a
    first, second = _after(net.turn[a], number), _after(net.turn[b], number)
    for part in (first, second):
        leaving = {directed[edge][0] == merged for edge in part}
        if leaving != {True, False}:
            return None
    # Clockwise round the upper point: edges from the left, over the top, then those to the right.
    leaves = [directed[edge][0] == merged for edge in first]
    return (a, b) if not leaves[0] and leaves[-1] else (b, a)


def faces_of(net: Net, skipped: Sequence[int]) -> tuple[dict[int, int], dict[int, int]]:
    """Face above and face below each edge.

    Parameters
    ----------
    net : Net
        Points, edges and faces of a circuit without crossings.
    skipped : sequence of int
        Edges that stand upright.

    Examples
    --------
    >>> _, _, net = embedded(3, ((0, 2), (2, 1)), (0, 1))
    >>> above, below = faces_of(net, ())
    >>> above[0] == above[1] != below[0] == below[1]
    True
    """
    place = {(point, edge): n for point, edges in net.turn.items() for n, edge in enumerate(edges)}
    above: dict[int, int] = {}
    below: dict[int, int] = {}
    face = 0
    for start, (a, _) in enumerate(net.ends):
        if start in skipped:
            continue
        for origin in net.ends[start]:
            rightward = origin == a
            if start in (above if rightward else below):
                continue
            edge, at = start, origin
            while edge not in (above if at == net.ends[edge][0] else below):
                (above if at == net.ends[edge][0] else below)[edge] = face
                left, right = net.ends[edge]
                at = right if at == left else left
                around = net.turn[at]
                edge = around[(place[at, edge] + 1) % len(around)]
            face += 1
    return above, below
