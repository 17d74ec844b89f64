"""Who is owed a refund after asking for a stamp (common practice, no source)."""

from __future__ import annotations

from desk.domain.money import Money, zero


def stamp_refund(shipping_paid: Money, postage: Money, mailer: Money) -> Money:
    """Return the shipping paid less postage and mailer, at least 0."""
    left = shipping_paid - postage - mailer
    return left if zero(left.currency) < left else zero(left.currency)
