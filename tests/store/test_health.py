"""A damaged store is recognized before use, reported with its path, and not changed."""

from __future__ import annotations

import hashlib
import random
import sqlite3
from collections.abc import Callable
from contextlib import closing
from datetime import datetime
from pathlib import Path

import pytest

from desk.domain.clock import SystemClock
from desk.domain.faults import Refused
from desk.store import health
from desk.store.copies import make_copy
from desk.store.health import Damaged
from desk.store.store import Store, open_store
from desk.store.tables import shop
from tests.store.samples import SHOP, weighing, with_pieces

Opening = Callable[..., Store]
SQL = {
    "a setting": "INSERT INTO settings VALUES (900, 1, 1, 'x', 'not json')",
    "an order's content": "UPDATE orders SET content = '{}' WHERE id = 2",
    "an order under another number": "UPDATE orders SET number = '7' WHERE id = 2",
    "one digit of an order": "UPDATE orders SET content = replace(content, '1250', '1251') WHERE id = 2",
    "a weighing's value": "UPDATE weighings SET value = 'o.6' WHERE id = 1",
    "a weighing's unit": "UPDATE weighings SET unit = 'stone' WHERE id = 1",
    "a weighing that is gone": "DELETE FROM weighings WHERE id = 1",
    "a weighing of another piece": "UPDATE weighings SET piece_id = 2 WHERE id = 1",
    "a piece of no order": "UPDATE pieces SET order_id = 99 WHERE id = 1",
    "a status": "UPDATE pieces SET beside = 'on the moon' WHERE id = 1",
    "a time": "UPDATE pieces SET postage_on_at = 'yesterday' WHERE id = 1",
    "a text where a number is": "UPDATE pieces SET version = 'one' WHERE id = 1",
    "a number where a text is": "UPDATE pieces SET tracking = x'00ff' WHERE id = 1",
    "a step's touched pieces": "UPDATE journal SET touched = '{' WHERE id = 1",
    "a stamp's name": "UPDATE movements SET name = 'gold' WHERE id = 1",
    "a mailer": "UPDATE shop_rows SET content = '[]' WHERE kind = 'mailer'",
    "ids that ran back": "UPDATE ids SET next = 1 WHERE name = 'pieces'",
    "a table's first id that would be given twice": "INSERT INTO settings VALUES (1, 1, 1, 'x', '1')",
    "an id that would be given twice": "UPDATE ids SET next = 60 WHERE name = 'pieces'",
    "a table": "DROP TABLE papers",
    "an index": "PRAGMA writable_schema = ON; DELETE FROM sqlite_schema WHERE name = 'ix_orders_number'",
    "the schema's name": "DELETE FROM schema_head",
}


@pytest.fixture
def file(tmp_path: Path, opening: Opening) -> Path:
    """Return a closed store with a shop, 60 orders and two weighings."""
    store = opening(tmp_path / "store.sqlite")
    with store.act("shop") as tx:
        shop.save(tx, SHOP)
    with_pieces(store, 60)
    with store.act("weigh") as tx:
        from desk.store.tables import pieces

        pieces.record_many(tx, {1: weighing("1"), 2: weighing("2")})
    store.close()
    return tmp_path / "store.sqlite"


def spoil(file: Path, sql: str) -> None:
    with closing(sqlite3.connect(file)) as conn, conn:
        conn.executescript(sql)


def look(file: Path) -> str:
    return hashlib.sha256(file.read_bytes()).hexdigest()


def test_an_undamaged_store_passes_the_check(file: Path) -> None:
    assert health.damage_of(file) == ""


@pytest.mark.parametrize("what", SQL)
def test_each_kind_of_damage_is_detected_and_the_file_left_unchanged(file: Path, what: str) -> None:
    spoil(file, SQL[what])
    before = look(file)
    with pytest.raises(Damaged) as raised:
        open_store(file, SystemClock())
    assert str(file) in raised.value.sentence
    assert "It was not changed. There is no good copy next to it." in raised.value.sentence
    assert look(file) == before
    assert not [path for path in file.parent.iterdir() if path.suffix in (".sqlite-wal", ".part")]


def test_randomly_overwritten_pages_are_detected_or_change_nothing(file: Path) -> None:
    """Damage at 40 positions: a store that passes the check must still hold the same rows."""
    whole, chance = file.read_bytes(), random.Random(11)

    def rows() -> list[object]:
        with closing(sqlite3.connect(file)) as conn:
            names = [name for (name,) in conn.execute("SELECT name FROM sqlite_schema WHERE type = 'table' ORDER BY 1")]
            return [conn.execute(f"SELECT * FROM {name} ORDER BY 1").fetchall() for name in names]

    before, seen = rows(), 0
    for _ in range(40):
        corrupted = bytearray(whole)
        at = chance.randrange(100, len(whole) - 64)
        corrupted[at : at + 64] = chance.randbytes(64)
        file.write_bytes(corrupted)
        if health.damage_of(file):
            seen += 1
        else:
            assert rows() == before
    assert seen > 10


def test_the_newest_good_backup_is_named(file: Path) -> None:
    copied = make_copy(file, datetime(2026, 11, 28, 9).astimezone())
    spoil(file, SQL["a weighing's value"])
    with pytest.raises(Damaged) as raised:
        open_store(file, SystemClock())
    assert raised.value.newest == copied.file
    assert f"Restore the newest good copy: {copied.file}." in raised.value.sentence


@pytest.mark.parametrize("content", [b"", b"x" * 5000])
def test_a_file_that_is_no_longer_a_store_counts_as_damaged_if_backups_exist(file: Path, content: bytes) -> None:
    make_copy(file, datetime(2026, 11, 28, 9).astimezone())
    file.write_bytes(content)
    with pytest.raises(Damaged):
        open_store(file, SystemClock())
    assert file.read_bytes() == content


def test_an_empty_file_becomes_a_store(tmp_path: Path) -> None:
    (tmp_path / "new.sqlite").write_bytes(b"")
    open_store(tmp_path / "new.sqlite", SystemClock()).close()
    (tmp_path / "notes.txt").write_bytes(b"x" * 5000)
    with pytest.raises(Refused, match="not made by this program"):
        open_store(tmp_path / "notes.txt", SystemClock())


def test_a_store_closed_properly_is_not_fully_read_again_until_it_changes(
    file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[Path] = []
    real = health.damage_of
    monkeypatch.setattr(health, "damage_of", lambda path: asked.append(path) or real(path))
    open_store(file, SystemClock()).close_in_order()
    open_store(file, SystemClock()).close_in_order()
    assert asked == [file]
    spoil(file, "UPDATE meta SET value = 'x' WHERE name = 'created'")
    open_store(file, SystemClock()).close()
    assert asked == [file, file]
