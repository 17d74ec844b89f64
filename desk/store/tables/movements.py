"""Movements of stamps, mailers and label rolls. A count is the sum of its movements; nothing is overwritten."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from sqlalchemy import Connection, case, func, select

from desk.domain.money import Money
from desk.domain.shop.stamp import StampKind, StampStock
from desk.store import schema
from desk.store.ranges import chunks
from desk.store.transaction import Transaction


class CountedKind(StrEnum):
    """What is counted."""

    STAMP = "stamp"
    MAILER = "mailer"
    LABEL = "label roll"


@dataclass(frozen=True, slots=True)
class Movement:
    """One change of a stock that is about no piece: below 0 when it left. `why` is one word."""

    kind: CountedKind
    name: str
    at: datetime
    change: int
    why: str


@dataclass(frozen=True, slots=True)
class UsedOnPiece:
    """How many of one kind are used on a piece, and when they were put on last."""

    kind: CountedKind
    name: str
    piece_id: int
    at: datetime
    count: int


def stamp_name(stamp: StampStock) -> str:
    """Return a stamp's name among movements: its kind, and for `face` stamps the printed value."""
    return f"{stamp.kind.value} {stamp.value.text()} {stamp.value.currency}" if stamp.value else stamp.kind.value


def stamp_named(name: str) -> StampStock:
    """Return the stamp with that name, with a count of 0. The inverse of `stamp_name`."""
    kind, _, value = name.partition(" ")
    amount, _, currency = value.partition(" ")
    return StampStock(StampKind(kind), 0, Money.of(amount, currency) if value else None)


def move(tx: Transaction, kind: CountedKind, counts: Mapping[str, int], why: str, piece_id: int | None = None) -> None:
    """Record changes by name, negative for use; `why` is one word such as `used`, `bought`, `counted`."""
    rows = [
        {"at": tx.now, "kind": kind.value, "name": name, "change": count, "why": why, "piece_id": piece_id}
        for name, count in counts.items()
        if count
    ]
    tx.insert(schema.movements, rows)


def recount(tx: Transaction, kind: CountedKind, counts: Mapping[str, int]) -> None:
    """Set the stock to a new count, by a movement of the difference."""
    there = on_hand(tx.conn, kind)
    move(tx, kind, {name: count - there.get(name, 0) for name, count in counts.items()}, "counted")


def on_hand(conn: Connection, kind: CountedKind) -> dict[str, int]:
    """Return the stock of each name; below zero when more was used than ever counted."""
    row = schema.movements.c
    wanted = select(row.name, func.sum(row.change)).where(row.kind == kind.value).group_by(row.name)
    return {name: int(total) for name, total in conn.execute(wanted.order_by(row.name))}


def not_on_pieces(conn: Connection) -> list[Movement]:
    """Return every movement that is about no piece, in the order written: purchases, counts, and what was spoiled."""
    row = schema.movements.c
    wanted = select(row.kind, row.name, row.at, row.change, row.why).where(row.piece_id.is_(None)).order_by(row.id)
    return [
        Movement(CountedKind(kind), name, datetime.fromisoformat(at), change, why)
        for kind, name, at, change, why in conn.execute(wanted)
    ]


def on_pieces(conn: Connection) -> list[UsedOnPiece]:
    """Return what was used on each piece, in the order of pieces. Stock returned by undo does not count."""
    row = schema.movements.c
    last = func.max(case((row.change < 0, row.at), else_=None))
    wanted = select(row.kind, row.name, row.piece_id, last, func.sum(row.change)).where(row.piece_id.is_not(None))
    wanted = wanted.group_by(row.kind, row.name, row.piece_id).having(func.sum(row.change) < 0)
    return [
        UsedOnPiece(CountedKind(kind), name, int(piece), datetime.fromisoformat(at), -int(total))
        for kind, name, piece, at, total in conn.execute(wanted.order_by(row.piece_id))
    ]


def used_on_what_left(conn: Connection, kind: CountedKind) -> dict[str, int]:
    """Return how many of each name were used on all pieces that were handed over."""
    row, piece = schema.movements.c, schema.pieces
    joined = schema.movements.join(piece, piece.c.id == row.piece_id)
    wanted = select(row.name, func.sum(row.change)).select_from(joined)
    wanted = wanted.where(row.kind == kind.value, piece.c.handed_over_at.is_not(None)).group_by(row.name)
    return {name: -int(total) for name, total in conn.execute(wanted)}


def used_by_piece(
    conn: Connection, kind: CountedKind, piece_ids: Iterable[int] | None = None
) -> dict[int, dict[str, int]]:
    """Return what was used on pieces, as positive counts: on all pieces, or on `piece_ids`.

    Stock returned by undo, or taken off again, does not count.
    """
    row = schema.movements.c
    wanted = select(row.piece_id, row.name, func.sum(row.change)).where(row.kind == kind.value)
    wanted = wanted.where(row.piece_id.is_not(None)).group_by(row.piece_id, row.name).order_by(row.piece_id, row.name)
    asked = [wanted] if piece_ids is None else [wanted.where(row.piece_id.in_(some)) for some in chunks(piece_ids)]
    used: dict[int, dict[str, int]] = defaultdict(dict)
    for question in asked:
        for piece_id, name, total in conn.execute(question):
            if total:
                used[piece_id][name] = -int(total)
    return dict(used)
