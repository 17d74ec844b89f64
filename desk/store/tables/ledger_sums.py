"""Sums of the ledger, added up by the database: whole cents by group, currency and entry."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date

from sqlalchemy import ColumnElement, Connection, FromClause, and_, case, func, literal_column, select

from desk.domain.ledger import PAID, REPLACED, Entry, GroupBy
from desk.store import schema

_ROW = schema.ledger.c


def _beginning(characters: int) -> ColumnElement[str]:
    """Return the first characters of a mailing date; written into the SQL, since a server can't group by parameters."""
    return func.substr(_ROW.mailed_on, literal_column("1"), literal_column(str(characters)))


_KEYS: Mapping[GroupBy, ColumnElement[str]] = {
    GroupBy.DAY: _ROW.mailed_on,
    GroupBy.BATCH: schema.pieces.c.handed_over_at,
    GroupBy.MONTH: _beginning(7),
    GroupBy.YEAR: _beginning(4),
    GroupBy.COUNTRY: _ROW.country,
    GroupBy.STATE: _ROW.state,
    GroupBy.SERVICE: _ROW.service,
    GroupBy.ORDER: _ROW.order_number,
    GroupBy.PACKAGE: _ROW.reference,
}


@dataclass(frozen=True, slots=True)
class LedgerSum:
    """The sum of one entry in one group and currency, in minor units: above zero if earned, below if spent."""

    group: str
    currency: str
    entry: Entry
    minor: int


def sums(conn: Connection, by: GroupBy, first: date | None = None, last: date | None = None) -> list[LedgerSum]:
    """Return the sums of rows mailed from `first` to `last`, both included, in the order of groups.

    A batch is named by the UTC text of its hand-over; its name is empty for pieces whose hand-over was undone.
    """
    key = _KEYS[by].label("grouped")
    wanted = select(key, _ROW.currency, _ROW.entry, func.sum(_ROW.amount_minor)).select_from(_source(by))
    wanted = wanted.where(*_days(first, last)).group_by(key, _ROW.currency, _ROW.entry)
    groups = [
        LedgerSum(group or "", currency, Entry(entry), int(minor))
        for group, currency, entry, minor in conn.execute(wanted)
    ]
    return sorted(groups, key=lambda one: (one.group, one.currency))


def packages(
    conn: Connection, by: GroupBy, first: date | None = None, last: date | None = None
) -> dict[tuple[str, str], int]:
    """Return how many packages have postage, by group and currency. A hand-over that was undone does not count."""
    key = _KEYS[by].label("grouped")
    sent = Entry.POSTAGE_ESTIMATED.value, Entry.POSTAGE_PAID.value
    each = select(key, _ROW.currency, _ROW.piece_id).select_from(_source(by))
    each = each.where(_ROW.entry.in_(sent), *_days(first, last)).group_by(key, _ROW.currency, _ROW.piece_id)
    one = each.having(func.sum(_ROW.amount_minor) != 0).subquery()
    counted = select(one.c.grouped, one.c.currency, func.count()).group_by(one.c.grouped, one.c.currency)
    return {(group or "", currency): int(count) for group, currency, count in conn.execute(counted)}


def years(conn: Connection) -> list[int]:
    """Return the years with rows, newest first."""
    year = _KEYS[GroupBy.YEAR].label("grouped")
    return sorted((int(text) for text in conn.execute(select(year).group_by(year)).scalars()), reverse=True)


def _source(by: GroupBy) -> FromClause:
    pieces = schema.pieces
    joined = schema.ledger.outerjoin(pieces, pieces.c.id == _ROW.piece_id)
    return joined if by is GroupBy.BATCH else schema.ledger


def _days(first: date | None, last: date | None) -> Iterator[ColumnElement[bool]]:
    if first is not None:
        yield _ROW.mailed_on >= first.isoformat()
    if last is not None:
        yield _ROW.mailed_on <= last.isoformat()


@dataclass(frozen=True, slots=True)
class PaidAgainst:
    """One piece with both amounts, positive, in minor units: its estimate at the hand-over, and what it cost in the end."""

    piece_id: int
    service: str
    currency: str
    estimated: int
    paid: int


def paid_against_estimated(conn: Connection, first: date | None = None, last: date | None = None) -> list[PaidAgainst]:
    """Return the pieces whose paid postage was entered, with later adjustments and refunds of the carrier.

    The estimate of a hand-over that was undone does not count.
    """
    minor, entry = _ROW.amount_minor, _ROW.entry
    was_estimated = and_(entry == Entry.POSTAGE_ESTIMATED.value, _ROW.why != REPLACED)
    estimated = func.sum(case((was_estimated, -minor), else_=0))
    paid = func.sum(case((entry.in_([one.value for one in PAID]), -minor), else_=0))
    bought = func.sum(case((entry == Entry.POSTAGE_PAID.value, -minor), else_=0))
    wanted = select(_ROW.piece_id, _ROW.service, _ROW.currency, estimated, paid).where(*_days(first, last))
    wanted = wanted.group_by(_ROW.piece_id, _ROW.service, _ROW.currency).having(estimated > 0, bought > 0)
    return [
        PaidAgainst(int(piece), service, currency, int(due), int(cost))
        for piece, service, currency, due, cost in conn.execute(wanted.order_by(_ROW.piece_id))
    ]
