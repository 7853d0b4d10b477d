"""How branches hang together: pieces, blocks that no single junction parts, spanning trees, loops.

Nodes are numbered from 0; an edge is a pair of nodes; edges are known by their place in the sequence.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

__all__ = ["Forest", "blocks", "fundamental_loops", "spanning_forest"]

Edge = tuple[int, int]


def blocks(count: int, edges: Sequence[Edge]) -> tuple[tuple[int, ...], ...]:
    """Edges grouped so that two are together if and only if some loop passes through both.

    Parameters
    ----------
    count : int
        Number of nodes.
    edges : sequence of (int, int)
        Parallel edges and loops at one node are welcome (such a loop is a block of its own).

    Returns
    -------
    tuple of tuple of int
        Places of edges, each once, ascending in each block.

    Notes
    -----
    J. Hopcroft and R. Tarjan, "Efficient algorithms for graph manipulation", Communications of the ACM 16 (1973).

    Examples
    --------
    >>> blocks(4, [(0, 1), (1, 2), (2, 0), (2, 3)])
    ((3,), (0, 1, 2))
    """
    near: list[list[tuple[int, int]]] = [[] for _ in range(count)]
    found: list[tuple[int, ...]] = []
    for place, (tail, head) in enumerate(edges):
        if tail == head:
            found.append((place,))
        else:
            near[tail].append((head, place))
            near[head].append((tail, place))
    entered, lowest, waiting = [-1] * count, [0] * count, []
    clock = 0
    for root in range(count):
        if entered[root] >= 0:
            continue
        entered[root] = lowest[root] = clock = clock + 1
        path = [(root, -1, iter(near[root]))]
        while path:
            node, came_by, rest = path[-1]
            for other, place in rest:
                if place == came_by:
                    continue
                if entered[other] < 0:
                    waiting.append(place)
                    entered[other] = lowest[other] = clock = clock + 1
                    path.append((other, place, iter(near[other])))
                    break
                if entered[other] < entered[node]:
                    waiting.append(place)
                    lowest[node] = min(lowest[node], entered[other])
            else:
                path.pop()
                if path:
                    above = path[-1][0]
                    lowest[above] = min(lowest[above], lowest[node])
                    if lowest[node] >= entered[above]:
                        cut = waiting.index(came_by)
                        found.append(tuple(sorted(waiting[cut:])))
                        del waiting[cut:]
    return tuple(found)


class Forest:
    """A spanning tree of every piece.

    Parameters
    ----------
    count : int
        Number of nodes.
    edges : sequence of (int, int)
        All edges.
    allowed : iterable of int
        Places of the edges that may be used.

    Attributes
    ----------
    piece : list of int
        For each node the number of its piece.
    came_by : list of int
        For each node the edge to the node above it, or -1.
    order : list of int
        Nodes, each after the one above it.
    """

    def __init__(self, count: int, edges: Sequence[Edge], allowed: Iterable[int]) -> None:
        """Grow the trees breadth first, so that paths in them are short."""
        near: list[list[tuple[int, int]]] = [[] for _ in range(count)]
        for place in allowed:
            tail, head = edges[place]
            near[tail].append((head, place))
            near[head].append((tail, place))
        self.piece, self.came_by, self.above = [-1] * count, [-1] * count, [-1] * count
        self.order: list[int] = []
        for root in range(count):
            if self.piece[root] >= 0:
                continue
            self.piece[root], level = root, [root]
            for node in level:
                self.order.append(node)
                for other, place in near[node]:
                    if self.piece[other] < 0:
                        self.piece[other], self.above[other], self.came_by[other] = root, node, place
                        level.append(other)

    def way_up(self, node: int) -> list[tuple[int, int]]:
        """Edges from a node to its root, each with the node it leaves."""
        steps = []
        while self.came_by[node] >= 0:
            steps.append((self.came_by[node], node))
            node = self.above[node]
        return steps


def spanning_forest(count: int, edges: Sequence[Edge], allowed: Iterable[int] | None = None) -> Forest:
    """A spanning tree of every piece that the allowed edges make.

    Parameters
    ----------
    count : int
        Number of nodes.
    edges : sequence of (int, int)
        All edges.
    allowed : iterable of int or None
        Places of those that may be used; None allows all.

    Examples
    --------
    >>> spanning_forest(3, [(0, 1)]).piece
    [0, 0, 2]
    """
    return Forest(count, edges, range(len(edges)) if allowed is None else allowed)


def fundamental_loops(count: int, edges: Sequence[Edge]) -> tuple[tuple[tuple[int, int], ...], ...]:
    """A basis of loops: for each edge outside a spanning tree, that edge and the way back through the tree.

    Parameters
    ----------
    count : int
        Number of nodes.
    edges : sequence of (int, int)
        All edges.

    Returns
    -------
    tuple of tuple of (int, int)
        For each loop its edges, with +1 where it runs from the edge's first to its second node, else -1.

    Examples
    --------
    >>> fundamental_loops(2, [(0, 1), (0, 1)])
    (((1, 1), (0, -1)),)
    """
    forest = spanning_forest(count, edges)
    in_tree = set(forest.came_by)
    loops = []
    for place, (tail, head) in enumerate(edges):
        if place in in_tree:
            continue
        back = {edge: (edge, 1 if edges[edge][0] == node else -1) for edge, node in forest.way_up(head)}
        for edge, node in forest.way_up(tail):
            if edge in back:
                del back[edge]
            else:
                back[edge] = (edge, 1 if edges[edge][1] == node else -1)
        loops.append(((place, 1), *back.values()))
    return tuple(loops)
