"""The cases of a batch, read from the store."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from desk.domain.address import Address
from desk.domain.piece import PieceKey
from desk.domain.shop import Shop
from desk.session.batch import Batch, judge_batch
from desk.session.case import Case
from desk.session.sitting import Sitting
from desk.session.verdict import Terms
from desk.store import orders, pieces, shop


def read_cases(sitting: Sitting, first: Sequence[PieceKey] = ()) -> list[Case]:
    """Every piece as a case: those named first in that order, then the others in the order they were taken in."""
    with sitting.store.reading() as conn:
        known = {stored.id: stored.order for stored in orders.all_orders(conn)}
        stored_pieces = pieces.all_pieces(conn)
    in_order = Counter(piece.order_id for piece in stored_pieces)
    cases = [
        Case(
            key=piece.key,
            order=known[piece.order_id],
            weighing=piece.weighing,
            pieces_in_order=in_order[piece.order_id],
            answered=piece.answered,
            beside=piece.beside,
            postage_on=piece.postage_on,
            handed_over=piece.handed_over,
        )
        for piece in stored_pieces
    ]
    place = {key: number for number, key in enumerate(dict.fromkeys(first))}
    return sorted(cases, key=lambda case: (case.weighing is None, place.get(case.key, len(place))))


def read_terms(sitting: Sitting) -> Terms:
    """The terms of this sitting: the shop as stored, the rulebook, the posting date."""
    with sitting.store.reading() as conn:
        stored = shop.load(conn)
    return Terms(stored or Shop(Address()), sitting.rulebook, sitting.on)


def read_batch(sitting: Sitting, first: Sequence[PieceKey] = ()) -> Batch:
    """Every piece judged, as the store has it now."""
    return judge_batch(read_cases(sitting, first), read_terms(sitting))
