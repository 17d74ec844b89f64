"""Indexes for undo, history and packed pieces; who has the store open; a version in each JSON record.

Revision: 0004
"""

from __future__ import annotations

import json

import sqlalchemy as sa
from alembic import op

revision = "0004"
down_revision = "0003"
branch_labels = None
depends_on = None

TEXTS = (("orders", "content"), ("shop_rows", "content"), ("settings", "content"), ("weighings", "earlier"))


def upgrade() -> None:
    """Add indexes and tables, fill the pieces' history from the journal, and mark every record as version 1."""
    op.drop_index("ix_journal_bench_live", "journal")
    op.create_index("ix_journal_bench_live_kind", "journal", ["bench", "live", "kind", "id"])
    op.create_index("ix_pieces_together_with", "pieces", ["together_with"])
    op.create_index("ix_movements_piece_id", "movements", ["piece_id"])
    history = op.create_table(
        "journal_pieces",
        sa.Column("piece_id", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("revision", sa.Integer(), autoincrement=False, nullable=False),
        sa.PrimaryKeyConstraint("piece_id", "revision", name=op.f("pk_journal_pieces")),
        sqlite_with_rowid=False,
    )
    op.create_table(
        "benches",
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("piece_id", sa.Integer(), nullable=True),
        sa.Column("seen_at", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("name", name=op.f("pk_benches")),
    )
    _fill(history)
    for table, column in TEXTS:
        op.execute(_with_version(table, column))


def _fill(history: sa.Table) -> None:
    conn = op.get_bind()
    for number, text in conn.execute(sa.text("SELECT id, touched FROM journal ORDER BY id")).fetchall():
        touched = {piece for first, last in json.loads(text)["pieces"] for piece in range(first, last + 1)}
        if touched:
            conn.execute(history.insert(), [{"piece_id": piece, "revision": number} for piece in sorted(touched)])


def _with_version(table: str, name: str) -> sa.Update:
    """Return the statement that turns `{...}` into `{"v":1,...}` and anything else into `{"v":1,"is":...}`."""
    column = sa.column(name, sa.Text())
    stamped = sa.case(
        (column == "{}", '{"v":1}'),
        (sa.func.substr(column, 1, 1) == "{", sa.literal('{"v":1,') + sa.func.substr(column, 2)),
        else_=sa.literal('{"v":1,"is":') + column + "}",
    )
    return sa.table(table, column).update().values({name: stamped}).where(column.is_not(None))
