"""The markbook: answers and marks in a database file, each mark traceable, corrections kept as history.

Students are codes here; no name is ever stored. A book is a file of SQLite, or a department's database by address.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable, Iterable, Sequence
from datetime import UTC, datetime
from fractions import Fraction
from importlib.resources import files
from types import MappingProxyType
from typing import Any

from alembic import command
from alembic.config import Config
from sqlalchemy import Connection, Engine, create_engine, event, select, text

from boardproof import __version__
from boardproof.practice.markbook_tables import ANSWERS, MARKS, PAPERS, POINTS, WAYS_OUT
from boardproof.practice.records import Answer, Mark

__all__ = ["Markbook", "answer_id", "open_markbook"]

Clock = Callable[[], str]
BATCH = 500


def _now() -> str:
    return datetime.now(UTC).isoformat(timespec="seconds")


def answer_id(answer: Answer) -> str:
    """The same for the same answer however often its file is read.

    Parameters
    ----------
    answer : Answer
        As given.

    Examples
    --------
    >>> answer_id(Answer("S07", "P1", "1", "a", "1 A"))
    'b868826c336493fe'
    """
    told = [answer.student, answer.paper, answer.question, answer.part, answer.typed, answer.state]
    joined = "\x1f".join(told)
    return hashlib.sha256(joined.encode("utf-8", "surrogatepass")).hexdigest()[:16]


def open_markbook(address: str, *, clock: Clock = _now) -> Markbook:
    """Open a book, made or brought up to date if need be.

    Parameters
    ----------
    address : str
        ``sqlite:///marks.db``, ``sqlite://`` for one in memory, or a department's ``postgresql+psycopg://host/name``.
    clock : callable, optional
        Gives the time as text.
    """
    engine = create_engine(address)
    if engine.dialect.name == "sqlite":
        event.listen(engine, "connect", lambda connection, _: connection.execute("PRAGMA foreign_keys=ON"))
    _bring_up_to_date(engine)
    return Markbook(engine, clock)


def _bring_up_to_date(engine: Engine) -> None:

    config = Config()
    config.set_main_option("script_location", str(files("boardproof.practice") / "markbook_changes"))
    with engine.begin() as connection:
        config.attributes["connection"] = connection
        command.upgrade(config, "head")


class Markbook:
    """An open book.

    Parameters
    ----------
    engine : Engine
        Of the database.
    clock : callable
        Gives the time as text.
    """

    def __init__(self, engine: Engine, clock: Clock) -> None:
        self._engine, self._clock = engine, clock

    def close(self) -> None:
        """Let go of the file."""
        self._engine.dispose()

    def add_answers(self, answers: Sequence[Answer], *, source: str, delete_by: str | None = None) -> int:
        """Take answers in; those that are there already stay as they are. Returns how many were new.

        Parameters
        ----------
        answers : sequence of Answer
            From a file.
        source : str
            The file's name.
        delete_by : str, optional
            Day by which they are deleted, as ``2027-07-31``.
        """
        rows = {
            answer_id(each): {
                "id": answer_id(each),
                **{
                    name: getattr(each, name)
                    for name in ("student", "paper", "question", "part", "state", "at")
                },
                "typed": each.typed.encode("utf-8", "replace").decode(),
                "source": source[:200],
                "imported": self._clock(),
                "delete_by": delete_by,
            }
            for each in answers
        }
        with self._engine.begin() as connection:
            known = _known(connection, ANSWERS.c.id, list(rows))
            fresh = [row for key, row in rows.items() if key not in known]
            for at in range(0, len(fresh), BATCH):
                connection.execute(ANSWERS.insert(), fresh[at : at + BATCH])
        return len(fresh)

    def add_papers(self, papers: Iterable[tuple[str, str, str]], *, title: str = "") -> None:
        """Note papers: code, student and seed; those that are there already stay as they are.

        Parameters
        ----------
        papers : iterable of (str, str, str)
            As made.
        title : str
            Of all of them.
        """
        rows = {
            code: {
                "code": code,
                "student": student,
                "seed": seed,
                "title": title[:200],
                "made": self._clock(),
            }
            for code, student, seed in papers
        }
        with self._engine.begin() as connection:
            known = _known(connection, PAPERS.c.code, list(rows))
            fresh = [row for code, row in rows.items() if code not in known]
            if fresh:
                connection.execute(PAPERS.insert(), fresh)

    def add_marks(self, marks: Iterable[Mark]) -> int:
        """Keep marks whose answers are in the book; a mark that is there already is not kept twice.

        Parameters
        ----------
        marks : iterable of Mark
            In the order in which they were given.
        """
        count = 0
        with self._engine.begin() as connection:
            for mark in marks:
                answer = answer_id(mark.answer)
                last = connection.execute(
                    select(MARKS.c.id)
                    .where(MARKS.c.answer == answer)
                    .order_by(MARKS.c.number.desc())
                    .limit(1)
                ).scalar()
                if last == mark.id or _known(connection, MARKS.c.id, [mark.id], MARKS.c.answer == answer):
                    continue
                made = connection.execute(MARKS.insert(), _mark_row(mark, answer, last, self._clock()))
                assert made.inserted_primary_key is not None, "a number is given by the database"
                number = made.inserted_primary_key[0]
                points = [
                    {
                        "mark": number,
                        "place": place,
                        "letter": letter,
                        "given": given,
                        "of": of,
                        "reason": reason,
                    }
                    for place, (letter, given, of, reason) in enumerate(mark.points)
                ]
                if points:
                    connection.execute(POINTS.insert(), points)
                count += 1
        return count

    def history(self, student: str | None = None, paper: str | None = None) -> tuple[Mark, ...]:
        """Every mark ever given, oldest first.

        Parameters
        ----------
        student, paper : str, optional
            Of this student, on this paper only.
        """
        with self._engine.begin() as connection:
            wanted = select(MARKS, ANSWERS).join(ANSWERS).order_by(MARKS.c.number)
            if student is not None:
                wanted = wanted.where(ANSWERS.c.student == student)
            if paper is not None:
                wanted = wanted.where(ANSWERS.c.paper == paper)
            rows = connection.execute(wanted).mappings().all()
            points: dict[int, list[tuple[str, int, int, str]]] = {}
            order = (POINTS.c.mark, POINTS.c.place)
            for each in connection.execute(select(POINTS).order_by(*order)).mappings():
                points.setdefault(each["mark"], []).append(
                    (each["letter"], each["given"], each["of"], each["reason"])
                )
        return tuple(_mark(row, points.get(row[MARKS.c.number], [])) for row in rows)

    def latest(self, student: str | None = None) -> tuple[Mark, ...]:
        """The mark that counts for each part: the last one given.

        Parameters
        ----------
        student : str, optional
            Of this student only.
        """
        found = {
            (each.answer.paper, each.answer.question, each.answer.part): each
            for each in self.history(student)
        }
        return tuple(found.values())

    def export(self, student: str) -> str:
        """All that is kept of one student, as JSON.

        Parameters
        ----------
        student : str
            A code.
        """
        with self._engine.begin() as connection:
            own = select(ANSWERS).where(ANSWERS.c.student == student)
            answers = [dict(each) for each in connection.execute(own).mappings()]
        marks = [
            {
                "answer": answer_id(each.answer),
                "points": [list(point) for point in each.points],
                "verdict": each.verdict,
                "rule": each.rule,
                "versions": dict(each.versions),
                "decided_by": each.decided_by,
                "replaces": each.replaces,
            }
            for each in self.history(student)
        ]
        return json.dumps(
            {"schema": 1, "student": student, "answers": answers, "marks": marks}, ensure_ascii=False
        )

    def erase(self, student: str) -> int:
        """Delete one student entirely: answers, marks, points, papers. Returns how many answers there were.

        Parameters
        ----------
        student : str
            A code.
        """
        with self._engine.begin() as connection:
            gone = connection.execute(ANSWERS.delete().where(ANSWERS.c.student == student)).rowcount
            connection.execute(PAPERS.delete().where(PAPERS.c.student == student))
        self._forget()
        return int(gone)

    def expire(self, day: str) -> int:
        """Delete the answers whose day has come, with their marks.

        Parameters
        ----------
        day : str
            Today, as ``2027-07-31``.
        """
        with self._engine.begin() as connection:
            due = ANSWERS.c.delete_by <= day
            gone = connection.execute(ANSWERS.delete().where(due)).rowcount
        self._forget()
        return int(gone)

    def _forget(self) -> None:
        """What was deleted does not stay in the file's free pages."""
        if self._engine.dialect.name == "sqlite":
            with self._engine.connect().execution_options(isolation_level="AUTOCOMMIT") as connection:
                connection.execute(text("VACUUM"))

    def note_way_out(self, what: str, where: str) -> None:
        """Note that something left this machine.

        Parameters
        ----------
        what, where : str
            What went, and to whom.
        """
        with self._engine.begin() as connection:
            row = {"when": self._clock(), "what": what[:200], "where": where[:200]}
            connection.execute(WAYS_OUT.insert(), [row])

    def ways_out(self) -> tuple[tuple[str, str, str], ...]:
        """All that left this machine: when, what, where; normally empty."""
        with self._engine.begin() as connection:
            rows = connection.execute(select(WAYS_OUT).order_by(WAYS_OUT.c.number)).mappings().all()
        return tuple((each["when"], each["what"], each["where"]) for each in rows)


def _known(connection: Connection, column: Any, wanted: Sequence[str], *conditions: Any) -> set[str]:
    found: set[str] = set()
    for at in range(0, len(wanted), BATCH):
        rows = select(column).where(column.in_(wanted[at : at + BATCH]), *conditions)
        found |= set(connection.execute(rows).scalars())
    return found


def _mark_row(mark: Mark, answer: str, last: str | None, now: str) -> dict[str, object]:
    return {
        "id": mark.id,
        "answer": answer,
        "verdict": mark.verdict,
        "rule": mark.rule,
        "question_version": mark.versions.get("question", ""),
        "rules_version": mark.versions.get("rules", ""),
        "tool_version": __version__,
        "decided_by": mark.decided_by,
        "beliefs": json.dumps(list(mark.beliefs)),
        "carried": json.dumps({label: str(value) for label, value in mark.follow_through.items()}),
        "replaces": mark.replaces or last,
        "made": now,
    }


def _mark(row: Any, points: Sequence[tuple[str, int, int, str]]) -> Mark:
    marks, answers = MARKS.c, ANSWERS.c
    names = ("student", "paper", "question", "part", "typed", "state", "at")
    versions = {
        "question": row[marks.question_version],
        "rules": row[marks.rules_version],
        "tool": row[marks.tool_version],
    }
    return Mark(
        row[marks.id],
        Answer(*(row[answers[name]] for name in names)),
        tuple(points),
        row[marks.verdict],
        tuple(json.loads(row[marks.beliefs])),
        MappingProxyType({label: Fraction(value) for label, value in json.loads(row[marks.carried]).items()}),
        row[marks.rule],
        MappingProxyType(versions),
        row[marks.decided_by],
        row[marks.replaces],
    )
