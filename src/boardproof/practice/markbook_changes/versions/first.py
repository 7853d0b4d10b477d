"""Papers, answers, marks with their points."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

__all__ = ["down_revision", "downgrade", "revision", "upgrade"]

revision = "first"
down_revision = None


def upgrade() -> None:
    """Make the tables."""
    op.create_table(
        "papers",
        sa.Column("code", sa.String(16), primary_key=True),
        sa.Column("student", sa.String(32), nullable=False),
        sa.Column("title", sa.String(200), nullable=False),
        sa.Column("seed", sa.String(24), nullable=False),
        sa.Column("made", sa.String(32), nullable=False),
    )
    op.create_index("ix_papers_student", "papers", ["student"])
    texts = [("student", 32), ("paper", 16), ("question", 8), ("part", 8)]
    op.create_table(
        "answers",
        sa.Column("id", sa.String(16), primary_key=True),
        *(sa.Column(name, sa.String(size), nullable=False) for name, size in texts),
        sa.Column("typed", sa.Text, nullable=False),
        sa.Column("state", sa.String(16), nullable=False),
        sa.Column("at", sa.String(40), nullable=False),
        sa.Column("source", sa.String(200), nullable=False),
        sa.Column("imported", sa.String(32), nullable=False),
    )
    op.create_index("ix_answers_student", "answers", ["student"])
    texts = [
        ("verdict", 24),
        ("rule", 60),
        ("question_version", 16),
        ("rules_version", 8),
        ("tool_version", 16),
    ]
    op.create_table(
        "marks",
        sa.Column("number", sa.Integer, primary_key=True, autoincrement=True),
        sa.Column("id", sa.String(24), nullable=False),
        sa.Column("answer", sa.String(16), sa.ForeignKey("answers.id", ondelete="CASCADE"), nullable=False),
        *(sa.Column(name, sa.String(size), nullable=False) for name, size in texts),
        sa.Column("decided_by", sa.String(8), nullable=False),
        sa.Column("beliefs", sa.Text, nullable=False),
        sa.Column("carried", sa.Text, nullable=False),
        sa.Column("replaces", sa.String(24), nullable=True),
        sa.Column("made", sa.String(32), nullable=False),
        sa.UniqueConstraint("answer", "id", name="uq_marks_answer"),
    )
    op.create_index("ix_marks_id", "marks", ["id"])
    op.create_index("ix_marks_answer", "marks", ["answer"])
    op.create_table(
        "points",
        sa.Column("mark", sa.Integer, sa.ForeignKey("marks.number", ondelete="CASCADE"), primary_key=True),
        sa.Column("place", sa.Integer, primary_key=True),
        sa.Column("letter", sa.String(4), nullable=False),
        sa.Column("given", sa.Integer, nullable=False),
        sa.Column("of", sa.Integer, nullable=False),
        sa.Column("reason", sa.Text, nullable=False),
    )


def downgrade() -> None:
    """Drop them."""
    for name in ("points", "marks", "answers", "papers"):
        op.drop_table(name)
