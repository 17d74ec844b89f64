"""`restore` and `move` as commands."""

import sqlite3
from contextlib import closing
from datetime import datetime

import pytest

from desk.app.main import console
from desk.domain.clock import SystemClock
from desk.store.copies import copies_of, make_copy
from desk.store.store import open_store
from desk.store.tables import orders
from tests.app.headless import Desk


@pytest.fixture
def desk(tmp_path):
    return Desk(tmp_path)


def numbers(where):
    store = open_store(where, SystemClock())
    with store.reading() as conn:
        found = [one.order.number for one in orders.all_orders(conn)]
    store.close()
    return found


@pytest.fixture
def kept(desk):
    """A store with two orders, and a copy of it."""
    file = desk.folder / "kept.sqlite"
    desk.run("--store", str(file))
    return file, make_copy(file, datetime(2026, 11, 28, 9).astimezone()).file


@pytest.mark.parametrize(
    "damage",
    [
        lambda file: file.write_bytes(b""),
        lambda file: file.write_bytes(b"x" * 9000),
        lambda file: file.write_bytes(file.read_bytes()[:5000]),
        lambda file: file.write_bytes(b"SQLite format 3" + b"\xff" * 9000),
        lambda file: file.unlink(),
        lambda file: file.with_name(file.name + "-wal").write_bytes(b"y" * 5000),
    ],
)
def test_a_backup_replaces_a_damaged_store(desk, kept, damage, capsys):
    file, copy = kept
    damage(file)
    before = file.read_bytes() if file.exists() else None
    capsys.readouterr()
    assert console(["restore", str(copy), "--store", str(file)]) == 0
    assert numbers(file) == ["1", "2"]
    assert f"Restored {copy} to {file}." in capsys.readouterr().out
    aside = [path for path in file.parent.glob("kept.sqlite.before-restore-*") if path.suffix == ".before-restore-1"]
    assert [len(path.read_bytes()) for path in aside] == ([] if before is None else [len(before)])


def test_a_damaged_store_is_reported_with_the_backup_to_restore(desk, kept, capsys):
    file, copy = kept
    with closing(sqlite3.connect(file)) as conn, conn:
        conn.execute("UPDATE weighings SET unit = 'stone'")
    before = file.read_bytes()
    capsys.readouterr()
    assert desk.run("--store", str(file)) == 2
    printed = capsys.readouterr().err
    assert (str(file) in printed, str(copy) in printed, "Traceback" in printed) == (True, True, False)
    assert file.read_bytes() == before


def test_a_damaged_or_missing_backup_is_reported(kept, capsys):
    file, copy = kept
    copy.write_bytes(copy.read_bytes()[:9000])
    assert console(["restore", str(copy), "--store", str(file)]) == 2
    assert "damaged" in capsys.readouterr().err
    assert console(["restore", str(copy.with_name("no.sqlite")), "--store", str(file)]) == 2
    assert numbers(file) == ["1", "2"]


def test_a_store_is_moved_from_file_to_file(kept, capsys):
    file, _ = kept
    assert console(["move", str(file), str(file.with_name("new.sqlite"))]) == 0
    assert "counts and hashes are equal" in capsys.readouterr().out
    assert numbers(file.with_name("new.sqlite")) == ["1", "2"]
    assert console(["move", str(file), str(file.with_name("new.sqlite"))]) == 2
    assert "There is data at the new place already" in capsys.readouterr().err
    assert console(["move", str(file.with_name("no.sqlite")), str(file)]) == 2


def test_a_run_on_an_existing_store_backs_it_up_once_an_hour(desk):
    file = desk.folder / "kept.sqlite"
    for _ in range(3):
        desk.run("--store", str(file))
    (copy,) = copies_of(file)
    file.write_bytes(file.read_bytes()[:5000])
    assert desk.run("--store", str(file)) == 2
    assert console(["restore", str(copy.file), "--store", str(file)]) == 0
    assert desk.run("--store", str(file)) == 0


@pytest.mark.parametrize("command", ["restore", "move"])
def test_help_does_not_mention_return_values(command: str, capsys) -> None:
    with pytest.raises(SystemExit):
        console([command, "--help"])
    printed = capsys.readouterr().out
    assert "store" in printed
    assert "return" not in printed
