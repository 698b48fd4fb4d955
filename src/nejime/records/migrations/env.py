"""Alembic runs this file. The connection, already inside a transaction, comes from `opening`."""

from __future__ import annotations

from alembic import context

from nejime.records.schema import metadata

context.configure(
    connection=context.config.attributes["connection"],
    target_metadata=metadata,
    render_as_batch=True,
)
with context.begin_transaction():
    context.run_migrations()
