"""Tables of readings as typed, and the straight line through them."""

from __future__ import annotations

from fractions import Fraction

import pytest

from boardproof.findings import worded
from boardproof.lab.readings import LineFit, Reading, as_read, fit_line, line_through, read_table
from boardproof.lesson.model import Readings
from boardproof.lesson.read import read_lesson
from boardproof.source import Source, Span

BUOY = """# A cell

## Readings

```readings of A
voltmeter: range 2 V, step 1 mV, accuracy 0.5 % + 1 digit, resistance 10 Mohm
table:
  I / mA | V / V
  100    | 1.462
  200    | 1.419
  300    | 1.381
  400    | 1.338
  500    | 1.302
  600    | 1.259
find: E, r
```
"""
SPAN = Span("x", 0, 1)


def cells(typed):
    whole, start, found = Source("x", typed), 0, []
    for piece in typed.split("|"):
        found.append(whole.slice(start, start + len(piece)).trimmed())
        start += len(piece) + 1
    return tuple(found)


def block(headings, *rows, **fields):
    put = {name: Source("x", value).slice() for name, value in fields.items()}
    return Readings(None, put, cells(headings), tuple(cells(row) for row in rows), (), SPAN)


def codes(findings):
    return [each.kind.code for each in findings]


def test_the_buoys_cell_as_measured():
    lesson, _ = read_lesson(Source("a.lesson.md", BUOY))
    [readings] = [each for scene in lesson.scenes for each in scene.blocks if isinstance(each, Readings)]
    fit, findings = fit_line(readings)
    assert findings == ()
    assert (round(float(fit.E), 4), round(float(fit.r), 4)) == (1.5011, 0.4026)
    assert (round(fit.u_E, 4), round(fit.u_r, 4)) == (0.0017, 0.0044)
    assert fit.degrees == 4
    assert fit.rows == (1, 2, 3, 4, 5, 6)
    assert sum(fit.residuals) == 0
    assert 0.89 < fit.correlation < 0.91
    assert as_read(readings, fit) == ({"E": fit.E, "r": fit.r}, ())


def test_columns_in_any_order_and_unit():
    first = read_table(block("V / mV | I / A", "1400 | 0.1", "1200 | 0.5"))
    second = read_table(block("I / mA | V / V", "100 | 1.4", "500 | 1.2"))
    assert first.readings == second.readings
    assert first.findings == ()


def test_load_in_place_of_current():
    fit, findings = fit_line(block("R / ohm | V / V", "11 | 5.5", "5 | 5", "2 | 4"))
    assert findings == ()
    assert (fit.E, fit.r, fit.u_r) == (6, 1, 0)
    assert read_table(block("R / ohm | V / V", "11 | 5.5")).readings[0].load == 11


def test_decimal_comma_and_signs():
    table = read_table(block("I / A | V / V", "-0,1 | 1,5", "−0,2 | +1,6"), decimal=",")
    assert [each.current for each in table.readings] == [Fraction(-1, 10), Fraction(-1, 5)]


@pytest.mark.parametrize(
    ("row", "column", "what"),
    [
        ("1,50 | 1.2", "1", "1,50 has the other decimal mark: 1.50?"),
        ("100 | ", "2", "the cell is empty"),
        ("100", "2", "the cell is empty"),
        ("100 | 1.2.3", "2", "1.2.3 is not one number"),
        ("100 | 1.2 V", "2", "1.2 V is not one number"),
        ("100 | 1.2 | 3", "3", "more cells than headings"),
        ("100 | 1e3", "2", "1e3 is not one number"),
    ],
)
def test_a_cell_that_can_not_be_read(row, column, what):
    table = read_table(block("I / mA | V / V", "100 | 1.4", row, "300 | 1.3"))
    assert codes(table.findings) == ["unread-cell"]
    assert table.findings[0].facts["row"] == "2"
    assert table.findings[0].facts["column"] == column
    assert what in worded(table.findings[0]).message
    assert [each.row for each in table.readings] == [1, 3]


def test_a_load_of_nought_is_no_load():
    table = read_table(block("R / ohm | V / V", "0 | 1.4"))
    assert "0 is no load" in worded(table.findings[0]).message


@pytest.mark.parametrize(
    ("headings", "code"),
    [
        ("I (mA) | V / V", "unread-heading"),
        ("I / mX | V / V", "unread-heading"),
        ("I / mA | I / A | V / V", "unread-heading"),
        ("I / mA", "no-line"),
        ("V / V | t / s", "no-line"),
    ],
)
def test_headings(headings, code):
    fit, findings = fit_line(block(headings, "1 | 2 | 3"))
    assert fit is None
    assert code in codes(findings)
    assert worded(findings[0]).message


def test_a_column_without_use_is_said():
    table = read_table(block("t / s | I / mA | V / V", "10 | 100 | 1.4"))
    assert codes(table.findings) == ["unused-column"]
    assert len(table.readings) == 1


@pytest.mark.parametrize(
    ("rows", "what"), [(("100 | 1.4",), "fewer than two"), (("100 | 1.4", "100 | 1.3"), "one current")]
)
def test_no_line(rows, what):
    fit, findings = fit_line(block("I / mA | V / V", *rows))
    assert fit is None
    assert codes(findings) == ["no-line"]
    assert what in worded(findings[0]).message


def test_two_readings_give_a_line_without_scatter():
    fit = line_through([Reading(1, Fraction(1), Fraction(5)), Reading(2, Fraction(2), Fraction(4))], SPAN)
    assert isinstance(fit, LineFit)
    assert (fit.E, fit.r, fit.u_E, fit.u_r, fit.degrees) == (6, 1, None, None, 0)


def test_what_is_looked_for():
    readings = block("I / A | V / V", "1 | 5", "2 | 4", find="E_1 and r_1")
    fit, _ = fit_line(readings)
    assert as_read(readings, fit) == ({"E_1": 6, "r_1": 1}, ())
    values, findings = as_read(block("I / A | V / V", find="C"), fit)
    assert values == {}
    assert codes(findings) == ["unknown-result"]
