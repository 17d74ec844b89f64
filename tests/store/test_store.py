"""Opening a store, writing one step at a time, and following another bench."""

from __future__ import annotations

import os
import sqlite3
import stat
import subprocess
import sys
import threading
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest
from sqlalchemy import insert, select, text, update
from sqlalchemy.exc import DBAPIError, IntegrityError

from desk.domain.changes import Changes
from desk.domain.faults import Refused
from desk.store import engine, journal, schema
from desk.store.journal import StepKind
from desk.store.store import Store
from desk.store.tables import orders, pieces
from tests.store.samples import MONDAY, order, with_pieces

Opening = Callable[..., Store]


def meta(store: Store) -> dict[str, str]:
    with store.reading() as conn:
        return {row.name: row.value for row in conn.execute(select(schema.meta))}


def test_a_new_store_has_a_name_of_its_own_and_keeps_it(where: str, opening: Opening) -> None:
    first = meta(opening(where))

    assert set(first) == {"store", "created"}
    assert first["created"].startswith("2026-03-02T09:00:01")
    assert meta(opening(where)) == first


def test_stored_rows_are_read_after_reopening(where: str, opening: Opening) -> None:
    store = opening(where)
    with_pieces(store, 3)
    store.close()

    with opening(where).reading() as conn:
        assert len(pieces.all_pieces(conn)) == 3


def test_a_store_file_is_its_owners_alone(tmp_path: Path, opening: Opening) -> None:
    file = tmp_path / "new" / "folder" / "batch.store"
    with_pieces(opening(file))

    for found in file.parent.iterdir():  # the write-ahead log too
        assert stat.S_IMODE(found.stat().st_mode) == 0o600
    assert len(list(file.parent.iterdir())) > 1


def test_sqlite_flushes_each_commit_to_a_write_ahead_log(tmp_path: Path, opening: Opening) -> None:
    with opening(f"sqlite:///{tmp_path}/batch.store").reading() as conn:
        found = {name: conn.exec_driver_sql(f"PRAGMA {name}").scalar() for name in ("journal_mode", "synchronous")}
        assert conn.exec_driver_sql("PRAGMA foreign_keys").scalar() == 1

    assert found == {"journal_mode": "wal", "synchronous": 2}  # 2 is FULL (sqlite.org, PRAGMA synchronous)


def test_a_step_that_fails_leaves_nothing(store: Store) -> None:
    with_pieces(store)
    before = store.last_changes

    def fail_half_way() -> None:
        with store.act("half") as tx:
            orders.save(tx, [order("half")])
            raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        fail_half_way()

    with store.reading() as conn:
        assert orders.ids_of(conn, ["half"]) == {}
    assert store.revision == 1
    assert store.last_changes == before


def test_a_step_is_described_in_the_journal(store: Store) -> None:
    with store.act("take in", file="orders.csv", count=1, sure=True) as tx:
        orders.save(tx, [order()])
    with_pieces(store)

    with store.reading() as conn:
        newest, first = journal.steps(conn)
        assert [step.revision for step in journal.steps(conn, 1)] == [2]
    assert (newest.revision, newest.name) == (2, "take in")
    assert (first.bench, first.kind, first.final) == ("bench 1", StepKind.ACT, "")
    assert first.facts == {"file": "orders.csv", "count": 1, "sure": True}
    assert (first.at - MONDAY).total_seconds() == 2


def test_a_second_bench_follows(store: Store, where: str, opening: Opening) -> None:
    with_pieces(store, 2)
    second = opening(where, "bench 2")
    seen = second.revision
    assert second.changes_since(seen) == Changes()
    with store.act("choose") as tx:
        pieces.set_mailer(tx, [2], "Box")
    with store.act("take in") as tx:
        orders.save(tx, [order("77")])

    assert second.changes_since(seen) == Changes(pieces=frozenset({2}), orders=frozenset({3}))
    assert second.changes_since(0).pieces == frozenset({1, 2})


def test_a_reader_sees_one_snapshot(store: Store) -> None:
    with_pieces(store)
    with store.reading() as conn:
        before = pieces.piece(conn, 1)
        with store.act("choose") as tx:
            pieces.set_mailer(tx, [1], "Box")
        assert pieces.piece(conn, 1) == before
    with store.reading() as conn:
        assert pieces.piece(conn, 1).mailer_override == "Box"


def test_a_reader_cannot_write_in_postgresql(postgres_where: str, opening: Opening) -> None:
    with pytest.raises(DBAPIError, match="read-only"), opening(postgres_where).reading() as conn:
        conn.execute(insert(schema.meta).values(name="a", value="b"))


def test_two_benches_write_alternately_and_lose_nothing(where: str, opening: Opening) -> None:
    stores = [opening(where, f"bench {number}") for number in range(2)]

    def take_in(store: Store) -> None:
        for number in range(15):
            with store.act("take in") as tx:
                orders.save(tx, [order(f"{store.bench}-{number}")])

    threads = [threading.Thread(target=take_in, args=(store,)) for store in stores]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()

    assert stores[0].revision == 30
    assert stores[0].changes_since(0).orders == frozenset(range(1, 31))


def test_a_busy_store_is_refused(where: str, opening: Opening, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(engine, "BUSY_SECONDS", 0.2)
    first, second = opening(where), opening(where, "bench 2")
    with first.act("long") as tx:
        orders.save(tx, [order("1")])
        with pytest.raises(Refused, match="another bench has been writing"), second.act("short"):
            pytest.fail("two benches wrote at once")

    with second.act("short") as tx:
        assert orders.save(tx, [order("2")]).new == ("2",)


def test_a_newer_store_is_refused_and_left_alone(where: str, opening: Opening) -> None:
    store = opening(where)
    with store.engine.begin() as conn:
        conn.execute(update(schema.head).values(version_num="0999"))
    store.close()

    with pytest.raises(Refused, match=r"newer version .* 0999"):
        opening(where)


def test_a_database_of_something_else_is_refused(store: Store, where: str, opening: Opening) -> None:
    with store.engine.begin() as conn:
        conn.execute(text("DROP TABLE schema_head"))

    with pytest.raises(Refused, match="not made by this program"):
        opening(where)


def test_a_file_of_something_else_is_refused_and_left_alone(tmp_path: Path, opening: Opening) -> None:
    file = tmp_path / "notes.txt"
    file.write_text("not a database at all, " * 50)

    with pytest.raises(Refused, match="not made by this program"):
        opening(file)
    assert file.read_text() == "not a database at all, " * 50


def test_a_foreign_sqlite_file_is_refused(tmp_path: Path, opening: Opening) -> None:
    with closing(sqlite3.connect(tmp_path / "x.db")) as raw:
        raw.execute("CREATE TABLE recipes (a)")

    with pytest.raises(Refused, match=r"x\.db: .*not made by this program"):
        opening(tmp_path / "x.db")


def test_a_folder_without_permission_is_refused(tmp_path: Path, opening: Opening) -> None:
    (tmp_path / "file").write_text("")

    with pytest.raises(Refused, match="cannot be opened or written"):
        opening(tmp_path / "file" / "batch.store")
    with pytest.raises(Refused, match="cannot be opened or written"):
        opening(tmp_path)
    with pytest.raises(Refused, match="cannot be opened or written"):
        opening(tmp_path / "file" / "deeper" / "batch.store")


@pytest.mark.parametrize("where", ["mysql://a/b", "postgresql//://x:y:z", "sqlite://", "nonsense://x"])
def test_an_invalid_address_is_refused(where: str, opening: Opening) -> None:
    with pytest.raises(Refused, match="postgresql://user@host/name"):
        opening(where)


def test_a_server_that_does_not_answer_is_refused(tmp_path: Path, opening: Opening) -> None:
    with pytest.raises(Refused, match="server does not answer"):
        opening(f"postgresql://desk@/postgres?host={tmp_path}")


def test_a_file_created_by_another_bench_meanwhile_is_kept(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    file = tmp_path / "batch.store"
    file.write_text("theirs")
    monkeypatch.setattr(Path, "exists", lambda _self: False)
    engine.make_private_file(file)

    assert file.read_text() == "theirs"


def test_a_full_disk_is_reported_and_nothing_is_kept(tmp_path: Path, opening: Opening) -> None:
    store = opening(tmp_path / "batch.store")
    with_pieces(store)
    many = [order(str(number), buyer_note="x" * 500) for number in range(500)]

    def take_in_with_no_page_to_spare() -> None:
        with store.act("too much") as tx:
            tx.conn.exec_driver_sql("PRAGMA max_page_count = 1")  # SQLite then answers as it does on a full disk
            orders.save(tx, many)

    with pytest.raises(Refused, match="disk is full"):
        take_in_with_no_page_to_spare()
    assert store.revision == 1


def test_our_own_mistakes_are_not_reported_as_store_faults(store: Store) -> None:
    with_pieces(store)
    with pytest.raises(IntegrityError), store.act("twice") as tx:
        tx.insert(schema.answers, [{"piece_id": 1, "code": "a", "at": tx.now}] * 2)


def test_a_broken_file_is_reported(tmp_path: Path) -> None:
    with pytest.raises(Refused, match="cannot be used: odd"), engine.sentences_for_faults():
        raise sqlite3.DatabaseError("odd")


def test_opening_loads_migrations_only_if_needed(tmp_path: Path) -> None:
    code = (
        "import sys; from desk.domain.clock import SystemClock; from desk.store.store import open_store;"
        f"open_store({str(tmp_path / 'a.store')!r}, SystemClock()).close();"
        "sys.exit('alembic' in sys.modules or 'psycopg' in sys.modules)"
    )
    done = subprocess.run([sys.executable, "-c", code], check=False, env={**os.environ, "PYTHONPATH": str(Path.cwd())})
    assert done.returncode == 0


def test_the_history_of_a_piece_has_its_steps(store: Store) -> None:
    with_pieces(store, 3)
    for number in (2, 1, 2):
        with store.act(f"choose {number}") as tx:
            pieces.set_mailer(tx, [number], f"Box {store.revision}")

    with store.reading() as conn:
        assert [step.revision for step in journal.steps_of_piece(conn, 2)] == [4, 2, 1]
        assert [step.name for step in journal.steps_of_piece(conn, 2, limit=1)] == ["choose 2"]
        assert journal.steps_of_piece(conn, 9) == []
