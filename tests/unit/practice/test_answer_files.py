"""Tables of answers as teachers have them."""

from __future__ import annotations

import io
import json

import openpyxl
import pytest

from boardproof.practice.answer_files import entry_grid, read_answers
from boardproof.practice.answer_table import cell_for_csv


@pytest.mark.parametrize("mark", [",", ";", "\t"])
@pytest.mark.parametrize("code", ["utf-8", "utf-8-sig", "utf-16"])
def test_any_common_table_is_read(mark, code):
    rows = [
        ["Physics, set 2" if mark != "," else "Physics set 2"],
        [],
        ["Student Code", "Paper", "Q1 (a)", "1b", "2"],
    ]
    rows.append(["S07", "P1", "1.5 A", "absent", "N/R"])
    text = "\r\n".join(mark.join(row) for row in rows)
    answers, wrong = read_answers(text.encode(code), "class.csv")
    assert not wrong
    assert [(each.question, each.part, each.typed, each.state) for each in answers] == [
        ("1", "a", "1.5 A", "given"),
        ("1", "b", "", "absent"),
        ("2", "", "", "not reached"),
    ]


def test_a_row_an_answer_is_read_too_and_bad_rows_are_told():
    rows = (
        "candidate,question,response,status",
        "S01,1a,2 V,",
        "S02,1a,3 V,late",
        ",1a,4 V,",
        "S03,1a,,excused",
        "S04,1a,x,gone",
    )
    text = "\n".join(rows)
    answers, wrong = read_answers(text.encode(), "a.csv", papers={"S01": "P9"})
    assert [(each.student, each.state, each.paper) for each in answers] == [
        ("S01", "given", "P9"),
        ("S02", "late", ""),
        ("S03", "excused", ""),
    ]
    assert [each.row for each in wrong] == [4, 6]


def test_the_entry_grid_is_read_back():
    book = openpyxl.load_workbook(
        io.BytesIO(entry_grid([("S01", "P1")], [("1", "a", "M1 A1"), ("2", "", "A1")]))
    )
    sheet = book["Entry"]
    sheet["C2"], sheet["D2"] = "=1+1", "M1 A0"
    sheet["C2"].data_type = "s"
    out = io.BytesIO()
    book.save(out)
    answers, wrong = read_answers(out.getvalue(), "grid.xlsx")
    assert not wrong
    assert [each.typed for each in answers] == ["=1+1", "M1 A0"]


def test_lines_of_the_quiz_are_read_and_damaged_ones_told():
    row = {
        "schema": 1,
        "student": "S01",
        "paper": "P1",
        "question": "2",
        "part": "a",
        "answer": "1 A",
        "state": "given",
    }
    lines = [json.dumps(row), "{", json.dumps({**row, "state": "asleep"}), "[" * 5000]
    answers, wrong = read_answers("\n".join(lines).encode(), "quiz.jsonl")
    assert [each.typed for each in answers] == ["1 A"]
    assert [each.row for each in wrong] == [2, 3, 4]


@pytest.mark.parametrize("content", [b"", b"PK\x03\x04rubbish", b"\x00\xff" * 50])
@pytest.mark.parametrize("name", ["a.csv", "a.xlsx", "a.jsonl"])
def test_a_damaged_file_is_told_and_not_raised(content, name):
    answers, wrong = read_answers(content, name)
    assert not answers
    assert wrong or name == "a.jsonl"


@pytest.mark.parametrize("typed", ["=1+1", "@SUM(A1)", "+cmd|' /C calc'!A0", "\t=2", "-1+cmd"])
def test_a_formula_is_shown_and_never_worked_out(typed):
    assert cell_for_csv(typed).startswith("'")
