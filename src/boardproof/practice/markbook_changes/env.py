"""Run changes on the connection that the markbook has open."""

from __future__ import annotations

from alembic import context

from boardproof.practice.markbook_tables import METADATA

__all__: list[str] = []

context.configure(
    connection=context.config.attributes["connection"],
    target_metadata=METADATA,
    render_as_batch=True,  # SQLite changes a table by copying it
)
with context.begin_transaction():
    context.run_migrations()
