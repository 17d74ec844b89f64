"""Work a bench has begun, on both databases: kept until it ends, apart from steps and from other benches."""

from __future__ import annotations

from desk.store import unfinished
from desk.store.store import Store
from tests.store.conftest import Opening


def begun(store: Store) -> dict[str, str]:
    with store.reading() as conn:
        return unfinished.begun(conn, store)


def test_unfinished_work_is_stored_until_it_ends(store: Store, where: str, opening: Opening) -> None:
    unfinished.begin(store, "printing", "12 labels")
    unfinished.begin(store, "importing", "fair.csv")
    unfinished.begin(store, "printing", "13 labels")
    assert begun(opening(where)) == {"printing": "13 labels", "importing": "fair.csv"}
    unfinished.end(store, "printing")
    assert begun(store) == {"importing": "fair.csv"}


def test_each_bench_has_its_own_unfinished_work(store: Store, where: str, opening: Opening) -> None:
    unfinished.begin(store, "printing", "12 labels")
    assert begun(opening(where, "bench 2")) == {}
    assert begun(opening(where, "bench%")) == {}


def test_starting_work_is_not_a_step(store: Store) -> None:
    before = store.revision
    unfinished.begin(store, "printing", "12 labels")
    assert store.revision == before


def test_a_bench_that_was_not_closed_counts_as_killed(store: Store) -> None:
    with store.reading() as conn:
        assert not unfinished.was_cut_off(conn, store.bench)
    with store.writing() as conn:
        conn.exec_driver_sql("INSERT INTO benches (name, seen_at) VALUES ('bench 1', '2026-07-15T12:00:00+00:00')")
    with store.reading() as conn:
        assert unfinished.was_cut_off(conn, "bench 1")
        assert not unfinished.was_cut_off(conn, "bench 2")


def test_an_unfinished_run_is_noted_with_its_files_for_every_bench(store: Store, where: str, opening: Opening) -> None:
    unfinished.begin_run(store, "fair.csv", "2026-07-15T12:00:00.000000Z")
    unfinished.begin_run(store, "fair.csv", "2026-07-15T13:00:00.000000Z")
    unfinished.begin_run(store, "web.csv, shop.csv", "2026-07-15T14:00:00.000000Z")

    def noted() -> dict[str, str]:
        with opening(where, "bench 2").reading() as conn:
            return unfinished.runs(conn)

    assert noted() == {
        "fair.csv": "2026-07-15T13:00:00.000000Z",
        "web.csv, shop.csv": "2026-07-15T14:00:00.000000Z",
    }
    assert begun(store) == {}
    unfinished.end_run(store, "fair.csv")
    assert [*noted()] == ["web.csv, shop.csv"]
