"""Choose the service of pieces from those that can carry them, each listed once with its price."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, replace
from decimal import Decimal
from itertools import chain

from desk.domain.finding import Code, Finding, reason
from desk.domain.orders.piece import Weighing
from desk.domain.service import PaidBy, Service
from desk.domain.shop.shop import LetterPostage, Shop
from desk.domain.weight import Shown, WeightUnit
from desk.rates.quote import Quote, may_go, quote
from desk.session.setup.rule_conflicts import NOT_AS_PAID
from desk.session.setup.shop_texts import all_services
from desk.session.verdict.judge import posting_of
from desk.session.verdict.library import LIBRARY
from desk.session.verdict.verdict import Terms, Verdict
from desk.session.words.figures import amount_words
from desk.session.words.sentences import sentence
from desk.session.words.services import service_words
from desk.session.words.weights import reading_words

# What an unweighed piece may weigh at least, to tell which services can't carry it at any weight.
_LIGHTEST = Weighing(shown=Shown(Decimal("0.1"), WeightUnit.OUNCE, Decimal("0.1")))
_OTHER_WAY = {LetterPostage.STAMPED: PaidBy.METER, LetterPostage.METERED: PaidBy.STAMPS}


@dataclass(frozen=True, slots=True)
class ServiceChoice:
    """A service that can carry the piece: its id, its name with the price, and whether it is used now."""

    service: str
    words: str
    is_used: bool = False


def service_choices(verdict: Verdict, terms: Terms) -> tuple[ServiceChoice, ...]:
    """Return the services that can carry a weighed piece, cheapest first, whatever its rules prefer."""
    quoted = quote_of_all(verdict, terms)
    words = dict(all_services(terms.rulebook))
    used = verdict.offer.service if verdict.offer else ""
    offers = {offer.service: offer for offer in reversed(quoted.offers)} if quoted else {}
    return tuple(
        ServiceChoice(name, f"{words.get(name, name)}, {amount_words(offer.price)}", name == used)
        for name, offer in reversed(offers.items())
    )


def common_choices(verdicts: Collection[Verdict], terms: Terms) -> tuple[ServiceChoice, ...]:
    """Return the services that can carry all of these pieces; for a single weighed piece, with prices.

    An unweighed piece leaves out only what can't carry it at any weight.
    """
    if len(verdicts) == 1:
        (verdict,) = verdicts
        if choices := service_choices(verdict, terms):
            return choices
    names = {name for name, _ in all_services(terms.rulebook)}
    for verdict in verdicts:
        names = _carried_by(verdict, names, terms)
    return tuple(ServiceChoice(name, words) for name, words in all_services(terms.rulebook) if name in names)


def why_not(verdict: Verdict, terms: Terms) -> str:
    """Return why the chosen service can't carry a piece, weighed or not; empty when it can, or may."""
    case, quoted = verdict.case, verdict.quote
    if not case.service or (quoted is not None and quoted.chosen is not None):
        return ""
    words = f"{service_words(case.service).capitalize()} can't carry {case.number}"
    if case.weighing is None or quoted is None:
        out = _refusal(verdict, case.service, terms)
        return f"{words}. {sentence(out)}" if out else ""
    reasons = [sentence(out.reason) for out in quoted.out if out.service == case.service]
    return " ".join([f"{words} ({reading_words(case.weighing.shown)}).", *reasons[:1]])


def quote_of_all(verdict: Verdict, terms: Terms) -> Quote | None:
    """Return the prices of every service that can apply to a piece, not only of those the shop uses; None until weighed."""
    case, services = verdict.case, terms.rulebook.charts.services()
    if case.weighing is None:
        return None
    posting = posting_of(replace(case, service=""), case.weighing, verdict.contents, terms)
    wanted = tuple(name for name in services if _can_apply(verdict, name, terms))
    return quote(replace(posting, allowed=wanted, library=True), terms.price_rules)


def _can_apply(verdict: Verdict, service: str, terms: Terms) -> bool:
    """Return whether a service goes where the piece goes, and is paid as the shop pays or named in its rules."""
    facts, shop = terms.rulebook.charts.service(service), terms.shop
    if facts.abroad != verdict.is_abroad:
        return False
    named = {verdict.case.service, *shop.policy.parcel_services, *shop.policy.intl_services}
    return service in named.union(chain.from_iterable(shop.choices.values())) or _is_usual(facts, shop)


def _is_usual(facts: Service, shop: Shop) -> bool:
    """Return whether the shop pays this way: letters with stamps or meter, parcels at retail or online prices."""
    policy = shop.policy
    return (
        facts.paid_by is not _OTHER_WAY[policy.letter_postage]
        and facts.price_level is not NOT_AS_PAID[policy.parcel_payment]
        and facts.takes != LIBRARY
    )


def _carried_by(verdict: Verdict, services: Collection[str], terms: Terms) -> set[str]:
    """Return those of the services that can carry a piece, or may, as long as it is not weighed."""
    if verdict.case.weighing is not None:
        return {choice.service for choice in service_choices(verdict, terms)}.intersection(services)
    names = (name for name in services if _can_apply(verdict, name, terms))
    return {name for name in names if _refusal(verdict, name, terms) is None}


def _refusal(verdict: Verdict, service: str, terms: Terms) -> Finding | None:
    """Return why a service can't carry an unweighed piece at any weight, by its contents and mailer; None when it may.

    Goods that can't go there at all are left to the piece's own issues.
    """
    mailer, facts = verdict.contents.mailer, terms.rulebook.charts.service(service)
    posting = posting_of(replace(verdict.case, service=service), _LIGHTEST, verdict.contents, terms)
    if mailer is not None and mailer.only_service not in ("", service):
        return reason(Code.MAILER_ONLY_FOR, "", service=mailer.only_service)
    own = {mailer.only_service} if mailer else {each.only_service for each in terms.shop.mailers}
    if facts.packaging and service not in own:
        return reason(Code.ONLY_OWN_PACKAGING, "")
    against = may_go(posting, service, terms.price_rules)
    return next((one for one in against if one.code is not Code.RESTRICTED_GOODS), None)
