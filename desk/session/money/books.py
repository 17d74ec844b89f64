"""Sums of the ledger: by piece, day, month, year, place or service. Currencies are never added together."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date
from enum import StrEnum

from desk.domain.ledger import POSTAGE, Entry, LedgerRow
from desk.domain.money import Money
from desk.session.sitting import Sitting
from desk.store.tables import ledger


class GroupBy(StrEnum):
    """What to group the sums by."""

    DAY = "day"
    MONTH = "month"
    YEAR = "year"
    COUNTRY = "country"
    STATE = "state"
    SERVICE = "service"


_KEYS: Mapping[GroupBy, Callable[[LedgerRow], str]] = {
    GroupBy.DAY: lambda row: row.mailed_on.isoformat(),
    GroupBy.MONTH: lambda row: row.mailed_on.isoformat()[:7],
    GroupBy.YEAR: lambda row: row.mailed_on.isoformat()[:4],
    GroupBy.COUNTRY: lambda row: row.country,
    GroupBy.STATE: lambda row: row.state,
    GroupBy.SERVICE: lambda row: row.service,
}


@dataclass(slots=True)
class BookLine:
    """The sums of one group in one currency, by entry, in minor units; and its number of pieces."""

    group: str
    currency: str
    sums: dict[Entry, int] = field(default_factory=lambda: defaultdict(int))
    pieces: set[int] = field(default_factory=set)

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


def add_up(rows: Iterable[LedgerRow], by: GroupBy) -> list[BookLine]:
    """Return the sums by group and currency, in group order."""
    lines: dict[tuple[str, str], BookLine] = {}
    key_of = _KEYS[by]
    for row in rows:
        group, currency = key_of(row), row.amount.currency
        line = lines.get((group, currency))
        if line is None:
            line = lines[group, currency] = BookLine(group, currency)
        line.sums[row.entry] += row.amount.minor
        line.pieces.add(row.piece_id)
    return [lines[key] for key in sorted(lines)]


def read_books(sitting: Sitting, first: date | None = None, last: date | None = None) -> list[LedgerRow]:
    """Return the rows of the ledger mailed on these days, both included."""
    with sitting.store.reading() as conn:
        return ledger.rows(conn, first, last)
