"""Exact numbers beside floats: all potentials of random networks, ours as fractions, numpy's as doubles."""

from __future__ import annotations

import time
from fractions import Fraction

import numpy as np

from boardproof.circuit.network import Branch, FlatNetwork
from boardproof.solve.arithmetic import Arithmetic
from boardproof.solve.line import Line
from boardproof.solve.network import Solved


def network(seed, nodes):
    rng = np.random.default_rng(seed)
    tree = [(int(rng.integers(0, node)), node) for node in range(1, nodes)]
    more = {tuple(sorted(map(int, rng.choice(nodes, 2, replace=False)))) for _ in range(nodes)} - set(tree)
    edges = tree + sorted(more)
    ints = rng.integers(1, 10, (2, len(edges)))
    return edges, [Fraction(int(each)) for each in ints[0]], [Fraction(int(each)) for each in ints[1]]


def exact(nodes, edges, resistances, emfs):
    branches = tuple(Branch(None, "", *edge) for edge in edges)
    lines = [Line(Fraction(1), resistance, emf) for resistance, emf in zip(resistances, emfs, strict=True)]
    net = Solved(FlatNetwork(nodes, branches, {}, {}, None), Arithmetic("exact"), lines)
    return [net.rise(place) for place in range(len(edges))]


def floats(nodes, edges, resistances, emfs):
    matrix, right = np.zeros((nodes, nodes)), np.zeros(nodes)
    for (tail, head), resistance, emf in zip(edges, resistances, emfs, strict=True):
        g = 1 / float(resistance)
        matrix[tail, tail] += g
        matrix[head, head] += g
        matrix[tail, head] -= g
        matrix[head, tail] -= g
        right[head] += g * float(emf)
        right[tail] -= g * float(emf)
    potentials = np.concatenate(([0.0], np.linalg.solve(matrix[1:, 1:], right[1:])))
    return [potentials[head] - potentials[tail] for tail, head in edges]


def best(work, *given, times=20):
    taken = []
    for _ in range(times):
        start = time.perf_counter()
        found = work(*given)
        taken.append(time.perf_counter() - start)
    return min(taken), found


def main():
    for nodes in (10, 50):
        given = (nodes, *network(nodes, nodes))
        ours, found = best(exact, *given)
        theirs, peer = best(floats, *given)
        assert np.allclose([float(each) for each in found], peer)
        print(
            f"{nodes:3} nodes   exact {ours * 1e3:7.2f} ms   numpy {theirs * 1e3:7.3f} ms   {ours / theirs:5.1f} x"
        )


if __name__ == "__main__":
    main()
