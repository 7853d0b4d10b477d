"""Large networks of numbers: the junction rule as a sparse system, for circuits of over about a hundred nodes."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from boardproof.solve.arithmetic import Number
from boardproof.solve.line import Line

__all__ = ["many_potentials", "node_potentials"]


def node_potentials(count: int, tails: Any, heads: Any, conductances: Any, currents: Any) -> Any:
    """Potentials over node 0 of a network that is all of one piece.

    Parameters
    ----------
    count : int
        Number of nodes, at least 2.
    tails, heads : int arrays of shape (edges,)
        Nodes of each edge.
    conductances : float array of shape (edges,)
        In siemens, greater than nought.
    currents : float array of shape (edges,)
        What each edge's EMF drives from tail to head if its ends are joined: E/r, in amperes.

    Returns
    -------
    float array of shape (count,)
        In volts.

    Notes
    -----
    Sparse LU in symmetric mode with minimum degree of A + A^T, which keeps a matrix with this symmetry sparse.

    Examples
    --------
    >>> import numpy as np
    >>> ends = np.array([0, 0]), np.array([1, 1])
    >>> node_potentials(2, *ends, np.array([1.0, 1.0]), np.array([6.0, 0.0])).tolist()
    [0.0, 3.0]
    """
    import numpy as np  # heavy, and most lessons never come here
    from scipy.sparse import csc_matrix  # 0.3 s to load
    from scipy.sparse.linalg import splu  # likewise

    rows = np.concatenate((tails, heads, tails, heads))
    columns = np.concatenate((tails, heads, heads, tails))
    entries = np.concatenate((conductances, conductances, -conductances, -conductances))
    kept = (rows > 0) & (columns > 0)
    matrix = csc_matrix((entries[kept], (rows[kept] - 1, columns[kept] - 1)), shape=(count - 1, count - 1))
    right = np.bincount(heads, currents, count) - np.bincount(tails, currents, count)
    factored = splu(
        matrix, permc_spec="MMD_AT_PLUS_A", diag_pivot_thresh=0.0, options={"SymmetricMode": True}
    )
    return np.concatenate(([0.0], factored.solve(right[1:])))


def many_potentials(count: int, edges: Sequence[tuple[int, int]], lines: Sequence[Line]) -> list[Number]:
    """Potentials of each node, case by case if there are several.

    Parameters
    ----------
    count : int
        Number of nodes, joined to each other.
    edges : sequence of (int, int)
        First and last node of each edge.
    lines : sequence of Line
        One an edge, numbers or arrays of shape (cases,).

    Examples
    --------
    >>> [float(each) for each in many_potentials(2, [(0, 1), (0, 1)], [Line(1, 1.0, 6.0), Line(1, 1.0, 0.0)])]
    [0.0, 3.0]
    """
    import numpy as np  # as above

    tails, heads = np.array(edges).T
    conductances = np.stack(np.broadcast_arrays(*(np.asarray(line.a / line.b) for line in lines)))
    currents = np.stack(np.broadcast_arrays(*(np.asarray(line.c / line.b) for line in lines)))
    if conductances.ndim == 1 and currents.ndim == 1:
        return list(node_potentials(count, tails, heads, conductances, currents))
    shape = np.broadcast_shapes(conductances.shape[1:], currents.shape[1:])
    conductances, currents = (
        np.broadcast_to(each.reshape(len(edges), -1), (len(edges), *shape))
        for each in (conductances, currents)
    )
    each_case = [
        node_potentials(count, tails, heads, conductances[:, case], currents[:, case])
        for case in range(shape[0])
    ]
    return list(np.stack(each_case, axis=1))
