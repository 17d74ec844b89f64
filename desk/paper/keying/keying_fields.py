"""The fields of a customs worksheet one by one, in the order in which the post's online form asks for them.

Sender, addressee, reason, each article, totals, then numbers: the order of PS 2976-R. The online form has phone and
email with each address (from memory).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from desk.paper.keying.keying_content import KeyingSheetContent

PARTY_WORDS = {
    "first_name": "First name",
    "last_name": "Last name",
    "company": "Company",
    "address1": "Street",
    "address2": "Street, second line",
    "city": "City",
    "region": "State or region",
    "postal_code": "ZIP or postal code",
    "country": "Country",
    "phone": "Phone",
    "email": "Email",
}


@dataclass(frozen=True, slots=True)
class KeyingField:
    """One field to type: its group, name and value."""

    group: str
    name: str
    text: str


def keying_fields(content: KeyingSheetContent) -> tuple[KeyingField, ...]:
    """Return every filled field, in the order of the form."""
    return tuple(field for field in _fields(content) if field.text)


def also_asked(content: KeyingSheetContent) -> tuple[tuple[str, str], ...]:
    """Return the fields after the contents, each with its name, including empty ones."""
    return (
        ("Export filing", content.export_citation),
        ("Seller's tax number", content.tax_id),
        ("Buyer's tax number", content.buyer_tax_id),
        ("License", content.license),
        ("Certificate", content.certificate),
        ("Invoice", content.invoice),
        ("If undeliverable", content.if_undeliverable),
        ("Insured value", content.insured_value),
    )


def _fields(content: KeyingSheetContent) -> Iterator[KeyingField]:
    for group, party in (("From", content.sender_fields), ("To", content.recipient_fields)):
        for name, words in PARTY_WORDS.items():
            yield KeyingField(group, words, getattr(party, name))
    yield KeyingField("Package", "Reason for export", content.category)
    for number, line in enumerate(content.lines, 1):
        group = f"Article {number} of {len(content.lines)}"
        yield KeyingField(group, "Description", line.description)
        yield KeyingField(group, "Quantity", line.quantity)
        yield from _weight(group, "Net weight", line.net_lb_oz)
        yield KeyingField(group, "Value in USD", line.value_usd)
        yield KeyingField(group, "HS code", line.hs)
        yield KeyingField(group, "Country of origin", line.origin)
    yield KeyingField("Totals", "Total value in USD", content.total_value_usd)
    yield from _weight("Totals", "Total net", content.total_net_lb_oz)
    yield from _weight("Totals", "Total weight", content.gross_lb_oz)
    for name, text in also_asked(content):
        yield KeyingField("Also asked", name, text)


def _weight(group: str, name: str, pounds_ounces: str) -> Iterator[KeyingField]:
    """Yield pounds and ounces of `1 lb 3.2 oz` as two fields, as forms ask."""
    pounds, _, ounces = pounds_ounces.partition(" lb ")
    if ounces:
        yield KeyingField(group, f"{name}, lb", pounds)
        yield KeyingField(group, f"{name}, oz", ounces.removesuffix(" oz"))
