"""Words for our field names: `postal_code` is a postal code."""

from __future__ import annotations

from collections.abc import Mapping

_WORDS: Mapping[str, str] = {
    "order": "order number",
    "placed": "order date",
    "recipient": "name",
    "address1": "street",
    "address2": "street, second line",
    "address3": "street, third line",
    "region": "state or region",
    "sku": "SKU",
    "shipping_paid": "shipping paid",
    "shipping_choice": "shipping choice",
    "buyer_note": "buyer's note",
    "weight_unit": "unit of weight",
    "customs_words": "customs description",
    "hs": "HS code",
    "origin": "country of origin",
    "stiff": "rigid",
    "uneven": "lumpy",
    "size_unit": "unit of size",
    "document": "documents only",
    "media": "books and listed media",
    "restricted": "restricted goods",
    "tare": "empty weight (tare)",
    "tare_unit": "unit of the empty weight",
    "pack_count": "pieces in a pack",
    "reused": "reused (free)",
    "paper": "paper outside",
    "only_service": "use only with",
}


def field_words(name: str) -> str:
    """Return the words for a field; for a name without words, the name with spaces for its underscores."""
    return _WORDS.get(name, name.replace("_", " "))
