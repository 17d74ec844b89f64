"""Answers about postage: `shape`, `price`, `zone`, `stamps`, `doubt`, `may-go`."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Mapping
from dataclasses import replace
from datetime import date

from desk.domain.exact import plain
from desk.domain.faults import Refused
from desk.domain.finding import Code, Finding
from desk.domain.money import Money
from desk.domain.places.country import DOMESTIC_PLACES, HOME, MILITARY_STATES
from desk.domain.service import Service
from desk.domain.shop.mailer import MailerKind
from desk.domain.shop.shop import Policy
from desk.domain.shop.stamp import StampKind, StampStock
from desk.domain.weight import NOTHING, Weight, WeightUnit
from desk.rates.doubt import doubt
from desk.rates.posting import Posting
from desk.rates.quote import Offer, PriceRules, cheapest, may_go, price_of
from desk.rates.shape import Traits, classify
from desk.rates.stamps.stamps import choose_stamps, stamp_values
from desk.session.ask.question import Answer, Question, expect_fields
from desk.session.rulebook import Rulebook
from desk.session.words.sentences import sentence

OPTIONS = ("stiff", "uneven", "boxed", "tube", "card", "address_parallel_short", "clasp")
_TRAITS = (*OPTIONS, "paper", "rectangular")
_PIECE = (
    *_TRAITS,
    *"service weight size zone group date options destination from to goods media library value_usd".split(),
)
FIELDS: Mapping[str, tuple[str, ...]] = {
    "shape": (*_TRAITS, "size", "weight", "options"),
    "price": _PIECE,
    "may-go": _PIECE,
    "zone": ("from", "to"),
    "stamps": ("postage", "drawer", "date", "abroad", "max_stamps"),
    "doubt": ("weight", "limit_oz", "tolerance_d"),
}
MOST_KINDS, MOST_IN_DRAWER = 40, 100_000
MOST_POSTAGE = Money(1000_00)  # more than any piece costs; searching a set of stamps for more takes too long
WORD = {True: "yes", False: "no", None: ""}
_A_CODE = re.compile(r"[A-Za-z]{2}|US-[A-Z]{2}", re.IGNORECASE)  # a code may be newer than the list of names


def shape(question: Question, _rulebook: Rulebook, _today: date) -> Answer:
    """Return letter, flat or parcel, and what it pays as."""
    question = _with_options(question, _TRAITS)
    traits = Traits(
        **{name: question.flag(name) for name in OPTIONS},
        paper=question.flag("paper", default=True),
        rectangular=question.flag("rectangular", default=True),
    )
    classified = classify(question.size(), question.weight().weight if question.has("weight") else NOTHING, traits)
    girth, whole = classified.girth, classified.length_plus_girth
    answer: Answer = {
        "shape": classified.shape,
        "pays_as": classified.pays_as,
        "machinable": WORD[classified.machinable],
    }
    answer["reasons"] = codes(classified.reasons)
    if girth is not None and whole is not None:
        answer |= {"girth_in": plain(girth.inches()), "length_plus_girth_in": plain(whole.inches())}
    return answer


def price(question: Question, rulebook: Rulebook, today: date) -> Answer:
    """Return the price of a service, or of the cheapest eligible one for `auto`, with the extras requested."""
    on = question.day("date", today)
    sold = rulebook.charts.extra_codes(on)
    question = _with_options(question, {*_TRAITS, "media", "library", "goods", *sold})
    service = question.text("service")
    posting = _posting(question, rulebook)
    if service == "auto":
        return _cheapest(question, posting, rulebook, on)
    key = _key(question, service, rulebook, on)
    _expect_its_side(question, posting, rulebook.charts.service(service))
    rules = PriceRules(rulebook.charts, rulebook.zones, Policy(), on)
    offer = price_of(posting, service, key, rules)
    if not isinstance(offer, Offer):
        raise Refused(sentence(offer.reason))
    return _offer_answer(offer, on) | _extras(question, offer, rulebook, on)


def _expect_its_side(question: Question, posting: Posting, service: Service) -> None:
    """Refuse a destination the service does not go to: a zone or group would still give a price."""
    if question.has("destination") and posting.abroad != service.abroad:
        only = "to other countries" if service.abroad else "within the United States"
        raise Refused(f"{service.id} goes only {only}, not to {posting.country}")
    if question.has("destination") and service.takes == "military" and posting.region not in MILITARY_STATES:
        raise Refused(f"{service.id} goes only to AA, AE and AP, not to {question.text('destination')}")


def _cheapest(question: Question, posting: Posting, rulebook: Rulebook, on: date) -> Answer:
    services = tuple(sorted(rulebook.charts.services()))
    abroad = posting.abroad
    _expect_key_of_all(question, abroad=abroad)
    kinds = [rulebook.charts.service(service) for service in services]
    kinds = [kind for kind in kinds if kind.abroad == abroad and not kind.packaging]
    allowed = tuple(kind.id for kind in kinds)
    rules = PriceRules(rulebook.charts, rulebook.zones, Policy(parcel_services=allowed, intl_services=allowed), on)
    if not abroad and question.has("zone"):
        key = question.text("zone")
        tried = [
            price_of(posting, service, key if _is_keyed(service, rulebook, on) else "", rules)
            for service in allowed
            if _is_taken(rulebook.charts.service(service), posting)
        ]
        offers = [offer for offer in tried if isinstance(offer, Offer)]
        best = min(offers, key=lambda offer: (offer.price.minor, offer.service), default=None)
    else:
        best = cheapest(replace(posting, allowed=allowed), rules)
    if best is None:
        has_zone = abroad or question.has("zone") or (question.has("from") and question.has("to"))
        raise Refused("no service can carry it" + ("" if has_zone else " without a zone: add zone, or from and to"))
    return {"service": best.service, **_offer_answer(best, on), **_extras(question, best, rulebook, on)}


def _expect_key_of_all(question: Question, *, abroad: bool) -> None:
    """Refuse a key that is not the same for all services compared: a price group, or a zone to another country."""
    if question.has("group"):
        raise Refused("group: every service has its own price groups; with auto, give destination instead")
    if abroad and question.has("zone"):
        raise Refused("zone: services to other countries have no zones; give destination alone")


def _is_taken(service: Service, posting: Posting) -> bool:
    """Return True unless the service is reserved for media or libraries and the piece isn't marked as either."""
    return {"media": posting.media, "library": posting.media and posting.library}.get(service.takes, True)


def _with_options(question: Question, known: Collection[str]) -> Question:
    """Return the question with its `options` (a list of names, or an object) as separate fields."""
    options = question.fields.get("options") or {}
    if isinstance(options, list):
        options = dict.fromkeys(map(str, options), True)
    if not isinstance(options, dict):
        raise Refused("options: expected an object or a list of names")
    expect_fields(options, known, "options.")
    return Question({**options, **{name: value for name, value in question.fields.items() if name != "options"}})


def _extras(question: Question, offer: Offer, rulebook: Rulebook, on: date) -> Answer:
    """Return the price of each requested extra and the total with them; empty when none was requested."""
    charts, asked = rulebook.charts, []
    for code in sorted(rulebook.charts.extra_codes(on)):
        typed = question.fields.get(code)
        if typed is None or typed is False or typed == "no":
            continue
        by_amount = typed is not True and typed != "yes"
        value = question.money(code) if by_amount else _value(question)
        sold = charts.extra(code, on, offer.service, value)  # noqa: S610 - no database query
        if sold is None:
            raise Refused(f"{code}: no price for it with {offer.service} and a value of {value.text()}")
        asked.append((code, sold.amount))
    if not asked:
        return {}
    total = Money(offer.price.minor + sum(amount.minor for _, amount in asked), offer.price.currency)
    return {"extras": [[code, amount.text()] for code, amount in asked], "total": total.text()}


def _value(question: Question) -> Money:
    return question.money("value_usd") if question.has("value_usd") else Money(0)


def _is_keyed(service: str, rulebook: Rulebook, on: date) -> bool:
    chart = rulebook.charts.in_force(service, on)
    return bool(chart and chart.keyed_by)


def _key(question: Question, service: str, rulebook: Rulebook, on: date) -> str:
    chart = rulebook.charts.in_force(service, on)
    if chart is None:
        raise Refused(f"no price list for {service} is loaded for {on.isoformat()}")
    if not chart.keyed_by:
        return ""
    here = _group_of_destination(question, service, rulebook, on)
    if typed := _typed_key(question, service, chart.keyed_by):
        if here and typed != here:
            raise Refused(
                f"group: {question.text('destination')} is in price group {here} of {service}, not in {typed}"
            )
        return typed
    if here:
        return here
    if (
        question.has("from")
        and question.has("to")
        and (zone := rulebook.zones.find(question.text("from"), question.text("to")).zone)
    ):
        return zone
    raise Refused(f"{service} is priced by {chart.keyed_by}: add that field")


def _typed_key(question: Question, service: str, keyed_by: str) -> str:
    """Return the zone or the group given; Refused when the service has prices by the other one."""
    other = {"zone": "group", "group": "zone"}[keyed_by]
    if question.has(other):
        raise Refused(f"{service} is priced by {keyed_by}: give {keyed_by} instead of {other}")
    return question.text(keyed_by, "")


def _group_of_destination(question: Question, service: str, rulebook: Rulebook, on: date) -> str:
    """Return the price group of the destination; empty for a service priced otherwise, or with no destination."""
    group = rulebook.charts.group(service, place(question, rulebook), on) if question.has("destination") else ""
    return group or ""


def place(question: Question, rulebook: Rulebook) -> str:
    """Return the ISO code of `destination` (a code or a name), by default the home country. Refused when unclear."""
    typed = question.text("destination", HOME).strip()
    if several := rulebook.countries.several(typed):
        raise Refused(f"destination: {typed} could be {' or '.join(several)}; use the code")
    country = rulebook.countries.find(typed)
    if country is None and not _A_CODE.fullmatch(typed):
        raise Refused(f"destination: unknown country {typed[:60]!r}")
    return country or typed.upper()


def _posting(question: Question, rulebook: Rulebook) -> Posting:
    """Return the piece a question describes; missing fields get plain defaults."""
    country = place(question, rulebook)
    state = country.removeprefix("US-") if country.startswith("US-") or country in DOMESTIC_PLACES else ""
    kind = MailerKind.BOX if question.flag("boxed") else MailerKind.TUBE if question.flag("tube") else None
    kind = MailerKind.CARD if question.flag("card") else kind
    goods = question.flag("goods", default=True)
    service = rulebook.charts.service(question.text("service", ""))
    return Posting(
        gross=question.weight(),
        size=question.size() if question.has("size") else None,
        mailer_kind=kind,
        paper=question.flag("paper", default=True),
        stiff=question.flag("stiff"),
        uneven=question.flag("uneven"),
        only_service=service.id if service.packaging else "",
        country=HOME if state else country,
        region=state,
        destination_zip=question.text("to", ""),
        origin_zip=question.text("from", ""),
        documents_only=not goods or service.documents_only,
        media=service.takes in ("media", "library") or question.flag("media") or question.flag("library"),
        library=service.takes == "library" or question.flag("library"),
        value=question.money("value_usd") if question.has("value_usd") else Money(0),
    )


def _offer_answer(offer: Offer, on: date) -> Answer:
    doubts = {
        Code.LIST_ENDS: offer.of.ended is not None,
        Code.FEE_UNCLEAR: offer.fees.unclear,
        Code.CHART_OUT_OF_DATE: offer.chart.is_old(on),
    }
    open_doubts = [code for code, is_open in doubts.items() if is_open]
    return {
        "postage": offer.price.text(),
        "billable": plain(offer.billable.figure),
        "billable_unit": offer.billable.unit,
        "row_max_oz": plain(offer.row.max_weight.ounces()) if offer.row else None,
        "chart": offer.chart.chart,
        **({"codes": open_doubts} if open_doubts else {}),
    }


def zone(question: Question, rulebook: Rulebook, _today: date) -> Answer:
    """Return the zone between two ZIP codes or prefixes with the edition of the chart; null when unknown."""
    answer = rulebook.zones.find(question.text("from"), question.text("to"))
    return {"zone": answer.zone or None, "edition": answer.edition, "codes": codes(answer.findings)}


def stamps(question: Question, rulebook: Rulebook, today: date) -> Answer:
    """Return the best lawful set of stamps from a drawer."""
    drawer = [_stock(*row) for row in question.rows("drawer", 3)]
    if len(drawer) > MOST_KINDS:
        raise Refused(f"drawer: expected at most {MOST_KINDS} kinds of stamps")
    most = question.whole("max_stamps", 1) if question.has("max_stamps") else None
    values = stamp_values(rulebook.charts, question.day("date", today))
    abroad = question.flag("abroad", default=any(stock.kind is StampKind.GLOBAL_FOREVER for stock in drawer))
    postage = question.money("postage", most=MOST_POSTAGE.amount)
    chosen = choose_stamps(postage, drawer, values, most, abroad=abroad)
    if chosen is None:
        return {"set": None, "overpaid": None}
    rows = [[str(kind), value.text() if value else None, times] for kind, value, times in chosen.stamps]
    return {"set": rows, "overpaid": chosen.overpaid.text()}


def _stock(kind: object, value: object, count: object) -> StampStock:
    """Return one row of a drawer; Refused for an unknown kind or an invalid count."""
    text = str(count) if isinstance(count, str | int) and not isinstance(count, bool) else ""
    number = int(text) if text.isascii() and text.isdecimal() and len(text) <= len(str(MOST_IN_DRAWER)) else -1
    if not isinstance(kind, str) or kind not in tuple(StampKind) or not 0 <= number <= MOST_IN_DRAWER:
        kinds = ", ".join(StampKind)
        raise Refused(f"drawer: expected [kind, value, count] with a kind of {kinds} and at most {MOST_IN_DRAWER}")
    of_kind = StampKind(kind)
    face = Question({"value": value}).money("value") if of_kind is StampKind.FACE else None
    if face is not None and not Money(0) < face <= MOST_POSTAGE:
        raise Refused(f"drawer: expected a face value above 0 and up to {MOST_POSTAGE.text()}")
    return StampStock(of_kind, number, face)


def doubt_answer(question: Question, _rulebook: Rulebook, _today: date) -> Answer:
    """Return whether a reading is over a limit, or which error leaves that open."""
    ounces, tolerance = question.number("limit_oz"), question.number("tolerance_d")
    if ounces < 0 or tolerance < 0:
        raise Refused("limit_oz and tolerance_d: expected numbers that are not negative")
    result = doubt(question.weight(), Weight.of(ounces, WeightUnit.OUNCE), tolerance)
    return {
        "under": result.under,
        "over": result.over,
        "open_by_rounding": result.open_by_rounding,
        "open_by_tolerance": result.open_by_tolerance,
    }


def may_go_answer(question: Question, rulebook: Rulebook, today: date) -> Answer:
    """Return whether this piece may go by that service to that place."""
    on = question.day("date", today)
    question = _with_options(question, {*_TRAITS, "media", "library", "goods", *rulebook.charts.extra_codes(on)})
    service = question.text("service")
    goods = question.flag("goods", default=True)
    posting = replace(_posting(question, rulebook), documents_only=not goods)
    rules = PriceRules(
        rulebook.charts, rulebook.zones, Policy(parcel_services=(service,), intl_services=(service,)), on
    )
    against = codes(may_go(posting, service, rules))
    if Code.DOCUMENTS_ONLY in against:
        against = [Code.GOODS_IN_LETTER_ABROAD, *(code for code in against if code != Code.DOCUMENTS_ONLY)]
    for issue in (
        rulebook.destinations.barred(posting.country),
        rulebook.destinations.suspended(posting.country, rulebook.charts.service(service), on),
    ):
        against += [issue.code] if issue else []
    return {"may_go": "no" if against else "yes", "codes": list(dict.fromkeys(against))}


def codes(findings: Iterable[Finding]) -> list[str]:
    """Return the codes of findings, in order."""
    return [issue.code for issue in findings]
