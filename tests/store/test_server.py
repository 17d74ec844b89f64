"""A server that falls silent in a step: the step is refused after a while, and done once it is back."""

from __future__ import annotations

import time
from collections.abc import Generator, Iterator
from datetime import UTC, datetime

import psycopg
import pytest
from psycopg.waiting import Ready, Wait
from sqlalchemy import create_engine
from sqlalchemy.exc import DBAPIError

from desk.domain.faults import Refused
from desk.store.engine import NO_ANSWER
from desk.store.server import ServerConnection, unhurried
from desk.store.store import open_store
from desk.store.tables import pieces
from tests.conftest import StillClock
from tests.store.hanging import Hanging


@pytest.fixture
def server_hangs(postgres_where: str, monkeypatch: pytest.MonkeyPatch) -> Iterator[Hanging]:
    monkeypatch.setattr(ServerConnection, "patience", 1.0)  # 5 in the program
    monkeypatch.setattr(ServerConnection, "silent_at", float("-inf"))
    hanging = Hanging(postgres_where)
    yield hanging
    hanging.go_on()


def test_a_step_is_refused_while_the_server_is_silent_and_done_when_it_is_back(server_hangs: Hanging) -> None:
    store = open_store(server_hangs.where, StillClock(datetime(2026, 7, 15, tzinfo=UTC)), "one")

    def read() -> None:
        with store.act("Tried") as tx:
            server_hangs.hang()
            pieces.all_pieces(tx.conn)

    with pytest.raises(Refused, match=NO_ANSWER):
        read()
    assert store.is_unsure
    with pytest.raises(Refused):
        store.ask_again()
    assert store.is_unsure
    server_hangs.go_on()
    time.sleep(1.1)
    store.ask_again()
    assert not store.is_unsure
    store.close()


@pytest.mark.parametrize(("is_answered", "is_silent"), [(True, False), (False, True)])
def test_only_a_finished_exchange_shows_that_the_server_answers(
    is_answered: bool, is_silent: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A connection closed by the server can be read too: its end of file."""
    monkeypatch.setattr(ServerConnection, "silent_at", 7.0)

    def exchange() -> Generator[Wait, Ready, None]:
        yield Wait.R
        if not is_answered:
            raise psycopg.OperationalError("the connection is closed")

    watched = ServerConnection._watched(object.__new__(ServerConnection), exchange())
    next(watched)
    with pytest.raises(StopIteration if is_answered else psycopg.OperationalError):
        watched.send(Ready.R)
    assert (ServerConnection.silent_at == 7.0) is is_silent


def test_long_work_is_not_cut_off(server_hangs: Hanging) -> None:
    store = open_store(server_hangs.where, StillClock(datetime(2026, 7, 15, tzinfo=UTC)), "one")
    with store.engine.connect() as conn:
        with unhurried(conn):
            conn.exec_driver_sql("SELECT pg_sleep(1.5)")
        with pytest.raises(DBAPIError, match="does not answer"):
            conn.exec_driver_sql("SELECT pg_sleep(1.5)")
    store.close()


def test_a_connection_that_times_out_while_painting_is_closed(
    postgres_where: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    store = open_store(postgres_where, StillClock(datetime(2026, 7, 15, tzinfo=UTC)), "one")
    monkeypatch.setattr(ServerConnection, "meanwhile", lambda: None)
    monkeypatch.setattr(ServerConnection, "is_painting", True)
    with store.engine.connect() as conn:
        driver = conn.connection.driver_connection
        with pytest.raises(DBAPIError, match="does not answer"):
            conn.exec_driver_sql("SELECT pg_sleep(0.6)")
    assert driver is not None
    assert driver.closed
    with store.engine.connect() as conn:
        assert conn.exec_driver_sql("SELECT 1").scalar_one() == 1
    store.close()


@pytest.mark.parametrize("encoding", ["SQL_ASCII", "LATIN1"])
def test_a_database_in_another_encoding_is_refused_with_a_sentence(server: str, encoding: str) -> None:
    engine = create_engine(server.replace("postgresql://", "postgresql+psycopg://"), isolation_level="AUTOCOMMIT")
    name = encoding.lower()
    with engine.connect() as conn:
        conn.exec_driver_sql(
            f"CREATE DATABASE {name} ENCODING '{encoding}' LC_COLLATE 'C' LC_CTYPE 'C' TEMPLATE template0"
        )
    engine.dispose()
    with pytest.raises(Refused, match=r"Make one in UTF-8 \(createdb -E UTF8\)"):
        open_store(server.replace("/postgres?", f"/{name}?"), StillClock(datetime(2026, 7, 15, tzinfo=UTC)), "one")
