"""Many cases of one circuit at once: arrays of shape (cases,) through straight-line arithmetic.

Conductances of ordinary parts are positive, so elimination needs no pivoting and the same operations serve all cases.
"""

from __future__ import annotations

from collections.abc import Sequence

from boardproof.solve.arithmetic import Number
from boardproof.solve.line import Line

__all__ = ["eliminated"]


def eliminated(count: int, edges: Sequence[tuple[int, int]], lines: Sequence[Line]) -> list[Number]:
    """Potentials over the last node that is left, by eliminating the node with the fewest neighbours first.

    Parameters
    ----------
    count : int
        Number of nodes, joined to each other.
    edges : sequence of (int, int)
        At most one between two nodes.
    lines : sequence of Line
        One an edge, numbers or arrays of shape (cases,).

    Returns
    -------
    list of number
        A potential for each node.

    Notes
    -----
    Taking a node away leaves a mesh between its neighbours (star-mesh transformation): Gaussian elimination on the
    junction rule.

    Examples
    --------
    >>> loop = [Line(1.0, 1.0, 6.0), Line(1.0, 2.0, 0.0), Line(1.0, 3.0, 0.0)]
    >>> eliminated(3, [(0, 1), (1, 2), (2, 0)], loop)
    [-3.0, 2.0, 0.0]
    """
    mesh: list[dict[int, Number]] = [{} for _ in range(count)]
    right: list[Number] = [0.0] * count
    for (tail, head), line in zip(edges, lines, strict=True):
        mesh[tail][head] = mesh[head][tail] = line.a / line.b
        current = line.c / line.b
        right[head] = right[head] + current
        right[tail] = right[tail] - current
    left, steps = set(range(count)), []
    while len(left) > 1:
        node = min(left, key=lambda each: (len(mesh[each]), each))
        left.discard(node)
        arms = list(mesh[node].items())
        own = arms[0][1]
        for _, arm in arms[1:]:
            own = own + arm
        inverse = 1.0 / own  # one division for many products
        steps.append((node, arms, inverse, right[node]))
        for place, (one, arm) in enumerate(arms):
            share = arm * inverse
            right[one] = right[one] + share * right[node]
            del mesh[one][node]
            for other, far in arms[place + 1 :]:
                more = share * far
                mesh[one][other] = mesh[other][one] = mesh[one][other] + more if other in mesh[one] else more
    potentials: list[Number] = [0.0] * count
    for node, arms, inverse, current in reversed(steps):
        drawn = current
        for other, arm in arms:
            drawn = drawn + arm * potentials[other]
        potentials[node] = drawn * inverse
    return potentials
