"""What to charge for shipping: advice by destination group from the shop's own ledger."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass

from desk.costs.charge_advice import ChargeAdvice, ChargeOutcome, advice, curve
from desk.domain.ledger import Entry, LedgerRow
from desk.domain.money import Money
from desk.domain.places.country import is_abroad

__all__ = ["ChargeAdvice", "ChargeOutcome", "ShippingCost", "charging", "curve", "overcharged", "shipping_costs"]

HOME, ABROAD = "United States", "Other countries"


@dataclass(frozen=True, slots=True)
class ShippingCost:
    """What one order cost to send and what its buyer paid for shipping."""

    order: str
    group: str
    cost: Money
    paid: Money


def shipping_costs(rows: Iterable[LedgerRow]) -> list[ShippingCost]:
    """Return the cost of every order: postage and materials, without what buyers paid. Currencies stay apart."""
    spent: dict[tuple[str, str, str], int] = defaultdict(int)
    paid: dict[tuple[str, str, str], int] = defaultdict(int)
    for row in rows:
        key = row.order, ABROAD if is_abroad(row.country) else HOME, row.amount.currency
        if row.entry is Entry.SHIPPING_PAID:
            paid[key] += row.amount.minor
        elif row.entry not in (Entry.BUYER_REFUND, Entry.CLAIM_PAID):
            spent[key] -= row.amount.minor
    return [
        ShippingCost(order, group, Money(cost, currency), Money(paid[order, group, currency], currency))
        for (order, group, currency), cost in spent.items()
    ]


def charging(costs: Iterable[ShippingCost], currency: str) -> list[ChargeAdvice]:
    """Return the advice for home and abroad, in one currency; groups without orders are left out."""
    groups: dict[str, list[Money]] = defaultdict(list)
    for one in costs:
        if one.cost.currency == currency:
            groups[one.group].append(one.cost)
    return [advice(group, groups[group]) for group in (HOME, ABROAD) if groups[group]]


def overcharged(costs: Iterable[ShippingCost], more_than: Money) -> list[ShippingCost]:
    """Return the orders whose buyers paid more than this above the cost, the largest first."""
    found = [one for one in costs if one.paid.currency == more_than.currency and more_than < one.paid - one.cost]
    return sorted(found, key=lambda one: (-(one.paid - one.cost).minor, one.order))
