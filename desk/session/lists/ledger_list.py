"""The ledger and its sums as CSV, in the window and headless: every amount a row, corrections as rows of their own."""

from __future__ import annotations

from collections.abc import Callable, Collection
from dataclasses import replace
from datetime import date
from pathlib import Path

from desk.domain.ledger import Entry, LedgerRow
from desk.domain.status import PieceStatus
from desk.domain.whole_file import write_whole
from desk.session.contents.tables import Cell, table_bytes
from desk.session.money.books import read_books
from desk.session.money.entries import entries_of, not_reversed
from desk.session.money.totals import sum_cells, totals
from desk.session.sitting import Sitting
from desk.session.verdict.money import refund_due
from desk.session.verdict.verdict import Verdict
from desk.store.tables import ledger, pieces

COLUMNS = "mailed_on order reference entry amount currency service zone price_list country state why".split()
TOTAL_COLUMNS = (
    "by group currency packages shipping_paid postage_paid postage_estimated stamps_over stamp_price materials refunds "
    "claims margin"
).split()
BATCH_COLUMNS = (*COLUMNS, "handed_over")
STAYING = PieceStatus.CANCELED, PieceStatus.SET_ASIDE
UNDECIDED = "not decided yet: owed only if you use stamps"
STEP = 5000  # rows between two reports
Progress = Callable[[int, int], None]


def batch_ledger(sitting: Sitting, verdicts: Collection[Verdict]) -> list[list[Cell]]:
    """Return the ledger of these pieces: the rows entered at hand-over, or the rows a priced piece would get now.

    A canceled piece, or one set aside, would get rows only once its postage was bought. Until its paid amount is known,
    and without stamps that cost more or less than the postage, the rows of a piece add up to its margin in pieces.csv.
    """
    with sitting.store.reading() as conn:
        stored = {piece.key: piece for piece in pieces.all_pieces(conn)}
        ids = {key: piece.id for key, piece in stored.items()}
        entered = not_reversed(ledger.of_pieces(conn, [ids[verdict.case.key] for verdict in verdicts]))
    known = {row.piece_id for row in entered}
    rows = [[*ledger_cells(row), "yes"] for row in entered]
    for verdict in verdicts:
        if verdict.status in STAYING and not verdict.case.is_paid:
            continue
        piece = stored[verdict.case.key]
        if piece.id not in known:
            coming = [
                *entries_of(verdict, piece.id, sitting.on, piece.paid),
                *_undecided(verdict, piece.id, sitting.on),
            ]
            rows += [[*ledger_cells(row), "no"] for row in coming if row.amount]
    return rows


def _undecided(verdict: Verdict, piece_id: int, on: date) -> list[LedgerRow]:
    """Return the refund a buyer asked for with stamps, while it is not decided yet."""
    if verdict.money is None:
        return []
    asked = verdict.money.refund - refund_due(verdict)
    refunds = (row for row in entries_of(verdict, piece_id, on) if row.entry is Entry.BUYER_REFUND)
    return [replace(row, amount=-asked, why=UNDECIDED) for row in refunds]


def total_rows(sitting: Sitting, first: date | None = None, last: date | None = None) -> list[list[Cell]]:
    """Return the cells of totals.csv: sums by year, month, day, batch, destination, state and service."""
    return [[by.value, line.group, *sum_cells(line)] for by, line in totals(sitting, first, last)]


def save_ledger(
    sitting: Sitting,
    span: tuple[date, date],
    file: Path,
    progress: Progress = lambda _done, _of: None,
    canceled: Callable[[], bool] = lambda: False,
) -> bool:
    """Save the ledger of these days, both included; return False, leaving no file, when it was canceled.

    OSError when it can't be written.
    """
    cells: list[list[Cell]] = []
    rows = read_books(sitting, *span)
    for number, row in enumerate(rows):
        if number % STEP == 0:
            if canceled():
                return False
            progress(number, len(rows))
        cells.append(ledger_cells(row))
    write_whole(file, table_bytes(COLUMNS, cells))
    return True


def save_totals(
    sitting: Sitting, span: tuple[date, date], file: Path, canceled: Callable[[], bool] = lambda: False
) -> bool:
    """Save the sums of these days, both included; return False, leaving no file, when it was canceled.

    OSError when they can't be written.
    """
    table = table_bytes(TOTAL_COLUMNS, total_rows(sitting, *span))
    if canceled():
        return False
    write_whole(file, table)
    return True


def ledger_cells(row: LedgerRow) -> list[Cell]:
    """Return one row of ledger.csv: above zero came in, below was spent."""
    return [
        row.mailed_on.isoformat(),
        row.order,
        row.reference,
        row.entry.value,
        row.amount.amount,
        row.amount.currency,
        row.service,
        row.zone,
        row.price_list,
        row.country,
        row.state,
        row.why,
    ]
