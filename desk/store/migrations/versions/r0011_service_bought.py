"""The service that was bought, as the list of paid amounts names it.

Revision: 0011
"""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0011"
down_revision = "0010"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Add the column; amounts entered before name no service."""
    op.add_column("pieces", sa.Column("bought_as", sa.Text(), nullable=True))
