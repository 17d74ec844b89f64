"""What is written on a customs worksheet, as finished text."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class PartyFields:
    """Sender or addressee, field by field as a form asks; empty where nothing is known."""

    first_name: str = ""
    last_name: str = ""
    company: str = ""
    address1: str = ""
    address2: str = ""
    city: str = ""
    region: str = ""
    postal_code: str = ""
    country: str = ""
    phone: str = ""
    email: str = ""


NOBODY = PartyFields()


@dataclass(frozen=True, slots=True, kw_only=True)
class KeyingLine:
    """One line of goods as text: net weight and value of the whole line."""

    description: str
    quantity: str
    net_kg: str
    net_lb_oz: str
    value: str
    hs: str = ""
    origin: str = ""
    value_usd: str = ""  # the bare figure, as it is typed
    net_is_learned: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class KeyingSheetContent:
    """One piece going abroad, as finished text. Empty texts are left out."""

    order: str
    reference: str
    title: str
    form: str
    category: str
    sender: tuple[str, ...]
    recipient: tuple[str, ...]
    lines: tuple[KeyingLine, ...]
    total_value: str
    total_net_lb_oz: str
    total_net_kg: str
    gross_lb_oz: str
    gross_kg: str
    sender_email: str = ""
    sender_phone: str = ""
    recipient_email: str = ""
    recipient_phone: str = ""
    export_citation: str = ""
    tax_id: str = ""
    buyer_tax_id: str = ""
    license: str = ""
    certificate: str = ""
    invoice: str = ""
    if_undeliverable: str = ""
    insured_value: str = ""
    total_value_usd: str = ""
    sender_fields: PartyFields = NOBODY
    recipient_fields: PartyFields = NOBODY
    to_fix: tuple[str, ...] = ()  # while not empty, the declaration is incomplete
    findings: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
