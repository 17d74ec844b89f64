"""How a piece's postage is paid, and whether its label is printed here."""

from __future__ import annotations

from desk.rates.services import Payment, payment_for

__all__ = ["Payment", "has_label", "payment_for"]


def has_label(payment: Payment | None) -> bool:
    """Return True when this program prints the address label: postage bought online comes with its own."""
    return payment in {Payment.STAMPED, Payment.METERED, Payment.COUNTER}
