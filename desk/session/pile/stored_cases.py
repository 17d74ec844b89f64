"""The cases of a batch, read from the store."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from desk.domain.orders.order import Order
from desk.domain.orders.packages import packed_orders
from desk.domain.orders.piece import PieceKey
from desk.domain.places.address import Address
from desk.domain.places.country import DOMESTIC_PLACES, HOME, MILITARY_STATES
from desk.domain.shop.shop import Shop, usual_policy
from desk.rates.stamps.stamps import StampCount
from desk.session.learned.memory import Memory
from desk.session.pile.addressees import Addressee, SameDay, addressee_of, by_addressee, files_exports
from desk.session.pile.together import as_one
from desk.session.sitting import Sitting
from desk.session.verdict.case import Case
from desk.session.verdict.confirmed import CONFIRMED, Confirmed
from desk.session.verdict.scale_trust import tolerance_scale
from desk.session.verdict.verdict import Terms
from desk.store.tables import hand_overs, movements, orders, pieces, settings, shop
from desk.store.tables.movements import CountedKind


@dataclass(frozen=True, slots=True)
class StoredCase:
    """A case with its piece id and its position in the order of weighing (None: not weighed)."""

    id: int
    order_id: int
    case: Case
    turn: int | None


def read_stored(
    sitting: Sitting, only: Collection[int] | None = None, same_day: SameDay | None = None
) -> list[StoredCase]:
    """Return every piece as a case in import order, or only those with these ids.

    `same_day` are the orders by addressee as read before; without it they are read here.

    Pieces sent in another one are not cases: their orders are judged with the piece that carries them.
    """
    with sitting.store.reading() as conn:
        stored_pieces = pieces.all_pieces(conn) if only is None else pieces.some_pieces(conn, only)
        own = [piece for piece in stored_pieces if piece.together_with is None]
        if only is None:
            packed = [piece for piece in stored_pieces if piece.together_with is not None]
            known = {stored.id: stored.order for stored in orders.all_orders(conn)}
            in_order = Counter(piece.order_id for piece in stored_pieces)
        else:
            packed = pieces.inside(conn, [piece.id for piece in own])
            wanted = {piece.order_id for piece in own + packed}
            known = {order_id: stored.order for order_id, stored in orders.some_orders(conn, wanted).items()}
            in_order = pieces.counts_in_orders(conn, wanted)
        several = [order_id for order_id, count in in_order.items() if count > 1]
        beside = stored_pieces if only is None else pieces.of_orders(conn, several)
        parts = _parts(beside, known, in_order)
        if only is None:
            here = hand_overs.orders_here(conn, sitting.on)
            together = by_addressee(order for n, order in known.items() if n in here and files_exports(order))
        else:
            far = [known[piece.order_id] for piece in own if files_exports(known[piece.order_id])]
            together = (same_day or SameDay()).beside(conn, far, sitting.on)
        stamped = movements.used_by_piece(conn, CountedKind.STAMP, only)
    lying: dict[int | None, list[Order]] = {}
    for piece in packed:
        lying.setdefault(piece.together_with, []).append(known[piece.order_id])
    stored = [
        _stored(piece, known[piece.order_id], in_order, stamped.get(piece.id, {}), parts.get(piece.id), together)
        for piece in own
    ]
    return [_carrying(one, lying[one.id]) if one.id in lying else one for one in stored]


def remembered(stored: Sequence[StoredCase], memory: Memory | None, shop: Shop) -> list[StoredCase]:
    """Return the cases with how plausible each weight is, learning from new weighings in order."""
    if memory is None or not shop.policy.learn_weights:
        return list(stored)
    known = {}
    for one in sorted(stored, key=lambda each: (each.turn is None, each.turn or 0)):
        known[one.id] = replace(one, case=memory.remembered(one.id, one.turn, one.case, shop))
    return [_with_nets(known[one.id], memory, shop) for one in stored]


def _with_nets(stored: StoredCase, memory: Memory, shop: Shop) -> StoredCase:
    """Return the case with learned net weights where it is declared and a unit weight is missing."""
    case, address = stored.case, stored.case.order.address
    declared = address.country != HOME or address.region in MILITARY_STATES | DOMESTIC_PLACES
    products = [shop.product_for(line) for line in case.order.lines] if declared else []
    if all(product is not None and product.unit_weight is not None for product in products):
        return stored
    return replace(stored, case=replace(case, nets=memory.nets(case, shop) or {}))


def _carrying(stored: StoredCase, others: list[Order]) -> StoredCase:
    """Return the case with the orders sent in the same piece."""
    order, numbers = as_one(stored.case.order, others), tuple(other.number for other in others)
    return replace(stored, case=replace(stored.case, order=order, packed_with=numbers))


def _parts(
    stored: Iterable[pieces.StoredPiece], known: Mapping[int, Order], in_order: Mapping[int, int]
) -> dict[int, Order]:
    """Return each piece's part of its order, by piece id, for orders that are fully split."""
    of_order: dict[int, list[pieces.StoredPiece]] = {}
    for piece in stored:
        if in_order[piece.order_id] > 1 and piece.order_id in known:
            of_order.setdefault(piece.order_id, []).append(piece)
    parts: dict[int, Order] = {}
    for order_id, several in of_order.items():
        divided = packed_orders(known[order_id], [piece.packing for piece in several])
        if divided is not None and all(piece.together_with is None for piece in several):
            parts |= {piece.id: part for piece, part in zip(several, divided, strict=True)}
    return parts


def _stored(  # everything read for one piece
    piece: pieces.StoredPiece,
    order: Order,
    in_order: Counter[int],
    stamps: dict[str, int],
    part: Order | None,
    together: Mapping[Addressee, tuple[Order, ...]],
) -> StoredCase:
    case = Case(
        key=piece.key,
        order=part or order,
        is_divided=part is not None,
        for_addressee=together.get(addressee_of(order), ()) if files_exports(order) else (),
        weighing=piece.weighing,
        pieces_in_order=in_order[piece.order_id],
        answered=piece.answered,
        mailer=piece.mailer_override,
        service=piece.service_override,
        extras=piece.extras,
        beside=piece.beside,
        aside_reason=piece.aside_reason,
        postage_on=piece.postage_on,
        stamps_on=_stamps_on(stamps) if piece.postage_on else (),
        handed_over=piece.handed_over,
        weighed_at=piece.weighed_at,
    )
    return StoredCase(piece.id, piece.order_id, case, piece.weighing_id)


def _stamps_on(used: dict[str, int]) -> tuple[StampCount, ...]:
    named = ((movements.stamp_named(name), count) for name, count in used.items() if count > 0)
    return tuple(StampCount(stamp.kind, stamp.value, count) for stamp, count in named)


def read_cases(sitting: Sitting, first: Sequence[PieceKey] = ()) -> list[Case]:
    """Return every piece as a case: those named first, then other weighed ones, then those not weighed."""
    shop = read_terms(sitting).shop
    cases = [stored.case for stored in remembered(read_stored(sitting), Memory.begin(shop), shop)]
    place = {key: number for number, key in enumerate(dict.fromkeys(first))}
    return sorted(cases, key=lambda case: (case.weighing is None, place.get(case.key, len(place))))


def read_terms(sitting: Sitting, on: date | None = None) -> Terms:
    """Return the terms of this sitting: the stored shop, the rulebook, the mailing date (None: the sitting's)."""
    with sitting.store.reading() as conn:
        stored, confirmed = shop.load(conn), settings.read(conn, CONFIRMED, Confirmed())
    known, scale = stored or Shop(Address(), usual_policy()), tolerance_scale(sitting)
    return Terms(known, sitting.rulebook, on or sitting.on, scale, frozenset(confirmed.causes))
