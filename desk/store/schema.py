"""The tables, one set for SQLite and PostgreSQL, and the name of their schema.

Numbers are whole: money in minor units, and every weight and length as decimal text, since SQLite would turn an exact
decimal into a float. Times are UTC text. Records that are only read whole (an order, a row of the shop) are stored as
one JSON text next to their natural key; anything queried has its own column.

Every table that can change has a `version`, raised on each write, and the `revision` of the step that wrote its present
values. Undo restores the old revision with the old values; a different revision tells it that a row has changed since.
Weighings and movements are only ever added. Ids come from the table `ids` and are never reused, so that an undone row
can return under its own id.
"""

from __future__ import annotations

from sqlalchemy import (
    BigInteger,
    Boolean,
    Column,
    ForeignKey,
    Index,
    Integer,
    MetaData,
    String,
    Table,
    Text,
    UniqueConstraint,
)

KNOWN_HEADS = (
    "0001",
    "0002",
    "0003",
    "0004",
    "0005",
    "0006",
    "0007",
    "0008",
    "0009",
    "0010",
    "0011",
)  # every revision in migrations/versions, oldest first
SCHEMA_HEAD = KNOWN_HEADS[-1]

metadata = MetaData(
    naming_convention={
        "ix": "ix_%(table_name)s_%(column_0_N_name)s",
        "uq": "uq_%(table_name)s_%(column_0_N_name)s",
        "fk": "fk_%(table_name)s_%(column_0_name)s",
        "pk": "pk_%(table_name)s",
    }
)
# Alembic maintains this table, so it is not in the metadata compared with the migrations.
head = Table("schema_head", MetaData(), Column("version_num", String(32), primary_key=True))


def _id() -> Column[int]:
    return Column("id", Integer, primary_key=True, autoincrement=False)


def _written() -> tuple[Column[int], Column[int]]:
    return Column("version", Integer, nullable=False), Column("revision", Integer, nullable=False)


meta = Table(
    "meta",
    metadata,
    Column("name", Text, primary_key=True),
    Column("value", Text, nullable=False),
)

WIPE_DUE = "wipe due"  # a row of meta: something was deleted, and old pages may still contain it

ids = Table(
    "ids",
    metadata,
    Column("name", Text, primary_key=True),
    Column("next", Integer, nullable=False),
)

journal = Table(
    "journal",
    metadata,
    _id(),  # the revision
    Column("bench", Text, nullable=False),
    Column("kind", Text, nullable=False),  # act, undo, redo
    Column("step", Text, nullable=False),
    Column("facts", Text, nullable=False),
    Column("at", Text, nullable=False),
    Column("schema_head", Text, nullable=False),
    Column("live", Boolean, nullable=False),  # can still be undone (act, redo) or redone (undo)
    Column("final", Text, nullable=False),  # why it can never be undone, or empty
    Column("touched", Text, nullable=False),
    Column("images", Text, nullable=False),
    Index("ix_journal_bench_live_kind", "bench", "live", "kind", "id"),
)

journal_pieces = Table(  # which steps touched a piece, so that its history need not read the whole journal
    "journal_pieces",
    metadata,
    Column("piece_id", Integer, primary_key=True, autoincrement=False),
    Column("revision", Integer, primary_key=True, autoincrement=False),
    sqlite_with_rowid=False,
)

benches = Table(  # who has the store open, and which piece is on whose scale; neither undone nor journaled
    "benches",
    metadata,
    Column("name", Text, primary_key=True),
    Column("piece_id", Integer),
    Column("seen_at", Text, nullable=False),
)

orders = Table(
    "orders",
    metadata,
    _id(),
    *_written(),
    Column("source", Text, nullable=False),
    Column("number", Text, nullable=False),
    Column("digest", Text, nullable=False),  # of the content as imported, then as corrected
    Column("content", Text, nullable=False),
    UniqueConstraint("source", "number"),
    Index("ix_orders_number", "number"),
)

pieces = Table(
    "pieces",
    metadata,
    _id(),
    *_written(),
    Column("order_id", Integer, ForeignKey("orders.id"), nullable=False),
    Column("number", Integer, nullable=False),
    Column("weighing_id", Integer),  # the current one; others stay in weighings
    Column("beside", Text),
    Column("service_override", Text, nullable=False),
    Column("mailer_override", Text, nullable=False),
    Column("postage_on_at", Text),
    Column("handed_over_at", Text),
    Column("tracking", Text, nullable=False),
    Column("paid_minor", BigInteger),
    Column("paid_currency", Text),
    Column("together_with", Integer, ForeignKey("pieces.id")),  # the piece it is packed into
    Column("aside_reason", Text),  # why it was set aside
    Column("packing", Text),  # contents as JSON when its order ships in several packages; null: unknown
    Column("extras", Text),  # codes of what is bought with it besides postage, as JSON; null: nothing
    Column("bought_as", Text),  # the service as the list of paid amounts names it; null: not named
    UniqueConstraint("order_id", "number"),
    Index("ix_pieces_together_with", "together_with"),
    Index("ix_pieces_handed_over_at", "handed_over_at"),
)

weighings = Table(  # no foreign key: a weighing outlives a piece that is undone
    "weighings",
    metadata,
    _id(),
    Column("piece_id", Integer, nullable=False),
    Column("at", Text, nullable=False),
    Column("value", Text, nullable=False),
    Column("unit", Text, nullable=False),
    Column("division", Text, nullable=False),
    Column("mailer", Text, nullable=False),
    Column("length_mm", Text),
    Column("width_mm", Text),
    Column("thickness_mm", Text),
    Column("stiff", Boolean),
    Column("uneven", Boolean),
    Column("earlier", Text),  # the reading this one replaced in the same file or session, as JSON
    # reference of the piece weighed instead of this one; empty: weighed itself
    Column("copied_from", Text, nullable=False),
    Column("low", Text),  # the values the display alternated between; null: steady
    Column("high", Text),
    Column("empty_pan", Text),  # what the empty pan showed before; null: zero
    Column("mailer_guessed", Boolean),  # null: not recorded
    Index("ix_weighings_piece_id", "piece_id"),
)

answers = Table(
    "answers",
    metadata,
    _id(),
    *_written(),
    Column("piece_id", Integer, ForeignKey("pieces.id"), nullable=False),
    Column("code", Text, nullable=False),
    Column("at", Text, nullable=False),
    UniqueConstraint("piece_id", "code"),
)

papers = Table(
    "papers",
    metadata,
    _id(),
    *_written(),
    Column("piece_id", Integer, ForeignKey("pieces.id"), nullable=False),
    Column("kind", Text, nullable=False),
    Column("at", Text, nullable=False),
    Column("digest", Text, nullable=False),
    Column("voided_at", Text),
    Index("ix_papers_piece_id", "piece_id"),
)

movements = Table(
    "movements",
    metadata,
    _id(),
    Column("at", Text, nullable=False),
    Column("kind", Text, nullable=False),  # stamp, mailer, label roll
    Column("name", Text, nullable=False),
    Column("change", Integer, nullable=False),
    Column("why", Text, nullable=False),
    Column("piece_id", Integer),
    Index("ix_movements_kind_name", "kind", "name"),
    Index("ix_movements_piece_id", "piece_id"),
)

ledger = Table(
    "ledger",
    metadata,
    _id(),
    Column("at", Text, nullable=False),
    Column("mailed_on", Text, nullable=False),  # ISO date
    Column("piece_id", Integer, nullable=False),
    Column("order_number", Text, nullable=False),
    Column("reference", Text, nullable=False),
    Column("entry", Text, nullable=False),
    Column("amount_minor", BigInteger, nullable=False),  # above zero: earned; below: spent
    Column("currency", Text, nullable=False),
    Column("service", Text, nullable=False),
    Column("zone", Text, nullable=False),
    Column("price_list", Text, nullable=False),
    Column("country", Text, nullable=False),
    Column("state", Text, nullable=False),
    Column("why", Text, nullable=False),
    Index("ix_ledger_mailed_on", "mailed_on"),
    Index("ix_ledger_piece_id", "piece_id"),
)

shop_rows = Table(
    "shop_rows",
    metadata,
    _id(),
    *_written(),
    Column("kind", Text, nullable=False),
    Column("name", Text, nullable=False),
    Column("place", Integer, nullable=False),
    Column("content", Text, nullable=False),
    UniqueConstraint("kind", "name"),
)

settings = Table(
    "settings",
    metadata,
    _id(),
    *_written(),
    Column("name", Text, nullable=False),
    Column("content", Text, nullable=False),
    UniqueConstraint("name"),
)

# Parents before children; undo restores in this order and deletes in the opposite one.
JOURNALED: dict[str, Table] = {
    table.name: table for table in (shop_rows, settings, orders, pieces, answers, papers, weighings, movements, ledger)
}
APPEND_ONLY = frozenset({"weighings", "movements", "ledger"})
