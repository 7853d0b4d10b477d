"""Laws that hold on every circuit: Kirchhoff, Tellegen, power balance, reciprocity, equivalence, agreement of ways."""

from dataclasses import replace
from fractions import Fraction as F

import networkx as nx
import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from boardproof.algebra.polynomial import RationalFunction
from boardproof.circuit.model import (
    Across,
    Changed,
    Circuit,
    Copies,
    Item,
    Leaf,
    Network,
    Parallel,
    Part,
    Run,
    Series,
    Worth,
)
from boardproof.circuit.network import Branch, FlatNetwork
from boardproof.circuit.place import remade
from boardproof.circuit.quantity import QuantityRef
from boardproof.findings import Finding
from boardproof.solve.answers import Answers, Value, answers
from boardproof.solve.arithmetic import Arithmetic
from boardproof.solve.find import parts_of
from boardproof.solve.line import Line
from boardproof.solve.network import Solved
from boardproof.solve.reduce import line_between
from boardproof.solve.structure import fundamental_loops
from laws.circuits import any_circuits, circuits, groups, networks

pytestmark = pytest.mark.timeout(60)  # drawing a circuit as text and reading it takes most of the time
LOADS = st.fractions(min_value=F(1, 20), max_value=50, max_denominator=20)


def solved(circuit):
    return answers(circuit).solved


def value(circuit, kind, path, way="exact", **values):
    found = answers(circuit, way, **values).ask(QuantityRef(kind, (path,), circuit.id))
    return found.exact if isinstance(found, Value) else found.reason.kind.code


@given(any_circuits())
def test_at_every_junction_the_currents_balance(circuit):
    net = solved(circuit)
    everything = range(len(net.lines))
    assert all(net.inflow(node, everything) == 0 for node in range(net.flat.nodes))


@given(any_circuits())
def test_round_every_loop_the_pds_add_up_to_nought_and_every_part_obeys_its_line(circuit):
    net = solved(circuit)
    for loop in fundamental_loops(net.flat.nodes, net.edges):
        rises = [(net.rise(place), sign) for place, sign in loop]
        assume(not any(isinstance(rise, Finding) for rise, _ in rises))
        assert sum(rise * sign for rise, sign in rises) == 0
    for place, line in enumerate(net.lines):
        if place not in net.breaks:
            assert line.a * net.rise(place) + line.b * net.flow(place) == line.c


@given(any_circuits(), st.randoms(use_true_random=False))
def test_currents_of_one_and_pds_of_another_circuit_of_the_same_shape_do_no_work(circuit, random):
    other = {name: number * random.randint(1, 9) for name, number in circuit.values.items()}
    one, two = solved(circuit), Answers(circuit, Arithmetic("exact", other)).solved
    live = [place for place in range(len(one.lines)) if place not in one.breaks]
    assert sum(one.flow(place) * two.rise(place) for place in live) == 0


@given(any_circuits())
def test_what_the_cells_give_is_what_becomes_heat(circuit):
    paths = [leaf.path for leaf, _ in parts_of(circuit.item)]
    net = solved(circuit)
    given_power = sum(net.flow(place) * net.lines[place].emf for place in net.ordinary)
    heat = sum(net.flow(place) ** 2 * net.lines[place].resistance for place in net.ordinary)
    assert given_power == heat
    one_of_each = [value(circuit, "heat", path) for path in paths]
    assert all(each >= 0 for each in one_of_each)


@given(networks(), st.data())
def test_a_source_here_drives_there_what_a_source_there_drives_here(circuit, data):
    net = solved(circuit)
    here, there = (data.draw(st.sampled_from(net.ordinary)) for _ in range(2))

    def flow(at, source):
        lines = [Line(line.a, line.b, F(place == source)) for place, line in enumerate(net.lines)]
        return Solved(net.flat, net.numbers, lines).flow(at)

    assert flow(there, here) == flow(here, there)


@given(groups(), LOADS)
def test_the_equivalent_drives_every_load_as_the_group_does(circuit, resistance):
    emf, inside = value(circuit, "emf", "g"), value(circuit, "resistance", "g")
    load = Leaf("load", Part("load", "resistor", resistance=Worth("load", resistance)))
    closed = Circuit(Across(circuit.item, load), {**circuit.values, "load": resistance})
    if emf == "no-closed-path":
        assert value(closed, "current", "load") == 0
        return
    assert value(closed, "current", "load") == emf / (inside + resistance)
    assert value(closed, "pd", "g") == value(closed, "pd", "load")
    most = value(circuit, "greatest_power", "g")
    assert value(closed, "power", "load") <= most


@given(groups())
def test_folding_along_the_text_and_solving_the_whole_give_one_equivalent(circuit):
    known = answers(circuit)
    step = known.reduction("g")
    line = line_between(known.flat, known.numbers, *known.flat.outside)
    assert (step.line.a == 0) == (line.a == 0)
    if line.a != 0:
        assert (step.emf, step.resistance) == (line.emf, line.resistance)


def reordered(item: Item) -> Item:
    """The same circuit with everything that stands side by side in the other order."""
    item = remade(item, reordered)
    if isinstance(item, Parallel):
        return replace(item, items=item.items[::-1])
    if isinstance(item, Network):
        return replace(item, branches=item.branches[::-1])
    return item


@given(any_circuits())
def test_the_order_of_branches_side_by_side_changes_nothing(circuit):
    other = replace(circuit, item=reordered(circuit.item))
    for leaf, _ in parts_of(circuit.item):
        assert value(circuit, "current", leaf.path) == value(other, "current", leaf.path)
        assert value(circuit, "pd", leaf.path) == value(other, "pd", leaf.path)


def renamed(item: Item) -> Item:
    """The same circuit in other letters."""
    if isinstance(item, Leaf):
        part = item.part
        new = {
            role: replace(worth, letter=f"z_{worth.letter}")
            for role in ("emf", "resistance")
            if (worth := getattr(part, role))
        }
        return replace(item, part=replace(part, **new))
    return remade(item, renamed)


@given(any_circuits(most=6))
def test_other_letters_give_the_same_formulas_in_those_letters(circuit):
    other = Circuit(renamed(circuit.item))
    for leaf, _ in parts_of(circuit.item):
        formula = value(circuit, "current", leaf.path, "letters")
        put = {name: RationalFunction.letter(f"z_{name}") for name in formula.letters}
        assert formula.substitute(put) == value(other, "current", leaf.path, "letters")


@given(any_circuits(most=7))
def test_numbers_letters_and_many_cases_agree(circuit):
    doubled = {name: np.array([float(each), 2 * float(each)]) for name, each in circuit.values.items()}
    twice = replace(circuit, values={name: 2 * each for name, each in circuit.values.items()})
    for leaf, _ in parts_of(circuit.item):
        for kind in ("current", "pd", "heat"):
            exact = value(circuit, kind, leaf.path)
            if isinstance(exact, str):
                assert value(circuit, kind, leaf.path, "letters") == exact
                continue
            assert value(circuit, kind, leaf.path, "letters").evaluate(circuit.values) == exact
            cases = value(circuit, kind, leaf.path, "batch", values=doubled)
            expected = [float(exact), float(value(twice, kind, leaf.path))]
            assert np.allclose(cases, expected, rtol=1e-9, atol=1e-9)


@given(circuits(), st.integers(2, 9))
def test_currents_grow_with_the_emfs(circuit, factor):
    letters = {leaf.part.emf.letter for leaf, _ in parts_of(circuit.item) if leaf.part.emf}
    values = {name: each * (factor if name in letters else 1) for name, each in circuit.values.items()}
    stronger = replace(circuit, values=values)
    for leaf, _ in parts_of(circuit.item):
        assert value(stronger, "current", leaf.path) == factor * value(circuit, "current", leaf.path)


@given(circuits())
def test_turning_everything_turns_every_current_outside_the_cells(circuit):
    turned = replace(circuit, item=replace(circuit.item, source=Changed(circuit.item.source, "turned")))
    assume(not any(leaf.part.emf for leaf, _ in parts_of(circuit.item.load)))
    for leaf, _ in parts_of(circuit.item.load):
        assert value(turned, "current", leaf.path) == -value(circuit, "current", leaf.path)
    for leaf, _ in parts_of(circuit.item.source):
        if leaf.part.emf:
            assert value(turned, "current", leaf.path) == value(circuit, "current", leaf.path)


def random_net(seed, nodes, *, whole=True):
    """Edges, resistances and EMFs of a random network of one piece."""
    rng = np.random.default_rng(seed)
    tree = [(int(rng.integers(0, node)), node) for node in range(1, nodes)]
    more = {tuple(sorted(map(int, rng.choice(nodes, 2, replace=False)))) for _ in range(nodes)} - set(tree)
    edges = tree + sorted(more)
    number = (lambda low, high: F(int(rng.integers(low, high)))) if whole else rng.uniform
    return edges, [number(1, 20) for _ in edges], [number(-9, 10) for _ in edges]


def flat_net(nodes, edges):
    return FlatNetwork(
        nodes, tuple(Branch(None, str(k), *edge) for k, edge in enumerate(edges)), {}, {}, None
    )


@pytest.mark.parametrize(("seed", "nodes"), [(1, 5), (2, 20), (3, 60)])
def test_resistance_between_nodes_is_that_of_an_independent_library(seed, nodes):
    edges, resistances, _ = random_net(seed, nodes)
    graph = nx.Graph()
    for edge, resistance in zip(edges, resistances, strict=True):
        graph.add_edge(*edge, weight=float(resistance))
    lines = [Line(F(1), resistance, F(0)) for resistance in resistances]
    for other in (1, nodes // 2, nodes - 1):
        ours = line_between(flat_net(nodes, edges), Arithmetic("exact"), 0, other, lines)
        assert float(ours.resistance) == pytest.approx(
            nx.resistance_distance(graph, 0, other, "weight", invert_weight=True)
        )


@pytest.mark.parametrize(("seed", "nodes"), [(4, 10), (5, 50), (6, 200)])
@pytest.mark.parametrize("way", ["exact", "batch"])
def test_potentials_are_those_of_dense_equations(seed, nodes, way):
    exact = way == "exact"
    edges, resistances, emfs = random_net(seed, nodes, whole=exact)
    one, nought = (F(1), F(0)) if exact else (1.0, 0.0)
    lines = [Line(one, resistance, emf + nought) for resistance, emf in zip(resistances, emfs, strict=True)]
    net = Solved(flat_net(nodes, edges), Arithmetic(way), lines)
    matrix, right = np.zeros((nodes, nodes)), np.zeros(nodes)
    for (tail, head), resistance, emf in zip(edges, resistances, emfs, strict=True):
        g = 1 / float(resistance)
        np.add.at(matrix, ([tail, head, tail, head], [tail, head, head, tail]), [g, g, -g, -g])
        right[head] += float(emf) * g
        right[tail] -= float(emf) * g
    dense = np.concatenate(([0.0], np.linalg.solve(matrix[1:, 1:], right[1:])))
    ours = [float(net.between(node, 0)) for node in range(nodes)]
    assert np.allclose(ours, dense, rtol=1e-9, atol=1e-9)


def test_alike_copies_share_like_cells_written_out():
    cells = [Leaf(f"A{k}", Part(f"A{k}", "cell", Worth("E", F(6)), Worth("r", F(1)))) for k in range(6)]
    row = Series(tuple(cells[:3]), "row1")
    other = Series(tuple(cells[3:]), "row2")
    load = Leaf("R", Part("R", "resistor", resistance=Worth("R", F(7))))
    written_out = Circuit(Across(Parallel((row, other), "bank"), load))
    from_copies = Circuit(Across(Copies("parallel", (Run(1, 2, replace(row, path="bank.1")),), "bank"), load))
    for path in ("bank", "R"):
        assert value(written_out, "current", path) == value(from_copies, "current", path)
