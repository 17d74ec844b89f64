"""A piece to quote: everything that decides its price except the exact weight."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Hashable
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Any  # records of a module that imports this one

from desk.domain.finding import Code, Finding, Severity, reason
from desk.domain.form_weight import FORM_FROM
from desk.domain.money import Money
from desk.domain.weight import Weight
from desk.rates.eligible import bar, not_tried, services_tried, untracked_allowed
from desk.rates.lists.price_list import PriceRow
from desk.rates.offer import Offer, PricedService, candidate
from desk.rates.posting import Posting
from desk.rates.rules import PriceRules, ServiceOut
from desk.rates.shape import FLAT_LIMIT, LETTER_LIMIT, PARCEL_LIMIT, UNMEASURED, ShapeOptions, form_of
from desk.rates.zone import ZoneAnswer

COMMON_LIMITS = (LETTER_LIMIT, FLAT_LIMIT, PARCEL_LIMIT, FORM_FROM)  # where shape or customs form may change
_MOST_KEPT = 4096


@dataclass(frozen=True, slots=True)
class Ranked:
    """An offer without its weight: what a candidate charges anywhere within one step."""

    of: PricedService
    price: Money
    base: Money
    row: PriceRow | None

    def at(self, weight: Weight, label: Weight) -> Offer:
        """Return the offer at a weight within that step, label included."""
        return Offer(self.of, self.price, self.base, self.row, weight, label)


@dataclass(frozen=True, slots=True)
class WeightStep:
    """What is true at every weight between two neighboring limits: offers, cheapest first, and the services ruled out.

    Ties go to fewer surcharges, then to the shop's order. `place` is the step's index.
    """

    place: int
    ranked: tuple[Ranked, ...]
    outs: tuple[ServiceOut, ...]


@dataclass(frozen=True, slots=True)
class Opened:
    """What pieces that differ only in weight have in common. `by_zone`: a service needed the zone.

    `limits` holds every weight, in grams, where an answer may change; plain numbers bisect fastest. A weight exactly at
    a limit belongs to the step below it. `steps` and `remarks` cache what was worked out for each step.
    """

    form: ShapeOptions
    tried: tuple[str, ...]
    candidates: tuple[PricedService, ...]
    outs: tuple[ServiceOut, ...]
    by_zone: bool
    limits: tuple[Decimal, ...]
    takes_any: bool
    steps: dict[int, WeightStep] = field(default_factory=dict)
    remarks: dict[int, Any] = field(default_factory=dict)  # a record of quote.py, which imports this module


@dataclass(frozen=True, slots=True)
class QuoteCase:
    """One piece, with what it shares with others of its kind."""

    posting: Posting
    opened: Opened
    zone: ZoneAnswer | None  # None when no service needed it

    @property
    def form(self) -> ShapeOptions:
        """Return the shape and traits decided by size."""
        return self.opened.form

    @property
    def tried(self) -> tuple[str, ...]:
        """Return the services that policy, buyer and mailer allow."""
        return self.opened.tried

    @property
    def candidates(self) -> tuple[PricedService, ...]:
        """Return the allowed services that could carry the piece."""
        return self.opened.candidates

    @property
    def outs(self) -> tuple[ServiceOut, ...]:
        """Return the services ruled out at any weight."""
        return self.opened.outs

    def step_at(self, weight: Weight) -> WeightStep:
        """Return the offers and refusals at a weight."""
        place = bisect_left(self.opened.limits, weight.grams)
        known = self.opened.steps.get(place)
        if known is None:
            known = self.opened.steps[place] = _step(place, self.opened.candidates, weight)
        return known

    def limits_between(self, low: Weight, high: Weight) -> tuple[Weight, ...]:
        """Return the limits above `low` and below `high`; none when no service takes the piece at any weight."""
        if not self.opened.takes_any:
            return ()
        first, last = bisect_right(self.opened.limits, low.grams), bisect_left(self.opened.limits, high.grams)
        return tuple([Weight(grams) for grams in self.opened.limits[first:last]])


def _step(place: int, candidates: tuple[PricedService, ...], weight: Weight) -> WeightStep:
    ranked: list[tuple[tuple[int, int, int], Ranked]] = []
    outs = []
    for each in candidates:
        offer = each.offer_at(weight)
        if isinstance(offer, Finding):
            outs.append(ServiceOut(each.service, offer))
        else:
            rank = offer.price.minor, len(offer.surcharges), each.place
            ranked.append((rank, Ranked(offer.of, offer.price, offer.base, offer.row)))
    ranked.sort(key=lambda entry: entry[0])
    return WeightStep(place, tuple(entry[1] for entry in ranked), tuple(outs))


def form_of_piece(posting: Posting) -> ShapeOptions:
    """Return the form given by size and traits; a piece without a size goes as a parcel."""
    return form_of(posting.size, posting.traits) if posting.size is not None else UNMEASURED


def open_case(posting: Posting, rules: PriceRules, form: ShapeOptions | None = None) -> QuoteCase:
    """Settle everything about the piece that does not depend on its weight; the form is worked out unless given.

    Results are cached by every input, because a batch uses a few mailers and nine zones.
    """
    zone = (
        None if posting.abroad or not posting.country else rules.zones.find(posting.origin_zip, posting.destination_zip)
    )
    asked = _asked(posting, rules, form, zone)
    if asked not in rules.opened:
        if len(rules.opened) >= _MOST_KEPT:
            rules.opened.clear()
        rules.opened[asked] = _open(posting, rules, form, zone)
    opened: Opened = rules.opened[asked]
    return QuoteCase(posting, opened, zone if opened.by_zone else None)


def _asked(posting: Posting, rules: PriceRules, form: ShapeOptions | None, zone: ZoneAnswer | None) -> Hashable:
    """Return the cache key of a case: all inputs but the weight, with values and places reduced to what matters."""
    size, value = posting.size, posting.value
    untracked = untracked_allowed(posting, rules)
    return (
        (size.length.mm, size.width.mm, size.thickness.mm) if size else None,
        posting.mailer_kind,
        posting.paper,
        posting.stiff,
        posting.uneven,
        form,
        posting.only_service,
        posting.country,
        posting.region,
        (zone.zone or (posting.origin_zip[:3], posting.destination_zip[:3])) if zone else "",
        posting.documents_only,
        posting.media,
        posting.library,
        posting.restricted,
        posting.allowed,
        posting.stamp_asked,
        None if untracked else posting.order_value,
        value.currency,
        tuple([rules.is_over(value, limit) for limit in rules.value_limits()]),
    )


def _open(posting: Posting, rules: PriceRules, options: ShapeOptions | None, zone: ZoneAnswer | None) -> Opened:
    form = options or form_of_piece(posting)
    tried = services_tried(posting, rules.policy)
    candidates: list[PricedService] = []
    outs: list[ServiceOut] = []
    by_zone = False
    for place, service in enumerate(tried):
        priced: PricedService | Finding | None = bar(rules.service(service), posting, rules) or _other_money(
            service, rules
        )
        if priced is None:
            key, asks_zone = _key(service, posting, rules, zone)
            by_zone = by_zone or asks_zone
            priced = candidate(place, service, key, posting, form, rules)
        if isinstance(priced, Finding):
            outs.append(ServiceOut(service, priced))
        else:
            candidates.append(priced)
    aside = not_tried(posting, rules, tried)
    grams = {limit.grams for limit in COMMON_LIMITS}.union(*(each.limits() for each in candidates))
    return Opened(
        form=form,
        tried=tried,
        candidates=tuple(candidates),
        outs=(*outs, *aside),
        by_zone=by_zone,
        limits=tuple(sorted(grams)),
        takes_any=any(each.refused is None for each in candidates),
    )


def _other_money(service: str, rules: PriceRules) -> Finding | None:
    """Return why a list in another currency is ruled out: prices are ranked, so they must share the shop's currency."""
    chart = rules.chart(service)
    if chart is None or chart.currency == rules.policy.currency:
        return None
    return reason(Code.LIST_IN_OTHER_MONEY, chart.source, currency=chart.currency, shop=rules.policy.currency)


def _key(service: str, posting: Posting, rules: PriceRules, zone: ZoneAnswer | None) -> tuple[str | Finding, bool]:
    """Return a piece's zone or price group for a service, or why there is none; and whether the zone was needed."""
    chart = rules.chart(service)
    if chart is None or not chart.keyed_by:
        return "", False
    if chart.keyed_by == "group" or zone is None:
        group = rules.charts.group(service, posting.country, rules.on)
        return group or reason(Code.NOT_TO_THAT_COUNTRY, chart.source, country=posting.country), False
    facts = {"origin": posting.origin_zip[:3], "destination": posting.destination_zip[:3]}
    return zone.zone or Finding(Code.ZONE_UNKNOWN, Severity.FINE, facts, zone.edition), True
