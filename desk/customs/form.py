"""Form: which customs form a piece needs: none, CN 22 or CN 23.

Sources: UPU CN 22 instruction text (CN 23 above 300 SDR, each post with its own money equivalent); Postal Bulletin
22250 of 2009 (flat-rate envelopes and small boxes: USD 400 or more is CN 23); IMM exhibit 123.61 (weighed parcels: CN
23 at any value); IMM 123.631 (any item of 16 oz or more needs a form); IMM 252.1 (packets up to USD 400).
"""

from __future__ import annotations

from dataclasses import dataclass

from desk.domain.exchange import converted
from desk.domain.finding import Code, Finding, finding, reason
from desk.domain.form_weight import needs_form_by_weight
from desk.domain.money import Money
from desk.domain.places.country import MILITARY_STATES, is_abroad
from desk.domain.service import FormRule, Service
from desk.domain.shop.shop import ExchangeRate
from desk.domain.weight import Weight, WeightUnit

NONE, CN22, CN23 = "none", "CN22", "CN23"

CN22_UP_TO = Weight.of(2, WeightUnit.KILOGRAM)
USD_LIMIT = Money(400_00)
SDR_LIMIT = Money(300_00, "XDR")
SDR_RULE = "300.00 XDR"  # the fact `rule` of a form chosen with the shop's SDR rate

# Domestic prices, but outside the customs territory or handled as international; the Virgin Islands are not included.
ISLANDS = frozenset("AS FM GU MH MP PW".split())
ISLANDS_SOURCE = "DMM 608.2.4"  # from memory
MILITARY_SOURCE = "DMM 703.2.3, 608.2.4.4"  # in force since 2024-07-14, by the trade press


@dataclass(frozen=True, slots=True)
class FormAnswer:
    """The form, its findings, and why it is that one."""

    form: str
    findings: tuple[Finding, ...] = ()
    reasons: tuple[Finding, ...] = ()


def form_for(  # the six inputs of the rules
    service: Service | None,
    value_usd: Money | None,
    gross: Weight | None,
    destination: str,
    documents_only: bool,
    sdr_usd: ExchangeRate | None = None,
) -> FormAnswer:
    """Return the form of one piece. `destination` is an ISO code, or `US-AE` for a military or island state.

    `service` is None when none is left: then goods, value and gross weight decide. `value_usd` is None when the goods
    were paid in another currency the shop has no rate for; `gross` is None before weighing.
    """
    if at_home(destination):
        return _at_home(destination.removeprefix("US-"), value_usd, gross, documents_only, sdr_usd)
    rule = service.form if service is not None else FormRule.LETTER_POST
    if documents_only and rule is FormRule.LETTER_POST:
        return _documents(gross)
    answer = _letter_post(value_usd, gross, sdr_usd)
    if service is None:
        return answer
    if rule is FormRule.FLAT_RATE:
        return _flat_rate(service.id, value_usd)
    if rule is FormRule.CN23:
        why = reason(Code.FORM_BY_SERVICE, "IMM exhibit 123.61", service=service.id)
        return FormAnswer(CN23, (), (why,))
    if rule is FormRule.PACKET:
        return _packet(service.id, value_usd, answer)
    if service.documents_only:
        barred = finding(Code.GOODS_IN_LETTER_ABROAD, "IMM 242.2", service=service.id)
        return FormAnswer(answer.form, (barred, *answer.findings), answer.reasons)
    return answer


def at_home(destination: str) -> bool:
    """Return True for domestic mail: the States, their islands, and military mail."""
    return bool(destination) and not is_abroad(destination)


def may_be_declared(destination: str) -> bool:
    """Return True where goods can need a form: in other countries, some islands, and military mail."""
    return not at_home(destination) or destination.removeprefix("US-") in MILITARY_STATES | ISLANDS


def _at_home(
    place: str, value: Money | None, gross: Weight | None, documents_only: bool, sdr: ExchangeRate | None
) -> FormAnswer:
    """Return the form of domestic mail; goods of any weight sent to military addresses and the islands are declared."""
    needed = not documents_only or (gross is not None and needs_form_by_weight(gross))
    if needed and place in MILITARY_STATES | ISLANDS:
        military = place in MILITARY_STATES
        source = MILITARY_SOURCE if military else ISLANDS_SOURCE
        maybe = finding(Code.FORM_MAY_BE_NEEDED, source, place=place, military=military)
        answer = _documents(gross) if documents_only else _letter_post(value, gross, sdr)
        return FormAnswer(answer.form, (maybe, *answer.findings), answer.reasons)
    return FormAnswer(NONE, (), (reason(Code.FORM_NOT_NEEDED, "domestic mail", why="domestic"),))


def _documents(gross: Weight | None) -> FormAnswer:
    if gross is not None and needs_form_by_weight(gross):
        form = CN22 if gross <= CN22_UP_TO else CN23
        return FormAnswer(form, (), (reason(Code.FORM_BY_WEIGHT, "IMM 123.631", limit="16 oz"),))
    return FormAnswer(NONE, (), (reason(Code.FORM_NOT_NEEDED, "the post's customs-forms page", why="documents"),))


def _flat_rate(service: str, value: Money | None) -> FormAnswer:
    source = "Postal Bulletin 22250 (2009)"
    if value is None:
        return FormAnswer(CN23, (), (_untested(USD_LIMIT, source),))
    why = reason(
        Code.FORM_BY_VALUE, source, value=value.text(), limit=USD_LIMIT.text(), currency="USD", service=service
    )
    edge = _edges(USD_LIMIT, source, at=value == USD_LIMIT)
    return FormAnswer(CN23 if value >= USD_LIMIT else CN22, edge, (why,))


def _packet(service: str, value: Money | None, otherwise: FormAnswer) -> FormAnswer:
    source = "IMM 252.1"
    if value is not None and value > USD_LIMIT:
        over = finding(
            Code.OVER_SERVICE_LIMIT, source, service=service, limit=USD_LIMIT.text(), unit="USD", value=value.text()
        )
        return FormAnswer(otherwise.form, (over, *otherwise.findings), otherwise.reasons)
    untested = (_untested(USD_LIMIT, source),) if value is None else ()
    return FormAnswer(CN22, (), (reason(Code.FORM_BY_SERVICE, source, service=service), *untested))


def _letter_post(value: Money | None, gross: Weight | None, sdr: ExchangeRate | None) -> FormAnswer:
    """Return the form by value and weight alone. Without an SDR rate, the post's dollar limit is used."""
    source = "UPU CN 22, instruction text"
    if gross is not None and gross > CN22_UP_TO:
        return FormAnswer(CN23, (), (reason(Code.FORM_BY_WEIGHT, "UPU letter post", limit="2 kg"),))
    if value is None:
        return FormAnswer(CN23, (), (_untested(SDR_LIMIT, source),))
    limit = converted(SDR_LIMIT, "USD", [sdr]) if sdr else None
    most = limit.cents() if limit else USD_LIMIT
    in_words = SDR_RULE if limit else f"{USD_LIMIT.text()} USD"
    why = reason(Code.FORM_BY_VALUE, source, value=value.text(), limit=most.text(), currency="USD", rule=in_words)
    untested = () if limit else (_untested(SDR_LIMIT, source),)
    edge = _edges(most, source, at=value == most)
    return FormAnswer(CN22 if value < most else CN23, edge, (why, *untested))


def _edges(limit: Money, source: str, *, at: bool) -> tuple[Finding, ...]:
    return (finding(Code.FORM_EDGE, source, limit=limit.text(), currency=limit.currency),) if at else ()


def _untested(limit: Money, source: str) -> Finding:
    return reason(Code.LIMIT_UNTESTED, source, limit=limit.text(), limit_currency=limit.currency)
