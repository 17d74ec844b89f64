"""The dollar values of a declaration, and the sender's name as declarations need it."""

from __future__ import annotations

from desk.domain.exchange import converted
from desk.domain.money import Money
from desk.domain.shop.shop import SenderName, Shop
from desk.session.verdict.verdict import Terms


def sender_name_of(shop: Shop) -> SenderName:
    """Return the sender's first and last name as entered, else those of the person at a company; empty for none."""
    if shop.sender_name != SenderName():
        return shop.sender_name
    return split_name(shop.sender.recipient) if shop.sender.company else SenderName()


def split_name(name: str) -> SenderName:
    """Return a name as first and last name: its last word is the last name. A single word is the last name."""
    first, _, last = " ".join(name.split()).rpartition(" ")
    return SenderName(first, last)


def dollars_from(value: Money, terms: Terms) -> str:
    """Return where a value in dollars comes from: `as paid`, `own rate`, `approximate rate`; empty where it is unknown."""
    there = converted(value, "USD", terms.rates)
    if there is None:
        return ""
    return "approximate rate" if there.is_rough else "own rate" if there.rates else "as paid"


def in_dollars(value: Money, terms: Terms) -> Money | None:
    """Return a declared value in dollars to the cent, as the post's form asks; None where no rate is known."""
    there = converted(value, "USD", terms.rates)
    return None if there is None else there.cents()
