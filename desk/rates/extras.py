"""Extras: what can be bought with a piece besides its postage, and its price.

Sources: price list of July 12, 2026 (which services sell them, and at least three pieces on a firm sheet); IMM 232 for
insurance abroad. That insurance and signatures at home are other extras than those abroad is common practice.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from desk.domain.exchange import converted
from desk.domain.money import Money
from desk.domain.service import Service
from desk.rates.rules import PriceRules

CERTIFICATE, FIRM_SHEET = "certificate-of-mailing", "certificate-firm-sheet"
INSURANCE, INSURANCE_ABROAD, SIGNATURE = "insurance", "insurance-abroad", "signature"
ANYWHERE, AT_HOME, ABROAD = (CERTIFICATE, FIRM_SHEET), (INSURANCE, SIGNATURE), (INSURANCE_ABROAD,)
CERTIFICATES = frozenset(ANYWHERE)  # one piece has one or the other; both are stamped at the counter
LEAST_ON_SHEET = 3


@dataclass(frozen=True, slots=True)
class PricedExtra:
    """An extra by its code, and its price with one service for goods of one value; None where it is not sold."""

    code: str
    price: Money | None


def extras_of_side(*, abroad: bool) -> tuple[str, ...]:
    """Return the codes of what may be bought for mail at home or abroad."""
    return (*ANYWHERE, *(ABROAD if abroad else AT_HOME))


def priced_extras(codes: Iterable[str], service: Service, value: Money, rules: PriceRules) -> tuple[PricedExtra, ...]:
    """Return extras with what they cost for goods of that value, in the order of their codes."""
    side = extras_of_side(abroad=service.abroad)
    return tuple(PricedExtra(code, _price(code, service, value, rules) if code in side else None) for code in codes)


def _price(code: str, service: Service, value: Money, rules: PriceRules) -> Money | None:
    """Return the price by the newest list, for the value converted to dollars.

    At an approximate rate it is for the most the goods can be worth, so that the cover is never too low. Insurance has
    no price for goods of no value, or where there is no rate.
    """
    in_dollars = converted(value, "USD", rules.rates)
    if code in (INSURANCE, INSURANCE_ABROAD) and (in_dollars is None or not in_dollars.amount):
        return None
    declared = in_dollars.most_cents() if in_dollars is not None else None
    sold = rules.charts.extra(code, rules.on, service.id, declared)  # noqa: S610 - no database query
    return sold.amount if sold is not None else None
