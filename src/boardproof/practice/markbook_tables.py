"""The tables of the markbook; how they came about step by step stands in `markbook_changes`."""

from __future__ import annotations

from typing import Final

from sqlalchemy import Column, ForeignKey, Index, Integer, MetaData, String, Table, Text, UniqueConstraint

__all__ = ["ANSWERS", "MARKS", "METADATA", "PAPERS", "POINTS", "WAYS_OUT"]

METADATA: Final = MetaData(
    naming_convention={
        "ix": "ix_%(column_0_label)s",
        "uq": "uq_%(table_name)s_%(column_0_name)s",
        "fk": "fk_%(table_name)s_%(column_0_name)s_%(referred_table_name)s",
        "pk": "pk_%(table_name)s",
    }
)
PAPERS: Final = Table(
    "papers",
    METADATA,
    Column("code", String(16), primary_key=True),
    Column("student", String(32), nullable=False, index=True),
    Column("title", String(200), nullable=False, default=""),
    Column("seed", String(24), nullable=False),
    Column("made", String(32), nullable=False),
)
ANSWERS: Final = Table(
    "answers",
    METADATA,
    Column("id", String(16), primary_key=True),
    Column("student", String(32), nullable=False, index=True),
    Column("paper", String(16), nullable=False),
    Column("question", String(8), nullable=False),
    Column("part", String(8), nullable=False),
    Column("typed", Text, nullable=False),
    Column("state", String(16), nullable=False),
    Column("at", String(40), nullable=False),
    Column("source", String(200), nullable=False),
    Column("imported", String(32), nullable=False),
    Column("delete_by", String(10), nullable=True, index=True),
)
MARKS: Final = Table(
    "marks",
    METADATA,
    Column("number", Integer, primary_key=True, autoincrement=True),
    Column("id", String(24), nullable=False, index=True),
    Column("answer", String(16), ForeignKey(ANSWERS.c.id, ondelete="CASCADE"), nullable=False),
    Column("verdict", String(24), nullable=False),
    Column("rule", String(60), nullable=False),
    Column("question_version", String(16), nullable=False),
    Column("rules_version", String(8), nullable=False),
    Column("tool_version", String(16), nullable=False),
    Column("decided_by", String(8), nullable=False),
    Column("beliefs", Text, nullable=False),
    Column("carried", Text, nullable=False),
    Column("replaces", String(24), nullable=True),
    Column("made", String(32), nullable=False),
    UniqueConstraint("answer", "id"),
)
Index("ix_marks_answer", MARKS.c.answer)
POINTS: Final = Table(
    "points",
    METADATA,
    Column("mark", Integer, ForeignKey(MARKS.c.number, ondelete="CASCADE"), primary_key=True),
    Column("place", Integer, primary_key=True),
    Column("letter", String(4), nullable=False),
    Column("given", Integer, nullable=False),
    Column("of", Integer, nullable=False),
    Column("reason", Text, nullable=False),
)
WAYS_OUT: Final = Table(
    "ways_out",
    METADATA,
    Column("number", Integer, primary_key=True, autoincrement=True),
    Column("when", String(32), nullable=False),
    Column("what", String(200), nullable=False),
    Column("where", String(200), nullable=False),
)
