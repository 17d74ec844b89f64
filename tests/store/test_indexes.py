"""What is asked at every selection finds its rows by an index, however long the store is (SQLite's own query plans)."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from sqlalchemy import Connection, event

from desk.store import journal
from desk.store.store import open_store
from desk.store.tables import ledger, movements, orders, papers, pieces, weighings
from tests.store.samples import TickingClock


def plans(conn: Connection, read: Callable[[Connection], object]) -> list[str]:
    """Return how SQLite answers each statement that `read` executes."""
    asked = []

    def note(_conn, _cursor, statement, parameters, _context, _many):
        asked.append((statement, parameters))

    event.listen(conn, "before_cursor_execute", note)
    read(conn)
    event.remove(conn, "before_cursor_execute", note)
    return [
        row[3]
        for statement, parameters in asked
        for row in conn.exec_driver_sql(f"EXPLAIN QUERY PLAN {statement}", parameters)
    ]


@pytest.mark.parametrize(
    "read",
    [
        pytest.param(lambda conn: journal.steps_of_piece(conn, 7), id="the history of a piece"),
        pytest.param(lambda conn: pieces.inside(conn, [7]), id="pieces packed into one"),
        pytest.param(lambda conn: pieces.of_orders(conn, [7]), id="pieces of an order"),
        pytest.param(lambda conn: pieces.some_pieces(conn, [7]), id="a piece with its weighing and answers"),
        pytest.param(lambda conn: weighings.of_piece(conn, 7), id="weighings of a piece"),
        pytest.param(
            lambda conn: movements.used_by_piece(conn, movements.CountedKind.STAMP, [7]), id="stamps of a piece"
        ),
        pytest.param(lambda conn: papers.all_papers(conn, 7), id="papers of a piece"),
        pytest.param(lambda conn: ledger.of_pieces(conn, [7]), id="payments of a piece"),
        pytest.param(lambda conn: journal.next_undo(conn, "bench 1"), id="the step to undo"),
    ],
)
def test_rows_of_one_piece_are_found_by_an_index(tmp_path: Path, read: Callable[[Connection], object]) -> None:
    store = open_store(tmp_path / "batch.store", TickingClock())
    with store.reading() as conn:
        found = plans(conn, read)
    store.close()
    assert found
    assert [step for step in found if step.startswith("SCAN") and "CONSTANT ROW" not in step] == []


def test_reading_a_whole_table_is_detected_as_a_scan(tmp_path: Path) -> None:
    store = open_store(tmp_path / "batch.store", TickingClock())
    with store.reading() as conn:
        assert [step for step in plans(conn, orders.check_all) if step.startswith("SCAN")]
    store.close()
