"""The year for the accountant: a workbook with every month, the stock on the last day, and what each column means."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

from desk.costs.workbook import Column, Sheet, write_workbook
from desk.domain.ledger import Entry, LedgerRow
from desk.session.money.books import BookLine, GroupBy, add_up

MONTHS = (
    Column("Month", "The month in which the packages were mailed."),
    Column("Currency", "Amounts in different currencies are never added."),
    Column("Packages", "How many packages were mailed."),
    Column("Shipping paid", "What buyers paid for shipping."),
    Column("Postage, paid", "What postage really cost, where that was entered; with adjustments and refunds."),
    Column("Postage, estimated", "What postage costs by the price list, where what was paid is not entered."),
    Column("Stamps beyond the postage", "What stamps on packages were worth beyond the postage."),
    Column("Materials", "Mailers, inserts and labels, from the price and count of a pack."),
    Column("Refunds to buyers", "Shipping paid back to buyers."),
    Column("Margin", "Shipping paid, less postage, materials and refunds."),
)
SPENT: Sequence[tuple[Entry, ...]] = (
    (Entry.POSTAGE_PAID, Entry.ADJUSTMENT, Entry.CARRIER_REFUND),
    (Entry.POSTAGE_ESTIMATED,),
    (Entry.STAMPS_OVER,),
    (Entry.MATERIALS,),
    (Entry.BUYER_REFUND,),
)
PIECES = (
    Column("Mailed on", "The mailing date."),
    Column("Package", "Order number and number of the package."),
    Column("Entry", "What the amount is."),
    Column("Amount", "Above zero: came in. Below: was spent."),
    Column("Currency", "ISO 4217 code."),
    Column("Service", "How it was mailed."),
    Column("Country", "ISO 3166 code."),
    Column("State", "At home only."),
    Column("Why", "The reason, for corrections."),
)


def write_year(
    rows: Sequence[LedgerRow],
    stock: Sheet | None,
    file: Path,
    cancelled: Callable[[], bool] = lambda: False,
) -> bool:
    """Write the workbook of these rows; False when it was cancelled, and then no file is left."""
    months = Sheet("Months", MONTHS, [_month(line) for line in add_up(rows, GroupBy.MONTH)])
    pieces = Sheet("Ledger", PIECES, [_piece(row) for row in rows])
    sheets = [months, *([stock] if stock else []), pieces]
    return write_workbook(file, sheets, cancelled)


def _month(line: BookLine) -> list[object]:
    spent = [(-line.amount(*entries)).amount for entries in SPENT]
    return [
        line.group,
        line.currency,
        len(line.pieces),
        line.amount(Entry.SHIPPING_PAID).amount,
        *spent,
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
