"""What was handed over, by day: the pieces, and their postage then."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime

from desk.domain.ledger import Entry, LedgerRow
from desk.domain.money import Money
from desk.session.sitting import Sitting
from desk.store.tables import hand_overs, ledger, pieces

POSTAGE = (Entry.POSTAGE_ESTIMATED, Entry.POSTAGE_PAID)


@dataclass(frozen=True, slots=True)
class DayThatLeft:
    """One mailing date: the postage of each piece handed over for it, by reference, None where unknown; and their ids."""

    day: date
    postage: Mapping[str, Money | None]
    pieces: tuple[int, ...] = ()


def days_that_left(sitting: Sitting, only: Collection[int] | None = None) -> tuple[DayThatLeft, ...]:
    """Return the days on which pieces were handed over, newest first, each with its pieces in import order.

    `only`: these pieces; None: all.
    The day is the mailing date a piece was entered with; the day it was handed over where nothing was entered.
    """
    with sitting.store.reading() as conn:
        at = hand_overs.left_at(conn, only)
        rows = _by_piece(ledger.of_pieces(conn, at))
        keys = {piece.id: piece.key for piece in pieces.some_pieces(conn, at)}
    days: dict[date, dict[str, Money | None]] = {}
    ids: dict[date, list[int]] = {}
    for number, moment in at.items():
        entered = rows.get(number, ())
        day = entered[-1].mailed_on if entered else datetime.fromisoformat(moment).astimezone().date()
        days.setdefault(day, {})[keys[number].reference] = _postage(entered)
        ids.setdefault(day, []).append(number)
    return tuple(DayThatLeft(day, days[day], tuple(ids[day])) for day in sorted(days, reverse=True))


def _by_piece(rows: Iterable[LedgerRow]) -> dict[int, list[LedgerRow]]:
    rows_of: dict[int, list[LedgerRow]] = {}
    for row in rows:
        if row.piece_id is not None:
            rows_of.setdefault(row.piece_id, []).append(row)
    return rows_of


def _postage(rows: Iterable[LedgerRow]) -> Money | None:
    """Return the postage of one piece, positive; reversed rows cancel out."""
    amounts = [row.amount for row in rows if row.entry in POSTAGE]
    return -sum(amounts[1:], amounts[0]) if amounts else None
