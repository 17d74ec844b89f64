"""The engine: files readable only by their owner, writers in turn, and errors as sentences."""

from __future__ import annotations

import sqlite3
import stat
import threading
import time
from contextlib import closing
from pathlib import Path

import pytest
from sqlalchemy import create_engine, text
from sqlalchemy.exc import DBAPIError, OperationalError

from desk.domain.faults import Refused
from desk.store import engine
from desk.store.engine import make_engine, make_private_file, sentences_for_faults, take_write_lock


@pytest.mark.parametrize("as_text", [True, False])
def test_a_file_is_named_by_its_path(tmp_path: Path, as_text: bool) -> None:
    file = tmp_path / "deep" / "er" / "batch one.store"
    made = make_engine(str(file) if as_text else file)
    with made.connect() as conn:
        assert conn.exec_driver_sql("SELECT 1").scalar() == 1
    made.dispose()
    assert stat.S_IMODE(file.stat().st_mode) == 0o600


def test_a_url_of_a_file_is_the_same_file(tmp_path: Path) -> None:
    made = make_engine(f"sqlite:///{tmp_path}/batch.store")
    made.dispose()
    assert (tmp_path / "batch.store").exists()


def test_an_existing_file_is_left_unchanged(tmp_path: Path) -> None:
    file = tmp_path / "batch.store"
    file.write_text("theirs")
    file.chmod(0o640)
    make_private_file(file)
    assert (file.read_text(), stat.S_IMODE(file.stat().st_mode)) == ("theirs", 0o640)


def test_a_folder_that_is_a_file_is_reported_with_its_name(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    with pytest.raises(Refused) as raised:
        make_private_file(tmp_path / "file" / "batch.store")
    assert raised.value.sentence == (
        f"{tmp_path}/file/batch.store: The data file cannot be opened or written here. "
        "Check that the folder exists and that you may write in it."
    )


@pytest.mark.parametrize(
    ("where", "raised"),
    [
        ("postgresql//://x:y:z", "Can't read the address of the data. Expected postgresql://user@host/name."),
        ("mysql://a/b", "The data is a file or a PostgreSQL address: postgresql://user@host/name."),
        ("oracle://a", "The data is a file or a PostgreSQL address: postgresql://user@host/name."),
        ("sqlite://", "The data is a file or a PostgreSQL address: postgresql://user@host/name."),
    ],
)
def test_an_invalid_address_is_reported(where: str, raised: str) -> None:
    with pytest.raises(Refused) as refused:
        make_engine(where)
    assert refused.value.sentence == raised


@pytest.mark.parametrize("where", ["postgresql://ada@db/shop", "postgresql+psycopg2://ada@db/shop"])
def test_every_server_address_uses_the_same_driver(where: str) -> None:
    made = make_engine(where)  # nothing is opened before the first query
    assert (made.url.drivername, made.url.username, made.url.host) == ("postgresql+psycopg", "ada", "db")
    made.dispose()


def test_a_sqlite_step_takes_the_write_lock_first_and_a_reader_does_not(tmp_path: Path) -> None:
    made = make_engine(tmp_path / "batch.store")
    with made.begin() as conn:
        conn.exec_driver_sql("CREATE TABLE t (a)")
    with made.connect() as writer, writer.begin(), closing(sqlite3.connect(tmp_path / "batch.store", timeout=0)) as raw:
        with pytest.raises(sqlite3.OperationalError, match="database is locked"):
            raw.execute("INSERT INTO t VALUES (1)")
        reader = made.connect().execution_options(only_reads=True)
        assert reader.exec_driver_sql("SELECT count(*) FROM t").scalar() == 0
        reader.close()
    made.dispose()


def test_a_row_with_a_missing_parent_is_refused_by_sqlite_too(tmp_path: Path) -> None:
    made = make_engine(tmp_path / "batch.store")
    with made.begin() as conn:
        conn.exec_driver_sql("CREATE TABLE a (id INTEGER PRIMARY KEY)")
        conn.exec_driver_sql("CREATE TABLE b (a INTEGER REFERENCES a (id))")
    with pytest.raises(DBAPIError, match="FOREIGN KEY"), made.begin() as conn:
        conn.exec_driver_sql("INSERT INTO b VALUES (1)")
    made.dispose()


def test_deleted_data_is_no_longer_in_the_file(tmp_path: Path) -> None:
    """SQLite's secure_delete overwrites a removed row with zeros (sqlite.org, PRAGMA secure_delete)."""
    file = tmp_path / "batch.store"
    made = make_engine(file)
    with made.begin() as conn:
        conn.exec_driver_sql("CREATE TABLE t (a)")
        conn.exec_driver_sql("INSERT INTO t VALUES ('Quill Row 17')")
    with made.begin() as conn:
        conn.exec_driver_sql("DELETE FROM t")
    made.dispose()  # the last connection merges the log into the file
    assert b"Quill Row 17" not in file.read_bytes()


def test_a_second_writer_waits_for_the_first(where: str | Path) -> None:
    made = make_engine(where)
    order: list[str] = []

    def write(name: str, seconds: float) -> None:
        with made.connect() as conn, conn.begin():
            take_write_lock(conn)
            order.append(f"{name} in")
            time.sleep(seconds)
            order.append(f"{name} out")

    first = threading.Thread(target=write, args=("first", 0.15))
    first.start()
    while not order:
        time.sleep(0.005)
    write("second", 0)
    first.join()
    made.dispose()
    assert order == ["first in", "first out", "second in", "second out"]


def test_a_writer_does_not_wait_forever(where: str | Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(engine, "BUSY_SECONDS", 0.1)
    one, other = make_engine(where), make_engine(where)
    with one.connect() as conn, conn.begin():
        take_write_lock(conn)
        with pytest.raises(Refused) as raised, sentences_for_faults(), other.connect() as second, second.begin():
            take_write_lock(second)
    for made in (one, other):
        made.dispose()
    assert raised.value.sentence == engine.BUSY


def test_a_failed_transaction_releases_the_lock(where: str | Path) -> None:
    made = make_engine(where)

    def fails() -> None:
        with made.connect() as conn, conn.begin():
            take_write_lock(conn)
            raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        fails()
    with made.connect() as conn, conn.begin():
        take_write_lock(conn)
    made.dispose()


def test_two_schemas_of_one_database_do_not_wait_for_each_other(postgres_where: str, server: str) -> None:
    one, other = make_engine(postgres_where), make_engine(server)
    with one.connect() as conn, conn.begin():
        take_write_lock(conn)
        began = time.monotonic()
        with other.connect() as second, second.begin():
            take_write_lock(second)
        assert time.monotonic() - began < engine.BUSY_SECONDS / 2
    for made in (one, other):
        made.dispose()


class Coded(Exception):
    """Return a fault as the driver of a server raises it."""

    def __init__(self, sqlstate: str | None, words: str = "odd") -> None:
        super().__init__(words)
        self.sqlstate = sqlstate


class Unreached(Exception):
    """Return a fault of the server's driver raised before any server answered."""

    sqlstate = None


Unreached.__module__ = "psycopg.errors"


@pytest.mark.parametrize(
    ("fault", "raised"),
    [
        (sqlite3.OperationalError("database is locked"), "another bench has been writing for almost 5 seconds"),
        (sqlite3.OperationalError("unable to open database file"), "Check that the folder exists"),
        (sqlite3.OperationalError("attempt to write a readonly database"), "Check that the folder exists"),
        (sqlite3.DatabaseError("file is not a database"), "not made by this program"),
        (sqlite3.DatabaseError("database disk image is malformed"), "damaged. Restore a copy"),
        (sqlite3.OperationalError("database or disk is full"), "The disk is full. Make room"),
        (sqlite3.OperationalError("disk I/O error"), "The disk cannot be read or written. Check the disk"),
        (Coded("55P03"), "another bench has been writing"),
        (Coded("42501"), "you may write in it"),
        (Coded("53100"), "The database server's disk is full"),
        (Unreached("connection refused"), "The database server does not answer"),
    ],
)
def test_a_fault_that_a_user_can_fix_has_a_sentence(fault: Exception, raised: str) -> None:
    with pytest.raises(Refused, match=raised), sentences_for_faults():
        raise OperationalError("INSERT", {}, fault)


@pytest.mark.parametrize("fault", [Coded("23505"), sqlite3.IntegrityError("UNIQUE constraint failed")])
def test_a_fault_that_cannot_be_fixed_is_raised_unchanged(fault: Exception) -> None:
    with pytest.raises(DBAPIError), sentences_for_faults():
        raise DBAPIError("INSERT", {}, fault)


@pytest.mark.parametrize(
    ("fault", "raised"),
    [
        (sqlite3.DatabaseError("file is not a database"), "not made by this program"),
        (sqlite3.DatabaseError("odd"), "The data cannot be used: odd."),
    ],
)
def test_faults_of_the_driver_itself_have_a_sentence(fault: Exception, raised: str) -> None:
    with pytest.raises(Refused, match=raised), sentences_for_faults():
        raise fault


def test_other_errors_are_raised_unchanged() -> None:
    with pytest.raises(ValueError, match="odd"), sentences_for_faults():
        raise ValueError("odd")


def test_a_damaged_file_is_reported(tmp_path: Path) -> None:
    file = tmp_path / "batch.store"
    made = make_engine(file)
    with made.begin() as conn:
        conn.exec_driver_sql("CREATE TABLE t (a)")
        for number in range(400):
            conn.execute(text("INSERT INTO t VALUES (:words)"), {"words": f"{number} " * 60})
    made.dispose()
    whole = bytearray(file.read_bytes())
    whole[4096 : 4096 * 3] = b"\x99" * (4096 * 2)
    file.write_bytes(whole)
    again = make_engine(file)
    with pytest.raises(Refused, match="damaged"), sentences_for_faults(), again.connect() as conn:
        conn.exec_driver_sql("SELECT count(a) FROM t").scalar()
    again.dispose()


def test_an_engine_without_our_settings_waits_for_readers(tmp_path: Path) -> None:
    """Shows that the test of reader and writer above can find the difference."""
    plain = create_engine(f"sqlite:///{tmp_path}/plain.store")
    with plain.begin() as conn:
        conn.exec_driver_sql("CREATE TABLE t (a)")
    with plain.connect() as conn, conn.begin(), closing(sqlite3.connect(tmp_path / "plain.store", timeout=0)) as raw:
        raw.execute("INSERT INTO t VALUES (1)")
        raw.rollback()
    plain.dispose()
