"""The year for the accountant: a workbook with the months, stock on the last day, and what each column means."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

from desk.costs.workbook import BookColumn, BookSheet, write_workbook
from desk.domain.ledger import Entry, LedgerRow
from desk.session.money.books import BookLine, GroupBy, add_up

MONTHS = (
    BookColumn("Month", "The month in which the packages were mailed."),
    BookColumn("Currency", "Amounts in different currencies are never added."),
    BookColumn("Packages", "How many packages were mailed."),
    BookColumn("Shipping paid", "What buyers paid for shipping."),
    BookColumn("Postage, paid", "What postage really cost, where that was entered; with adjustments and refunds."),
    BookColumn("Postage, estimated", "What postage costs by the price list, where what was paid is not entered."),
    BookColumn("Stamps beyond the postage", "What stamps on packages were worth beyond the postage."),
    BookColumn(
        "Stamps bought at another price", "What stamps cost beyond what they count for. Below 0: bought cheaper."
    ),
    BookColumn("Materials", "Mailers, inserts and labels, from the price and count of a pack."),
    BookColumn("Refunds to buyers", "Shipping paid back to buyers."),
    BookColumn("Claims paid", "What the carrier paid for packages that were lost or damaged."),
    BookColumn("Margin", "Shipping paid and claims paid, less postage, materials and refunds."),
)
SPENT: Sequence[tuple[Entry, ...]] = (
    (Entry.POSTAGE_PAID, Entry.ADJUSTMENT, Entry.CARRIER_REFUND),
    (Entry.POSTAGE_ESTIMATED,),
    (Entry.STAMPS_OVER,),
    (Entry.STAMP_PRICE,),
    (Entry.MATERIALS,),
    (Entry.BUYER_REFUND,),
)
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


def write_year(
    rows: Sequence[LedgerRow],
    stock: BookSheet | None,
    file: Path,
    canceled: Callable[[], bool] = lambda: False,
) -> bool:
    """Write the workbook of these rows; return False, leaving no file, when it was canceled."""
    months = BookSheet("Months", MONTHS, [_month(line) for line in add_up(rows, GroupBy.MONTH)])
    pieces = BookSheet("Ledger", PIECES, [_piece(row) for row in rows])
    sheets = [months, *([stock] if stock else []), pieces]
    return write_workbook(file, sheets, canceled)


def _month(line: BookLine) -> list[object]:
    spent = [(-line.amount(*entries)).amount for entries in SPENT]
    return [
        line.group,
        line.currency,
        len(line.pieces),
        line.amount(Entry.SHIPPING_PAID).amount,
        *spent,
        line.amount(Entry.CLAIM_PAID).amount,
        line.margin.amount,
    ]


def _piece(row: LedgerRow) -> list[object]:
    return [
        row.mailed_on,
        row.reference,
        row.entry.value,
        row.amount.amount,
        row.amount.currency,
        row.service,
        row.country,
        row.state,
        row.why,
    ]
