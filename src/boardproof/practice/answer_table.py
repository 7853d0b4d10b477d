"""Tables of answers as teachers have them: titles above the header, headers in many words, one column a question.

A table is rows of text, whatever file it came from. A row that cannot be read is told, never dropped in silence.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from typing import Final

from boardproof.practice.records import Answer, State
from boardproof.record import record

__all__ = ["Problem", "Table", "answers_in", "cell_for_csv", "state_of"]

Table = Sequence[Sequence[str]]


@record
class Problem:
    """A row or column that was not read: its number from 1, and why."""

    row: int
    reason: str


HEADERS: Final = {
    "student": (
        "student",
        "studentcode",
        "studentid",
        "code",
        "candidate",
        "candidateno",
        "candidatenumber",
        "pupil",
        "learner",
        "id",
    ),
    "paper": ("paper", "papercode", "sheet", "worksheet", "paperid", "test"),
    "question": ("question", "questionno", "questionnumber", "q", "qno", "item", "no"),
    "part": ("part", "subpart", "section"),
    "answer": ("answer", "response", "typed", "theiranswer", "given", "value", "studentanswer"),
    "state": ("state", "status", "attendance", "note"),
    "at": ("at", "time", "when", "date", "submitted", "timestamp", "submittedat"),
}
BY_WORD: Final = {word: name for name, words in HEADERS.items() for word in words}
COLUMN: Final = re.compile(
    r"(?:q|question|item|answer)?\s*\.?\s*(\d{1,3})\s*[.\-]?\s*\(?([a-z]{0,2})\)?", re.IGNORECASE
)
STATES: Final[Mapping[str, State]] = {
    "absent": "absent",
    "abs": "absent",
    "ab": "absent",
    "excused": "excused",
    "exempt": "excused",
    "ex": "excused",
    "not reached": "not reached",
    "nr": "not reached",
    "n/r": "not reached",
    "blank": "blank",
    "no answer": "blank",
    "-": "blank",
    "": "blank",
    "late": "late",
    "given": "given",
    "present": "given",
    "ok": "given",
}
STARTS_FORMULA: Final = ("=", "+", "-", "@", "\t", "\r")
NUMBER: Final = re.compile(r"[+-]?[\d.,]+(?:[eE][+-]?\d+)?(?: ?[A-Za-zΩµμ%]{1,4})?")
MOST_ROWS: Final = 200_000


def state_of(text: str) -> State | None:
    """The state that a cell names; None if it is an answer.

    Parameters
    ----------
    text : str
        Of the cell.

    Examples
    --------
    >>> state_of("Absent"), state_of("NR"), state_of(""), state_of("1.5 A")
    ('absent', 'not reached', 'blank', None)
    """
    return STATES.get(text.strip().lower())


def cell_for_csv(text: str) -> str:
    r"""The text for a spreadsheet's cell, so that it is shown and never worked out.

    Parameters
    ----------
    text : str
        Anything that a student typed.

    Examples
    --------
    >>> cell_for_csv('=HYPERLINK("x")'), cell_for_csv("-2 V")
    ('\'=HYPERLINK("x")', '-2 V')
    """
    clean = "".join(each if each.isprintable() else " " for each in text)
    return f"'{clean}" if text.startswith(STARTS_FORMULA) and not NUMBER.fullmatch(clean) else clean


def answers_in(
    table: Table, *, papers: Mapping[str, str] | None = None
) -> tuple[tuple[Answer, ...], tuple[Problem, ...]]:
    """The answers in a table, long (a row an answer) or wide (a row a student).

    Parameters
    ----------
    table : sequence of rows
        Cells as text.
    papers : mapping of str to str, optional
        Student's code to paper's, for tables that leave the paper out.

    Examples
    --------
    >>> answers_in([["Year 12"], ["Student code", "1 (a)", "Q2"], ["S07", "1.5 A", "absent"]])[0][1].state
    'absent'
    """
    if len(table) > MOST_ROWS:
        return (), (Problem(MOST_ROWS, f"a table of more than {MOST_ROWS:,} rows is not read at once"),)
    for at, row in enumerate(table[:40]):
        names = [BY_WORD.get(re.sub(r"[^a-z0-9]", "", cell.lower()), "") for cell in row]
        wide = {column: found for column, cell in enumerate(row) if (found := _asked(cell, names[column]))}
        if "student" in names and ("answer" in names or wide):
            long = "answer" in names and "question" in names
            read = _long if long else _wide
            return read(table, at + 1, names, wide, papers or {})
    return (), (Problem(1, "no row names the student and the answers"),)


def _asked(cell: str, name: str) -> tuple[str, str] | None:
    match = COLUMN.fullmatch(cell.strip())
    return (match[1].lstrip("0") or "0", match[2].lower()) if match is not None and not name else None


Read = tuple[tuple[Answer, ...], tuple[Problem, ...]]
Columns = Mapping[int, tuple[str, str]]


def _long(table: Table, start: int, names: Sequence[str], _: Columns, papers: Mapping[str, str]) -> Read:
    found, wrong = [], []
    for number, row in _rows(table, start):
        cell = {name: row[column].strip() for column, name in enumerate(names) if name and column < len(row)}
        student = cell.get("student", "")
        match = COLUMN.fullmatch(cell.get("question", ""))
        if not student or match is None:
            wrong.append(Problem(number, "it names no student" if not student else "it names no question"))
            continue
        part = cell.get("part", "").strip("() ").lower() or match[2].lower()
        typed = _unquoted(row[names.index("answer")] if names.index("answer") < len(row) else "")
        state = _state(cell.get("state", ""), typed)
        if state is None:
            wrong.append(Problem(number, f"I don't know the state {cell['state'][:20]!r}"))
            continue
        paper = cell.get("paper") or papers.get(student, "")
        typed = "" if state_of(typed) and typed.strip() != "-" else typed
        found.append(Answer(student, paper, match[1].lstrip("0"), part, typed, state, cell.get("at", "")))
    return tuple(found), tuple(wrong)


def _state(said: str, typed: str) -> State | None:
    own = state_of(typed)
    if not said:
        return own or "given"
    named = state_of(said)
    if named == "given":
        return own or "given"
    return named


def _wide(
    table: Table, start: int, names: Sequence[str], columns: Columns, papers: Mapping[str, str]
) -> Read:
    found, wrong = [], []
    state_at = names.index("state") if "state" in names else None
    for number, row in _rows(table, start):
        student = row[names.index("student")].strip() if names.index("student") < len(row) else ""
        if not student:
            wrong.append(Problem(number, "it names no student"))
            continue
        paper = (
            row[names.index("paper")].strip() if "paper" in names and names.index("paper") < len(row) else ""
        )
        whole = (
            state_of(row[state_at])
            if state_at is not None and state_at < len(row) and row[state_at].strip()
            else None
        )
        for column, (question, part) in columns.items():
            typed = _unquoted(row[column]) if column < len(row) else ""
            own = state_of(typed)
            state: State = (
                whole if whole in {"absent", "excused"} else own or ("late" if whole == "late" else "given")
            )
            late = re.match(r"(?i)late\s*:\s*", typed)
            if late is not None:
                typed, state = typed[late.end() :], "late"
            text = "" if state not in {"given", "late"} else typed
            found.append(Answer(student, paper or papers.get(student, ""), question, part, text, state))
    return tuple(found), tuple(wrong)


def _rows(table: Table, start: int) -> Iterable[tuple[int, Sequence[str]]]:
    return (
        (number, row)
        for number, row in enumerate(table[start:], start + 1)
        if any(each.strip() for each in row)
    )


def _unquoted(text: str) -> str:
    """Without the apostrophe that kept a spreadsheet from working it out."""
    return text[1:] if text.startswith("'") and text[1:].startswith(STARTS_FORMULA) else text.strip()
