"""What you enter for the declaration of one order: each field only where the destination or service needs it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date

from desk.customs.declaration import Declaration
from desk.customs.destinations import Destinations, place_of
from desk.customs.form import CN23
from desk.customs.tax_ids import kinds
from desk.domain.faults import Refused
from desk.domain.finding import Code, Finding
from desk.domain.money import Money, decimals_of
from desk.domain.orders.customs_details import BUYER_NUMBERS, Category, CustomsDetails, IfUndeliverable
from desk.domain.orders.order import Order
from desk.domain.service import Service
from desk.session.setup.change_shop import FieldFault
from desk.session.sitting import Sitting
from desk.session.verdict.verdict import Terms, Verdict
from desk.session.words.figures import measure
from desk.session.words.typed_numbers import TwoReadings, number_typed
from desk.store.tables import orders, pieces

MOST_CHARACTERS = 100
NUMBERS = {  # numbers kept as typed, with their words
    "itn": "Export filing number (ITN)",
    "buyer_tax_id": "Buyer's tax or identity number",
    "ioss": "Marketplace's IOSS number for this order",
    "license": "License number",
    "certificate": "Certificate number",
    "invoice": "Invoice number",
}
VALUES = {"customs_value": "value", "insured_value": "insured_value"}  # amounts, with the record's field
CONTACT = {"phone": "Buyer's phone", "email": "Buyer's email"}
CATEGORIES = tuple((one.value, one.value) for one in Category if one is not Category.DOCUMENTS)
UNDELIVERABLE = tuple((one.value, one.value) for one in IfUndeliverable)
# Which of these fields an issue belongs to.
AT_DETAIL = {
    Code.BUYER_ID_MISSING: "buyer_tax_id",
    Code.GIFT_WAS_PAID: "category",
    Code.ITN_MALFORMED: "itn",
    Code.NEEDS_EXPORT_FILING: "itn",
    Code.REASON_MISSING: "category_words",
}


@dataclass(frozen=True, slots=True)
class DetailField:
    """A field to show: its name, words and text; `options` are pairs of value and words where one is chosen."""

    name: str
    words: str
    text: str
    options: tuple[tuple[str, str], ...] = ()


def detail_fields(verdict: Verdict, declared: Declaration, terms: Terms) -> tuple[DetailField, ...]:
    """Return the fields of an order's declaration, in the order the form asks for them."""
    order = verdict.case.order
    details, texts = order.customs, detail_texts(order)
    asked = list(_asked(verdict, declared, details, terms))
    return tuple(DetailField(name, words, texts[name], options) for name, words, options in asked)


def detail_texts(order: Order) -> dict[str, str]:
    """Return what was entered, as text by field name."""
    details = order.customs
    amounts = {name: getattr(details, field) for name, field in VALUES.items()}
    return {
        "category": (details.category or Category.SALE).value,
        "category_words": details.category_words,
        "if_undeliverable": details.if_undeliverable.value,
        **{name: measure(amount.text()) if amount is not None else "" for name, amount in amounts.items()},
        **{name: getattr(details, name) for name in NUMBERS},
        **{name: getattr(order.address, name) for name in CONTACT},
    }


def field_at(issue: Finding) -> str:
    """Return the field an issue belongs to; empty for none of these."""
    if issue.code is Code.TAX_ID_MALFORMED:
        kind = str(issue.facts["kind"])
        return "buyer_tax_id" if kind in BUYER_KINDS else kind if kind == "ioss" else ""
    return AT_DETAIL.get(issue.code, "")


BUYER_KINDS = BUYER_NUMBERS & frozenset(kinds())


def _asked(
    verdict: Verdict, declared: Declaration, details: CustomsDetails, terms: Terms
) -> Iterator[tuple[str, str, tuple[tuple[str, str], ...]]]:
    address = verdict.case.order.address
    needed = _numbers_needed(terms.rulebook.destinations, address.country, address.postal_code, terms.on)
    codes = {issue.code for issue in declared.findings}
    yield "phone", CONTACT["phone"], ()
    yield "email", CONTACT["email"], ()
    yield "category", "Reason for export", CATEGORIES
    if details.category is Category.OTHER or details.category_words:
        yield "category_words", "Reason in words", ()
    currency = verdict.case.order.currency
    yield "customs_value", f"Customs value of all goods in {currency} (empty: as paid)", ()
    for name in ("buyer_tax_id", "ioss"):
        if name in needed or getattr(details, name):
            yield name, NUMBERS[name], ()
    if codes & {Code.NEEDS_EXPORT_FILING, Code.ITN_MALFORMED} or details.itn:
        yield "itn", NUMBERS["itn"], ()
    if declared.form == CN23:
        yield "if_undeliverable", "If it can't be delivered", UNDELIVERABLE
    for name in ("license", "certificate", "invoice"):
        if declared.form == CN23 or getattr(details, name):
            yield name, NUMBERS[name], ()
    service = verdict.offer.facts if verdict.offer else None
    if details.insured_value is not None or _insures(service):
        yield "insured_value", "Insured value in USD", ()


def _numbers_needed(places: Destinations, country: str, postal_code: str, on: date) -> set[str]:
    place = place_of(country, postal_code)
    needed = {"buyer_tax_id"} if places.rule(place, "buyer-number", on) else set()
    rule = places.rule(place, "seller-number", on)
    return needed | ({"ioss"} if rule is not None and rule.parts[0] == "ioss" else set())


def _insures(service: Service | None) -> bool:
    return service is not None and bool(service.cover)


def set_detail(sitting: Sitting, piece_id: int, name: str, text: str) -> tuple[FieldFault, ...]:
    """Save one field of a piece's order, as one step; a fault when the text can't be read, and then nothing is saved.

    Refused once the order was handed over. KeyError when there is no such piece.
    """
    stored, has_left = _order_of(sitting, piece_id)
    try:
        fresh = with_detail(stored.order, name, " ".join(text.split()))
    except ValueError as fault:
        return (FieldFault(name, str(fault)),)
    if fresh == stored.order:
        return ()
    if has_left:
        raise _stays(stored.order)
    with sitting.store.act(f"Customs details saved: {stored.order.number}") as tx:
        orders.correct(tx, stored.id, fresh)
    sitting.announce(sitting.store.last_changes)
    return ()


def set_unit_value(sitting: Sitting, piece_id: int, key: str, text: str) -> tuple[FieldFault, ...]:
    """Save the customs value of one item of a line, as one step; empty: what was paid. `key` is the line's.

    Refused once the order was handed over. KeyError when there is no such piece.
    """
    stored, has_left = _order_of(sitting, piece_id)
    order = stored.order
    try:
        value = _amount(text.strip(), order.currency)
    except ValueError as fault:
        return (FieldFault("unit_value", str(fault)),)
    rest = tuple(pair for pair in order.customs.unit_values if pair[0] != key)
    entered = rest if value is None else (*rest, (key, value))
    if entered == order.customs.unit_values:
        return ()
    if has_left:
        raise _stays(order)
    with sitting.store.act(f"Customs value saved: {order.number}") as tx:
        orders.correct(tx, stored.id, replace(order, customs=replace(order.customs, unit_values=entered)))
    sitting.announce(sitting.store.last_changes)
    return ()


def _order_of(sitting: Sitting, piece_id: int) -> tuple[orders.StoredOrder, bool]:
    """Return the order of a piece, and whether a piece of it was handed over."""
    with sitting.store.reading() as conn:
        stored = orders.order(conn, pieces.piece(conn, piece_id).order_id)
        return stored, any(piece.handed_over for piece in pieces.of_orders(conn, [stored.id]))


def _stays(order: Order) -> Refused:
    return Refused(f"{order.number} was handed over, so its declaration stays.")


def with_detail(order: Order, name: str, text: str) -> Order:
    """Return the order with one field as typed; ValueError with a sentence when it can't be read."""
    if len(text) > MOST_CHARACTERS:
        raise ValueError(f"Expected at most {MOST_CHARACTERS} characters.")
    if name in CONTACT:
        return replace(order, address=replace(order.address, **{name: text}))
    if name in VALUES:
        currency = order.currency if name == "customs_value" else "USD"
        return _with(order, VALUES[name], _amount(text, currency))
    if name == "category":
        chosen = Category(text)
        return _with(order, name, None if chosen is Category.SALE else chosen)
    return _with(order, name, IfUndeliverable(text) if name == "if_undeliverable" else text)


def _with(order: Order, name: str, value: object) -> Order:
    return replace(order, customs=replace(order.customs, **{name: value}))  # type: ignore[arg-type]


def _amount(text: str, currency: str) -> Money | None:
    """Return an amount above zero, or None for an empty text; it may include the currency."""
    figure = text.upper().removesuffix(currency).removeprefix(currency).strip().removeprefix("$").strip()
    if not figure:
        return None
    try:
        value = number_typed(figure)
    except TwoReadings:
        raise
    except ValueError:
        raise ValueError(f"Expected an amount such as {measure('12.50')}.") from None
    if not 0 < value < 10**9 or value.as_tuple().exponent < -decimals_of(currency):  # type: ignore[operator]
        raise ValueError(f"Expected an amount above 0 in {currency}, such as {measure('12.50')}.")
    return Money.of(value, currency)
