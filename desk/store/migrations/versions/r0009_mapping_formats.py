"""The formats of saved mappings as lists of words.

Revision: 0009
"""

from __future__ import annotations

import json

import sqlalchemy as sa
from alembic import op

revision = "0009"
down_revision = "0008"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Split the words of each format, which were one text with commas."""
    settings = sa.table("settings", sa.column("name", sa.Text), sa.column("content", sa.Text))
    mine = settings.c.name == "order list mappings"
    bind = op.get_bind()
    content = bind.execute(sa.select(settings.c.content).where(mine)).scalar()
    if content is None:
        return
    try:
        plain = json.loads(content)
        for saved in plain["all"]:
            formats = saved["mapping"].get("formats", {})
            saved["mapping"]["formats"] = {name: _words(format_text) for name, format_text in formats.items()}
    except (ValueError, KeyError, TypeError, AttributeError):
        return  # it can't be read in the older form either: the program says so
    text = json.dumps(plain, ensure_ascii=False, separators=(",", ":"))
    bind.execute(settings.update().where(mine).values(content=text))


def _words(format_text: str) -> list[str]:
    return [word.strip() for word in format_text.split(",") if word.strip()]
