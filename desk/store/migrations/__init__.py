"""The store's migrations, run by the program itself inside the transaction that opens it."""

from __future__ import annotations

from pathlib import Path

from alembic import command
from alembic.config import Config
from sqlalchemy import Connection


def config() -> Config:
    """Return Alembic's settings without any file: only the folder of revisions."""
    settings = Config()
    settings.set_main_option("script_location", str(Path(__file__).parent).replace("%", "%%"))
    settings.set_main_option("path_separator", "os")
    return settings


def upgrade(conn: Connection, revision: str = "head") -> None:
    """Upgrade the connection's store to that revision, within its current transaction."""
    settings = config()
    settings.attributes["connection"] = conn
    command.upgrade(settings, revision)
