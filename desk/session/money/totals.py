"""The sums of the ledger as a table: one row a group and currency, with the same columns in every file."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from decimal import Decimal

from desk.costs.workbook import BookColumn
from desk.domain.ledger import Entry, GroupBy
from desk.session.money.books import BookLine, book_lines
from desk.session.sitting import Sitting

SUMS = (
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
TOTALED = (GroupBy.YEAR, GroupBy.MONTH, GroupBy.DAY, GroupBy.BATCH, GroupBy.COUNTRY, GroupBy.STATE, GroupBy.SERVICE)


def sum_cells(line: BookLine) -> list[str | int | Decimal]:
    """Return the cells of `SUMS` for a line. What was spent is positive."""
    spent = [(-line.amount(*entries)).amount for entries in SPENT]
    received = [line.amount(entry).amount for entry in (Entry.SHIPPING_PAID, Entry.CLAIM_PAID)]
    return [line.currency, line.packages, received[0], *spent, received[1], line.margin.amount]


def totals(sitting: Sitting, first: date | None = None, last: date | None = None) -> Iterator[tuple[GroupBy, BookLine]]:
    """Return the sums by year, month, day, batch, destination, state and service of what was mailed on these days."""
    with sitting.store.reading() as conn:
        for by in TOTALED:
            for line in book_lines(conn, by, first, last):
                yield by, line
