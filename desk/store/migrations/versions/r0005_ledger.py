"""The ledger: every amount a package earned or cost.

Revision: 0005
"""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0005"
down_revision = "0004"
branch_labels = None
depends_on = None

OTHERS = {"piece_id": sa.Integer(), "amount_minor": sa.BigInteger()}
COLUMNS = (
    "at mailed_on piece_id order_number reference entry amount_minor currency service zone price_list country state why"
).split()


def upgrade() -> None:
    """Add the table and its indexes."""
    columns = [sa.Column(name, OTHERS.get(name, sa.Text()), nullable=False) for name in COLUMNS]
    op.create_table(
        "ledger",
        sa.Column("id", sa.Integer(), nullable=False, autoincrement=False),
        *columns,
        sa.PrimaryKeyConstraint("id", name="pk_ledger"),
    )
    op.create_index("ix_ledger_mailed_on", "ledger", ["mailed_on"])
    op.create_index("ix_ledger_piece_id", "ledger", ["piece_id"])
