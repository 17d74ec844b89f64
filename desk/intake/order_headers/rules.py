"""Which field of an order a header means; certain where the trade uses the words only for that field.

Each line of the table lists the meanings of one field, the surest first, as words of `vocabulary` separated by bars.
Even certain words are still compared with the cells (`match`). Common practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from desk.intake.order_headers.words import HeaderMeaning, header_meaning

# The fields of an order list, in display order. All are optional but those of NEEDED.
CUSTOMS_FIELDS = ("customs_category", "customs_value", "itn", "buyer_tax_id", "ioss")  # recognized by these names alone
ORDER_FIELDS: tuple[str, ...] = (
    "order", "placed", "recipient", "first_name", "last_name", "company", "full_address", "address1", "house_number",
    "address2", "address3", "city_line", "city", "region", "postal_code", "country", "email", "phone", "item", "sku", "variant", "quantity",
    "unit_price", "line_total", "line_discount", "currency", "shipping_paid", "shipping_choice", "discount", "tax", "tip",
    "gift_wrap", "insurance", "total", "status", "shipped", "buyer_note",
    *CUSTOMS_FIELDS,
)  # fmt: skip
NEEDED = ("order", "recipient", "country", "item")  # an order list without one of these is unreadable
PERSON = frozenset({"recipient", "first_name", "last_name", "company", "email", "phone"})
PLACE = frozenset(
    {"full_address", "address1", "house_number", "address2", "address3", "city", "region", "postal_code", "country"}
)

CERTAIN: Mapping[str, str] = {
    "order": "order number|order|order sales|order code|order receipt|order id|order sales number|order number id|order receipt number|order receipt id",
    "placed": (
        "order date|order placed date|order placed|placed date|placed|date order time|order placed time|placed time|order time"
        "|placed date time|purchase date|purchase time|order purchase date|receipt placed date"
    ),
    "first_name": "first-name|first-name middle",
    "last_name": "last-name",
    "company": "company|company name",
    "full_address": "full address",
    "city": "post-town|city|city name",
    "region": "region code|region|region name|city region",
    "postal_code": "zip|zip code|postal|postal code|zip postal|zip postal code",
    "city_line": "zip city|zip city region|postal city|city region zip code",
    "country": "country code|country|country name|country region|country region code",
    "email": "email",
    "phone": "phone|phone number",
    "house_number": "house|house number|house name number|address house",
    "item": (
        "item name|item title|listing name|listing title|item name title|item|item listing|item listing name|item designation|designation|item description|stock description|item code description|sku description|line name|line designation|item method|line title|line description|listing designation|stock designation|stock title|stock name|book title|book name"
        "|listing description|item name description|order item name|sku title|sku name|item purchase|order item"
    ),
    "sku": (
        "sku|item sku|listing sku|variant sku|sku number|sku code|item code|item number code|line sku|stock code|stock number"
        "|item stock number|item receipt|item code number|item listing sku|order item sku"
    ),
    "variant": "variant|line variant|variant method|item variant|listing variant|variant name|item variant name|variant title|order item variant|listing variant title",
    "quantity": (
        "quantity|title quantity|line quantity|item quantity|listing quantity|quantity placed|item quantity placed|order quantity|order item quantity"
        "|quantity purchase"
    ),
    "unit_price": (
        "each price|each-price|each-price price|quantity price|amount each count|item price|item each price|listing price|each amount|item each amount|each price amount|listing each price"
        "|item price amount|order item price|each item price|item count price|each count price|count price|each selling price|selling price each|each-price line|each price line|each price receipt|each price sales"
    ),
    "line_total": "line total|line extended|extended price|line amount|extended amount|extended|line price total|listing total|listing amount|extended total|line extended amount",
    "line_discount": "line discount|item discount|listing discount|item discount amount|line discount amount|line discount percent|item discount percent|listing discount amount",
    "currency": "currency|currency code|order currency|order currency code|price currency|total currency|item currency|currency payment|receipt currency|amount currency",
    "shipping_paid": (
        "shipping paid|shipping cost paid|shipping cost|shipping price|shipping amount|shipping total|order shipping|shipping total amount"
        "|order shipping cost|order shipping amount|shipping paid amount|order shipping price|shipping total price"
    ),
    "shipping_choice": (
        "shipping method|shipping variant|shipping method name|shipping category|shipping method title|shipping title"
        "|order shipping method|shipping method category|shipping method code|shipping variant name|method shipping variant"
    ),
    "discount": "cart discount|order discount|discount|discount amount|discount total|order discount amount|order discount total|discount total amount|discount percent|order discount percent",
    "tax": "order tax|tax|tax amount|tax total|sales tax|order tax amount|order tax total|tax total amount|order sales tax",
    "tip": "tip|tip amount|order tip|tip total",
    "gift_wrap": "gift wrap|wrap|gift wrap price|gift wrap amount|gift wrap cost|wrap price|wrap cost",
    "insurance": "insurance|insurance amount|insurance cost|insurance price|shipping insurance|shipping insurance cost",
    "total": "grand-total|total grand-total|order grand-total|cart total|order total|order amount|order total amount|order total price|order price|order total paid|order total currency",
    "status": "order status|status|receipt status|sales status",
    "shipped": "fulfillment status|shipping status|fulfillment|shipped status|order fulfillment status|order shipping status",
    "buyer_note": "note order|order note receipt",
}

LONGEST_HEADER = 60  # characters; a longer cell is no header

# Words that may be the field or something else: used only where the cells or other headers settle it.
LIKELY: Mapping[str, str] = {
    "order": "reference|receipt number|receipt id|receipt|receipt code|number|id|code|order name|order source|purchase number|purchase order number|purchase order|purchase id",
    "placed": "purchase|date|date time|receipt date|receipt placed|paid date|paid time|order paid date|time|payment date",
    "recipient": "name|full name|contact|attn|contact attn",
    "first_name": "first",
    "last_name": "last",
    "region": "st|state-shipping",
    "address1": "st",
    "company": "org",
    "address2": "careof|inside|inside number",
    "item": "title|item placed|description|listing|name title|item line|item category|category",
    "sku": "reference|item number|item id|stock|code|listing id|item listing id|barcode",
    "variant": "size|color|item size|item color|size color|custom|opt|item opt",
    "quantity": "count|number count|each|item-count|number placed|number order|item count|number item|quantity total|item number count|count placed",
    "unit_price": "price|price receipt|amount|each|line price|sales price|cost|each cost|item cost|price list|selling price|item selling price",
    "line_total": "item total|item subtotal|sales|price total|item amount|line sales|line cost|item sales|item price total|amount sales",
    "line_discount": "discount price",
    "shipping_paid": "shipping",
    "shipping_choice": "shipping|method|via|shipping via|shipping method via",
    "total": "total|total price|amount total|total paid|amount paid|total amount paid|receipt total|receipt amount|receipt total amount|total payment|amount payment",
    "buyer_note": "note|gift note|shipping note|custom note|custom|custom note order|note custom|item note|listing note|note custom item|variant custom",
    "email": "payment email",
    "shipped": "state-shipping",
}


@dataclass(frozen=True, slots=True)
class FieldGuess:
    """A field that a header may be. A lower rank means better words; `is_certain` by its words alone."""

    field: str
    rank: int
    is_certain: bool


def _sets(table: Mapping[str, str]) -> dict[frozenset[str], list[tuple[str, int]]]:
    by_names: dict[frozenset[str], list[tuple[str, int]]] = {}
    for name, line in table.items():
        for rank, words in enumerate(line.split("|")):
            by_names.setdefault(frozenset(words.split()), []).append((name, rank))
    return by_names


_CERTAIN, _LIKELY = _sets(CERTAIN), _sets(LIKELY)
_STREETS = tuple(map(frozenset, ({"address"}, {"address", "line"}, {"street"}, {"line"}, {"street", "line"}, {"street", "house"}, {"street", "number"}, {"address", "number"})))  # fmt: skip
_SECOND_LINES = tuple(map(frozenset, ({"address", "each"}, {"address", "additional"}, {"address", "line", "additional"}, {"address", "extended"})))  # fmt: skip
_BY_INDEX = {1: "address1", 2: "address2", 3: "address3"}
# How close a party is to the recipient of the package.
_NEARNESS = {"ship": 0, "": 20, "buyer": 40, "bill": 60}
_OF_THE_SHOP = frozenset({"order", "sku", "item", "status", "discount"})


def candidates(header: str) -> tuple[FieldGuess, ...]:
    """Return the fields a header may be, the surest first; none for a header about something else."""
    own = "_".join(re.findall("[a-z]+", header.casefold()))
    return (FieldGuess(own, 0, True),) if own in CUSTOMS_FIELDS else candidates_of(header_meaning(header))


def candidates_of(meaning: HeaderMeaning) -> tuple[FieldGuess, ...]:
    """Return the fields a header of that meaning may be, the surest first."""
    if meaning.unknown or meaning.party == "seller":
        return ()
    if meaning.currency and meaning.concepts == {"each"}:
        return (FieldGuess("unit_price", 0, True),)  # "Unit $"
    candidates = [*_address_lines(meaning), *_by_sets(meaning)]
    return tuple(sorted(candidates, key=lambda one: (not one.is_certain, one.rank)))


def _address_lines(meaning: HeaderMeaning) -> Iterator[FieldGuess]:
    """Yield the address line a header means: by its number, or else by its words."""
    near, concepts = _NEARNESS[meaning.party], meaning.concepts
    is_certain = meaning.party in ("", "ship")
    if concepts in _STREETS and meaning.index in _BY_INDEX:
        yield FieldGuess(_BY_INDEX[meaning.index], near + _STREETS.index(concepts), is_certain)
    elif concepts in _SECOND_LINES:
        yield FieldGuess("address2", near + 8, is_certain)
    elif "apartment" in concepts and concepts <= {"apartment", "inside", "number", "address", "line", "house", "each"}:
        yield FieldGuess("address2", near + 9, is_certain)
    elif "street" in concepts and concepts in _STREETS and not meaning.index:
        yield FieldGuess("address1", near + 5 + _STREETS.index(concepts), is_certain)
        if concepts == {"street", "number"}:
            yield FieldGuess("house_number", near + 9, is_certain)  # "N° de voie"; the cells say which
    elif concepts in ({"address"}, {"address", "line"}) and not meaning.index:
        yield FieldGuess("address1", near + 15, False)
        yield FieldGuess("full_address", near + 15, False)


def _by_sets(meaning: HeaderMeaning) -> Iterator[FieldGuess]:
    party, concepts = meaning.party, meaning.concepts
    if party == "ship" and (not concepts or concepts in ({"name"}, {"full", "name"})):
        if meaning.index > 1:  # "Ship-to name 2" is the company, or "care of"
            yield FieldGuess("company", 50, False)
            return
        yield FieldGuess("recipient", 0 if concepts else 5, True)
        if not concepts:
            yield FieldGuess("full_address", 10, False)
        return
    if party == "buyer" and not concepts:
        yield FieldGuess("recipient", _NEARNESS[party] + 5, False)
    if meaning.index > 1 and meaning.concepts != {"zip"}:  # ZIP+4 is still a ZIP code
        return  # a second item or a second phone is not the first
    bare = concepts - {"source"}
    if concepts not in _LIKELY and any(name == "order" for name, _ in _CERTAIN.get(bare, ())):
        concepts = bare  # "web order ID"; but the shop's city is not the buyer's
    for name, rank in _CERTAIN.get(concepts, ()):
        yield from _certain(name, rank, party)
    for name, rank in _LIKELY.get(concepts, ()):
        yield from _likely(name, rank, party)


def _certain(name: str, rank: int, party: str) -> Iterator[FieldGuess]:
    """Yield a field by words of one meaning, if the party fits; a buyer's own order number or status is not ours."""
    if name in PERSON | PLACE:
        is_certain = party in ("", "ship") or (name in ("email", "phone") and party == "buyer")
        yield FieldGuess(name, rank + _NEARNESS[party], is_certain)
    elif party == "" or (party == "buyer" and name not in _OF_THE_SHOP):
        yield FieldGuess(name, rank, True)


def _likely(name: str, rank: int, party: str) -> Iterator[FieldGuess]:
    if name in PERSON and name != "email":
        yield FieldGuess(name, rank + _NEARNESS[party], False)
    elif name == "buyer_note" and party == "buyer":
        yield FieldGuess(name, rank, True)
    elif party == "" or name == "email" or (party == "ship" and name == "region"):
        yield FieldGuess(name, rank + _NEARNESS[""], False)


def known_order_headers(cells: Sequence[str]) -> int:
    """Return how many cells certainly are headers of an order list, to find the header row and the delimiter."""
    return sum(
        1 for cell in cells if 0 < len(cell) <= LONGEST_HEADER and any(one.is_certain for one in candidates(cell))
    )
