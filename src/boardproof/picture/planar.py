"""Which networks can be drawn without crossings, and in which turn edges leave each point.

Demoucron, Malgrange and Pertuiset's method (1964), from memory: start with a cycle, then again and again lay a path of
the rest into a face that can take it, choosing first what has only one face. Edges are pairs of whole numbers; at most
one edge joins two points.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from itertools import pairwise

__all__ = ["Edge", "Rotation", "rotation_of", "through_order"]

Edge = tuple[int, int]
Rotation = Mapping[int, Sequence[int]]
"""Neighbours of each point, clockwise."""


def rotation_of(edges: Iterable[Edge]) -> dict[int, list[int]] | None:
    """Neighbours of each point in clockwise turn, in a drawing without crossings.

    Parameters
    ----------
    edges : iterable of (int, int)
        No loops, no edge twice.

    Returns
    -------
    dict of int to list of int, or None
        None if every drawing has a crossing.

    Examples
    --------
    >>> turn = rotation_of([(0, 1), (1, 2), (2, 0), (2, 3)])
    >>> sorted(turn[2])
    [0, 1, 3]
    >>> import itertools
    >>> rotation_of(itertools.combinations(range(5), 2)) is None
    True
    """
    turn: dict[int, list[int]] = {}
    for block in _blocks(list(edges)):
        inside = _rotation_of_block(block)
        if inside is None:
            return None
        for point, around in inside.items():
            # Blocks meet in one point: each lies in a corner of the others.
            turn.setdefault(point, []).extend(around)
    return turn


def _blocks(edges: list[Edge]) -> list[list[Edge]]:
    """Sets of edges that share no cut point's two sides (Hopcroft and Tarjan's way, by depth first)."""
    near = _neighbours(edges)
    depth: dict[int, int] = {}
    low: dict[int, int] = {}
    pile: list[Edge] = []
    found: list[list[Edge]] = []

    def visit(point: int, parent: int | None) -> None:
        depth[point] = low[point] = len(depth)
        for other in near[point]:
            if other == parent:
                continue
            if other not in depth:
                pile.append((point, other))
                visit(other, point)
                low[point] = min(low[point], low[other])
                if low[other] >= depth[point]:
                    cut = pile.index((point, other))
                    found.append(pile[cut:])
                    del pile[cut:]
            elif depth[other] < depth[point]:
                pile.append((point, other))
                low[point] = min(low[point], depth[other])

    for start in near:
        if start not in depth:
            visit(start, None)
    return found


def _neighbours(edges: Iterable[Edge]) -> dict[int, list[int]]:
    near: dict[int, list[int]] = {}
    for a, b in edges:
        near.setdefault(a, []).append(b)
        near.setdefault(b, []).append(a)
    return near


def _rotation_of_block(edges: list[Edge]) -> dict[int, list[int]] | None:
    if len(edges) == 1:
        (a, b) = edges[0]
        return {a: [b], b: [a]}
    faces = _faces_of_block(edges)
    if faces is None:
        return None
    # In a face walked with its inside at the left, `after` leaves a point clockwise next to `before`.
    following: dict[int, dict[int, int]] = {}
    for face in faces:
        for before, point, after in zip(face, face[1:] + face[:1], face[2:] + face[:2], strict=True):
            following.setdefault(point, {})[before] = after
    turn = {}
    for point, after_of in following.items():
        start = at = next(iter(after_of))
        around = [at]
        while (at := after_of[at]) != start:
            around.append(at)
        turn[point] = around
    return turn


def _faces_of_block(edges: list[Edge]) -> list[list[int]] | None:
    near = _neighbours(edges)
    cycle = _cycle(near)
    drawn = {frozenset(pair) for pair in zip(cycle, cycle[1:] + cycle[:1], strict=True)}
    faces = [cycle, cycle[::-1]]
    placed = set(cycle)
    while pieces := _pieces(near, edges, drawn, placed):
        chosen: tuple[int, int] | None = None
        for number, (feet, _) in enumerate(pieces):
            takers = [n for n, face in enumerate(faces) if feet <= set(face)]
            if not takers:
                return None
            if len(takers) == 1:
                chosen = (number, takers[0])
                break
            chosen = chosen or (number, takers[0])
        if chosen is None:
            return None
        feet, inner = pieces[chosen[0]]
        path = _path_through(near, feet, inner, drawn)
        face = faces.pop(chosen[1])
        start, end = face.index(path[0]), face.index(path[-1])
        around = face[start:] + face[:start]
        cut = around.index(face[end])
        faces += [around[: cut + 1] + path[-2:0:-1], around[cut:] + path[:-1]]
        drawn |= {frozenset(pair) for pair in pairwise(path)}
        placed |= set(path)
    return faces


def _cycle(near: Mapping[int, Sequence[int]]) -> list[int]:
    """Some cycle of a block."""
    start = next(iter(near))
    path, used = [start], {start}
    before: int | None = None
    while True:
        step = next(other for other in near[path[-1]] if other != before)
        if step in used:
            return path[path.index(step) :]
        before = path[-1]
        path.append(step)
        used.add(step)


def _pieces(
    near: Mapping[int, Sequence[int]], edges: list[Edge], drawn: set[frozenset[int]], placed: set[int]
) -> list[tuple[set[int], set[int]]]:
    """What is not drawn yet, piece by piece: where it stands on the drawing, and its own points."""
    pieces: list[tuple[set[int], set[int]]] = [
        ({a, b}, set()) for a, b in edges if a in placed and b in placed and frozenset((a, b)) not in drawn
    ]
    seen: set[int] = set()
    for start in near:
        if start in placed or start in seen:
            continue
        inner, feet, waiting = {start}, set(), [start]
        while waiting:
            for other in near[waiting.pop()]:
                if other in placed:
                    feet.add(other)
                elif other not in inner:
                    inner.add(other)
                    waiting.append(other)
        seen |= inner
        pieces.append((feet, inner))
    return pieces


def _path_through(
    near: Mapping[int, Sequence[int]], feet: set[int], inner: set[int], drawn: set[frozenset[int]]
) -> list[int]:
    """A path through a piece from one foot to another."""
    start = min(feet)
    if not inner:
        return [start, max(feet)]
    before: dict[int, int] = {}
    waiting = [start]
    for point in waiting:
        for other in near[point]:
            is_step = other in inner or (other in feet and point != start)
            if other == start or other in before or not is_step or frozenset((point, other)) in drawn:
                continue
            before[other] = point
            if other in feet:
                path = [other]
                while path[-1] != start:
                    path.append(before[path[-1]])
                return path[::-1]
            waiting.append(other)
    raise AssertionError("a piece of a block has two feet")


def through_order(points: Iterable[int], edges: Sequence[Edge], first: int, last: int) -> list[int] | None:
    """An order in which each point between has an edge to an earlier and an edge to a later one.

    Parameters
    ----------
    points : iterable of int
        All of them, the ends too.
    edges : sequence of (int, int)
        Two edges may join the same points.
    first, last : int
        Ends of the order.

    Returns
    -------
    list of int or None
        None if there is no such order (some point hangs on the rest by one point only).

    Examples
    --------
    >>> through_order(range(4), [(0, 1), (1, 2), (2, 3)], 0, 3)
    [0, 1, 2, 3]
    >>> through_order(range(3), [(0, 2), (0, 1)], 0, 2) is None
    True
    """
    order = [first, last]
    near = _neighbours(edges)
    left = set(points) - {first, last}
    while left:
        ear = next(
            (
                ear
                for foot in order
                for start in near.get(foot, ())
                if start in left and (ear := _ear(near, left, foot, start))
            ),
            None,
        )
        if ear is None:
            return None
        *inner, end = ear[1:]
        if order.index(ear[0]) > order.index(end):
            inner.reverse()
        at = min(order.index(ear[0]), order.index(end)) + 1
        order[at:at] = inner
        left -= set(inner)
    return order


def _ear(near: Mapping[int, Sequence[int]], left: set[int], foot: int, start: int) -> list[int] | None:
    """Shortest path from a placed point through points that are left to another placed one."""
    before = {start: foot}
    waiting = [start]
    for point in waiting:
        for other in near[point]:
            if other == foot or other in before:
                continue
            before[other] = point
            if other not in left:
                path = [other]
                while path[-1] != foot:
                    path.append(before[path[-1]])
                return path[::-1]
            waiting.append(other)
    return None
