"""Case: one piece with everything that decides its price except the exact weight."""

from __future__ import annotations

from dataclasses import dataclass

from desk.domain.finding import Finding, Severity, reason
from desk.domain.weight import Weight
from desk.rates.offer import Candidate, Offer, candidate
from desk.rates.posting import Posting
from desk.rates.rules import Out, PriceRules
from desk.rates.shape import UNMEASURED, Form, form_of
from desk.rates.tried import bar, not_tried, services_tried
from desk.rates.zone import ZoneAnswer


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


def open_case(posting: Posting, rules: PriceRules, form: Form) -> Case:
    """Everything about the piece that can be settled before its weight is looked at."""
    tried = services_tried(posting, rules.policy)
    keys = _Keys(posting, rules)
    candidates: list[Candidate] = []
    outs: list[Out] = []
    for place, service in enumerate(tried):
        found = (
            bar(service, posting, rules.policy)
            or _other_money(service, rules)
            or candidate(place, service, keys.of(service), posting, form, rules)
        )
        if isinstance(found, Finding):
            outs.append(Out(service, found))
        else:
            candidates.append(found)
    aside = not_tried(posting, rules, tried)
    return Case(posting, form, tried, tuple(candidates), (*outs, *aside), keys.zone)


def _other_money(service: str, rules: PriceRules) -> Finding | None:
    """Prices are ranked, so all of them have to be in the shop's money."""
    chart = rules.chart(service)
    if chart is None or chart.currency == rules.policy.currency:
        return None
    return reason("list-in-other-money", chart.source, currency=chart.currency, shop=rules.policy.currency)


class _Keys:
    """The zone or price group of a piece for each service; the zone is looked up once, and only when asked for."""

    def __init__(self, posting: Posting, rules: PriceRules) -> None:
        self._posting = posting
        self._rules = rules
        self.zone: ZoneAnswer | None = None

    def of(self, service: str) -> str | Finding:
        chart = self._rules.chart(service)
        if chart is None or not chart.keyed_by:
            return ""
        if chart.keyed_by == "group":
            group = self._rules.charts.group(service, self._posting.country, self._rules.on)
            return group or reason("not-to-that-country", chart.source, country=self._posting.country)
        if self.zone is None:
            self.zone = self._rules.zones.find(self._posting.origin_zip, self._posting.destination_zip)
        facts = {"origin": self._posting.origin_zip[:3], "destination": self._posting.destination_zip[:3]}
        return self.zone.zone or Finding("zone-unknown", Severity.FINE, facts, self.zone.edition)
