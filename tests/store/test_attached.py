"""Price lists inside a copy: small files go in, and nothing is written outside their folder when they come out."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from desk.store.attached import FOLDER, put_in, take_out


def lists_at(folder: Path, **files: int) -> Path:
    for name, size in files.items():
        file = folder / FOLDER / "us-2026" / name
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_bytes(b"x" * size)
    return folder


def names_in(copy: Path) -> list[str]:
    with closing(sqlite3.connect(copy)) as conn:
        return [name for (name,) in conn.execute("SELECT name FROM attached_files ORDER BY name")]


def test_files_of_up_to_a_million_bytes_are_kept_with_a_backup(tmp_path: Path) -> None:
    folder = lists_at(tmp_path / "from", small=3, largest=1_000_000, larger=1_000_001)
    (folder / FOLDER / "us-2026" / "inside").mkdir()
    put_in(tmp_path / "copy.sqlite", folder)
    assert names_in(tmp_path / "copy.sqlite") == ["us-2026/largest", "us-2026/small"]


@pytest.mark.parametrize(
    "name", ["../escaped", "escaped", "a/b/escaped", "./escaped", "a/..", "/escaped-by-a-test-of-copies"]
)
def test_a_file_is_only_written_into_a_folder_of_price_lists(tmp_path: Path, name: str) -> None:
    store, folder = tmp_path / "store.sqlite", tmp_path / "shop" / "data"
    with closing(sqlite3.connect(store)) as conn, conn:
        conn.execute("CREATE TABLE attached_files (name TEXT PRIMARY KEY, content BLOB NOT NULL)")
        conn.executemany("INSERT INTO attached_files VALUES (?, ?)", [(name, b"bad"), ("us-2026/letters.csv", b"good")])
    take_out(store, folder)
    assert [
        file.relative_to(folder).as_posix() for file in tmp_path.rglob("*") if file.is_file() and file != store
    ] == ["price lists/us-2026/letters.csv"]
    assert not Path("/escaped-by-a-test-of-copies").exists()


def test_an_existing_list_is_kept(tmp_path: Path) -> None:
    put_in(tmp_path / "copy.sqlite", lists_at(tmp_path / "from", letters=3))
    kept = lists_at(tmp_path / "to", letters=9)
    take_out(tmp_path / "copy.sqlite", kept)
    assert (kept / FOLDER / "us-2026" / "letters").read_bytes() == b"x" * 9
