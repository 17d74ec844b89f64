"""Send two orders to the same address as one piece: weighed, declared and paid for together.

The first order's piece carries the others and is judged as one order: the lines of all, with shipping paid and
discounts added up.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Sequence
from dataclasses import replace
from functools import reduce

from desk.domain.faults import Refused
from desk.domain.orders.customs_details import CustomsDetails
from desk.domain.orders.order import Order
from desk.domain.orders.piece import PieceKey
from desk.domain.places.address import Address
from desk.domain.places.country import HOME
from desk.session.sitting import Sitting
from desk.store.tables import orders, pieces

_SHORT = {
    "street": "st", "avenue": "ave", "road": "rd", "lane": "ln", "drive": "dr", "court": "ct", "place": "pl",
    "boulevard": "blvd", "square": "sq", "terrace": "ter", "apartment": "apt", "suite": "ste", "north": "n",
    "south": "s", "east": "e", "west": "w", "strasse": "str",
}  # fmt: skip
# Publication 28, appendix C, and directions; the German one is common practice, no source.


def door(address: Address) -> tuple[str, ...]:
    """Return a key for an address that ignores case, accents, punctuation, street abbreviations and the name.

    Empty when street or country is missing, since two such addresses are not known to be the same.
    """
    street = _folded(f"{address.address1} {address.address2}")
    postal = re.sub(r"[^0-9a-z]", "", address.postal_code.casefold())
    code = postal[:5] if address.country == HOME else postal
    place = code or _folded(f"{address.city} {address.region}")
    return (address.country, place, street) if street and address.country and place else ()


def _folded(text: str) -> str:
    plain = unicodedata.normalize("NFKD", text.casefold())
    bare = "".join(sign for sign in plain if not unicodedata.combining(sign))
    return " ".join(_SHORT.get(word, word) for word in re.findall(r"\w+", bare))


def as_one(first: Order, others: Iterable[Order]) -> Order:
    """Return the orders as one, under the number and address of the first."""
    return reduce(_added, others, first)


def _added(one: Order, other: Order) -> Order:
    return replace(
        one,
        lines=one.lines + other.lines,
        shipping_paid=one.shipping_paid + other.shipping_paid,
        discount=one.discount + other.discount,
        charges=one.charges + other.charges,
        shipping_choice=one.shipping_choice or other.shipping_choice,
        buyer_note="\n".join(note for note in (one.buyer_note, other.buyer_note) if note),
        findings=one.findings + tuple(issue for issue in other.findings if issue not in one.findings),
        customs=_customs_of(one, other),
    )


def _customs_of(one: Order, other: Order) -> CustomsDetails:
    """Return the details of both orders merged: values add up, and the first order's other fields count.

    Values of single items come from both; where both have one for the same item, the first order's counts.
    """
    unit_values = dict(other.customs.unit_values) | dict(one.customs.unit_values)
    both = replace(one.customs.filled_from(other.customs), unit_values=tuple(unit_values.items()))
    if one.customs.value is None and other.customs.value is None:
        return both
    return replace(both, value=one.declared_value + other.declared_value)


def pack_together(sitting: Sitting, keys: Sequence[PieceKey]) -> None:
    """Send these pieces as one, carried by the first, as one step; their own weighings no longer count.

    Refused, with a sentence, when they go to different addresses or can't be one piece for another reason.
    """
    with sitting.store.act(f"Sent together: {' and '.join(key.order for key in keys)}") as tx:
        ids = orders.ids_of(tx.conn, [key.order for key in keys])
        of_orders = pieces.of_orders(tx.conn, ids.values())
        wanted = [piece for key in keys for piece in of_orders if piece.key == key]
        known = orders.some_orders(tx.conn, ids.values())
        _refuse_unfit(wanted, of_orders, len(dict.fromkeys(keys)))
        if why := unlike([known[piece.order_id].order for piece in wanted]):
            raise Refused(why)
        carriers = pieces.inside(tx.conn, [piece.id for piece in wanted[1:]])
        if carriers:
            raise Refused(f"Another order is already sent with {wanted[1].key.order}. Select that order first.")
        pieces.pack_into(tx, wanted[0].id, [piece.id for piece in wanted[1:]])
    sitting.announce(sitting.store.last_changes)


def take_apart(sitting: Sitting, piece_id: int) -> None:
    """Split the orders of a piece into separate pieces again, as one step. Refused once its postage is on."""
    with sitting.store.act("Split orders sent together") as tx:
        carrier = pieces.piece(tx.conn, piece_id)
        pieces.refuse_paid(tx.conn, [carrier], "contents")
        pieces.unpack(tx, [piece.id for piece in pieces.inside(tx.conn, [piece_id])])
    sitting.announce(sitting.store.last_changes)


def _refuse_unfit(wanted: Sequence[pieces.StoredPiece], of_orders: Sequence[pieces.StoredPiece], named: int) -> None:
    if len(wanted) != named or named < 2:
        raise Refused("Select at least two pieces that can be sent together.")
    if len(of_orders) > len(wanted):
        raise Refused("An order that ships in several packages can't be sent with another.")
    for piece in wanted:
        if piece.together_with is not None:
            raise Refused(f"Order {piece.key.order} is already sent with another order. Split them first.")
        if piece.is_paid or piece.beside is not None:
            raise Refused(
                f"Order {piece.key.order} is set aside or has its postage. Only waiting orders can be sent together."
            )


def unlike(orders_together: Sequence[Order]) -> str:
    """Return why these orders can't be sent together, as a sentence; empty when they can."""
    first = orders_together[0]
    for other in orders_together[1:]:
        both = f"Orders {first.number} and {other.number}"
        if not door(first.address) or door(first.address) != door(other.address):
            return f"{both} go to different addresses."
        if first.currency != other.currency:
            return f"{both} are in different currencies. One declaration can have only one."
    if len({order.shipping_choice for order in orders_together} - {""}) > 1:
        return "These orders were promised different ways of shipping. Send them apart."
    return ""
