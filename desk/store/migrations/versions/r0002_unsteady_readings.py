"""What made a reading less certain: two alternating values, and an empty pan that was not at zero.

Revision: 0002
"""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Add the columns; older readings count as steady on a pan at zero, because nothing else was recorded."""
    for name in ("low", "high", "empty_pan"):
        op.add_column("weighings", sa.Column(name, sa.Text(), nullable=True))
