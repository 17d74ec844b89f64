"""Two benches on one store, on both databases: each learns of the other's steps and open piece within a second."""

from __future__ import annotations

import time
from collections.abc import Callable
from datetime import datetime, timedelta
from pathlib import Path

import pytest
from sqlalchemy import select

from desk.domain.changes import Changes
from desk.domain.faults import Refused
from desk.store import following, journal, schema
from desk.store.following import BenchNews, Follower
from desk.store.store import Store
from desk.store.tables import pieces
from desk.store.times import to_utc_text
from tests.store.samples import MONDAY, TickingClock, weighing, with_pieces

Opening = Callable[..., Store]


@pytest.fixture
def benches(where: str, opening: Opening) -> tuple[Store, Store]:
    one, two = opening(where, "bench 1"), opening(where, "bench 2")
    with_pieces(one, 3)
    return one, two


def heard(follower: Follower, until: Callable[[BenchNews], bool], seconds: float = 5) -> float:
    """Return the seconds until such news arrived."""
    began = time.monotonic()
    while time.monotonic() - began < seconds:
        news = follower.news()
        if news is not None and until(news):
            return time.monotonic() - began
    raise AssertionError("nothing was heard")


def test_a_step_of_the_other_bench_is_noticed_within_a_second(benches: tuple[Store, Store]) -> None:
    one, two = benches
    follower = Follower(two, TickingClock())
    follower.news()
    with one.act("weigh") as tx:
        pieces.record(tx, 2, weighing("1"))
    assert heard(follower, lambda news: news.changes == Changes(pieces=frozenset({2}))) < 2  # aim 1 s
    follower.leave()


def test_a_benchs_own_steps_are_not_reported_to_it(benches: tuple[Store, Store]) -> None:
    _, two = benches
    follower = Follower(two, TickingClock())
    with two.act("weigh") as tx:
        pieces.record(tx, 2, weighing("1"))
    assert [follower.news() for _ in range(3)] == [None, None, None]
    follower.leave()


def test_opening_and_closing_a_piece_at_the_other_bench_is_noticed(benches: tuple[Store, Store]) -> None:
    here, there = (Follower(store, TickingClock()) for store in benches)
    here.news()
    there.open_piece = 3

    def both(wanted: dict[str, int]) -> None:
        for _ in range(40):
            there.news()
            news = here.news()
            if news is not None and news.open_pieces == wanted:
                return
        raise AssertionError("nothing was heard")

    both({"bench 2": 3})
    there.open_piece = None
    both({})
    here.leave()
    there.leave()


def three_times(follower: Follower) -> None:
    for _ in range(3):
        follower.news()


def test_a_lost_server_is_reported_and_followed_again_later(
    postgres_where: str, opening: Opening, monkeypatch: pytest.MonkeyPatch
) -> None:
    from sqlalchemy import text

    one, two = opening(postgres_where, "bench 1"), opening(postgres_where, "bench 2")
    with_pieces(one, 2)
    follower = Follower(two, TickingClock())
    follower.news()
    with two.reading() as conn:
        pids = [conn.execute(text("SELECT pg_backend_pid()")).scalar_one(), follower._line._conn.info.backend_pid]
    with one.engine.connect() as conn:
        for pid in pids:
            conn.execute(text("SELECT pg_terminate_backend(:pid)"), {"pid": pid})
    with pytest.raises(Refused):
        three_times(follower)
    with one.act("weigh") as tx:
        pieces.record(tx, 1, weighing("1"))
    heard(follower, lambda news: 1 in news.changes.pieces)
    with two.act("and here, on a connection that broke") as tx:
        pieces.record(tx, 2, weighing("2"))
    follower.leave()


class FixedClock(TickingClock):
    """Return one moment of a day, which a test may change."""

    at = MONDAY

    def now(self) -> datetime:
        return self.at


@pytest.mark.parametrize(("seconds", "is_there"), [(60, True), (61, False)])
def test_a_bench_that_is_silent_for_over_a_minute_counts_as_closed(
    tmp_path: Path, opening: Opening, seconds: int, is_there: bool
) -> None:
    one, two = opening(tmp_path / "a.store", "bench 1"), opening(tmp_path / "a.store", "bench 2")
    with_pieces(one, 1)
    clock = FixedClock()
    follower = Follower(two, clock)
    follower.news()
    with one.writing() as conn:
        journal.put_bench(conn, "bench 1", 1, to_utc_text(MONDAY))
    clock.at = MONDAY + timedelta(seconds=seconds)
    news = follower.news()
    assert (news.open_pieces if news else {}) == ({"bench 1": 1} if is_there else {})
    follower.leave()


@pytest.mark.parametrize(("seconds", "is_seen_again"), [(19.9, False), (20, True)])
def test_a_bench_reports_itself_every_twenty_seconds(
    tmp_path: Path, opening: Opening, monkeypatch: pytest.MonkeyPatch, seconds: float, is_seen_again: bool
) -> None:
    store = opening(tmp_path / "a.store")
    clock, elapsed = FixedClock(), 100.0
    monkeypatch.setattr(following.time, "monotonic", lambda: elapsed)
    follower = Follower(store, clock)
    follower._greet()
    elapsed, clock.at = 100.0 + seconds, MONDAY + timedelta(hours=1)
    follower._greet()
    with store.reading() as conn:
        seen = conn.execute(select(schema.benches.c.seen_at)).scalar_one()
    assert (seen == to_utc_text(clock.at)) is is_seen_again
    follower.leave()
