"""Embeddings against a reference library, and the order in which points are passed."""

from __future__ import annotations

import networkx as nx
import pytest
from hypothesis import given
from hypothesis import strategies as st

from boardproof.picture.planar import rotation_of, through_order

edges_of = st.sets(
    st.tuples(st.integers(0, 7), st.integers(0, 7)).filter(lambda pair: pair[0] < pair[1]),
    min_size=1,
    max_size=18,
)


@given(edges_of)
def test_planarity_agrees_with_networkx_and_the_turns_make_an_embedding(edges):
    turn = rotation_of(sorted(edges))
    is_planar, _ = nx.check_planarity(nx.Graph(list(edges)))
    assert (turn is not None) == is_planar
    if turn is None:
        return
    drawn = nx.PlanarEmbedding()
    for point, around in turn.items():
        before = None
        for other in around:
            drawn.add_half_edge(point, other, cw=before)
            before = other
    drawn.check_structure()


@pytest.mark.parametrize("graph", [nx.complete_graph(5), nx.complete_bipartite_graph(3, 3)])
def test_what_cannot_be_drawn_without_crossings_is_refused(graph):
    assert rotation_of(list(graph.edges)) is None


@given(edges_of, st.integers(0, 7), st.integers(0, 7))
def test_each_point_between_has_an_earlier_and_a_later_neighbour(edges, first, last):
    points = {point for pair in edges for point in pair}
    if first == last or not {first, last} <= points:
        return
    order = through_order(points, sorted(edges), first, last)
    closed = nx.Graph([*edges, (first, last)])
    assert (order is not None) == (nx.is_biconnected(closed) if len(points) > 2 else True)
    if order is None:
        return
    assert (order[0], order[-1]) == (first, last)
    place = {point: n for n, point in enumerate(order)}
    for point in order[1:-1]:
        around = [place[other] for pair in edges if point in pair for other in pair if other != point]
        assert min(around) < place[point] < max(around)
