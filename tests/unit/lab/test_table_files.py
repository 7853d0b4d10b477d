"""Tables as classes bring them: every way a file can be wrong comes back with its row and column."""

from __future__ import annotations

import io
import zipfile

import openpyxl
import pytest

from boardproof.findings import worded
from boardproof.lab.bench import Bench
from boardproof.lab.runs import read_runs
from boardproof.lab.sheet import read_grid
from boardproof.lab.spreadsheet import read_spreadsheet
from boardproof.lab.study import study
from boardproof.source import Source


def runs(text, **options):
    return read_runs(read_grid(Source("a.csv", text)), **options)


def pairs(run):
    return [(float(each.current), float(each.pd)) for each in run.readings]


def told(found):
    return [(each.kind.code, worded(each).message) for each in found]


def test_an_ambiguous_comma_is_asked_about_and_never_chosen():
    made = runs('I / mA;V / V\n"1,500";1.2\n200;1.4\n300;1.3\n')
    assert made.findings[0].kind.code == "unclear-number"
    assert told(made.findings)[0][1] == "Row 2, column 1: 1,500 can be read as 1.5 or as 1500."
    assert pairs(made.runs[0]) == [(0.2, 1.4), (0.3, 1.3)]


def test_a_mark_that_is_said_settles_it():
    assert pairs(runs("I / mA;V / V\n1,500;1.2\n", decimal=",").runs[0]) == [(0.0015, 1.2)]
    assert pairs(runs("decimal: ,\nI / mA;V / V\n1,500;1.2\n").runs[0]) == [(0.0015, 1.2)]


def test_other_cells_settle_a_comma():
    made = runs("I / A;V / V\n0,1;1,462\n0,2;1,42\n")
    assert (made.mark, made.findings) == (",", ())
    assert pairs(made.runs[0]) == [(0.1, 1.462), (0.2, 1.42)]


def test_marks_of_both_kinds_settle_nothing():
    made = runs("I / A;V / V\n0,1;1.46\n0.2;1.42\n")
    assert told(made.findings) == [
        ("unread-cell", "Row 2, column 1: 0,1 has the other decimal mark: 0.1?."),
    ]


@pytest.mark.parametrize(
    "text",
    [
        "I / mA,V / V\n100,1.4\n200,1.3\n",
        "I (mA),V (V)\n100,1.4\n200,1.3\n",
        "current in mA,p.d. in V\n100,1.4\n200,1.3\n",
        "current [mA]\tterminal p.d. [V]\n100\t1.4\n200\t1.3\n",
        "I;V\nmA;V\n100;1.4\n200;1.3\n",
        "I;V\n100 mA;1.4 V\n200 mA;1300 mV\n",
        "My class on Monday\nI / mA | V / V\n100 | 1.4\n200 | 1.3\n",
    ],
)
def test_units_may_stand_in_the_heading_below_it_or_in_the_cells(text):
    made = runs(text)
    assert pairs(made.runs[0]) == [(0.1, 1.4), (0.2, 1.3)]
    assert [each for each in made.findings if each.kind.severity == "error"] == []


@pytest.mark.parametrize(
    ("row", "message"),
    [
        ("12:03;1.4", "Row 3, column 1: 12:03 is a time."),
        ("2026-11-25;1.4", "Row 3, column 1: 2026-11-25 is a time."),
        ("2oo;1.4", "Row 3, column 1: 2oo is not one number."),
        ("200;about 1.4", "Row 3, column 2: about 1.4 is not one number."),
        ("200;", "Row 3, column 2: the cell is empty."),
        ("200;1.4 A", "Row 3, column 2: A is no unit of this column."),
        ("200;1400 mV", "Row 3, column 2: the heading says V, the cell mV."),
        ("200;1e99", "Row 3, column 2: 1e99 is no reading."),
    ],
)
def test_a_cell_that_is_no_reading_is_named_and_the_others_are_kept(row, message):
    made = runs(f"I / mA;V / V\n100;1.45\n{row}\n300;1.35\n")
    assert told(made.findings) == [("unread-cell", message)]
    assert pairs(made.runs[0]) == [(0.1, 1.45), (0.3, 1.35)]


def test_a_number_without_any_unit_is_no_reading():
    made = runs("I;V\n100;1.4\n")
    assert [each[1] for each in told(made.findings)] == [
        "Row 2, column 1: no unit stands here, nor in the heading.",
        "Row 2, column 2: no unit stands here, nor in the heading.",
    ]


def test_an_unknown_unit_is_told():
    made = runs("I / mX;V / V\n100;1.4\n")
    assert told(made.findings) == [("unread-heading", "Column 1: I don't know the unit mX.")]


def test_headings_that_say_nothing_are_told():
    made = runs("a,b\n1,2\n3,4\n")
    assert told(made.findings)[0][1] == "Column 1: row 1 holds no headings that I know: there is no p.d.."


def test_empty_rows_are_passed_over_and_told():
    made = runs("I / mA,V / V\n100,1.4\n,\n200,1.3\n,\n,\n")
    assert [each.kind.code for each in made.findings] == ["empty-row"]
    assert made.findings[0].facts["row"] == "3"
    assert len(made.runs[0].readings) == 2


def test_a_reading_is_left_out_only_for_a_reason_that_is_written():
    made = runs("I / mA,V / V,note\n100,1.4,\n200,1.1,left out: read while warm\n300,1.3,cloudy\n")
    assert [each.kind.code for each in made.findings] == ["left-out"]
    assert [(each.row, why) for each, why in made.runs[0].left_out] == [(3, "read while warm")]
    assert [each.row for each in made.runs[0].readings] == [2, 4]


def test_groups_below_each_other_and_side_by_side_are_the_same():
    below = runs("group;I / A;V / V\n1;0.1;1.4\n2;0.1;1.5\n1;0.2;1.3\n2;0.2;1.4\n")
    beside = runs("group 1;;group 2;\nI / A;V / V;I / A;V / V\n0.1;1.4;0.1;1.5\n0.2;1.3;0.2;1.4\n")
    assert [(each.name, pairs(each)) for each in below.runs] == [
        (each.name, pairs(each)) for each in beside.runs
    ]
    assert all(each.own for each in below.runs)


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("I / A,V / V\n0.1,1.4\n0.2,1.3\n", "two-readings"),
        ("I / A,V / V\n0.1,1.4\n0.1,1.4\n0.1,1.3\n", "no-line"),
        ("I / A,V / V\n0.1,1.3\n0.2,1.4\n0.3,1.49\n", "negative-resistance"),
        ("I / A,V / V\n", "no-line"),
        ("", "no-line"),
    ],
)
def test_readings_that_make_no_good_line_are_told(text, code):
    assert code in [each.kind.code for each in study(runs(text), Bench()).findings]


def book(rows, merged=()):
    made = openpyxl.Workbook()
    for row in rows:
        made.active.append(row)
    for each in merged:
        made.active.merge_cells(each)
    out = io.BytesIO()
    made.save(out)
    return out.getvalue()


def test_a_spreadsheet_with_a_merged_heading_and_numbers_as_text():
    content = book(
        [["group 1", None, "group 2", None], ["I / mA", "V / V"] * 2, [100, 1.46, 110, "1.5o"], [200, 1.42, 210, 1.4]],
        ["A1:B1", "C1:D1"],
    )  # fmt: skip
    grid, found = read_spreadsheet(content, "a.xlsx")
    assert found == ()
    made = read_runs(grid)
    assert [(each.name, len(each.readings)) for each in made.runs] == [("group 1", 2), ("group 2", 1)]
    assert told(made.findings) == [("unread-cell", "Row 3, column D: 1.5o is not one number.")]


def test_times_in_a_spreadsheet_are_told_as_times():
    import datetime as dt

    grid, _ = read_spreadsheet(book([["I / mA", "V / V"], [dt.time(12, 3), 1.4], [200, 1.3]]), "a.xlsx")
    assert told(read_runs(grid).findings) == [("unread-cell", "Row 2, column A: 12:03:00 is a time.")]


@pytest.mark.parametrize("content", [b"", b"PK\x03\x04", b"I / A,V / V"])
def test_a_file_that_is_no_workbook_is_told(content):
    grid, found = read_spreadsheet(content, "a.xlsx")
    assert grid is None
    assert [each.kind.code for each in found] == ["unread-sheet"]


def test_a_workbook_that_would_unpack_to_too_much_or_declares_a_type_is_refused():
    for name, text, why in (
        ("big.xml", b"0" * 51_000_000, "50 MB"),
        ("xl/a.xml", b"<?xml version='1.0'?><!DOCTYPE a [<!ENTITY b 'c'>]><a/>", "type"),
    ):
        out = io.BytesIO()
        with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as parts:
            parts.writestr(name, text)
        _, found = read_spreadsheet(out.getvalue(), "a.xlsx")
        assert why in found[0].facts["what"]
