"""Pieces: what goes on the scale, the weighing in use, and what was decided about each."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any  # rows and statements of SQLAlchemy

from sqlalchemy import Connection, Row, func, select

from desk.domain.faults import Refused
from desk.domain.money import Money
from desk.domain.orders.packages import Packing
from desk.domain.orders.piece import PieceKey, Weighing
from desk.domain.status import BESIDE_THE_LINE, PieceStatus, is_paid_for
from desk.store import schema
from desk.store.ranges import chunks
from desk.store.records import from_text, to_text
from desk.store.tables import answers, weighings
from desk.store.tables.piece_queries import answers_and_pieces, how_many, ids_in_orders, newest_orders
from desk.store.times import from_utc_text, to_utc_text
from desk.store.transaction import Row as RowValues
from desk.store.transaction import Transaction


@dataclass(frozen=True, slots=True)
class StoredPiece:
    """A stored piece. `answered` are the codes of issues checked; an empty override means no choice was made.

    `together_with` is the piece it is packed into; then it is not weighed on its own.
    """

    id: int
    key: PieceKey
    order_id: int
    version: int
    weighing: Weighing | None
    weighing_id: int | None
    weighed_at: datetime | None
    answered: frozenset[str]
    beside: PieceStatus | None
    service_override: str
    mailer_override: str
    postage_on_at: datetime | None
    handed_over_at: datetime | None
    tracking: str
    paid: Money | None
    together_with: int | None = None
    aside_reason: str = ""
    packing: Packing = ()  # items in it, when its order ships in several packages
    extras: tuple[str, ...] = ()  # codes of what is bought with it besides postage
    bought_as: str = ""  # the service as the list of paid amounts names it

    @property
    def postage_on(self) -> bool:
        """Return True when stamps were confirmed on, it was metered, or a paid label was matched."""
        return self.postage_on_at is not None

    @property
    def handed_over(self) -> bool:
        """Return True when it has gone to the post."""
        return self.handed_over_at is not None

    @property
    def is_paid(self) -> bool:
        """Return True when its postage is on or it has left; see `refuse_paid`."""
        return is_paid_for(postage_on=self.postage_on, handed_over=self.handed_over)


@dataclass(frozen=True, slots=True)
class Recorded:
    """The result of recording many weighings, as piece ids: first weighings, replaced ones, and unchanged ones.

    `kept` are paid pieces that got another weighing: they keep the one they have.
    """

    new: tuple[int, ...] = ()
    same: int = 0
    changed: tuple[int, ...] = ()
    kept: tuple[int, ...] = ()


def refuse_paid(conn: Connection, chosen: Iterable[StoredPiece], what: str) -> None:
    """Refuse to change `what` (weight, mailer, size, service, contents) of a paid piece.

    The only guard of that rule: every function here that writes one of these columns calls it.
    """
    for piece in chosen:
        if piece.is_paid:
            raise Refused(
                f"{number_of(conn, piece)} already has its postage on, so its {what} can't change. Take the postage off first."
            )


def ensure_pieces(tx: Transaction, keys: Iterable[PieceKey]) -> dict[PieceKey, int]:
    """Return the ids of these pieces, creating missing ones. Keys of unknown orders are left out.

    If two sources share an order number, the order imported last is meant. A piece packed into another gives the
    id of that other piece, which gets what is recorded.
    """
    wanted = list(dict.fromkeys(keys))
    order_ids = _order_ids(tx.conn, {key.order for key in wanted})
    known = _piece_ids(tx.conn, order_ids.values(), as_weighed=True)
    missing = [key for key in wanted if key.order in order_ids and (order_ids[key.order], key.piece) not in known]
    fresh = tx.insert(schema.pieces, [_new_row(order_ids[key.order], key.piece) for key in missing])
    known |= {(order_ids[key.order], key.piece): number for key, number in zip(missing, fresh, strict=True)}
    return {key: known[order_ids[key.order], key.piece] for key in wanted if key.order in order_ids}


def record(tx: Transaction, piece_id: int, weighing: Weighing, at: datetime | None = None) -> int:
    """Save a weighing and make it the piece's current one. Return its id.

    Raises:
        Refused: the piece is paid for.
        KeyError: there is no such piece.
    """
    return _record(tx, {piece_id: weighing}, at)[0]


def record_many(tx: Transaction, by_piece: Mapping[int, Weighing], at: datetime | None = None) -> Recorded:
    """Save weighings by piece id, except unchanged ones and those of paid pieces."""
    before = {piece.id: piece for piece in some_pieces(tx.conn, by_piece)}
    other = [number for number, weighing in by_piece.items() if before[number].weighing != weighing]
    paid = tuple(number for number in other if before[number].is_paid)
    moved = {number: by_piece[number] for number in other if not before[number].is_paid}
    _record(tx, moved, at)
    new = tuple(number for number in moved if before[number].weighing is None)
    changed = tuple(number for number in moved if before[number].weighing is not None)
    return Recorded(new, len(by_piece) - len(other), changed, paid)


def all_pieces(conn: Connection) -> list[StoredPiece]:
    """Return every piece, by import order and piece number."""
    return _read(conn, None)


def some_pieces(conn: Connection, piece_ids: Iterable[int]) -> list[StoredPiece]:
    """Return the existing pieces among these, in the order of `all_pieces`."""
    return [piece for some in chunks(sorted(piece_ids)) for piece in _read(conn, some)]


def of_orders(conn: Connection, order_ids: Iterable[int]) -> list[StoredPiece]:
    """Return every piece of these orders."""
    return some_pieces(conn, _piece_ids(conn, order_ids).values())


def counts_in_orders(conn: Connection, order_ids: Iterable[int]) -> Counter[int]:
    """Return how many pieces each of these orders ships in."""
    counted: Counter[int] = Counter()
    for some in chunks(list(order_ids)):
        question = select(schema.pieces.c.order_id).where(schema.pieces.c.order_id.in_(some))
        counted.update(conn.execute(question).scalars())
    return counted


def number_of(conn: Connection, piece: StoredPiece) -> str:
    """Return what people call a piece: the order number, with the piece number when its order ships in several."""
    return piece.key.number_among(conn.execute(how_many(), {"order": piece.order_id}).scalar_one())


def numbers(conn: Connection) -> dict[str, str]:
    """Return what people call each piece, by its reference."""
    row, several = schema.pieces.c, func.count().over(partition_by=schema.pieces.c.order_id)
    joined = select(schema.orders.c.number, row.number.label("piece"), several.label("pieces"))
    rows = conn.execute(joined.join(schema.orders, row.order_id == schema.orders.c.id))
    return {(key := PieceKey(one.number, one.piece)).reference: key.number_among(one.pieces) for one in rows}


def numbers_to_weigh(conn: Connection) -> list[str]:
    """Return the numbers of orders with a piece to weigh, in import order."""
    row = schema.pieces.c
    waiting = (
        row.weighing_id.is_(None),
        row.beside.is_(None),
        row.postage_on_at.is_(None),
        row.together_with.is_(None),
    )
    question = select(schema.orders.c.number).join(schema.pieces, row.order_id == schema.orders.c.id)
    return list(dict.fromkeys(conn.execute(question.where(*waiting).order_by(row.order_id)).scalars()))


def piece(conn: Connection, piece_id: int) -> StoredPiece:
    """Return the piece with that id. Raises KeyError when there is none."""
    stored = _read(conn, [piece_id])
    if not stored:
        raise KeyError(piece_id)
    return stored[0]


def first_unpaid(conn: Connection) -> int | None:
    """Return the first piece without its postage that has not left; None when there is none."""
    row = schema.pieces.c
    first: int | None = conn.execute(
        select(func.min(row.id)).where(row.handed_over_at.is_(None), row.postage_on_at.is_(None))
    ).scalar_one()
    return first


def latest_weighed(conn: Connection, most: int) -> list[int]:
    """Return the ids of the pieces weighed last, latest first."""
    weighed, row = schema.weighings.c, schema.pieces.c
    joined = schema.weighings.join(schema.pieces, (row.id == weighed.piece_id) & (row.weighing_id == weighed.id))
    return list(conn.execute(select(row.id).select_from(joined).order_by(weighed.id.desc()).limit(most)).scalars())


def set_beside(tx: Transaction, piece_ids: Iterable[int], status: PieceStatus | None, reason: str = "") -> list[int]:
    """Mark pieces *set aside*, *came back* or *lost*, with a reason, or with None clear it. Return the changed ids."""
    if status is not None and status not in BESIDE_THE_LINE:
        raise ValueError(f"not a status set by hand: {status}")
    return tx.update(
        schema.pieces,
        {
            number: {"beside": status and status.value, "aside_reason": reason if status and reason else None}
            for number in piece_ids
        },
    )


def set_mailer(tx: Transaction, piece_ids: Iterable[int], name: str) -> list[int]:
    """Set the mailer of pieces by name, over the weighing's; empty clears it. Raises Refused when paid for."""
    return _set_unpaid(tx, {number: {"mailer_override": name} for number in piece_ids}, "mailer")


def set_service(tx: Transaction, piece_ids: Iterable[int], service: str) -> list[int]:
    """Set the service of pieces by id; empty lets the program choose again. Raises Refused when paid for."""
    return _set_unpaid(tx, {number: {"service_override": service} for number in piece_ids}, "service")


def set_packing(tx: Transaction, packings: Mapping[int, Packing]) -> list[int]:
    """Save which items are in each of these pieces. Return the changed ids. Raises Refused when one is paid for."""
    before = {piece.id: piece.packing for piece in some_pieces(tx.conn, packings)}
    moved = {number: packing for number, packing in packings.items() if before[number] != packing}
    return _set_unpaid(tx, {number: {"packing": to_text(packing)} for number, packing in moved.items()}, "contents")


def set_extras(tx: Transaction, piece_ids: Iterable[int], extras: tuple[str, ...]) -> list[int]:
    """Store the extras bought with pieces, by code; return the changed ids. Raises Refused when a piece is paid for."""
    text = to_text(extras) if extras else None
    return _set_unpaid(tx, {number: {"extras": text} for number in piece_ids}, "extras")


def pack_into(tx: Transaction, carrier: int, piece_ids: Iterable[int]) -> list[int]:
    """Pack pieces into the carrier; their separate weighings no longer count. Return the changed ids.

    Raises:
        Refused: one of them is paid for.
    """
    inside = list(piece_ids)
    weighed = clear_weights(tx, (carrier, *inside))
    packed = _set_unpaid(tx, {number: {"together_with": carrier} for number in inside}, "contents")
    return sorted({*weighed, *packed})


def clear_weights(tx: Transaction, piece_ids: Iterable[int]) -> list[int]:
    """Let pieces be weighed again, since they hold something else now. Raises Refused when one is paid for."""
    return _set_unpaid(tx, {number: {"weighing_id": None} for number in piece_ids}, "contents")


def unpack(tx: Transaction, piece_ids: Iterable[int]) -> list[int]:
    """Separate pieces again; the carriers' weights together no longer count. Return the changed ids.

    A carrier with postage, or handed over, keeps its weight, since postage was paid for it.
    """
    out = some_pieces(tx.conn, piece_ids)
    carriers = some_pieces(tx.conn, {piece.together_with for piece in out if piece.together_with is not None})
    unpaid = [carrier.id for carrier in carriers if not carrier.is_paid]
    tx.update(schema.pieces, {number: {"weighing_id": None} for number in unpaid})
    return tx.update(schema.pieces, {piece.id: {"together_with": None} for piece in out})


def inside(conn: Connection, carriers: Iterable[int]) -> list[StoredPiece]:
    """Return the pieces packed into any of these."""
    row = schema.pieces.c
    ids: list[int] = []
    for some in chunks(list(carriers)):
        ids += conn.execute(select(row.id).where(row.together_with.in_(some))).scalars()
    return some_pieces(conn, ids)


def _record(tx: Transaction, by_piece: Mapping[int, Weighing], at: datetime | None) -> range:
    before = _unpaid_rows(tx, by_piece, "weight")
    _ask_again(tx, by_piece)
    when = tx.now if at is None else to_utc_text(at)
    fresh = tx.insert(
        schema.weighings, [weighings.to_row(number, weighing, when) for number, weighing in by_piece.items()]
    )
    pointers = {number: {"weighing_id": weighing_id} for number, weighing_id in zip(by_piece, fresh, strict=True)}
    tx.update(schema.pieces, pointers, before)
    return fresh


def _set_unpaid(tx: Transaction, values: Mapping[int, RowValues], what: str) -> list[int]:
    return tx.update(schema.pieces, values, _unpaid_rows(tx, values, what))


def _unpaid_rows(tx: Transaction, piece_ids: Iterable[int], what: str) -> dict[int, dict[str, object]]:
    """Return the rows of pieces. Raises Refused when one of them is paid for."""
    rows = tx.rows(schema.pieces, piece_ids)
    if any(row["postage_on_at"] or row["handed_over_at"] for row in rows.values()):
        refuse_paid(tx.conn, some_pieces(tx.conn, rows), what)
    return rows


def _ask_again(tx: Transaction, by_piece: Mapping[int, Weighing]) -> None:
    """Withdraw the answers about a weight that has changed."""
    answered = answers.of_weight(tx.conn, by_piece)
    before = {piece.id: piece.weighing for piece in some_pieces(tx.conn, set(answered.values()))}
    moved = {number for number, weighing in before.items() if not weighing or weighing.shown != by_piece[number].shown}
    tx.delete(schema.answers, [number for number, piece_id in answered.items() if piece_id in moved])


def _new_row(order_id: int, number: int) -> dict[str, object]:
    return {"order_id": order_id, "number": number, "service_override": "", "mailer_override": "", "tracking": ""}


def _order_ids(conn: Connection, numbers: Iterable[str]) -> dict[str, int]:
    ids: dict[str, int] = {}
    for some in chunks(numbers):
        ids |= {row.number: row.newest for row in conn.execute(newest_orders(), {"numbers": some})}
    return ids


def _piece_ids(conn: Connection, order_ids: Iterable[int], *, as_weighed: bool = False) -> dict[tuple[int, int], int]:
    """Return piece ids by order id and piece number; `as_weighed`, a piece packed into another gives that one's id."""
    ids: dict[tuple[int, int], int] = {}
    for some in chunks(order_ids):
        for order_id, number, piece_id in conn.execute(ids_in_orders(as_weighed=as_weighed), {"orders": some}):
            ids[order_id, number] = piece_id
    return ids


def _read(conn: Connection, piece_ids: list[int] | None) -> list[StoredPiece]:
    codes, whole = answers_and_pieces(some=piece_ids is not None)
    values = {} if piece_ids is None else {"ids": piece_ids}
    answered: dict[int, set[str]] = defaultdict(set)
    for piece_id, code in conn.execute(codes, values):
        answered[piece_id].add(code)
    return [_stored(row, frozenset(answered.get(row.id, ()))) for row in conn.execute(whole, values)]


def _stored(row: Row[Any], answered: frozenset[str]) -> StoredPiece:
    return StoredPiece(
        id=row.id,
        key=PieceKey(row.order_number, row.number),
        order_id=row.order_id,
        version=row.version,
        weighing=None if row.weighing_id is None else weighings.from_row(row),
        weighing_id=row.weighing_id,
        weighed_at=from_utc_text(row.at),
        answered=answered,
        beside=PieceStatus(row.beside) if row.beside else None,
        service_override=row.service_override,
        mailer_override=row.mailer_override,
        postage_on_at=from_utc_text(row.postage_on_at),
        handed_over_at=from_utc_text(row.handed_over_at),
        tracking=row.tracking,
        paid=None if row.paid_minor is None else Money(row.paid_minor, row.paid_currency),
        together_with=row.together_with,
        aside_reason=row.aside_reason or "",
        packing=from_text(Packing, row.packing) if row.packing else (),
        extras=from_text(tuple[str, ...], row.extras) if row.extras else (),
        bought_as=row.bought_as or "",
    )
