"""An index of when pieces left, so that a start reads only what is still here.

Revision: 0010
"""

from __future__ import annotations

from alembic import op

revision = "0010"
down_revision = "0009"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Add the index."""
    op.create_index("ix_pieces_handed_over_at", "pieces", ["handed_over_at"])
