"""Every test of the store runs on both databases."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from sqlalchemy import create_engine, text

from desk.store.store import Store, open_store
from tests.store import postgres
from tests.store.samples import TickingClock

Opening = Callable[..., Store]
_numbers = itertools.count()


@pytest.fixture(scope="session")
def server() -> Iterator[str]:
    programs = postgres.programs()
    if programs is None:
        postgres.give_up("no PostgreSQL server under /usr/lib/postgresql")
    assert programs is not None
    with postgres.running(programs) as address:
        yield address


@pytest.fixture
def postgres_where(server: str) -> Iterator[str]:
    """Return the address of a store in a separate schema for one test."""
    name = f"t{next(_numbers)}"
    engine = create_engine(server.replace("postgresql://", "postgresql+psycopg://"))
    with engine.begin() as conn:
        conn.execute(text(f"CREATE SCHEMA {name}"))
    yield f"{server}&options=-csearch_path%3D{name}"
    with engine.begin() as conn:
        conn.execute(text(f"DROP SCHEMA {name} CASCADE"))
    engine.dispose()


@pytest.fixture(params=["sqlite", "postgresql"])
def where(request: pytest.FixtureRequest, tmp_path: Path) -> str | Path:
    if request.param == "sqlite":
        return tmp_path / "shelf" / "batch.store"
    return str(request.getfixturevalue("postgres_where"))


@pytest.fixture
def opening() -> Iterator[Opening]:
    """Return `open_store`, closing every opened store when the test ends."""
    opened: list[Store] = []

    def open_it(where: str | Path, bench: str = "bench 1") -> Store:
        opened.append(open_store(where, TickingClock(), bench))
        return opened[-1]

    yield open_it
    for store in opened:
        store.close()


@pytest.fixture
def store(where: str | Path, opening: Opening) -> Store:
    return opening(where)
