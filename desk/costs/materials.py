"""What a piece costs besides postage: its mailer, its insert, its label."""

from __future__ import annotations

from desk.domain.money import Money
from desk.domain.shop.mailer import Mailer
from desk.domain.shop.shop import Policy


def materials_cost(mailer: Mailer | None, policy: Policy, *, has_label: bool) -> Money:
    """Return mailer (pack price over pack count, to the cent; a reused one is free) + insert + label."""
    total = policy.insert_cost if mailer is None else policy.insert_cost + mailer.cost(policy.currency)
    return total + policy.label_cost if has_label else total
