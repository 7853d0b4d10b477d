"""Briefs as people type them."""

from fractions import Fraction

import pytest

from boardproof.pack.cell import LIBRARY, CellType
from boardproof.pack.read import read_typed, typed_supplies

A = CellType("A", Fraction("1.5"), Fraction("1.5"), Fraction("0.4"))


def known(name):
    return A if name == "A" else None


def read(text):
    made = read_typed(text, known)
    assert made.findings == (), [(each.kind.code, dict(each.facts)) for each in made.findings]
    return made.brief


def codes(text):
    made = read_typed(text, known)
    assert made.brief is None
    return [each.kind.code for each in made.findings]


def test_a_whole_brief() -> None:
    made = read(
        "voltage: at least 12 V at the load at 20 % charge, at most 16.8 V with no load\n"
        "current: 3 A, peak 5 A for 10 s   # a comment\n\n"
        "for: 6 h, at least 40 W h\ncells: A, at most 60, contacts 5 mohm, cable 20 mohm\n"
        "each cell: at most 0.75 A\nsag: at most 10 %\nmass: at most 2 kg\ncost: at most 40\nbest: least sag\n"
    )
    assert (made.least, made.at_charge, made.most) == (12, Fraction(1, 5), Fraction("16.8"))
    assert (made.current, made.peak, made.peak_seconds, made.greatest) == (3, 5, 10, 5)
    assert (made.seconds, made.energy, made.each_cell) == (21600, 144000, Fraction(3, 4))
    assert (made.sag_share, made.mass, made.cost, made.aim) == (Fraction(1, 10), 2, 40, "least sag")
    (supply,) = made.supplies
    assert (supply.at_most, supply.resistance, supply.cable) == (60, Fraction("0.405"), Fraction("0.02"))


def test_about_reaches_both_ways_and_nothing_said_of_charge_means_empty() -> None:
    made = read("voltage: about 12 V; current: 3 A; cells: A")
    assert (made.least, made.most, made.at_charge) == (Fraction("11.4"), Fraction("12.6"), 0)


def test_a_cell_with_its_figures_on_the_line() -> None:
    text = (
        "cells: C 4.2 V full, 3 V empty, 30 mohm, 2.5 A h, 45 g, cost 3.50, at most 5 A, spread 2 %, lithium"
    )
    ((supply,), found) = typed_supplies(text)
    cell = supply.cell
    assert found == ()
    assert (cell.name, cell.full, cell.empty, cell.resistance) == ("C", Fraction("4.2"), 3, Fraction("0.03"))
    assert (cell.capacity, cell.mass, cell.cost, cell.most) == (9000, Fraction("0.045"), Fraction("3.5"), 5)
    assert (cell.spread, cell.chemistry) == (Fraction(1, 50), "lithium")


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("voltage: twelve; current: 3 A; cells: A", ["unread-brief"]),
        ("voltage: at least 12 V with no load; current: 3 A; cells: A", ["unread-brief"]),
        ("voltage: 12 ohm; current: 3 A; cells: A", ["unread-brief"]),
        ("voltage: 0 V; current: 3 A; cells: A", ["unread-brief"]),
        ("voltage: -12 V; current: 3 A; cells: A", ["unread-brief"]),
        ("voltage: 12 V at 120 % charge; current: 3 A; cells: A", ["unread-brief"]),
        ("voltage: 12 V; current: 3; cells: A", ["unread-brief"]),
        ("voltage: 12 V; current: 3 A; cells: A, at most 2.5", ["unread-brief"]),
        ("voltage: 12 V; current: 3 A; cells: A, at most 0", ["unread-brief"]),
        ("voltage: 12 V; current: 3 A; cells: Q 3 V, 4 V empty, 1 ohm", ["unread-brief"]),
        ("voltage: 12 V; current: 3 A; cells: A; best: the prettiest", ["unread-brief"]),
        ("voltage: 12 V; current: 3 A; cells: A; colour: red", ["unread-brief"]),
        ("voltage: 12 V; current: 3 A; cells: A; each cell: at least 1 A", ["unread-brief"]),
        ("voltage: 12 V; current: 3 A; cells: Q 3 V", ["unknown-cell"]),
        ("voltage: 12 V; current: 3 A; cells: AA alkalin", ["unknown-cell"]),
        ("current: 3 A", ["incomplete-brief", "incomplete-brief"]),
        ("voltage: at most 14 V; current: 3 A; cells: A", ["incomplete-brief"]),
        ("", ["incomplete-brief"] * 3),
        (
            "voltage: 1" + "0" * 20_000,
            ["unread-brief", "incomplete-brief", "incomplete-brief", "incomplete-brief"],
        ),
    ],
)
def test_what_is_not_understood_is_told(text, wanted) -> None:
    assert codes(text) == wanted


def test_a_finding_points_at_the_words() -> None:
    text = "voltage: 12 V\ncurrent: lots\ncells: A"
    (found,) = read_typed(text, known).findings
    assert text[found.span.start : found.span.end] == "lots"


def test_near_names_of_the_library_are_offered() -> None:
    (found,) = read_typed("voltage: 12 V; current: 3 A; cells: AA alkalin").findings
    assert "AA alkaline" in found.facts["near"]


def test_every_cell_of_the_library_has_a_source_or_says_that_it_has_none() -> None:
    for cell in LIBRARY:
        assert cell.source
        assert cell.empty < cell.full
        assert cell.resistance > 0
        assert "common practice, no source" in cell.source or "OpenStax" in cell.source
