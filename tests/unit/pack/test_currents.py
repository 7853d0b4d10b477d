"""Currents of packs in three ways of our own: folded, by links, by levels; and what follows from them."""

from fractions import Fraction

import numpy as np
import pytest

from boardproof.circuit.quantity import QuantityRef
from boardproof.circuit.read import read_circuit
from boardproof.pack.arrange import Arrangement
from boardproof.pack.brief import Supply
from boardproof.pack.cell import CellType
from boardproof.pack.faults import FAULTS, what_if
from boardproof.pack.given import splits
from boardproof.pack.ladder import shares_with_links
from boardproof.pack.levels import Level, currents
from boardproof.pack.run_down import run_down
from boardproof.pack.spread import spread_of
from boardproof.pack.unequal import current_bound, grouped
from boardproof.pack.wiring import Bank, shares
from boardproof.solve.answers import answers
from boardproof.source import Source

RNG = np.random.default_rng(7)


def uneven(rows, series):
    return Bank(RNG.uniform(1.2, 1.6, (rows, series)), RNG.uniform(0.1, 0.5, (rows, series)))


@pytest.mark.parametrize("wiring", ["rows", "blocks"])
def test_the_exact_solver_of_circuits_agrees(wiring) -> None:
    lines = ["R = resistor 3 ohm"]
    values = {}
    for row in (1, 2):
        for at in (1, 2, 3):
            values[row, at] = Fraction(10 + 2 * row + at, 10), Fraction(row + 2 * at, 10)
            lines.append(f"C_{row}{at} = cell {float(values[row, at][0])} V, {float(values[row, at][1])} ohm")
    rows = ["(" + " + ".join(f"C_{r}{a}" for a in (1, 2, 3)) + ")" for r in (1, 2)]
    blocks = ["(" + " || ".join(f"C_{r}{a}" for r in (1, 2)) + ")" for a in (1, 2, 3)]
    lines.append(
        f"({' || '.join(rows)}) across R" if wiring == "rows" else f"({' + '.join(blocks)}) across R"
    )
    circuit = read_circuit(Source("x", "\n".join(lines)).slice()).at_hand
    known = answers(circuit)
    emf, ohms = (np.array([[float(values[r, a][k]) for a in (1, 2, 3)] for r in (1, 2)]) for k in (0, 1))
    made = shares(Bank(emf, ohms), wiring, resistance=3.0)
    for row in (1, 2):
        for at in (1, 2, 3):
            exact = known.ask(QuantityRef("current", (f"C_{row}{at}",), circuit.id)).exact
            assert made.cells[row - 1, at - 1] == pytest.approx(float(exact), rel=1e-12)


@pytest.mark.parametrize("wiring", ["rows", "blocks"])
def test_links_without_resistance_change_nothing(wiring) -> None:
    bank = uneven(4, 5)
    plain = shares(bank, wiring, resistance=2.0)
    linked = shares_with_links(bank, wiring, link=1e-7, resistance=2.0)
    assert np.allclose(linked.cells, plain.cells, rtol=1e-4, atol=1e-5)


def test_links_take_their_lost_volts() -> None:
    bank = uneven(4, 5)
    found = [
        float(shares_with_links(bank, "blocks", link=x, resistance=2.0).current) for x in (0.001, 0.01, 0.1)
    ]
    assert found == sorted(found, reverse=True)


@pytest.mark.parametrize("wiring", ["rows", "blocks"])
def test_levels_agree_with_the_pack(wiring) -> None:
    bank = uneven(4, 5)
    if wiring == "rows":
        levels = (Level("series", np.arange(0, 20, 5)), Level("parallel", np.array([0])))
        found = currents(bank.emf.ravel(), bank.resistance.ravel(), levels, load=2.0).reshape(4, 5)
    else:
        levels = (Level("parallel", np.arange(0, 20, 4)), Level("series", np.array([0])))
        found = currents(bank.emf.T.ravel(), bank.resistance.T.ravel(), levels, load=2.0).reshape(5, 4).T
    assert np.allclose(found, shares(bank, wiring, resistance=2.0).cells)


def test_a_load_current_and_a_load_resistance_say_the_same() -> None:
    bank = uneven(3, 4)
    for wiring in ("rows", "blocks"):
        one = shares(bank, wiring, resistance=2.0)
        other = shares(bank, wiring, current=float(one.current))
        assert np.allclose(one.cells, other.cells)
        assert float(one.voltage) == pytest.approx(float(other.voltage))


def test_at_rest_what_goes_round_adds_to_nought() -> None:
    made = shares(uneven(3, 4), "rows")
    assert np.allclose(made.cells.sum(axis=0), 0)
    assert np.abs(made.cells).max() > 0


def test_a_wholly_open_pack_gives_nothing_and_a_shorted_block_is_passed() -> None:
    bank = uneven(2, 3)
    broken = Bank(bank.emf, bank.resistance, opened=np.array([[True, False, False]] * 2))
    for wiring in ("rows", "blocks"):
        made = shares(broken, wiring, resistance=2.0)
        assert float(made.current) == 0
        assert np.isfinite(made.cells).all()
    short = np.zeros((2, 3), bool)
    short[0, 1] = True
    made = shares(Bank(bank.emf, bank.resistance, shorted=short), "blocks", resistance=2.0)
    two = Bank(bank.emf[:, [0, 2]], bank.resistance[:, [0, 2]])
    assert float(made.current) == pytest.approx(float(shares(two, "blocks", resistance=2.0).current))
    assert made.cells[0, 1] == pytest.approx(bank.emf[0, 1] / bank.resistance[0, 1])
    assert made.cells[1, 1] == pytest.approx(bank.emf[1, 1] / bank.resistance[1, 1])


def test_faults_are_ranked_and_all_there() -> None:
    found = what_if(10, 4, 1.5, 0.4, 4.0)
    assert len(found) == 2 * len(FAULTS) * 2
    assert [each.worst for each in found] == sorted((each.worst for each in found), reverse=True)
    turned = next(each for each in found if (each.fault, each.wiring, each.count) == ("turned", "rows", 1))
    assert turned.load == pytest.approx(-0.05)
    assert turned.at_rest == pytest.approx(
        0.5625
    )  # 3 V round 4 ohm and three rows of 4 ohm: the row carries 0.5625 A
    assert all(each.load > 0 for each in found if each.fault == "warmer")
    assert {each.wiring for each in what_if(5, 1, 1.5, 0.4, 4.0)} == {"rows"}


CELL = CellType("A", Fraction(2), Fraction(1), Fraction("0.1"), capacity=Fraction(3600))


def test_running_down_agrees_with_the_sum_by_hand() -> None:
    made = run_down(Arrangement(3, 2, Supply(CELL)), "rows", current=2.0, end=4.2)
    # three in a row: 3 (E - 0.1) = 4.2 gives E = 1.5, half the charge of two rows at 1 A each
    assert made.ends == pytest.approx(1800, rel=1e-6)
    assert made.energy == pytest.approx(2 * 1800 * (5.7 + 4.2) / 2, rel=1e-6)
    assert made.spread_of_charge < 1e-9


def test_the_first_empty_cell_ends_it() -> None:
    made = run_down(Arrangement(3, 2, Supply(CELL)), "rows", current=2.0, end=0.5, alike=False)
    assert made.ends is None
    assert 3000 < made.first_empty < 3600


def test_spread_is_the_same_for_one_seed_and_wider_for_worse_cells() -> None:
    def drawn(share, seed):
        cell = CellType("A", Fraction("1.5"), Fraction("1.5"), Fraction("0.4"), spread=Fraction(share, 100))
        return spread_of(
            Arrangement(5, 4, Supply(cell)), "rows", current=3.0, least=5.8, packs=500, seed=seed
        )

    assert drawn(1, 1) == drawn(1, 1) != drawn(1, 2)
    assert drawn(4, 1).worst[2] > drawn(1, 1).worst[2]
    assert drawn(1, 1).voltage[0] < drawn(1, 1).voltage[1] < drawn(1, 1).voltage[2]


def test_blocks_that_differ_little_share_evenly() -> None:
    cells = [(Fraction(n, 100), Fraction(1, 5)) for n in (160, 159, 140, 139, 150, 149)]
    for wiring in ("rows", "blocks"):
        made = grouped(cells, 3, 2, wiring, Fraction(2))
        assert sorted(at for row in made.places for at in row) == list(range(6))
        assert made.worst <= made.before
        assert made.current <= made.bound


def test_the_bound_is_reached_where_the_classic_rule_is_whole() -> None:
    made = splits(36, Fraction(2), Fraction(1), Fraction(4))
    assert made.is_matched
    assert float(made.whole[0].current) == pytest.approx(made.bound)
    assert current_bound([(Fraction(2), Fraction(1))] * 36, Fraction(4)) == pytest.approx(made.bound)


def test_whole_numbers_change_the_rule() -> None:
    """Seven cells: a prime number leaves 7s1p and 1s7p only, and leaving one out does better."""
    made = splits(7, Fraction(2), Fraction(1), Fraction(3, 2))
    assert not made.is_matched
    assert [each.series for each in made.whole] == [7, 1]
    assert made.best_of_fewer.series * made.best_of_fewer.rows == 6
    assert made.best_of_fewer.current > made.whole[0].current
