"""The ledger keeps every amount, answers undo with opposite amounts, and sums months quickly."""

from __future__ import annotations

from datetime import date

from desk.domain.ledger import Entry, LedgerRow
from desk.domain.money import Money
from desk.store import schema, undo
from desk.store.store import Store
from desk.store.tables import ledger


def row(piece_id: int = 7, cents: int = -720, on: date = date(2026, 11, 28), **fields) -> LedgerRow:
    plain = {"entry": Entry.POSTAGE_ESTIMATED, "order": "1001", "reference": "1001-1", "country": "US", "state": "OR"}
    return LedgerRow(amount=Money(cents), mailed_on=on, piece_id=piece_id, **(plain | fields))


def add(store: Store, *rows: LedgerRow) -> None:
    with store.act("enter") as tx:
        ledger.add(tx, rows)


def test_rows_are_read_back_as_written(store: Store) -> None:
    written = [row(), row(8, 500, entry=Entry.SHIPPING_PAID, why="from the order")]
    add(store, *written)
    with store.reading() as conn:
        assert ledger.rows(conn) == written
        assert ledger.of_pieces(conn, [8]) == written[1:]


def test_amounts_of_zero_are_left_out(store: Store) -> None:
    add(store, row(cents=0))
    with store.reading() as conn:
        assert ledger.rows(conn) == []


def test_days_are_included_on_both_ends(store: Store) -> None:
    days = [date(2026, 11, number) for number in (1, 2, 3, 4)]
    add(store, *(row(on=day) for day in days))
    with store.reading() as conn:
        assert [found.mailed_on for found in ledger.rows(conn, days[1], days[2])] == days[1:3]


def test_undo_restores_the_sums_to_the_cent_and_redo_too(store: Store) -> None:
    add(store, row(), row(8, 500))
    undo.undo(store)
    with store.reading() as conn:
        assert sum(one.amount.minor for one in ledger.rows(conn)) == 0
    undo.redo(store)
    with store.reading() as conn:
        assert sum(one.amount.minor for one in ledger.rows(conn)) == -220


def test_ledger_rows_are_never_changed() -> None:
    assert "ledger" in schema.APPEND_ONLY
