"""Whether a weighing's mailer was a guess; products with several restrictions; mailer kinds that decide traits.

Revision: 0003
"""

from __future__ import annotations

import json

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Add the column, and convert products and mailers to today's form.

    No one set a rigid mailer to bend, or an apparel bag to paper, by hand: the shop file had no other default.
    """
    op.add_column("weighings", sa.Column("mailer_guessed", sa.Boolean(), nullable=True))
    rows = sa.table("shop_rows", sa.column("id", sa.Integer), sa.column("kind", sa.Text), sa.column("content", sa.Text))
    bind = op.get_bind()
    wanted = sa.select(rows.c.id, rows.c.kind, rows.c.content).where(rows.c.kind.in_(("product", "mailer")))
    for number, kind, content in bind.execute(wanted).all():
        fresh = _product(json.loads(content)) if kind == "product" else _mailer(json.loads(content))
        text = json.dumps(fresh, ensure_ascii=False, separators=(",", ":"))
        if text != content:
            bind.execute(rows.update().where(rows.c.id == number).values(content=text))


def _product(plain: dict[str, object]) -> dict[str, object]:
    held = plain.get("restricted")
    return plain if isinstance(held, list) else plain | {"restricted": [held] if held else []}


def _mailer(plain: dict[str, object]) -> dict[str, object]:
    if plain.get("kind") == "rigid":
        return plain | {"stiff": True}
    return plain | {"paper": False} if plain.get("kind") == "apparel" else plain
