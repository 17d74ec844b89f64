"""Sums of the ledger: by batch, day, month, year, destination, service or package. Currencies are never added."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, field
from datetime import date

from desk.domain.ledger import POSTAGE, Entry, GroupBy, LedgerRow
from desk.domain.money import Money
from desk.session.sitting import Sitting
from desk.store.tables import ledger, ledger_sums
from desk.store.tables.orders import StoreView


@dataclass(slots=True)
class BookLine:
    """The sums of one group in one currency, by entry, in minor units; and its number of packages."""

    group: str
    currency: str
    packages: int = 0
    sums: dict[Entry, int] = field(default_factory=lambda: defaultdict(int))

    def amount(self, *entries: Entry) -> Money:
        """Return the sum of these entries: positive for money received."""
        return Money(sum(self.sums.get(entry, 0) for entry in entries), self.currency)

    @property
    def postage(self) -> Money:
        """The cost of postage, positive: what was paid where known, else the estimate."""
        return -self.amount(*POSTAGE)

    @property
    def is_estimated(self) -> bool:
        """True when some of the postage is an estimate."""
        return bool(self.sums.get(Entry.POSTAGE_ESTIMATED, 0))

    @property
    def margin(self) -> Money:
        """Money received minus money spent."""
        return self.amount(*Entry)


def book_lines(conn: StoreView, by: GroupBy, first: date | None = None, last: date | None = None) -> list[BookLine]:
    """Return the sums by group and currency of rows mailed on these days, both included, in group order.

    A group in which everything was undone is left out.
    """
    lines: dict[tuple[str, str], BookLine] = {}
    for one in ledger_sums.sums(conn, by, first, last):
        line = lines.setdefault((one.group, one.currency), BookLine(one.group, one.currency))
        line.sums[one.entry] = one.minor
    for key, count in ledger_sums.packages(conn, by, first, last).items():
        lines[key].packages = count
    return [line for line in lines.values() if line.packages or any(line.sums.values())]


def read_sums(sitting: Sitting, by: GroupBy, first: date | None = None, last: date | None = None) -> list[BookLine]:
    """Return the sums by group and currency of what was mailed on these days, both included."""
    with sitting.store.reading() as conn:
        return book_lines(conn, by, first, last)


def years_with_money(sitting: Sitting) -> list[int]:
    """Return the years in which something was mailed, newest first."""
    with sitting.store.reading() as conn:
        return ledger_sums.years(conn)


def read_books(sitting: Sitting, first: date | None = None, last: date | None = None) -> list[LedgerRow]:
    """Return the rows of the ledger mailed on these days, both included."""
    with sitting.store.reading() as conn:
        return ledger.rows(conn, first, last)
