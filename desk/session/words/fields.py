"""Our names of fields as a person reads them: `postal_code` is a postal code."""

from __future__ import annotations

from collections.abc import Mapping

_WORDS: Mapping[str, str] = {
    "order": "order number",
    "placed": "date of the order",
    "recipient": "name",
    "address1": "street",
    "address2": "street, second line",
    "region": "state or region",
    "email": "e-mail",
    "sku": "SKU",
    "unit_price": "price of one",
    "shipping_paid": "paid for shipping",
    "shipping_choice": "way of shipping",
    "buyer_note": "note from the buyer",
    "unit_weight": "weight of one",
    "weight_unit": "unit of the weight",
    "hs": "HS code",
    "origin": "made in",
    "stiff": "does not bend",
    "size_unit": "unit of the size",
    "document": "plain correspondence",
    "media": "may go as media mail",
    "restricted": "holds restricted goods",
    "tare": "weight empty",
    "tare_unit": "unit of the weight empty",
    "pack_price": "price of a pack",
    "pack_count": "how many in a pack",
    "reused": "used again",
    "paper": "outside is paper",
    "only_service": "only for",
}


def field_words(name: str) -> str:
    """The words for a field; a name nobody has put into words without its joining signs."""
    return _WORDS.get(name, name.replace("_", " "))
