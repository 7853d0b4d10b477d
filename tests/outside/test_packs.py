"""Packs against sources and programs that nobody here wrote."""

from __future__ import annotations

import json
from fractions import Fraction
from functools import cache
from itertools import combinations
from math import comb
from pathlib import Path

import networkx as nx
import numpy as np
import pytest
import scipy.sparse.linalg
from scipy import sparse

from boardproof.pack.given import splits
from boardproof.pack.ladder import shares_with_links
from boardproof.pack.search import best_arrangements, best_for, count_of
from boardproof.pack.wiring import Bank, shares

CASES = Path(__file__).parent / "data" / "textbook_cases.jsonl"

# OEIS, as stored copies of its pages give them.
A058381 = (
    1,
    1,
    4,
    20,
    156,
    1472,
    17396,
    239612,
    3827816,
)  # labelled networks without multiple edges, from n = 1
A232005 = (1, 2, 8, 48, 386)  # different resistances of 1, 2, ..., n ohm in series and parallel
A153588 = (1, 3, 7, 15, 35, 77, 179)  # resistances of up to n equal resistors


def stirling_first(n: int, k: int) -> int:
    """Signed Stirling numbers of the first kind."""
    if n == k:
        return 1
    if k == 0 or k > n:
        return 0
    return stirling_first(n - 1, k - 1) - (n - 1) * stirling_first(n - 1, k)


def test_counts_of_labelled_networks() -> None:
    """A058381(n) = sum of Stirling1(n, k) A006351(k) (S. A. Irvine, in OEIS)."""
    found = [
        sum(stirling_first(n, k) * count_of(k) for k in range(1, n + 1)) for n in range(1, len(A058381) + 1)
    ]
    assert tuple(found) == A058381


@cache
def trees(chosen: tuple[int, ...]) -> frozenset:
    """Every arrangement as a tree without order, found by splitting: the brute force that the search is held to."""
    if len(chosen) == 1:
        return frozenset(chosen)
    first, rest = chosen[0], chosen[1:]
    found = set()
    for size in range(len(rest)):
        for others in combinations(rest, size):
            one, other = (first, *others), tuple(each for each in rest if each not in others)
            for a in trees(one):
                for b in trees(other):
                    for how in "+|":
                        parts = [
                            part
                            for each in (a, b)
                            for part in (each[1] if isinstance(each, tuple) and each[0] == how else [each])
                        ]
                        found.add((how, frozenset(parts)))
    return frozenset(found)


@pytest.mark.parametrize("cells", [1, 2, 3, 4, 5])
def test_the_count_is_that_of_the_brute_force(cells) -> None:
    assert len(trees(tuple(range(cells)))) == count_of(cells)


def resistance(tree) -> Fraction:
    if isinstance(tree, int):
        return Fraction(tree)
    each = [resistance(part) for part in tree[1]]
    return sum(each, Fraction(0)) if tree[0] == "+" else 1 / sum((1 / r for r in each), Fraction(0))


@pytest.mark.parametrize("cells", [1, 2, 3, 4, 5])
def test_resistances_of_one_to_n_ohm(cells) -> None:
    assert len({resistance(tree) for tree in trees(tuple(range(1, cells + 1)))}) == A232005[cells - 1]


def test_the_search_spans_what_the_brute_force_finds() -> None:
    """Cells with equal EMF and r of 1 to 5 ohm: best for a short circuit, and best with almost no load."""
    cells = [(Fraction(1), Fraction(n)) for n in range(1, 6)]
    found = best_arrangements(cells)
    assert best_for(found, Fraction(0)).resistance == min(resistance(tree) for tree in trees((1, 2, 3, 4, 5)))
    assert found[0].resistance == max(resistance(tree) for tree in trees((1, 2, 3, 4, 5)))


def test_resistances_of_equal_cells() -> None:
    sets: list[set[Fraction]] = [set(), {Fraction(1)}]
    for n in range(2, 8):
        sets.append({
            r for k in range(1, n // 2 + 1) for a in sets[k] for b in sets[n - k] for r in (a + b, a * b / (a + b))
        })  # fmt: skip
    assert tuple(len(set().union(*sets[: n + 1])) for n in range(1, 8)) == A153588
    for n in range(1, 8):  # the search's arrangements are among them, its ends are the extremes
        found = best_arrangements([(Fraction(1), Fraction(1))] * n)
        assert {each.resistance for each in found} <= sets[n]
        assert (found[0].resistance, found[-1].resistance) == (max(sets[n]), min(sets[n]))


@pytest.mark.parametrize("wiring", ["rows", "blocks"])
def test_resistance_distance_of_networkx(wiring) -> None:
    """R_pack from two loads is the resistance distance between the terminals of the pack without its EMFs."""
    rng = np.random.default_rng(3)
    rows, series, link = 4, 5, 0.02
    bank = Bank(np.full((rows, series), 1.5), rng.uniform(0.1, 0.5, (rows, series)))
    graph = nx.Graph()
    for row in range(rows):
        for at in range(series):
            graph.add_edge((row, at), (row, at + 1), weight=bank.resistance[row, at])
        for at in range(series + 1):
            if row + 1 < rows and (wiring == "blocks" or at in {0, series}):
                graph.add_edge((row, at), (row + 1, at), weight=link)
    wanted = nx.resistance_distance(graph, (0, 0), (rows - 1, series), weight="weight", invert_weight=True)
    one, two = (shares_with_links(bank, wiring, link=link, resistance=load) for load in (1.0, 2.0))
    found = -(float(one.voltage) - float(two.voltage)) / (float(one.current) - float(two.current))
    assert found == pytest.approx(wanted, rel=1e-9)


@pytest.mark.parametrize("wiring", ["rows", "blocks"])
def test_a_sparse_nodal_solution_of_scipy(wiring) -> None:
    """The junction rule for every node of a pack with spread, put together here and solved by scipy."""
    rng = np.random.default_rng(5)
    rows, series, load = 6, 9, 3.0
    bank = Bank(rng.normal(1.5, 0.03, (rows, series)), rng.uniform(0.1, 0.3, (rows, series)))

    def node(row, at):
        if at in {0, series}:
            return 0 if at == 0 else 1
        return 1 + at if wiring == "blocks" else 2 + row * (series - 1) + at - 1

    count = 2 + (series - 1) * (1 if wiring == "blocks" else rows)
    matrix, right = sparse.lil_matrix((count, count)), np.zeros(count)
    for row in range(rows):
        for at in range(series):
            g = 1 / bank.resistance[row, at]
            a, b = node(row, at), node(row, at + 1)
            for x, y in ((a, b), (b, a)):
                matrix[x, x] += g
                matrix[x, y] -= g
            right[b] += g * bank.emf[row, at]
            right[a] -= g * bank.emf[row, at]
    matrix[1, 1] += 1 / load
    potential = np.zeros(count)
    potential[1:] = scipy.sparse.linalg.spsolve(matrix.tocsc()[1:, 1:], right[1:])
    made = shares(bank, wiring, resistance=load)
    for row in range(rows):
        for at in range(series):
            rise = potential[node(row, at + 1)] - potential[node(row, at)]
            assert made.cells[row, at] == pytest.approx((bank.emf[row, at] - rise) / bank.resistance[row, at])


@pytest.mark.parametrize(
    ("cells", "emf", "inside", "load", "series", "rows"),
    [
        (27, "1", "0.4", "1.2", 9, 3),  # askiitians.com, effective grouping of cells
        (20, "1", "0.5", "2.5", 10, 2),  # askfilo.com, m rows of n cells
        (12, "2", "0.5", "0.375", 3, 4),  # Nelkon and Parker, twelve cells (from memory)
    ],
)
def test_textbook_groupings(cells, emf, inside, load, series, rows) -> None:
    made = splits(cells, *map(Fraction, (emf, inside, load)))
    assert (made.whole[0].series, made.whole[0].rows) == (series, rows)
    assert made.is_matched


def test_the_twelve_cells_of_the_given_set() -> None:
    """The case nelkon-12cells of the textbook set: 64 n/(16 + n^2) amperes with n rows, 8 A with four."""
    (case,) = [
        each
        for line in CASES.read_text(encoding="utf-8").splitlines()
        if (each := json.loads(line))["id"] == "nelkon-12cells"
    ]
    cells = [part for part in case["parts"] if part["kind"] == "cell"]
    made = splits(len(cells), Fraction(2), Fraction(1, 2), Fraction(3, 8))
    assert {part["emf"] for part in cells} == {2.0}
    for each in made.whole:
        assert each.current == Fraction(64 * each.rows, 16 + each.rows**2)
    assert made.whole[0].current == 8
    assert comb(12, 1) == len(cells)
