"""The migrations of the store, run by the program itself inside the transaction that opens it."""

from __future__ import annotations

from pathlib import Path

from alembic import command
from alembic.config import Config
from alembic.script import ScriptDirectory
from sqlalchemy import Connection


def config() -> Config:
    """Alembic's settings without any file: only where the revisions lie."""
    settings = Config()
    settings.set_main_option("script_location", str(Path(__file__).parent).replace("%", "%%"))
    settings.set_main_option("path_separator", "os")
    return settings


def upgrade(conn: Connection, revision: str = "head") -> None:
    """Bring the store behind a connection up to that revision, in the transaction the connection is in."""
    settings = config()
    settings.attributes["connection"] = conn
    command.upgrade(settings, revision)


def revisions() -> tuple[str, ...]:
    """All revisions, oldest first, as they lie in the folder."""
    return tuple(reversed([script.revision for script in ScriptDirectory.from_config(config()).walk_revisions()]))
