"""Run by Alembic: migrate over the store's connection, without opening another."""

from __future__ import annotations

from alembic import context

from desk.store import schema

context.configure(
    connection=context.config.attributes["connection"],
    target_metadata=schema.metadata,
    version_table=schema.head.name,
    render_as_batch=True,  # SQLite alters a table by copying it
)
with context.begin_transaction():
    context.run_migrations()
