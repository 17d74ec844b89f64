"""Correct an order by hand: recipient, address, items, quantities, shipping paid, choice and note.

The order is marked as edited. Importing the same file again keeps the correction; a list with another value shows it as
a change to accept.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from desk.domain.codes import Code
from desk.domain.faults import Refused
from desk.domain.finding import finding
from desk.domain.money import Money
from desk.domain.orders.order import Order, OrderLine
from desk.domain.places.country import Countries
from desk.session.pile.pile import Pile
from desk.session.sitting import Sitting
from desk.session.words.figures import measure
from desk.session.words.typed_numbers import TwoReadings, count_typed, number_typed
from desk.store.tables import orders, papers, pieces
from desk.store.tables.papers import PaperKind, PrintedPaper

ADDRESS = ("recipient", "company", "address1", "address2", "city", "region", "postal_code", "country")
FIELDS: Mapping[str, str] = {
    "recipient": "Recipient",
    "company": "Company",
    "address1": "Street",
    "address2": "Street, second line",
    "city": "City",
    "region": "State or region",
    "postal_code": "ZIP or postal code",
    "country": "Country",
    "shipping_paid": "Shipping paid",
    "shipping_choice": "Shipping choice",
    "buyer_note": "Note from the buyer",
}
QUANTITY, ITEM = "quantity ", "item "  # followed by the index of the line, from 0


def order_texts(order: Order) -> dict[str, str]:
    """Return the fields that can be corrected, as text by field name."""
    address = {name: getattr(order.address, name) for name in ADDRESS}
    rest = {
        "shipping_paid": measure(order.shipping_paid.text()),
        "shipping_choice": order.shipping_choice,
        "buyer_note": order.buyer_note,
    }
    lines: dict[str, str] = {}
    for place, line in enumerate(order.lines):
        lines |= {f"{QUANTITY}{place}": str(line.quantity), f"{ITEM}{place}": _item_words(line)}
    return address | rest | lines


def own_order(sitting: Sitting, pile: Pile, piece_id: int) -> Order:
    """Return the order of a piece without the orders sent with it. KeyError when there is no such piece."""
    case = pile.verdicts[piece_id].case
    if not case.packed_with:
        return case.order
    with sitting.store.reading() as conn:
        return orders.order(conn, pieces.piece(conn, piece_id).order_id).order


def correct_order(sitting: Sitting, piece_id: int, name: str, text: str) -> bool:
    """Correct one field of a piece's order, as one step; False when that changes nothing.

    Refused when the text can't be read, when postage is on a piece of the order, or when its label was printed and not
    canceled. KeyError when there is no such piece.
    """
    with sitting.store.reading() as conn:
        stored = orders.order(conn, pieces.piece(conn, piece_id).order_id)
        of_order = pieces.of_orders(conn, [stored.id])
        printed = [paper for piece in of_order for paper in papers.all_papers(conn, piece.id)]
    fresh = corrected(stored.order, name, text, sitting.rulebook.countries)
    if fresh == stored.order:
        return False
    number = stored.order.number
    if any(piece.is_paid for piece in of_order):
        raise Refused(f"{number} already has its postage. Take the postage off to change the order.")
    if any(map(_is_held_label, printed)):
        raise Refused(f"A label of {number} was printed. Cancel the label first.")
    with sitting.store.act(f"Corrected {number}: {_field_words(name)}", at_bench=True) as tx:
        orders.correct(tx, stored.id, fresh)
    sitting.announce(sitting.store.last_changes)
    return True


def labels_held(sitting: Sitting, piece_id: int) -> tuple[int, ...]:
    """Return the ids of the order's pieces whose printed label is not canceled. KeyError when there is no such piece."""
    with sitting.store.reading() as conn:
        of_order = pieces.of_orders(conn, [pieces.piece(conn, piece_id).order_id])
        return tuple(piece.id for piece in of_order if any(map(_is_held_label, papers.all_papers(conn, piece.id))))


def _is_held_label(paper: PrintedPaper) -> bool:
    return paper.kind is PaperKind.LABEL and paper.voided_at is None


def corrected(order: Order, name: str, text: str, countries: Countries) -> Order:
    """Return the order with one field corrected and marked as edited; Refused when the text cannot be read."""
    text = text.strip()
    if name in ADDRESS:
        value = _country(text, countries) if name == "country" else text
        fresh = replace(order, address=replace(order.address, **{name: value}))
        if name == "postal_code":
            rest = tuple(issue for issue in order.findings if issue.code is not Code.POSTAL_CODE_MENDED)
            fresh = replace(fresh, findings=rest)
    elif name == "shipping_paid":
        fresh = replace(order, shipping_paid=_amount(text, order.shipping_paid.currency))
    elif name == "shipping_choice":
        fresh = replace(order, shipping_choice=text)
    elif name == "buyer_note":
        fresh = replace(order, buyer_note=text)
    else:
        fresh = replace(order, lines=_lines(order.lines, name, text))
    return order if fresh == order else _marked(fresh, name)


def _marked(order: Order, name: str) -> Order:
    """Return the order with a list of the fields edited by hand, each once."""
    before = next((issue for issue in order.findings if issue.code is Code.EDITED_BY_HAND), None)
    known = before.facts["fields"] if before else ()
    fields = known if isinstance(known, tuple) else (str(known),)  # an older version stored them as one text
    words = tuple(dict.fromkeys([*fields, _field_words(name)]))
    rest = tuple(issue for issue in order.findings if issue.code is not Code.EDITED_BY_HAND)
    return replace(order, findings=(*rest, finding(Code.EDITED_BY_HAND, fields=words)))


def _field_words(name: str) -> str:
    words = FIELDS.get(name, "Quantity" if name.startswith(QUANTITY) else "Item")
    return words[:1].lower() + words[1:] if not words.startswith("ZIP") else words


def _country(text: str, countries: Countries) -> str:
    if not text:
        return ""
    code = countries.find(text)
    if code is None:
        raise Refused(f'Can\'t tell which country "{text}" is. Type its two-letter code, such as US.')
    return code


def _amount(text: str, currency: str) -> Money:
    try:
        amount = Money.of(number_typed(text.removeprefix("$")), currency)
    except TwoReadings:
        raise
    except (ValueError, ArithmeticError):
        raise Refused(f'Can\'t read "{text}" as an amount. Type it like {measure("5.00")}.') from None
    if amount.minor < 0:
        raise Refused(f"Shipping paid can't be below 0. Type it like {measure('5.00')}.")
    return amount


def _lines(lines: tuple[OrderLine, ...], name: str, text: str) -> tuple[OrderLine, ...]:
    """Return the order lines with one quantity or item corrected; a quantity of 0 removes the line."""
    field, place = name.rsplit(" ", 1)
    before = lines[int(place)]
    if f"{field} " == ITEM:
        item, _, variant = text.partition(", ")
        if not item:
            raise Refused("An item needs a name. Set its quantity to 0 to take it out.")
        changed = before if text == _item_words(before) else replace(before, item=item, variant=variant, sku="")
        return tuple(changed if line is before else line for line in lines)
    quantity = count_typed(text)
    if quantity is None or quantity > 9999:
        raise Refused(f'Can\'t read "{text}" as a quantity. Type a whole number.')
    if quantity == 0 and len(lines) == 1:
        raise Refused("An order needs an item. Set the piece aside instead.")
    counted = (replace(line, quantity=quantity) if line is before else line for line in lines)
    return tuple(line for line in counted if line.quantity)


def _item_words(line: OrderLine) -> str:
    return ", ".join(filter(None, (line.item, line.variant)))
