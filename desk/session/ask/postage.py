"""Answers about postage: `shape`, `price`, `zone`, `stamps`, `doubt`, `may-go`."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import replace
from datetime import date

from desk.domain.country import DOMESTIC_PLACES, HOME
from desk.domain.exact import plain
from desk.domain.faults import Refused
from desk.domain.finding import Code, Finding
from desk.domain.mailer import MailerKind
from desk.domain.money import Money
from desk.domain.shop import Policy
from desk.domain.stamp import StampKind, StampStock
from desk.domain.weight import NOTHING, Weight, WeightUnit
from desk.rates.doubt import doubt
from desk.rates.posting import Posting
from desk.rates.quote import Offer, PriceRules, may_go, price_of, quote
from desk.rates.shape import Traits, classify
from desk.rates.stamps import choose_stamps, stamp_values
from desk.session.ask.question import Answer, Question
from desk.session.rulebook import Rulebook
from desk.session.words.sentences import sentence

OPTIONS = ("stiff", "uneven", "boxed", "tube", "card", "address_parallel_short", "clasp")
MOST_POSTAGE = Money(1000_00)  # more than any piece costs; a set of stamps for more is searched for too long
WORD = {True: "yes", False: "no", None: ""}
_A_CODE = re.compile(r"[A-Za-z]{2}|US-[A-Z]{2}", re.IGNORECASE)  # a code may be newer than the list of names


def shape(question: Question, _rulebook: Rulebook, _today: date) -> Answer:
    """Letter, flat or parcel, and what it pays as."""
    traits = Traits(
        **{name: question.flag(name) for name in OPTIONS},
        paper=question.flag("paper", default=True),
        rectangular=question.flag("rectangular", default=True),
    )
    found = classify(question.size(), question.weight().weight if question.has("weight") else NOTHING, traits)
    girth, whole = found.girth, found.length_plus_girth
    answer: Answer = {"shape": found.shape, "pays_as": found.pays_as, "machinable": WORD[found.machinable]}
    answer["reasons"] = codes(found.reasons)
    if girth is not None and whole is not None:
        answer |= {"girth_in": plain(girth.inches()), "length_plus_girth_in": plain(whole.inches())}
    return answer


def price(question: Question, rulebook: Rulebook, today: date) -> Answer:
    """What a service asks, or with service `auto` the cheapest eligible one."""
    service = question.text("service")
    on = question.day("date", today)
    posting = _posting(question, rulebook)
    if service == "auto":
        return _cheapest(question, posting, rulebook, on)
    rules = PriceRules(rulebook.charts, rulebook.zones, Policy(), on)
    offer = price_of(posting, service, _key(question, service, rulebook, on), rules)
    if not isinstance(offer, Offer):
        raise Refused(sentence(offer.reason))
    return _offer_answer(offer)


def _cheapest(question: Question, posting: Posting, rulebook: Rulebook, on: date) -> Answer:
    services = tuple(sorted(rulebook.charts.services()))
    abroad = posting.abroad
    kinds = [rulebook.charts.service(service) for service in services]
    kinds = [kind for kind in kinds if kind.abroad == abroad and not kind.packaging and kind.takes != "library"]
    allowed = tuple(kind.id for kind in kinds)
    rules = PriceRules(rulebook.charts, rulebook.zones, Policy(parcel_services=allowed, intl_services=allowed), on)
    if not abroad and (question.has("zone") or question.has("group")):
        key = question.text("zone") if question.has("zone") else question.text("group")
        tried = [
            price_of(posting, service, key if _is_keyed(service, rulebook, on) else "", rules)
            for service in allowed
            if posting.media or rulebook.charts.service(service).takes != "media"
        ]
        offers = [offer for offer in tried if isinstance(offer, Offer)]
        best = min(offers, key=lambda offer: (offer.price.minor, offer.service), default=None)
    else:
        best = quote(replace(posting, allowed=allowed), rules).chosen
    if best is None:
        raise Refused("no service takes it")
    return {"service": best.service, **_offer_answer(best)}


def _is_keyed(service: str, rulebook: Rulebook, on: date) -> bool:
    chart = rulebook.charts.in_force(service, on)
    return bool(chart and chart.keyed_by)


def _key(question: Question, service: str, rulebook: Rulebook, on: date) -> str:
    chart = rulebook.charts.in_force(service, on)
    if chart is None:
        raise Refused(f"no price list for {service} is loaded for {on.isoformat()}")
    if not chart.keyed_by:
        return ""
    for name in ("zone", "group"):
        if question.has(name):
            return question.text(name)
    if question.has("destination") and (group := rulebook.charts.group(service, place(question, rulebook), on)):
        return group
    if (
        question.has("from")
        and question.has("to")
        and (zone := rulebook.zones.find(question.text("from"), question.text("to")).zone)
    ):
        return zone
    raise Refused(f"{service} is priced by {chart.keyed_by}: say which")


def place(question: Question, rulebook: Rulebook) -> str:
    """The ISO code of `destination`, which may be a name; this country when nothing is said. Refused when nobody knows it."""
    typed = question.text("destination", HOME).strip()
    found = rulebook.countries.find(typed)
    if found is None and not _A_CODE.fullmatch(typed):
        raise Refused(f"destination: nobody knows {typed!r}")
    return found or typed.upper()


def _posting(question: Question, rulebook: Rulebook) -> Posting:
    """The piece of a question: what is not said is taken as plain."""
    country = place(question, rulebook)
    options = question.fields.get("options") or {}
    if isinstance(options, list):
        options = dict.fromkeys(map(str, options), True)
    if not isinstance(options, dict):
        raise Refused("options: expected an object or a list of names")
    said = Question({**dict(options), **{k: v for k, v in question.fields.items() if k != "options"}})
    kind = MailerKind.BOX if said.flag("boxed") else MailerKind.TUBE if said.flag("tube") else None
    kind = MailerKind.CARD if said.flag("card") else kind
    goods = said.flag("goods", default=True)
    service = rulebook.charts.service(said.text("service", ""))
    return Posting(
        gross=said.weight(),
        size=said.size() if said.has("size") else None,
        mailer_kind=kind,
        paper=said.flag("paper", default=True),
        stiff=said.flag("stiff"),
        uneven=said.flag("uneven"),
        only_service=service.id if service.packaging else "",
        country=HOME if country in DOMESTIC_PLACES else country,
        region=country if country in DOMESTIC_PLACES else "",
        destination_zip=said.text("to", ""),
        origin_zip=said.text("from", ""),
        documents_only=not goods or service.documents_only,
        media=service.takes in ("media", "library") or said.flag("media"),
        value=said.money("value_usd") if said.has("value_usd") else Money(0),
    )


def _offer_answer(offer: Offer) -> Answer:
    return {
        "postage": offer.price.text(),
        "billable": plain(offer.billable.figure),
        "billable_unit": offer.billable.unit,
        "row_max_oz": plain(offer.row.max_weight.ounces()) if offer.row else None,
        "chart": offer.chart.chart,
    }


def zone(question: Question, rulebook: Rulebook, _today: date) -> Answer:
    """The zone between two ZIP codes or prefixes, and the edition it was read in; null when unknown."""
    found = rulebook.zones.find(question.text("from"), question.text("to"))
    return {"zone": found.zone or None, "edition": found.edition, "codes": codes(found.findings)}


def stamps(question: Question, rulebook: Rulebook, today: date) -> Answer:
    """The best lawful set from a drawer."""
    drawer = []
    for kind, value, count in question.rows("drawer", 3):
        number = int(count) if isinstance(count, str) and count.isdecimal() else count
        if kind not in tuple(StampKind) or isinstance(number, bool) or not isinstance(number, int) or number < 0:
            raise Refused(f"drawer: expected [kind, value, count] with a kind of {', '.join(StampKind)}")
        face = Question({"value": value}).money("value") if StampKind(kind) is StampKind.FACE else None
        drawer.append(StampStock(StampKind(kind), number, face))
    most = int(question.number("max_stamps")) if question.has("max_stamps") else None
    values = stamp_values(rulebook.charts, question.day("date", today))
    abroad = question.flag("abroad")
    postage = question.money("postage")
    if not Money(0) <= postage <= MOST_POSTAGE:
        raise Refused(f"postage: expected an amount from 0.00 up to {MOST_POSTAGE.text()}")
    chosen = choose_stamps(postage, drawer, values, most, abroad=abroad)
    if chosen is None:
        return {"set": None, "overpaid": None}
    rows = [[str(kind), value.text() if value else None, times] for kind, value, times in chosen.stamps]
    return {"set": rows, "overpaid": chosen.overpaid.text()}


def doubt_answer(question: Question, _rulebook: Rulebook, _today: date) -> Answer:
    """Is a reading over a limit, or is it open, and by what?"""
    limit = Weight.of(question.number("limit_oz"), WeightUnit.OUNCE)
    found = doubt(question.weight(), limit, question.number("tolerance_d"))
    return {
        "under": found.under,
        "over": found.over,
        "open_by_rounding": found.open_by_rounding,
        "open_by_tolerance": found.open_by_tolerance,
    }


def may_go_answer(question: Question, rulebook: Rulebook, today: date) -> Answer:
    """May this piece go by that service to that place?"""
    on, service = question.day("date", today), question.text("service")
    goods = question.flag("goods", default=True)
    posting = replace(_posting(question, rulebook), documents_only=not goods)
    rules = PriceRules(
        rulebook.charts, rulebook.zones, Policy(parcel_services=(service,), intl_services=(service,)), on
    )
    against = codes(may_go(posting, service, rules))
    if Code.DOCUMENTS_ONLY in against:
        against = [Code.GOODS_IN_LETTER_ABROAD, *(code for code in against if code != Code.DOCUMENTS_ONLY)]
    for found in (
        rulebook.destinations.barred(posting.country),
        rulebook.destinations.suspended(posting.country, rulebook.charts.service(service), on),
    ):
        against += [found.code] if found else []
    return {"may_go": "no" if against else "yes", "codes": list(dict.fromkeys(against))}


def codes(findings: Iterable[Finding]) -> list[str]:
    """The codes of findings, in their order."""
    return [found.code for found in findings]
