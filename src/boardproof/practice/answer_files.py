"""Files of answers, from bytes to rows and records: CSV, spreadsheets, the quiz's lines; and the entry grid."""

from __future__ import annotations

import csv
import io
import json
import zipfile
from collections.abc import Mapping, Sequence
from typing import Final

from boardproof.practice.answer_table import Problem, Read, Table, answers_in
from boardproof.practice.records import Answer, State

__all__ = ["entry_grid", "read_answers", "table_in"]

LONGEST_LINE = 10_000
STATES: Final[Mapping[str, State]] = {
    "given": "given",
    "blank": "blank",
    "not reached": "not reached",
    "late": "late",
    "absent": "absent",
    "excused": "excused",
}


def read_answers(content: bytes, name: str, *, papers: Mapping[str, str] | None = None) -> Read:
    r"""The answers in a file, and what could not be read.

    Parameters
    ----------
    content : bytes
        Of the file.
    name : str
        Its name; the ending tells its kind.
    papers : mapping of str to str, optional
        Student's code to paper's.

    Examples
    --------
    >>> read_answers(b"Student;Question;Answer\nS07;1;1,5 A\n", "answers.csv")[0][0].typed
    '1,5 A'
    """
    if name.lower().endswith((".jsonl", ".json", ".ndjson")):
        return _lines(content)
    try:
        table = table_in(content, name)
    except (ValueError, KeyError, OSError) as fault:
        return (), (Problem(0, f"the file is damaged: {str(fault)[:80]}"),)
    return answers_in(table, papers=papers)


def table_in(content: bytes, name: str) -> Table:
    """The rows of a CSV file or of a spreadsheet's first sheet that holds any.

    Parameters
    ----------
    content : bytes
        Of the file.
    name : str
        Its name.
    """
    if name.lower().endswith((".xlsx", ".xlsm")):
        return _sheet(content)
    text = _decoded(content)
    head = "\n".join(text.splitlines()[:20])
    mark = max(",;\t|", key=head.count)
    return list(csv.reader(io.StringIO(text), delimiter=mark))


def _decoded(content: bytes) -> str:
    for code in ("utf-8-sig", "utf-16") if content[:2] in {b"\xff\xfe", b"\xfe\xff"} else ("utf-8-sig",):
        try:
            return content.decode(code)
        except UnicodeDecodeError:
            continue
    return content.decode("cp1252", "replace")


def _sheet(content: bytes) -> Table:
    import openpyxl  # 0.2 s to load; only spreadsheets need it

    try:
        book = openpyxl.load_workbook(io.BytesIO(content), read_only=True, data_only=False)
    except (zipfile.BadZipFile, KeyError, TypeError) as fault:
        raise ValueError("it is no spreadsheet") from fault
    for sheet in book.worksheets:
        rows = [
            [_cell(each) for each in row]
            for row in sheet.iter_rows(max_row=50_000, max_col=400, values_only=True)
        ]
        if any(any(row) for row in rows):
            return rows
    return []


def _cell(value: object) -> str:
    if value is None:
        return ""
    if isinstance(value, float) and value.is_integer() and abs(value) < 1e15:
        return str(int(value))
    return str(value)


def _lines(content: bytes) -> Read:
    """The quiz's own lines: one JSON object an answer."""
    found: list[Answer] = []
    wrong: list[Problem] = []
    for number, line in enumerate(_decoded(content).splitlines(), 1):
        if not line.strip():
            continue
        row = _object(line) if len(line) <= LONGEST_LINE else None
        if row is None or not {"student", "paper", "question"} <= set(row):
            wrong.append(Problem(number, "it is no answer of a quiz"))
            continue
        texts = [str(row.get(key) or "") for key in ("student", "paper", "question", "part", "answer", "at")]
        state = STATES.get(str(row.get("state", "given")))
        if state is None:
            wrong.append(Problem(number, "I don't know its state"))
            continue
        student, paper, question, part, typed, at = texts
        found.append(Answer(student, paper, question, part, typed, state, at))
    return tuple(found), tuple(wrong)


def _object(line: str) -> dict[str, object] | None:
    try:
        row = json.loads(line)
    except (ValueError, RecursionError):
        return None
    return row if isinstance(row, dict) else None


def entry_grid(students: Sequence[tuple[str, str]], parts: Sequence[tuple[str, str, str]]) -> bytes:
    """A spreadsheet for typing in what stands on paper: a row a student, a column a part.

    Parameters
    ----------
    students : sequence of (str, str)
        Code of the student and of the paper.
    parts : sequence of (str, str, str)
        Number of the question, label of the part, and what earns its marks ("M1 A1").
    """
    import openpyxl  # 0.2 s to load; only this needs it
    from openpyxl.styles import Alignment, Font  # loaded with it

    book = openpyxl.Workbook()
    sheet = book.active
    sheet.title = "Entry"
    sheet.append(["Student", "Paper", *(f"{question}{part}" for question, part, _ in parts)])
    for code, paper in students:
        sheet.append([code, paper])
    for column in sheet.iter_cols(min_row=1, max_row=len(students) + 1, max_col=len(parts) + 2):
        for cell in column:
            cell.number_format = "@"  # text: what is typed stays what was typed
            cell.alignment = Alignment(horizontal="left")
    for cell in sheet[1]:
        cell.font = Font(bold=True)
    sheet.freeze_panes = "C2"
    words = book.create_sheet("How to fill in")
    for line in (
        "Type the answer as the student wrote it (1.5 A), or the marks you gave (M1 A0).",
        "Leave a cell empty for a blank answer. Words that count: absent, excused, not reached, late: 1.5 A",
        *(f"{question}{part}: {told}" for question, part, told in parts),
    ):
        words.append([line])
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()
