"""Answers have a day by which they are deleted; what left the machine is noted."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

__all__ = ["down_revision", "downgrade", "revision", "upgrade"]

revision = "delete_by"
down_revision = "first"


def upgrade() -> None:
    """Add a column and a table."""
    with op.batch_alter_table("answers") as answers:
        answers.add_column(sa.Column("delete_by", sa.String(10), nullable=True))
        answers.create_index("ix_answers_delete_by", ["delete_by"])
    op.create_table(
        "ways_out",
        sa.Column("number", sa.Integer, primary_key=True, autoincrement=True),
        sa.Column("when", sa.String(32), nullable=False),
        sa.Column("what", sa.String(200), nullable=False),
        sa.Column("where", sa.String(200), nullable=False),
    )


def downgrade() -> None:
    """Take both away."""
    op.drop_table("ways_out")
    with op.batch_alter_table("answers") as answers:
        answers.drop_index("ix_answers_delete_by")
        answers.drop_column("delete_by")
