import numpy as np

from boardproof.circuit.network import Branch, FlatNetwork
from boardproof.solve.arithmetic import Arithmetic
from boardproof.solve.batch import eliminated
from boardproof.solve.line import Line
from boardproof.solve.network import Solved
from boardproof.solve.sparse import many_potentials


def mesh(rng, nodes, cases=None):
    """A random network of one piece without series or parallel parts to fold."""
    edges = [(place, place + 1) for place in range(nodes - 1)]
    edges += [(one, other) for one in range(nodes) for other in range(one + 2, min(one + 4, nodes))]
    shape = () if cases is None else (cases,)
    lines = [Line(1.0, rng.uniform(1, 5, shape), rng.uniform(-3, 3, shape)) for _ in edges]
    return edges, lines


def test_elimination_agrees_with_dense_equations_case_by_case():
    edges, lines = mesh(np.random.default_rng(1), 8, 5)
    found = eliminated(8, edges, lines)
    for case in range(5):
        matrix, right = np.zeros((8, 8)), np.zeros(8)
        for (tail, head), line in zip(edges, lines, strict=True):
            g = 1 / line.b[case]
            matrix[[tail, head, tail, head], [tail, head, head, tail]] += [g, g, -g, -g]
            right[head] += line.c[case] * g
            right[tail] -= line.c[case] * g
        dense = np.concatenate(([0.0], np.linalg.solve(matrix[1:, 1:], right[1:])))
        ours = np.array([each[case] if np.ndim(each) else each for each in found])
        assert np.allclose(ours - ours[0], dense)


def test_sparse_and_elimination_agree():
    edges, lines = mesh(np.random.default_rng(2), 120, 3)
    sparse = np.stack(many_potentials(120, edges, lines))
    small = np.stack([np.broadcast_to(each, (3,)) for each in eliminated(120, edges, lines)])
    assert np.allclose(sparse - sparse[0], small - small[0])


def test_large_networks_of_numbers_go_the_sparse_way():
    edges, lines = mesh(np.random.default_rng(3), 150)
    branches = tuple(Branch(None, str(place), *edge) for place, edge in enumerate(edges))
    net = Solved(FlatNetwork(150, branches, {}, {}, None), Arithmetic("batch"), lines)
    for node in (0, 75, 149):
        assert abs(net.inflow(node, range(len(edges)))) < 1e-12
