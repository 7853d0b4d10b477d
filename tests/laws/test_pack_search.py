"""The search for the best arrangement against trying every one, for every load."""

from __future__ import annotations

from fractions import Fraction
from functools import cache
from itertools import combinations, pairwise

from hypothesis import given, settings
from hypothesis import strategies as st

from boardproof.pack.search import best_arrangements, best_for
from boardproof.pack.unequal import current_bound


def every(cells):
    """Lines (E, r) of all series-parallel arrangements of all these cells, by splitting in all ways."""

    @cache
    def lines(chosen):
        if len(chosen) == 1:
            return frozenset({cells[chosen[0]]})
        found = set()
        first, rest = chosen[0], chosen[1:]
        for size in range(len(rest)):
            for others in combinations(rest, size):
                one = (first, *others)
                other = tuple(each for each in rest if each not in others)
                for e1, r1 in lines(one):
                    for e2, r2 in lines(other):
                        found |= {(e1 + e2, r1 + r2), ((e1 * r2 + e2 * r1) / (r1 + r2), r1 * r2 / (r1 + r2))}
        return frozenset(found)

    return lines(tuple(range(len(cells))))


values = st.integers(1, 12).map(lambda n: Fraction(n, 2))
some_cells = st.lists(st.tuples(values, values), min_size=1, max_size=5)
alike = st.tuples(values, values).flatmap(lambda cell: st.integers(1, 6).map(lambda n: [cell] * n))


def agree(cells) -> None:
    found, lines = best_arrangements(cells), every(tuple(cells))
    loads = {Fraction(0), Fraction(1, 7), Fraction(1), Fraction(50)}
    for each in found:
        loads |= {
            each.least_load,
            each.least_load + Fraction(1, 1000),
            max(Fraction(0), each.least_load - Fraction(1, 1000)),
        }
    for load in loads:
        chosen = best_for(found, load)
        assert (chosen.emf, chosen.resistance) in lines
        most = max(emf / (ohms + load) for emf, ohms in lines)
        assert chosen.emf / (chosen.resistance + load) == most
        if load:
            assert float(most) <= current_bound(cells, load) * (1 + 1e-12)
    assert found[0].most_load is None
    assert found[-1].least_load == 0
    assert all(a.least_load == b.most_load for a, b in pairwise(found))


@settings(max_examples=30, deadline=None)
@given(some_cells)
def test_unlike_cells(cells) -> None:
    agree(cells)


@settings(max_examples=12, deadline=None)
@given(alike)
def test_like_cells(cells) -> None:
    agree(cells)
