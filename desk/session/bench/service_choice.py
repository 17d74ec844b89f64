"""Choose the service of pieces from those that can carry them, each listed once with its price."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, replace

from desk.rates.quote import Quote, quote
from desk.session.setup.shop_texts import all_services
from desk.session.verdict.judge import posting_of
from desk.session.verdict.library import LIBRARY
from desk.session.verdict.verdict import Terms, Verdict
from desk.session.words.figures import amount_words
from desk.session.words.sentences import sentence
from desk.session.words.services import service_words
from desk.session.words.weights import reading_words


@dataclass(frozen=True, slots=True)
class ServiceChoice:
    """A service that can carry the piece: its id, its name with the price, and whether it is used now."""

    service: str
    words: str
    is_used: bool = False


def service_choices(verdict: Verdict, terms: Terms) -> tuple[ServiceChoice, ...]:
    """Return the services that can carry a weighed piece, cheapest first, whatever the shop's rules prefer."""
    quoted = quote_of_all(verdict, terms)
    words = dict(all_services(terms.rulebook))
    used = verdict.offer.service if verdict.offer else ""
    offers = {offer.service: offer for offer in reversed(quoted.offers)} if quoted else {}
    return tuple(
        ServiceChoice(name, f"{words.get(name, name)}, {amount_words(offer.price)}", name == used)
        for name, offer in reversed(offers.items())
    )


def common_choices(verdicts: Collection[Verdict], terms: Terms) -> tuple[ServiceChoice, ...]:
    """Return the services that can carry all of these pieces; for a single piece, with prices."""
    if len(verdicts) == 1:
        (verdict,) = verdicts
        if choices := service_choices(verdict, terms):
            return choices
    are_abroad = {verdict.is_abroad for verdict in verdicts}
    facts = terms.rulebook.charts.service
    pairs = [pair for pair in all_services(terms.rulebook) if {facts(pair[0]).abroad} == are_abroad]
    weighed = [{each.service for each in service_choices(one, terms)} for one in verdicts if one.case.weighing]
    return tuple(ServiceChoice(name, words) for name, words in pairs if all(name in can for can in weighed))


def why_not(verdict: Verdict) -> str:
    """Return why the chosen service can't carry a weighed piece; empty when it can."""
    case, quoted = verdict.case, verdict.quote
    if not case.service or case.weighing is None or quoted is None or quoted.chosen is not None:
        return ""
    reasons = [sentence(out.reason) for out in quoted.out if out.service == case.service]
    words = f"{service_words(case.service).capitalize()} can't carry {case.key.order} ({reading_words(case.weighing.shown)})."
    return " ".join([words, *reasons[:1]])


def quote_of_all(verdict: Verdict, terms: Terms) -> Quote | None:
    """Return the prices of every service that can apply to a piece, not only of those the shop uses; None until weighed."""
    case, facts = verdict.case, terms.rulebook.charts.service
    if case.weighing is None:
        return None
    posting = posting_of(replace(case, service=""), case.weighing, verdict.contents, terms)
    own = {*terms.shop.policy.parcel_services, case.service}
    wanted = tuple(
        name
        for name in terms.rulebook.charts.services()
        if facts(name).abroad == verdict.is_abroad and (facts(name).takes != LIBRARY or name in own)
    )
    return quote(replace(posting, allowed=wanted, library=True), terms.price_rules)
