"""Case: one piece with everything that decides its price except the exact weight."""

from __future__ import annotations

from collections.abc import Hashable
from dataclasses import dataclass

from desk.domain.finding import Finding, Severity, reason
from desk.domain.weight import Weight
from desk.rates.offer import Candidate, Offer, candidate
from desk.rates.posting import Posting
from desk.rates.rules import Out, PriceRules
from desk.rates.shape import UNMEASURED, Form, form_of
from desk.rates.tried import bar, not_tried, services_tried, untracked_allowed
from desk.rates.zone import ZoneAnswer

_MOST_KEPT = 4096


@dataclass(frozen=True, slots=True)
class Opened:
    """What is the same for every piece that differs in weight alone. `by_zone`: a service asked for the zone."""

    form: Form
    tried: tuple[str, ...]
    candidates: tuple[Candidate, ...]
    outs: tuple[Out, ...]
    by_zone: bool


@dataclass(frozen=True, slots=True)
class Case:
    """The piece, its form, the services that could carry it by policy, and those that are out whatever it weighs."""

    posting: Posting
    form: Form
    tried: tuple[str, ...]
    candidates: tuple[Candidate, ...]
    outs: tuple[Out, ...]
    zone: ZoneAnswer | None  # None when no service asked for it

    def priced_at(self, weight: Weight) -> tuple[list[Offer], list[Out]]:
        """The offers at a weight, cheapest first (ties: fewer surcharges, then the shop's order), and the rest."""
        ranked: list[tuple[tuple[int, int, int], Offer]] = []
        outs = []
        for each in self.candidates:
            offer = each.offer_at(weight, self.posting.label_weight)
            if isinstance(offer, Finding):
                outs.append(Out(each.service, offer))
            else:
                ranked.append(((offer.price.minor, len(offer.surcharges), each.place), offer))
        ranked.sort(key=lambda entry: entry[0])
        return [offer for _, offer in ranked], outs


def form_of_piece(posting: Posting) -> Form:
    """The form by size and traits; a piece nobody measured goes as a parcel."""
    return form_of(posting.size, posting.traits) if posting.size is not None else UNMEASURED


def open_case(posting: Posting, rules: PriceRules, form: Form | None = None) -> Case:
    """Everything about the piece that can be settled before its weight is looked at, with its own form if none is given.

    Answers are kept by all they rest on: a pile goes in a few mailers to nine zones.
    """
    zone = None if posting.abroad else rules.zones.find(posting.origin_zip, posting.destination_zip)
    asked = _asked(posting, rules, form, zone)
    if asked not in rules.opened:
        if len(rules.opened) >= _MOST_KEPT:
            rules.opened.clear()
        rules.opened[asked] = _open(posting, rules, form, zone)
    opened: Opened = rules.opened[asked]
    return Case(posting, opened.form, opened.tried, opened.candidates, opened.outs, zone if opened.by_zone else None)


def _asked(posting: Posting, rules: PriceRules, form: Form | None, zone: ZoneAnswer | None) -> Hashable:
    """All of a piece but its weight that a case rests on; of values and places only what makes a difference."""
    untracked = untracked_allowed(posting, rules.policy)
    return (
        posting.size,
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
        posting.restricted,
        posting.allowed,
        None if untracked else posting.order_value,
        tuple(limit.currency == posting.value.currency and limit < posting.value for limit in rules.value_limits()),
    )


def _open(posting: Posting, rules: PriceRules, given: Form | None, zone: ZoneAnswer | None) -> Opened:
    form = given or form_of_piece(posting)
    tried = services_tried(posting, rules.policy)
    candidates: list[Candidate] = []
    outs: list[Out] = []
    by_zone = False
    for place, service in enumerate(tried):
        found: Candidate | Finding | None = bar(service, posting, rules.policy) or _other_money(service, rules)
        if found is None:
            key, asks_zone = _key(service, posting, rules, zone)
            by_zone = by_zone or asks_zone
            found = candidate(place, service, key, posting, form, rules)
        if isinstance(found, Finding):
            outs.append(Out(service, found))
        else:
            candidates.append(found)
    aside = not_tried(posting, rules, tried)
    return Opened(form, tried, tuple(candidates), (*outs, *aside), by_zone)


def _other_money(service: str, rules: PriceRules) -> Finding | None:
    """Prices are ranked, so all of them have to be in the shop's money."""
    chart = rules.chart(service)
    if chart is None or chart.currency == rules.policy.currency:
        return None
    return reason("list-in-other-money", chart.source, currency=chart.currency, shop=rules.policy.currency)


def _key(service: str, posting: Posting, rules: PriceRules, zone: ZoneAnswer | None) -> tuple[str | Finding, bool]:
    """The zone or price group of a piece for a service, or why there is none; and whether its zone was asked for."""
    chart = rules.chart(service)
    if chart is None or not chart.keyed_by:
        return "", False
    if chart.keyed_by == "group" or zone is None:
        group = rules.charts.group(service, posting.country, rules.on)
        return group or reason("not-to-that-country", chart.source, country=posting.country), False
    facts = {"origin": posting.origin_zip[:3], "destination": posting.destination_zip[:3]}
    return zone.zone or Finding("zone-unknown", Severity.FINE, facts, zone.edition), True
