"""Offer: what one service charges for a piece at a weight, or why it is ruled out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from desk.domain.exact import short
from desk.domain.finding import Code, Finding, reason
from desk.domain.money import Money
from desk.domain.service import Service
from desk.domain.weight import POUND_G, Weight
from desk.rates.billable import Billable, billable, dimensional_weight
from desk.rates.cubic import tier_of
from desk.rates.fees import NO_FEES, Fees, fees_of
from desk.rates.limits import REPORTED_WHEN_CHEAPER, Span, over_weight, refusal, weight_span
from desk.rates.lists.cells_file import OVERSIZED
from desk.rates.lists.price_list import PriceRow, ServiceChart, Surcharge
from desk.rates.posting import Posting
from desk.rates.restricted import air_bar
from desk.rates.rules import PriceRules
from desk.rates.shape import GIRTH_LIMIT, ShapeOptions

_BELOW_ITS_SHAPE = reason(Code.NOT_ITS_SHAPE, "DMM 101.1.1c", shape="letter")


@dataclass(frozen=True, slots=True)
class PricedService:
    """A service with a list, and all about it that does not depend on the weight. `place` breaks ties.

    `fixed` is a price that does not depend on the weight, and `fixed_as` its row: a volume, or `oversized`. `beyond` is
    the same service on an older list that has prices where this one ends; `ended` is then the newer list.
    """

    place: int
    service: str
    chart: ServiceChart
    key: str
    span: Span
    fees: Fees
    by_size: Weight | None  # dimensional weight
    fixed: Money | None
    fixed_as: str
    refused: Finding | None
    beyond: PricedService | None = None
    ended: ServiceChart | None = None

    def price_at(self, weight: Weight) -> tuple[Money, PriceRow | None] | Finding:
        """Return the base price and its row at a weight from this list alone, or why there is none."""
        if self.span.above is not None and weight <= self.span.above:
            return _BELOW_ITS_SHAPE
        if self.span.most is not None and weight > self.span.most:
            return over_weight(self.span)
        if self.fixed is not None:
            return self.fixed, None
        if self.by_size is not None and self.span.most is not None and self.by_size > self.span.most:
            return self._over_by_size(self.by_size, self.span.most)
        row = self.chart.row(self._billed(weight), self.key)
        if row is None:
            return reason(Code.LIST_ENDS, self.chart.source, service=self.service, chart=self.chart.chart, what="rows")
        return row.price, row

    def offer_at(self, weight: Weight, label: Weight | None = None) -> Offer | Finding:
        """Return the offer at a weight (label included), or why there is none."""
        priced = self.refused or self.price_at(weight)
        if isinstance(priced, Finding):
            return self.beyond.offer_at(weight, label) if self.beyond and priced.code is Code.LIST_ENDS else priced
        base, row = priced
        return Offer(self, self.fees.total(base), base, row, weight, label)

    def limits(self) -> list[Decimal]:
        """Return every weight in grams at which this service's price or answer may change."""
        ends = [end.grams for end in (self.span.above, self.span.most) if end is not None]
        beyond = self.beyond.limits() if self.beyond is not None else []
        return [*self.chart.limits.get(self.key, ()), *ends, *beyond]

    def _over_by_size(self, by_size: Weight, most: Weight) -> Finding:
        """Return the refusal of a piece whose size alone bills as more than the service takes."""
        assert self.chart.dimensional is not None
        facts = {"pounds": short(by_size.grams / POUND_G), "limit": short(most.grams / POUND_G), "unit": "lb"}
        return reason(Code.OVER_DIMENSIONAL_WEIGHT, self.chart.dimensional.source, **facts)

    def _billed(self, weight: Weight) -> Weight:
        return self.by_size if self.by_size is not None and self.by_size > weight else weight


@dataclass(frozen=True, slots=True)
class Offer:
    """A service that takes the piece: `price` is `base` plus surcharges; `row` is None where size alone decides.

    `weight` is the weight it was priced at, including `label`.
    """

    of: PricedService
    price: Money
    base: Money
    row: PriceRow | None
    weight: Weight
    label: Weight | None = None

    @property
    def service(self) -> str:
        """Return the service's id."""
        return self.of.service

    @property
    def chart(self) -> ServiceChart:
        """Return the list the price comes from."""
        return self.of.chart

    @property
    def facts(self) -> Service:
        """Return the service's facts."""
        return self.of.chart.facts

    @property
    def row_label(self) -> str:
        """Return the row it was priced by, as its list writes it: `16`, `0.20 cu ft` or `oversized`."""
        return self.row.max_label if self.row is not None else self.of.fixed_as

    @property
    def key(self) -> str:
        """Return the zone or price group, empty where neither matters."""
        return self.of.key

    @property
    def fees(self) -> Fees:
        """Return the fees charged, and those due that the list does not show."""
        return self.of.fees

    @property
    def surcharges(self) -> tuple[Surcharge, ...]:
        """Return the fees included in the price."""
        return self.of.fees.asked

    @property
    def billable(self) -> Billable:
        """Return what to write and declare; computed on demand, since most offers are not chosen."""
        return billable(self.weight, self.of.chart, self.of.by_size, self.label)


def candidate(
    place: int, service: str, key: str | Finding, posting: Posting, form: ShapeOptions, rules: PriceRules
) -> PricedService | Finding:
    """Return the service as a candidate for the piece; or why it is ruled out.

    A refusal for size or value stays with the candidate, so we can tell when it would have been cheapest. `key` is the
    zone or price group, or why there is none. The shop's policy is not checked here.
    """
    lists = rules.lists(service)
    if not lists:
        return reason(Code.NO_PRICE_LIST, "Setup > Price lists")
    if isinstance(key, Finding):
        return key
    newest = _by_list(place, lists[0], key, posting, form, rules)
    if isinstance(newest, Finding):
        return newest
    return _with_older(newest, lists[1:], posting, form, rules)


def _by_list(
    place: int, chart: ServiceChart, key: str, posting: Posting, form: ShapeOptions, rules: PriceRules
) -> PricedService | Finding:
    refused = air_bar(chart.facts, posting) or refusal(chart, posting, form, rules)
    if refused is not None and refused.code not in REPORTED_WHEN_CHEAPER:
        return refused
    fixed, fixed_as = _fixed(chart, posting, form, key)
    country_limit = chart.country_limits.get(posting.country) if posting.abroad else None
    return PricedService(
        place=place,
        service=chart.service,
        chart=chart,
        key=key,
        span=weight_span(chart, form, country_limit),
        fees=NO_FEES if fixed is not None else fees_of(chart, posting, form),
        by_size=_by_size(chart, posting),
        fixed=fixed,
        fixed_as=fixed_as,
        refused=refused,
    )


def _with_older(
    newest: PricedService, older: Sequence[ServiceChart], posting: Posting, form: ShapeOptions, rules: PriceRules
) -> PricedService:
    """Return the candidate, extended by the next older list that has prices beyond where it ends."""
    for at, chart in enumerate(older):
        key = chart.groups.get(posting.country, "") if chart.keyed_by == "group" and chart.groups else newest.key
        if chart.keyed_by != newest.chart.keyed_by or not chart.reaches_over(newest.chart, key):
            continue
        price = _by_list(newest.place, chart, key, posting, form, rules)
        if isinstance(price, PricedService):
            beyond = replace(_with_older(price, older[at + 1 :], posting, form, rules), ended=newest.chart)
            return replace(newest, beyond=beyond)
    return newest


def _by_size(chart: ServiceChart, posting: Posting) -> Weight | None:
    if chart.dimensional is None or posting.size is None:
        return None
    return dimensional_weight(posting.size, chart.dimensional, tube=posting.rolled)


def _fixed(chart: ServiceChart, posting: Posting, form: ShapeOptions, key: str) -> tuple[Money | None, str]:
    """Return price and row of a piece that its list prices by size alone; None: priced by weight."""
    tier = tier_of(chart, posting, key)
    if tier is not None:
        return tier.price, tier.label
    if form.length_plus_girth is None or form.length_plus_girth <= GIRTH_LIMIT:
        return None, ""
    return chart.oversized.get(key), OVERSIZED
