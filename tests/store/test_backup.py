"""Copies of an open store, and restoring them."""

from __future__ import annotations

import sqlite3
import stat
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest

from desk.domain.faults import Refused
from desk.store import backup
from desk.store.store import Store
from desk.store.tables import orders
from tests.store.samples import order, with_pieces

Opening = Callable[..., Store]


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return tmp_path / "batch.store"


def numbers(store: Store) -> list[str]:
    with store.reading() as conn:
        return [one.order.number for one in orders.all_orders(conn)]


def test_a_backup_is_made_while_the_store_is_open_and_written(file: Path, tmp_path: Path, opening: Opening) -> None:
    store = opening(file)
    with_pieces(store, 3)
    with store.act("not done yet") as tx:
        orders.save(tx, [order("later")])
        copied = backup.copy(store.file, tmp_path / "copy.store")

    assert copied == tmp_path / "copy.store"
    assert stat.S_IMODE(copied.stat().st_mode) == 0o600
    assert numbers(opening(copied)) == ["1000", "1001", "1002"]
    assert numbers(store) == ["1000", "1001", "1002", "later"]


def test_an_unfinished_backup_is_started_again(file: Path, tmp_path: Path, opening: Opening) -> None:
    store = opening(file)
    with_pieces(store)
    (tmp_path / "copy.store.part").write_text("half")
    backup.copy(store.file, tmp_path / "copy.store")

    assert numbers(opening(tmp_path / "copy.store")) == ["1000"]
    assert not (tmp_path / "copy.store.part").exists()


def test_a_backup_overwrites_nothing(file: Path, tmp_path: Path, opening: Opening) -> None:
    (tmp_path / "copy.store").write_text("mine")

    with pytest.raises(Refused, match="already exists"):
        backup.copy(opening(file).file, tmp_path / "copy.store")


def test_a_server_store_is_not_backed_up_as_a_file(postgres_where: str, tmp_path: Path, opening: Opening) -> None:
    with pytest.raises(Refused, match="pg_dump"):
        backup.copy(opening(postgres_where).file, tmp_path / "copy.store")


def test_restoring_a_backup_keeps_the_replaced_store(file: Path, tmp_path: Path, opening: Opening) -> None:
    store = opening(file)
    with_pieces(store)
    copied = backup.copy(store.file, tmp_path / "copy.store")
    for number in range(2):
        with store.act("later") as tx:
            orders.save(tx, [order(f"later {number}")])
        store.close()
        kept = backup.restore(copied, file)

        assert kept == tmp_path / f"batch.store.before-restore-{number + 1}"
        assert numbers(opening(kept)) == ["1000", f"later {number}"]
        assert numbers(store) == ["1000"]


def test_a_backup_can_be_restored_where_there_was_no_store(file: Path, tmp_path: Path, opening: Opening) -> None:
    copied = backup.copy(opening(file).file, tmp_path / "copy.store")

    assert backup.restore(copied, tmp_path / "elsewhere" / "b.store") is None
    assert numbers(opening(tmp_path / "elsewhere" / "b.store")) == []


def spoil(path: Path) -> None:
    """Overwrite the middle of the file, after the header."""
    content = bytearray(path.read_bytes())
    content[8192:20480] = b"\xff" * 12288
    path.write_bytes(content)


def spoil_quietly(path: Path) -> None:
    """Remove an index of a table, so that only a full check finds the damage."""
    with closing(sqlite3.connect(path)) as conn, conn:
        conn.execute("PRAGMA writable_schema = ON")
        conn.execute("DELETE FROM sqlite_schema WHERE name = 'ix_orders_number'")


def make_newer(path: Path) -> None:
    with closing(sqlite3.connect(path)) as conn, conn:
        conn.execute("UPDATE schema_head SET version_num = '0999'")


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        (spoil, "damaged"),
        (spoil_quietly, "damaged"),
        (make_newer, "newer version"),
        (lambda path: path.write_bytes(b""), "is empty"),
        (lambda path: path.write_text("x" * 5000), "not a copy made by this program"),
        (lambda path: path.unlink(), "is not there"),
    ],
)
def test_an_unusable_backup_is_refused_and_the_store_left_alone(
    file: Path, tmp_path: Path, opening: Opening, change: Callable[[Path], object], sentence: str
) -> None:
    store = opening(file)
    with_pieces(store, 60)
    copied = backup.copy(store.file, tmp_path / "copy.store")
    change(copied)

    with pytest.raises(Refused, match=sentence):
        backup.restore(copied, file)
    assert len(numbers(store)) == 60
    assert not list(tmp_path.glob("*before-restore*"))


def test_a_store_in_use_is_not_replaced(
    file: Path, tmp_path: Path, opening: Opening, monkeypatch: pytest.MonkeyPatch
) -> None:
    store = opening(file)
    copied = backup.copy(store.file, tmp_path / "copy.store")
    monkeypatch.setattr(backup, "BUSY_SECONDS", 0.2)
    with store.act("long") as tx:
        orders.save(tx, [order("kept")])
        with pytest.raises(Refused, match="open in a window or a run"):
            backup.restore(copied, file)

    assert numbers(store) == ["kept"]
