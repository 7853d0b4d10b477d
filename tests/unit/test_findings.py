"""Findings: facts first, words made once."""

import pytest

from boardproof.findings import Finding, Kind, Kinds, excerpt, near_names, worded
from boardproof.source import Source, Span

ROW = Kind("two-values", "error", "{letter} is {here} here.", "It was {there}.")
AT = Span("a", 4, 7)


def test_a_help_that_lacks_a_fact_is_left_out() -> None:
    assert worded(Finding(ROW, AT, {"letter": "E", "here": "6 V"})).help == ""
    assert worded(Finding(ROW, AT, {"letter": "E", "here": "6 V", "there": "4 V"})).help == "It was 4 V."


def test_a_case_can_be_milder_than_its_kind() -> None:
    facts = {"letter": "E", "here": "6 V"}
    assert worded(Finding(ROW, AT, facts)).severity == "error"
    assert worded(Finding(ROW, AT, facts, severity="warning")).severity == "warning"


def test_a_table_refuses_two_rows_of_one_code() -> None:
    with pytest.raises(ValueError, match="two-values"):
        Kinds([ROW, ROW])


def test_the_pointer_stands_under_the_place() -> None:
    drawn = excerpt(Source("a", "A = cel 6 V"), AT).splitlines()
    assert drawn[0].index("cel") == drawn[1].index("^")
    assert drawn[1].count("^") == 3


def test_a_place_over_several_lines_points_into_its_first() -> None:
    drawn = excerpt(Source("a", "ab\ncd"), Span("a", 1, 5)).splitlines()
    assert drawn == ["  1 | ab", "    |  ^"]


def test_at_most_four_near_names_are_offered() -> None:
    assert len(near_names("E_1", [f"E_{n}" for n in range(2, 9)])) == 4
    assert near_names("zebra", ["cell"]) == ()
