"""How a piece's postage is paid, by its service and the shop's policy."""

from __future__ import annotations

from enum import StrEnum

from desk.domain.shop import LetterPostage, ParcelPayment, Policy

BY_LETTER_POSTAGE = frozenset({"postcard", "flat", "intl-letter", "intl-flat"})


class Payment(StrEnum):
    """Who takes the money, and where."""

    STAMPED = "stamped"
    METERED = "metered"
    COUNTER = "counter"
    ONLINE = "online"


def payment_for(service: str, policy: Policy) -> Payment:
    """Letters by their own name; postcards and flats as letters are paid here; parcels as parcels are."""
    if service == "letter-stamped":
        return Payment.STAMPED
    if service == "letter-metered":
        return Payment.METERED
    if service in BY_LETTER_POSTAGE:
        return Payment.STAMPED if policy.letter_postage is LetterPostage.STAMPED else Payment.METERED
    return Payment.COUNTER if policy.parcel_payment is ParcelPayment.COUNTER else Payment.ONLINE


def has_label(payment: Payment | None) -> bool:
    """True when this program prints the address label: postage bought online comes with its own."""
    return payment in {Payment.STAMPED, Payment.METERED, Payment.COUNTER}
