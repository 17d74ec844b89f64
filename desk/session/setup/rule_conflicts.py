"""Shop rules that contradict each other, reported at their fields."""

from __future__ import annotations

from collections.abc import Mapping

from desk.domain.service import PriceLevel
from desk.domain.shop.shop import ParcelPayment, Policy
from desk.rates.lists.chart import Charts
from desk.session.words.services import service_words

NOT_AS_PAID = {ParcelPayment.ONLINE: PriceLevel.COUNTER, ParcelPayment.COUNTER: PriceLevel.ONLINE}


def rule_conflicts(policy: Policy, charts: Charts) -> Mapping[str, str]:
    """Return a sentence for each field that contradicts another; empty when there is no conflict."""
    wrong = NOT_AS_PAID[policy.parcel_payment]
    known = set(charts.services())
    odd = [name for name in policy.parcel_services if name in known and charts.service(name).price_level is wrong]
    if not odd:
        return {}
    where = "online" if policy.parcel_payment is ParcelPayment.ONLINE else "at the counter"
    price = "retail" if wrong is PriceLevel.COUNTER else "online"
    names = ", ".join(service_words(name) for name in odd)
    return {"parcel_services": f"You buy postage {where}, but these have {price} prices: {names}."}
