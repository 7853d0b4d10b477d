"""Arrangements against trying every one, and each limit."""

from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st

from boardproof.caution import tier_of
from boardproof.pack.arrange import arrangements, best, judged, slogan
from boardproof.pack.brief import AIMS, PackBrief, Supply
from boardproof.pack.cell import CellType, cell_called
from boardproof.pack.design import PackDesign, dangers_of, design
from boardproof.pack.read import read_typed

tenths = st.integers(1, 80).map(lambda n: Fraction(n, 10))


@st.composite
def briefs(draw):
    full = draw(st.integers(10, 45).map(lambda n: Fraction(n, 10)))
    empty = full * draw(st.sampled_from([Fraction(1), Fraction(4, 5), Fraction(1, 2)]))
    cell = CellType(
        "A", full, empty, draw(tenths) / 10, most=draw(st.none() | tenths),
        capacity=draw(st.none() | st.just(Fraction(7200))),
        mass=Fraction(draw(st.integers(1, 9)), 100), cost=Fraction(draw(st.integers(1, 9))),
    )  # fmt: skip
    supply = Supply(cell, draw(st.integers(4, 60)), draw(st.sampled_from([Fraction(0), Fraction(1, 50)])))
    least = draw(tenths) * 3
    return PackBrief(
        least,
        draw(tenths),
        (supply,),
        at_charge=draw(st.sampled_from([Fraction(0), Fraction(1, 2), Fraction(1)])),
        most=draw(st.none() | st.just(least * 2)),
        seconds=draw(st.none() | st.just(Fraction(3600))),
        sag_share=draw(st.none() | st.just(Fraction(1, 4))),
    )


@settings(max_examples=60, deadline=None)
@given(briefs())
def test_the_best_is_the_best_of_all_that_were_tried(brief) -> None:
    (supply,) = brief.supplies
    every = [
        made
        for series in range(1, supply.at_most + 1)
        for rows in range(1, supply.at_most // series + 1)
        if (made := judged(brief, supply, series, rows)).is_good
    ]
    listed = arrangements(brief)
    assert bool(listed) == bool(every)
    assert {each.name for each in listed} <= {each.name for each in every}
    if every:
        sizes = (lambda m: m.cells, lambda m: m.cells, lambda m: m.cells, lambda m: m.sag)
        for aim, size in zip(AIMS, sizes, strict=True):
            assert size(best(brief, aim)) == min(map(size, every)), aim


def test_margins_have_their_sign_and_size() -> None:
    A = Supply(CellType("A", Fraction("1.5"), Fraction("1.5"), Fraction("0.4"), most=Fraction(1)), 60)
    made = judged(PackBrief(Fraction(12), Fraction(3), (A,)), A, 10, 3)
    assert [(each.limit, each.margin) for each in made.checks] == [
        ("p.d. at the load", Fraction(-1)),
        ("current through each cell", Fraction(0)),
        ("number of cells", Fraction(30)),
    ]
    assert [each.is_met for each in made.checks] == [False, True, True]


def test_cable_and_contacts_cost_their_lost_volts() -> None:
    A = Supply(
        CellType("A", Fraction(2), Fraction(1), Fraction("0.1")), None, Fraction("0.1"), Fraction("0.5")
    )
    made = judged(PackBrief(Fraction(1), Fraction(2), (A,)), A, 4, 2)
    assert made.voltage(Fraction(2), Fraction(1, 2)) == 4 * (Fraction("1.5") - Fraction("0.2")) - 1


def test_energy_is_that_at_the_load() -> None:
    """Charge times the mean p.d.: 1 A h at 2 (1.5 - 0.1) V, less nothing else."""
    A = Supply(CellType("A", Fraction(2), Fraction(1), Fraction("0.1"), capacity=Fraction(3600)))
    brief = PackBrief(Fraction(1), Fraction(1), (A,), energy=Fraction(1))
    (check,) = [each for each in judged(brief, A, 2, 1).checks if each.limit == "energy at the load"]
    assert check.value == 3600 * Fraction("2.8")


def test_the_slogan_is_right_where_nothing_is_lost() -> None:
    A = Supply(CellType("A", Fraction(2), Fraction(2), Fraction(1, 10**9)))
    brief = PackBrief(Fraction("11.9"), Fraction(1), (A,))
    assert slogan(brief, A).name == best(brief).name == "6s1p"


def test_a_brief_that_can_not_be_met_gives_the_nearest() -> None:
    made = design(read_typed("voltage: 12 V; current: 3 A; cells: A 1.5 V, 0.4 ohm, at most 20").brief)
    assert not isinstance(made, PackDesign)
    assert not made.is_good


def test_tiers_are_chosen_by_what_the_pack_can_do() -> None:
    small = Supply(CellType("A", Fraction("1.5"), Fraction("1.5"), Fraction("0.5")))
    for supply, series, rows, tier in (
        (small, 3, 1, "small"),
        (small, 2, 4, "strong"),
        (Supply(cell_called("Li-ion 18650")), 1, 1, "strong"),
        (small, 41, 1, "paper"),
        (Supply(cell_called("Li-ion 18650")), 4, 5, "paper"),
    ):
        made = judged(PackBrief(Fraction(1), Fraction(1), (supply,)), supply, series, rows)
        assert tier_of(dangers_of(made, Fraction(100))) == tier, (supply.cell.name, series, rows)
