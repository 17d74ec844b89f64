"""The cases of a batch, read from the store."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Sequence
from dataclasses import dataclass

from desk.domain.address import Address
from desk.domain.order import Order
from desk.domain.piece import PieceKey
from desk.domain.shop import Shop
from desk.session.case import Case
from desk.session.sitting import Sitting
from desk.session.verdict import Terms
from desk.store import orders, pieces, shop


@dataclass(frozen=True, slots=True)
class StoredCase:
    """A case with the id of its piece, and its place in the order of weighing (None: not weighed)."""

    id: int
    order_id: int
    case: Case
    turn: int | None


def read_stored(sitting: Sitting, only: Collection[int] | None = None) -> list[StoredCase]:
    """Every piece as a case in the order it was taken in, or only those with these ids."""
    with sitting.store.reading() as conn:
        found = pieces.all_pieces(conn) if only is None else pieces.some_pieces(conn, only)
        if only is None:
            known = {stored.id: stored.order for stored in orders.all_orders(conn)}
            in_order = Counter(piece.order_id for piece in found)
        else:
            wanted = {piece.order_id for piece in found}
            known = {order_id: orders.order(conn, order_id).order for order_id in wanted}
            in_order = pieces.counts_in_orders(conn, wanted)
    return [_stored(piece, known, in_order) for piece in found]


def _stored(piece: pieces.StoredPiece, known: dict[int, Order], in_order: Counter[int]) -> StoredCase:
    case = Case(
        key=piece.key,
        order=known[piece.order_id],
        weighing=piece.weighing,
        pieces_in_order=in_order[piece.order_id],
        answered=piece.answered,
        mailer=piece.mailer_override,
        service=piece.service_override,
        beside=piece.beside,
        postage_on=piece.postage_on,
        handed_over=piece.handed_over,
    )
    return StoredCase(piece.id, piece.order_id, case, piece.weighing_id)


def read_cases(sitting: Sitting, first: Sequence[PieceKey] = ()) -> list[Case]:
    """Every piece as a case: those named first in that order, then other weighed ones, then those not weighed."""
    cases = [stored.case for stored in read_stored(sitting)]
    place = {key: number for number, key in enumerate(dict.fromkeys(first))}
    return sorted(cases, key=lambda case: (case.weighing is None, place.get(case.key, len(place))))


def read_terms(sitting: Sitting) -> Terms:
    """The terms of this sitting: the shop as stored, the rulebook, the posting date."""
    with sitting.store.reading() as conn:
        stored = shop.load(conn)
    return Terms(stored or Shop(Address()), sitting.rulebook, sitting.on)
