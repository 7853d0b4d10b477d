import networkx as nx
from hypothesis import given
from hypothesis import strategies as st

from boardproof.solve.structure import blocks, fundamental_loops, spanning_forest

EDGES = st.lists(st.tuples(st.integers(0, 7), st.integers(0, 7)), max_size=16)


@given(EDGES)
def test_blocks_are_those_of_an_independent_library(edges):
    graph = nx.Graph([(tail, head) for tail, head in edges if tail != head])
    theirs = {frozenset(frozenset(edge) for edge in each) for each in nx.biconnected_component_edges(graph)}
    ours = [frozenset(frozenset(edges[place]) for place in each) for each in blocks(8, edges)]
    assert {each for each in ours if all(len(edge) == 2 for edge in each)} == theirs
    assert sorted(place for each in blocks(8, edges) for place in each) == list(range(len(edges)))


def test_parallel_edges_make_a_block_and_a_loop_at_one_node_is_one_by_itself():
    assert set(blocks(2, [(0, 1), (1, 0), (1, 1)])) == {(2,), (0, 1)}


@given(EDGES)
def test_each_loop_of_the_basis_comes_back_to_where_it_began(edges):
    loops = fundamental_loops(8, edges)
    for loop in loops:
        balance = [0] * 8
        for edge, sign in loop:
            balance[edges[edge][0]] -= sign
            balance[edges[edge][1]] += sign
        assert not any(balance)
    assert len(loops) == len(edges) - 8 + len(set(spanning_forest(8, edges).piece))


def test_a_forest_uses_only_what_is_allowed():
    assert spanning_forest(3, [(0, 1), (1, 2)], [1]).piece == [0, 1, 1]
