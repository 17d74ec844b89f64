"""The year for the accountant: a workbook with the months, stock on the last day, and what each column means."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from pathlib import Path

from desk.costs.workbook import BookColumn, BookSheet, write_workbook
from desk.domain.ledger import GroupBy, LedgerRow
from desk.session.money.books import book_lines
from desk.session.money.totals import SUMS, sum_cells, totals
from desk.session.sitting import Sitting
from desk.session.words.services import service_words
from desk.store.tables import ledger

PIECES = (
    BookColumn("Mailed on", "The mailing date."),
    BookColumn("Package", "Order number and number of the package."),
    BookColumn("Entry", "What the amount is."),
    BookColumn("Amount", "Above zero: came in. Below: was spent."),
    BookColumn("Currency", "ISO 4217 code."),
    BookColumn("Service", "How it was mailed."),
    BookColumn("Country", "ISO 3166 code."),
    BookColumn("State", "Domestic mail only."),
    BookColumn("Why", "The reason, for corrections."),
)
MONTH = BookColumn("Month", "The month in which the packages were mailed. Later claims and refunds count in it too.")
BY = (
    BookColumn("By", "What the sums of this row are grouped by. Each grouping adds up to the same total."),
    BookColumn("Group", "The day, batch, destination or service. A batch is named by the time of its hand-over (UTC)."),
)
Progress = Callable[[int, int], None]


def write_year(
    sitting: Sitting,
    year: int,
    stock: BookSheet | None,
    file: Path,
    progress: Progress = lambda _done, _of: None,
    canceled: Callable[[], bool] = lambda: False,
) -> bool:
    """Write the workbook of a year; return False, leaving no file, when it was canceled. OSError when it can't."""
    first, last = date(year, 1, 1), date(year, 12, 31)
    with sitting.store.reading() as conn:
        by_month = book_lines(conn, GroupBy.MONTH, first, last)
        rows = ledger.rows(conn, first, last)
    months = BookSheet("Months", (MONTH, *SUMS), [[line.group, *sum_cells(line)] for line in by_month])
    others = [[by.value, _group(by, line.group), *sum_cells(line)] for by, line in totals(sitting, first, last)]
    sheets = [months, *([stock] if stock else []), BookSheet("Totals", (*BY, *SUMS), others)]
    pieces = BookSheet("Ledger", PIECES, [_piece(row) for row in rows])
    return write_workbook(file, [*sheets, pieces], progress, canceled)


def _group(by: GroupBy, group: str) -> str:
    return service_words(group) if by is GroupBy.SERVICE else group


def _piece(row: LedgerRow) -> list[object]:
    return [
        row.mailed_on,
        row.reference,
        row.entry.value,
        row.amount.amount,
        row.amount.currency,
        service_words(row.service),
        row.country,
        row.state,
        row.why,
    ]
