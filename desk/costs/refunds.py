"""Who is owed something back for asking for a stamp (common practice, no source)."""

from __future__ import annotations

from desk.domain.money import Money, zero


def stamp_refund(shipping_paid: Money, postage: Money, mailer: Money) -> Money:
    """What the buyer paid for shipping, less the postage and the mailer; never below nothing."""
    left = shipping_paid - postage - mailer
    return left if zero(left.currency) < left else zero(left.currency)
