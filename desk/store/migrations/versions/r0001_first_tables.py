"""The first tables.

Revision: 0001
"""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Create all tables in an empty database."""
    _books()
    _imports()
    _weighed()
    _answers()


def _books() -> None:
    """Create what the store records about itself: ids, journal, meta, movements."""
    op.create_table(
        "ids",
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("next", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("name", name=op.f("pk_ids")),
    )
    op.create_table(
        "journal",
        sa.Column("id", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("bench", sa.Text(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("step", sa.Text(), nullable=False),
        sa.Column("facts", sa.Text(), nullable=False),
        sa.Column("at", sa.Text(), nullable=False),
        sa.Column("schema_head", sa.Text(), nullable=False),
        sa.Column("live", sa.Boolean(), nullable=False),
        sa.Column("final", sa.Text(), nullable=False),
        sa.Column("touched", sa.Text(), nullable=False),
        sa.Column("images", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_journal")),
    )
    op.create_index("ix_journal_bench_live", "journal", ["bench", "live"], unique=False)
    op.create_table(
        "meta",
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("value", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("name", name=op.f("pk_meta")),
    )
    op.create_table(
        "movements",
        sa.Column("id", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("at", sa.Text(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("change", sa.Integer(), nullable=False),
        sa.Column("why", sa.Text(), nullable=False),
        sa.Column("piece_id", sa.Integer(), nullable=True),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_movements")),
    )
    op.create_index("ix_movements_kind_name", "movements", ["kind", "name"], unique=False)


def _imports() -> None:
    """Create what users import and set up: orders, settings, the shop."""
    op.create_table(
        "orders",
        sa.Column("id", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("revision", sa.Integer(), nullable=False),
        sa.Column("source", sa.Text(), nullable=False),
        sa.Column("number", sa.Text(), nullable=False),
        sa.Column("digest", sa.Text(), nullable=False),
        sa.Column("content", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_orders")),
        sa.UniqueConstraint("source", "number", name=op.f("uq_orders_source_number")),
    )
    op.create_index("ix_orders_number", "orders", ["number"], unique=False)
    op.create_table(
        "settings",
        sa.Column("id", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("revision", sa.Integer(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("content", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_settings")),
        sa.UniqueConstraint("name", name=op.f("uq_settings_name")),
    )
    op.create_table(
        "shop_rows",
        sa.Column("id", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("revision", sa.Integer(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("place", sa.Integer(), nullable=False),
        sa.Column("content", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_shop_rows")),
        sa.UniqueConstraint("kind", "name", name=op.f("uq_shop_rows_kind_name")),
    )


def _weighed() -> None:
    """Create weighings and their pieces."""
    op.create_table(
        "weighings",
        sa.Column("id", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("piece_id", sa.Integer(), nullable=False),
        sa.Column("at", sa.Text(), nullable=False),
        sa.Column("value", sa.Text(), nullable=False),
        sa.Column("unit", sa.Text(), nullable=False),
        sa.Column("division", sa.Text(), nullable=False),
        sa.Column("mailer", sa.Text(), nullable=False),
        sa.Column("length_mm", sa.Text(), nullable=True),
        sa.Column("width_mm", sa.Text(), nullable=True),
        sa.Column("thickness_mm", sa.Text(), nullable=True),
        sa.Column("stiff", sa.Boolean(), nullable=True),
        sa.Column("uneven", sa.Boolean(), nullable=True),
        sa.Column("earlier", sa.Text(), nullable=True),
        sa.Column("copied_from", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_weighings")),
    )
    op.create_index("ix_weighings_piece_id", "weighings", ["piece_id"], unique=False)
    op.create_table(
        "pieces",
        sa.Column("id", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("revision", sa.Integer(), nullable=False),
        sa.Column("order_id", sa.Integer(), nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("weighing_id", sa.Integer(), nullable=True),
        sa.Column("beside", sa.Text(), nullable=True),
        sa.Column("service_override", sa.Text(), nullable=False),
        sa.Column("mailer_override", sa.Text(), nullable=False),
        sa.Column("postage_on_at", sa.Text(), nullable=True),
        sa.Column("handed_over_at", sa.Text(), nullable=True),
        sa.Column("tracking", sa.Text(), nullable=False),
        sa.Column("paid_minor", sa.BigInteger(), nullable=True),
        sa.Column("paid_currency", sa.Text(), nullable=True),
        sa.Column("together_with", sa.Integer(), nullable=True),
        sa.ForeignKeyConstraint(["order_id"], ["orders.id"], name=op.f("fk_pieces_order_id")),
        sa.ForeignKeyConstraint(["together_with"], ["pieces.id"], name=op.f("fk_pieces_together_with")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_pieces")),
        sa.UniqueConstraint("order_id", "number", name=op.f("uq_pieces_order_id_number")),
    )


def _answers() -> None:
    """Create answers about pieces, and the papers printed for them."""
    op.create_table(
        "answers",
        sa.Column("id", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("revision", sa.Integer(), nullable=False),
        sa.Column("piece_id", sa.Integer(), nullable=False),
        sa.Column("code", sa.Text(), nullable=False),
        sa.Column("at", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(["piece_id"], ["pieces.id"], name=op.f("fk_answers_piece_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_answers")),
        sa.UniqueConstraint("piece_id", "code", name=op.f("uq_answers_piece_id_code")),
    )
    op.create_table(
        "papers",
        sa.Column("id", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("revision", sa.Integer(), nullable=False),
        sa.Column("piece_id", sa.Integer(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("at", sa.Text(), nullable=False),
        sa.Column("digest", sa.Text(), nullable=False),
        sa.Column("voided_at", sa.Text(), nullable=True),
        sa.ForeignKeyConstraint(["piece_id"], ["pieces.id"], name=op.f("fk_papers_piece_id")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_papers")),
    )
    op.create_index("ix_papers_piece_id", "papers", ["piece_id"], unique=False)
