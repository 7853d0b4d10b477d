"""Levels of a network drawn without crossings: an upright rail for each point, a row for each branch.

This is a visibility drawing (Tamassia and Tollis 1986, from memory) lying on its side: points are numbered so that each
has a branch from the left and one to the right, faces likewise from top to bottom, and both numberings become measures
by longest paths. Where two points may share one rail, the branch between them stands upright in it: so a bridge gets
its middle arm. A branch that can't be drawn without a crossing is told apart as `loose`.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Mapping, Sequence
from dataclasses import dataclass

from boardproof.picture.embed import Net, embedded, faces_of, merged
from boardproof.picture.planar import Edge

__all__ = ["Extent", "Lane", "Levels", "Upright", "levels_of", "longest"]

Step = tuple[Hashable, Hashable, float]


@dataclass(frozen=True, slots=True)
class Extent:
    """Room of a branch: its width in a row, its reach above and below.

    `upright` is its clear length and its room at the right where it may stand upright, else None.
    """

    width: float
    above: float
    below: float
    upright: tuple[float, float] | None = None


@dataclass(frozen=True, slots=True)
class Lane:
    """Branch `number` in a row at `y`; `is_forward` if its first point is the left one; `is_lowest` at the foot."""

    number: int
    left: int
    right: int
    y: float
    is_forward: bool
    is_lowest: bool


@dataclass(frozen=True, slots=True)
class Upright:
    """Branch `number` in a rail, between the points `above` and `below`, its symbol at `middle`."""

    number: int
    above: int
    below: int
    top: float
    bottom: float
    middle: float
    is_downward: bool


@dataclass(frozen=True, slots=True)
class Levels:
    """Where a network's points and branches stand; the left end is at 0, the highest row at 0."""

    x: Mapping[int, float]
    lanes: tuple[Lane, ...]
    uprights: tuple[Upright, ...]
    loose: tuple[int, ...]


def longest(names: Iterable[Hashable], steps: Sequence[Step]) -> dict[Hashable, float] | None:
    """Least values of at least nought such that each step's second is at least `by` beyond its first.

    Parameters
    ----------
    names : iterable of hashable
        What gets a value.
    steps : sequence of (first, second, by)
        Any order; `by` at least nought.

    Returns
    -------
    dict or None
        None if the steps ask for the impossible.

    Examples
    --------
    >>> longest("abc", [("a", "b", 2.0), ("b", "c", 1.0), ("a", "c", 1.0)])
    {'a': 0.0, 'b': 2.0, 'c': 3.0}
    >>> longest("ab", [("a", "b", 1.0), ("b", "a", 0.0)]) is None
    True
    """
    value: dict[Hashable, float] = dict.fromkeys(names, 0.0)
    for _ in range(len(value) + 1):
        settled = True
        for first, second, by in steps:
            if value[second] < value[first] + by - 1e-9:
                value[second] = value[first] + by
                settled = False
        if settled:
            return value
    return None


def levels_of(
    points: int, ends: Sequence[Edge], extents: Sequence[Extent], gap: float, outer: Edge = (0, 1)
) -> Levels:
    """Places of a network's points and branches.

    Parameters
    ----------
    points : int
        How many; numbered from 0.
    ends : sequence of (int, int)
        First and second point of each branch; no two branches join the same points, none joins the outer two.
    extents : sequence of Extent
        Room of each branch.
    gap : float
        Between rows, in u.
    outer : (int, int)
        Points at the left and at the right.

    Examples
    --------
    >>> bridge = [(0, 2), (2, 1), (0, 3), (3, 1), (2, 3)]
    >>> drawn = levels_of(4, bridge, [Extent(8, 3, 1, (10, 6))] * 5, 2.0)
    >>> drawn.x[2] == drawn.x[3], [upright.number for upright in drawn.uprights]
    (True, [4])
    """
    kept, loose, net = embedded(points, tuple(ends), outer)
    chosen: list[int] = []
    best = _drawn(net, [extents[n] for n in kept], gap, chosen)
    for number, at in enumerate(kept):
        if extents[at].upright is None or set(net.ends[number]) & set(outer):
            continue
        trial = _drawn(net, [extents[n] for n in kept], gap, [*chosen, number])
        if trial is not None:
            chosen.append(number)
            best = trial
    assert best is not None
    x, lanes, uprights = best
    return Levels(
        x,
        tuple(
            Lane(kept[e.number], e.left, e.right, e.y, ends[kept[e.number]][0] == e.left, e.is_lowest)
            for e in lanes
        ),
        tuple(
            Upright(
                kept[e.number],
                e.above,
                e.below,
                e.top,
                e.bottom,
                e.middle,
                ends[kept[e.number]][0] == e.above,
            )
            for e in uprights
        ),
        tuple(loose),
    )


def _drawn(
    net: Net, extents: Sequence[Extent], gap: float, chosen: Sequence[int]
) -> tuple[dict[int, float], list[Lane], list[Upright]] | None:
    made = merged(net, chosen)
    if made is None:
        return None
    slim, halves = made
    above, below = faces_of(slim, chosen)
    edges = [n for n in above if n != len(net.ends) - 1]
    y = _rows(net, slim, halves, extents, gap, above, below)
    if y is None:
        return None
    x = _columns(net, slim, halves, extents, y)
    owner = {point: slim.ends[n][0] for n, pair in halves.items() for point in pair}
    by_point = {point: x[owner.get(point, point)] for point in net.order}
    foot = above[len(net.ends) - 1]
    lanes = [
        Lane(n, *_left_right(net.ends[n], by_point), y[n], True, below[n] == foot)
        for n in edges
        if n < net.real
    ]
    uprights = []
    for n, (upper, lower) in halves.items():
        over = [e for e in net.turn[upper] if e != n]
        under = [e for e in net.turn[lower] if e != n]
        # The symbol stands midway between what the rows at its ends reach.
        high = max(y[e] + _reach(net, extents, e)[1] for e in over)
        low = min(y[e] - _reach(net, extents, e)[0] for e in under)
        top, bottom = max(y[e] for e in over), min(y[e] for e in under)
        uprights.append(Upright(n, upper, lower, top, bottom, (high + low) / 2, True))
    return by_point, lanes, uprights


def _reach(net: Net, extents: Sequence[Extent], edge: int) -> tuple[float, float]:
    """Reach of an edge above and below; an unseen one has none."""
    return (extents[edge].above, extents[edge].below) if edge < net.real else (0.0, 0.0)


def _left_right(pair: Edge, x: Mapping[int, float]) -> Edge:
    return pair if x[pair[0]] < x[pair[1]] else (pair[1], pair[0])


def _rows(
    net: Net,
    slim: Net,
    halves: Mapping[int, tuple[int, int]],
    extents: Sequence[Extent],
    gap: float,
    above: Mapping[int, int],
    below: Mapping[int, int],
) -> dict[int, float] | None:
    """Height of each edge's row, neighbours at a point on one level where that costs nothing."""
    steps: list[Step] = []
    outer = len(net.ends) - 1
    for edge in above:
        if edge == outer:
            continue
        seen = edge < net.real
        high, low = _reach(net, extents, edge)
        steps.append((("face", above[edge]), edge, high))
        steps.append((edge, ("face", below[edge]), low + gap if seen else 0.0))
    for edge, (upper, lower) in halves.items():
        length = (extents[edge].upright or (0.0, 0.0))[0]
        over = [e for e in net.turn[upper] if e != edge]
        under = [e for e in net.turn[lower] if e != edge]
        steps += [
            (a, b, length + _reach(net, extents, a)[1] + _reach(net, extents, b)[0])
            for a in over
            for b in under
        ]
    names = {name for first, second, _ in steps for name in (first, second)}
    value = longest(names, steps)
    if value is None:
        return None
    for first, second in _neighbouring_rows(net, slim, halves):
        trial = [*steps, (first, second, 0.0), (second, first, 0.0)]
        levelled = longest(names, trial)
        if levelled is not None:
            steps, value = trial, levelled
    found = {edge: value[edge] for edge in above if edge != outer}
    first_row = min(found[edge] for edge in found if edge < net.real)
    return {edge: height - first_row for edge, height in found.items()}


def _neighbouring_rows(net: Net, slim: Net, halves: Mapping[int, tuple[int, int]]) -> list[tuple[int, int]]:
    """Pairs of rows that meet in a point from left and right, highest ones and lowest ones."""
    owner = {point: slim.ends[n][0] for n, pair in halves.items() for point in pair}
    outer = len(net.ends) - 1
    pairs = []
    for point in net.order:
        if point in net.ends[-1]:
            continue
        here = owner.get(point, point)
        around = [e for e in net.turn[point] if e not in halves and e != outer and e < net.real]
        flags = [slim.ends[e][0] == here for e in around]
        for n, edge in enumerate(around):
            after = (n + 1) % len(around)
            if flags[n] != flags[after]:
                pairs.append((edge, around[after]))
    return pairs


def _columns(
    net: Net,
    slim: Net,
    halves: Mapping[int, tuple[int, int]],
    extents: Sequence[Extent],
    y: Mapping[int, float],
) -> dict[int, float]:
    """Place of each rail: midway between the leftmost and the rightmost that its rows allow."""
    steps: list[Step] = []
    outer = len(net.ends) - 1
    for edge, (a, b) in enumerate(slim.ends):
        if edge != outer and edge not in halves:
            steps.append((a, b, extents[edge].width if edge < net.real else 1.0))
    for number, (upper, lower) in halves.items():
        room = (extents[number].upright or (0.0, 0.0))[1]
        here = slim.ends[number][0]
        leaving = [
            [e for e in net.turn[p] if e not in halves and slim.ends[e][0] == here] for p in (upper, lower)
        ]
        beside = (max(leaving[0], key=lambda e: y[e]), min(leaving[1], key=lambda e: y[e]))
        steps += [(here, slim.ends[e][1], room) for e in beside]
    names = list(slim.order)
    leftmost = longest(names, steps)
    rightmost = longest(names, [(b, a, by) for a, b, by in steps])
    assert leftmost is not None
    assert rightmost is not None
    _, last = net.ends[-1]
    end = leftmost[last]
    return {point: (leftmost[point] + end - rightmost[point]) / 2 for point in slim.order}
