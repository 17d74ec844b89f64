"""Why a piece was set aside.

Revision: 0006
"""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0006"
down_revision = "0005"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Add the column; pieces set aside before have no reason."""
    op.add_column("pieces", sa.Column("aside_reason", sa.Text(), nullable=True))
