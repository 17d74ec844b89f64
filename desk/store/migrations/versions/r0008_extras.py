"""What is bought with a piece besides its postage.

Revision: 0008
"""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0008"
down_revision = "0007"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Add the column."""
    op.add_column("pieces", sa.Column("extras", sa.Text(), nullable=True))
