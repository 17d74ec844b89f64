"""Which items are in each package of an order that ships in several.

Revision: 0007
"""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0007"
down_revision = "0006"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Add the column."""
    op.add_column("pieces", sa.Column("packing", sa.Text(), nullable=True))
