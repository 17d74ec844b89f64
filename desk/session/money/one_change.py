"""What a piece would have cost with one thing changed: its zone, weight step, size, fees, price list or service."""

from __future__ import annotations

from collections.abc import Hashable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from itertools import chain

from desk.costs.paid_difference import Cause, Reason
from desk.domain.ledger import LedgerRow
from desk.domain.length import INCH_MM, Length, Size
from desk.domain.money import Money
from desk.domain.weight import POUND_G, Weight
from desk.rates.billable import dimensional_weight
from desk.rates.eligible import only_for
from desk.rates.extras import priced_extras
from desk.rates.lists.price_list import ServiceChart
from desk.rates.offer import Offer
from desk.rates.posting import Posting
from desk.rates.quote import price_of
from desk.rates.rules import PriceRules, ServiceOut
from desk.session.verdict.judge import judge, posting_of
from desk.session.verdict.verdict import Terms, Verdict


@dataclass(frozen=True, slots=True)
class _AsMailed:
    """A piece as it was priced when it was mailed: by which rules, with which extras, and what it was offered at."""

    posting: Posting
    verdict: Verdict
    rules: PriceRules
    zone: str
    offer: Offer

    def price(self, service: str, key: str, rules: PriceRules | None = None) -> Money | None:
        """Return the postage with its extras, priced otherwise, whatever the shop's rules.

        None where that service does not take the piece, or in another currency.
        """
        offer_price = price_of(self.posting, service, key, rules or self.rules)
        if isinstance(offer_price, ServiceOut):
            return None
        offer = offer_price.of.offer_at(self.offer.weight, self.posting.label_weight)  # as heavy as it was estimated
        if not isinstance(offer, Offer) or offer.price.currency != self.offer.price.currency:
            return None
        return self.with_extras(offer, rules or self.rules)

    def with_extras(self, offer: Offer, rules: PriceRules) -> Money:
        """Return an offer's price with the extras bought with the piece."""
        case = self.verdict.case
        sold = priced_extras(case.extras, offer.facts, case.order.goods_value, rules)
        return sum((extra.price for extra in sold if extra.price is not None), offer.price)


class OneChange:
    """Answers for many pieces under the same terms; what pieces have in common is worked out once."""

    def __init__(self, terms: Terms) -> None:
        self.terms = terms
        self._days: dict[date, Terms] = {}
        self._rules: dict[tuple[date, str, tuple[date, ...]], PriceRules] = {}
        self._known: dict[Hashable, list[tuple[Cause, Money]]] = {}

    def prices(self, verdict: Verdict, entered: LedgerRow, estimated: Money) -> list[tuple[Cause, Money]]:
        """Return what a piece would have cost with one thing changed from how it was estimated.

        `entered` says by which service, zone and list. Empty where the estimate can't be repeated, since the shop's
        settings have changed.
        """
        weighing, case, lists = verdict.case.weighing, verdict.case, self._lists(entered.service)
        if weighing is None or not lists:
            return []
        posting = posting_of(case, weighing, verdict.contents, self.terms)
        zone = entered.zone
        if lists[0].keyed_by != "zone":
            zone = self.terms.rulebook.zones.find(posting.origin_zip, posting.destination_zip).zone
        facts = (entered.service, entered.zone, entered.price_list, entered.mailed_on, estimated, zone)
        alike = (*facts, case.extras, case.order.goods_value, replace(posting, destination_zip=""))
        if alike not in self._known:
            mailed = self._as_mailed(verdict, posting, entered, zone)
            if mailed is None or mailed.with_extras(mailed.offer, mailed.rules) != estimated:
                self._known[alike] = []
            else:
                changed = chain(*(prices(mailed) for prices in (_zones, _weights, _sizes, self._fees, self._others)))
                self._known[alike] = [(cause, price) for cause, price in changed if price != estimated]
        return self._known[alike]

    def _as_mailed(self, verdict: Verdict, posting: Posting, entered: LedgerRow, zone: str) -> _AsMailed | None:
        of_list = date.fromisoformat(entered.price_list)
        then = [one for one in self._lists(entered.service) if one.effective <= of_list]
        rules = self._of_lists(entered.mailed_on, entered.service, then)
        price_then = price_of(posting, entered.service, entered.zone, rules)
        if isinstance(price_then, ServiceOut):
            return None
        if entered.mailed_on not in self._days:
            self._days[entered.mailed_on] = replace(self.terms, on=entered.mailed_on)
        quoted = judge(verdict.case, self._days[entered.mailed_on]).quote
        offer = price_then.of.offer_at(quoted.weight, posting.label_weight) if quoted else None
        return _AsMailed(posting, verdict, rules, zone, offer) if isinstance(offer, Offer) else None

    def _lists(self, service: str) -> Sequence[ServiceChart]:
        return self.terms.rulebook.charts.lists.get(service, ())

    def _of_lists(self, on: date, service: str, lists: Sequence[ServiceChart]) -> PriceRules:
        """Return the price rules of a day with only these lists of one service."""
        key = on, service, tuple(one.effective for one in lists)
        if key not in self._rules:
            charts = self.terms.rulebook.charts
            some = replace(charts, lists={**charts.lists, service: tuple(lists)})
            self._rules[key] = replace(self.terms.price_rules, charts=some, on=on)
        return self._rules[key]

    def _fees(self, mailed: _AsMailed) -> Iterator[tuple[Cause, Money]]:
        """Yield the prices with one fee more or less. Fees are those of all lists, since a newer one may show none."""
        offer, price = mailed.offer, mailed.with_extras(mailed.offer, mailed.rules)
        charged = {fee.code: fee.amount for fee in offer.surcharges}
        listed = (fee for chart in self._lists(offer.service) for fee in chart.surcharges)
        more = {fee.amount for fee in listed if fee.code not in charged and fee.amount.currency == price.currency}
        yield from ((Cause(Reason.SIZE_FEE), price + fee) for fee in more)
        yield from ((Cause(Reason.SIZE_FEE), price - fee) for fee in charged.values())

    def _others(self, mailed: _AsMailed) -> Iterator[tuple[Cause, Money]]:
        """Yield the prices by the service's other lists that count on the mailing date, and by other services."""
        offer, on, country = mailed.offer, mailed.rules.on, mailed.posting.country
        for chart in self._lists(offer.service):
            if chart.effective == offer.chart.effective or not chart.counts_on(on):
                continue
            key = chart.groups.get(country, "") if chart.keyed_by == "group" else offer.key
            rules = self._of_lists(on, offer.service, [chart])
            if (price := mailed.price(offer.service, key, rules)) is not None:
                reason = Reason.NEWER_LIST if offer.chart.effective < chart.effective else Reason.OLDER_LIST
                yield Cause(reason, str(chart.effective)), price
        yield from _services(mailed)


def _zones(mailed: _AsMailed) -> Iterator[tuple[Cause, Money]]:
    """Yield the prices one zone nearer and one farther."""
    offer = mailed.offer
    if offer.chart.keyed_by == "zone" and offer.key.isdigit():
        for zone in (str(int(offer.key) - 1), str(int(offer.key) + 1)):
            if (price := mailed.price(offer.service, zone)) is not None:
                yield Cause(Reason.ZONE_OFF, zone), price


def _weights(mailed: _AsMailed) -> Iterator[tuple[Cause, Money]]:
    """Yield the prices of the rows above and below, with the same fees and extras."""
    offer = mailed.offer
    if offer.row is None:
        return
    rows, more = offer.chart.rows[offer.key], mailed.with_extras(offer, mailed.rules) - offer.base
    at = rows.index(offer.row)
    if at + 1 < len(rows):
        yield Cause(Reason.MORE_WEIGHT), rows[at + 1].price + more
    if at:
        yield Cause(Reason.LESS_WEIGHT), rows[at - 1].price + more


def _sizes(mailed: _AsMailed) -> Iterator[tuple[Cause, Money]]:
    """Yield the prices by other sizes: a dimensional weight, the weight alone where size counted, the next volumes."""
    offer = mailed.offer
    more = mailed.with_extras(offer, mailed.rules) - offer.base
    if offer.row is not None:
        weights = [*_by_size(mailed), *([offer.weight] if offer.billable.dimensional else [])]
        rows = (offer.chart.row(weight, offer.key) for weight in weights)
        yield from ((Cause(Reason.SIZE), row.price + more) for row in rows if row is not None)
    tiers = offer.chart.tiers.get(offer.key, ())
    labels = [tier.label for tier in tiers]
    if offer.row_label in labels:
        at = labels.index(offer.row_label)
        yield from (
            (Cause(Reason.SIZE), tier.price + more) for tier in (*tiers[max(at - 1, 0) : at], *tiers[at + 1 : at + 2])
        )


def _by_size(mailed: _AsMailed) -> Iterator[Weight]:
    """Yield the dimensional weights above the gross weight, up to that of the piece two inches longer each way.

    In whole pounds, from the least that the rule gives. Two inches are common practice, no source.
    """
    rule, size = mailed.offer.chart.dimensional, mailed.posting.size
    if rule is None or size is None:
        return
    largest = Size(*(Length(side.mm + 2 * INCH_MM) for side in (size.length, size.width, size.thickness)))
    most = dimensional_weight(largest, rule, tube=mailed.posting.rolled)
    pounds = int(rule.over_cubic_inches // rule.divisor) + 1  # the least that counts
    while most is not None and (weight := Weight(pounds * POUND_G)) <= most:
        if mailed.offer.weight < weight:
            yield weight
        pounds += 1


def _services(mailed: _AsMailed) -> Iterator[tuple[Cause, Money]]:
    """Yield the prices of every other service that takes the piece; that of media whatever the goods are."""
    as_media = replace(mailed.posting, media=True)
    for service in mailed.rules.services():
        chart = mailed.rules.chart(service)
        if chart is None or service == mailed.offer.service or chart.facts.abroad is not mailed.posting.abroad:
            continue
        if only_for(chart.facts, as_media):
            continue
        groups = chart.groups.get(mailed.posting.country, "")
        key = {"zone": mailed.zone, "group": groups}.get(chart.keyed_by, "")
        if (price := mailed.price(service, key)) is not None:
            yield Cause(Reason.PRICE_OF_SERVICE, service), price
