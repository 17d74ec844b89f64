"""Put the shop's own price lists into a copy of the store, so that moving to a new computer takes one file.

They are small text files in a folder next to the store. A copy carries them in a table; restoring writes them back to
that folder and drops the table.
"""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path, PurePosixPath

from desk.domain.whole_file import make_private_folder, write_whole

FOLDER = "price lists"  # next to the store
_TABLE = "attached_files"
_MOST = 1_000_000  # bytes in one file of a price list


def put_in(copy: Path, folder: Path) -> None:
    """Add the price lists in the folder to a copy being made."""
    lists = folder / FOLDER
    files = [file for file in sorted(lists.glob("*/*")) if file.is_file() and file.stat().st_size <= _MOST]
    with closing(sqlite3.connect(copy)) as conn, conn:
        conn.execute(f"DROP TABLE IF EXISTS {_TABLE}")
        if files:
            conn.execute(f"CREATE TABLE {_TABLE} (name TEXT PRIMARY KEY, content BLOB NOT NULL)")
            rows = [(file.relative_to(lists).as_posix(), file.read_bytes()) for file in files]
            conn.executemany(f"INSERT INTO {_TABLE} VALUES (?, ?)", rows)  # noqa: S608 - the name is ours


def take_out(store: Path, folder: Path) -> None:
    """Write the price lists of a restored copy next to the store, and drop the table; existing lists are kept."""
    with closing(sqlite3.connect(store)) as conn, conn:
        if conn.execute("SELECT 1 FROM sqlite_schema WHERE name = ?", (_TABLE,)).fetchone() is None:
            return
        for name, content in conn.execute(f"SELECT name, content FROM {_TABLE}").fetchall():  # noqa: S608
            parts = PurePosixPath(name).parts
            if len(parts) == 2 and not {"..", "."} & set(parts) and "/" not in parts[0] + parts[1]:
                file = folder / FOLDER / parts[0] / parts[1]
                if not file.exists():
                    make_private_folder(file.parent)
                    write_whole(file, bytes(content, "utf-8") if isinstance(content, str) else content)
        conn.execute(f"DROP TABLE {_TABLE}")
