"""A million cases of one network: straight-line elimination beside batched numpy.linalg.solve and a plain copy."""

from __future__ import annotations

import time

import numpy as np

from boardproof.circuit.model import Circuit, Leaf, Network, Part, Worth
from boardproof.circuit.quantity import QuantityRef
from boardproof.solve.cases import cases

CASES = 1_000_000
CHUNK = 8192
BRIDGE = (4, [(3, 0), (0, 1), (1, 3), (0, 2), (2, 3), (1, 2)])
LADDER = (12, [(k, k + 1) for k in range(11)] + [(k, k + 2) for k in range(0, 10, 2)] + [(0, 11)])


def ours(nodes, edges, resistances, emf):
    names = "abcdefghijkl"
    parts = [Leaf("A", Part("A", "cell", Worth("E"), Worth("r_0")))]
    parts += [
        Leaf(f"R{k}", Part(f"R{k}", "resistor", resistance=Worth(f"r_{k}"))) for k in range(1, len(edges))
    ]
    branches = tuple(
        (part, names[tail], names[head]) for part, (tail, head) in zip(parts, edges, strict=True)
    )
    values = {"E": emf, **{f"r_{k}": each for k, each in enumerate(resistances)}}
    asked = {part.path: QuantityRef("current", (part.path,), "") for part in parts}
    return np.stack(list(cases(Circuit(Network(branches)), asked, values).values()))


def batched(nodes, edges, resistances, emf):
    result = np.empty((len(edges), CASES))
    for start in range(0, CASES, CHUNK * 4):
        part = slice(start, start + CHUNK * 4)
        g = 1 / resistances[:, part]
        matrix = np.zeros((g.shape[1], nodes, nodes))
        right = np.zeros((g.shape[1], nodes, 1))
        for (tail, head), each in zip(edges, g, strict=True):
            matrix[:, tail, tail] += each
            matrix[:, head, head] += each
            matrix[:, tail, head] -= each
            matrix[:, head, tail] -= each
        tail, head = edges[0]
        right[:, head, 0] += g[0] * emf[part]
        right[:, tail, 0] -= g[0] * emf[part]
        found = np.zeros((g.shape[1], nodes))
        found[:, 1:] = np.linalg.solve(matrix[:, 1:, 1:], right[:, 1:])[..., 0]
        for place, (tail, head) in enumerate(edges):
            rise = found[:, head] - found[:, tail]
            result[place, part] = ((emf[part] if place == 0 else 0) - rise) * g[place]
    return result


def timed(work, *given):
    start = time.perf_counter()
    found = work(*given)
    return time.perf_counter() - start, found


def main():
    rng = np.random.default_rng(1)
    for name, (nodes, edges) in {"bridge": BRIDGE, "12 nodes": LADDER}.items():
        resistances, emf = rng.uniform(1, 10, (len(edges), CASES)), rng.uniform(1, 10, CASES)
        mine, found = min(
            (timed(ours, nodes, edges, resistances, emf) for _ in range(3)), key=lambda pair: pair[0]
        )
        theirs, peer = timed(batched, nodes, edges, resistances, emf)
        copy = min(
            timed(lambda both: [each.copy() for each in both], (resistances, found))[0] for _ in range(3)
        )
        assert np.allclose(found, peer)
        print(
            f"{name:9} {mine:6.3f} s   numpy {theirs / mine:5.1f} x   of the copy's time {mine / copy:6.1f} x",
            flush=True,
        )


if __name__ == "__main__":
    main()
