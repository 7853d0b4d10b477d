from fractions import Fraction as F

import pytest

from boardproof.circuit.model import (
    Across,
    Changed,
    Circuit,
    Copies,
    Leaf,
    Network,
    Parallel,
    Part,
    Run,
    Series,
    Worth,
)
from boardproof.findings import Finding
from boardproof.solve.arithmetic import Arithmetic
from boardproof.solve.reduce import reduced_item

EXACT = Arithmetic("exact")


def cell(name, emf, r):
    return Leaf(name, Part(name, "cell", Worth(f"E_{name}", F(emf)), Worth(f"r_{name}", F(r))))


def source(name, emf):
    return Leaf(name, Part(name, "source", Worth(f"E_{name}", F(emf))))


A, B = cell("A", 6, 1), cell("B", 3, 2)


@pytest.mark.parametrize(
    ("item", "emf", "resistance"),
    [
        (Series((A, B)), 9, 3),
        (Parallel((A, B)), 5, F(2, 3)),
        (Parallel((A, Changed(B, "turned"))), 3, F(2, 3)),
        (Changed(Series((A, B)), "turned"), -9, 3),
        (Changed(Series((A, B)), "without emf"), 0, 3),
        (Series((A, Changed(B, "shorted"))), 6, 1),
        (Parallel((A, Changed(B, "removed"))), 6, 1),
        (Across(A, B), 5, F(2, 3)),
        (Copies("series", (Run(1, 3, A),)), 18, 3),
        (Copies("parallel", (Run(1, 2, A), Run(3, 1, B))), F(27, 5), F(2, 5)),
        (Network(((A, "a", "b"), (B, "a", "b")), ("a", "b")), 5, F(2, 3)),
        (Parallel((source("X", 6), source("Y", 6))), 6, 0),
        (Changed(Changed(source("X", 6), "without emf"), "shorted"), 0, 0),
    ],
)
def test_equivalents(item, emf, resistance):
    found = reduced_item(item, EXACT)
    assert (found.emf, found.resistance) == (emf, resistance)


def test_a_contradiction_is_handed_up():
    clash = Parallel((source("X", 6), source("Y", 9)))
    for item in (clash, Series((clash, A)), Changed(clash, "turned"), Changed(source("X", 6), "shorted")):
        assert isinstance(reduced_item(item, EXACT), Finding)


def test_a_closed_network_has_no_ends():
    found = reduced_item(Network(((A, "a", "b"), (B, "a", "b"))), EXACT)
    assert found.kind.code == "no-such-quantity"


def test_members_stay_in_order_and_alike_ones_are_counted():
    found = reduced_item(Copies("parallel", (Run(1, 4, Series((A, B), "bank.1")),), "bank"), EXACT)
    assert (found.path, found.counts, found.joined) == ("bank", (4,), "parallel")
    assert [each.path for each in found.members[0].members] == ["A", "B"]


def test_an_empty_group_is_a_slip_of_the_programmer():
    with pytest.raises(ValueError, match="without members"):
        reduced_item(Series(()), EXACT)


def test_the_circuit_is_not_needed_for_an_equivalent():
    assert reduced_item(Circuit(Series((A,), "row")).item, EXACT).path == "row"
