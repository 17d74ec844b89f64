"""Quote: the price of one piece, the services compared, and every reason."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date

from desk.domain.finding import Code, Finding, finding, reason
from desk.domain.service import PostedAs
from desk.domain.shop.mailer import MailerKind
from desk.domain.weight import Weight
from desk.rates.billable import reasons_of
from desk.rates.case import QuoteCase, WeightStep, form_of_piece, open_case
from desk.rates.leeway import settle
from desk.rates.lists.price_list import ServiceChart
from desk.rates.offer import Offer, candidate
from desk.rates.posting import Posting
from desk.rates.quote_findings import Priced, StepFindings, remarks, step_findings
from desk.rates.restricted import barred_goods, handling
from desk.rates.rules import PriceRules, ServiceOut
from desk.rates.shape import ShapeOptions, ShapeVerdict, assumed, weighed

__all__ = ["Offer", "PriceRules", "Quote", "ServiceOut", "chart_findings", "cheapest", "may_go", "price_of", "quote"]


@dataclass(frozen=True, slots=True)
class Quote:
    """The price of one piece. `zone` is the zone or price group of the chosen service, else the piece's zone.

    `weight` is the weight used for the prices: the reading with the label, or the higher-priced end of an open reading.
    """

    chosen: Offer | None
    offers: tuple[Offer, ...]
    out: tuple[ServiceOut, ...]
    shape: ShapeVerdict
    zone: str
    findings: tuple[Finding, ...]
    reasons: tuple[Finding, ...]
    weight: Weight


@dataclass(frozen=True, slots=True)
class _Shared:
    """What applies to every piece of a case within one step. Billing reasons go between `before` and `after`."""

    shape: ShapeVerdict
    outs: tuple[ServiceOut, ...]
    shared: StepFindings
    before: tuple[Finding, ...]
    after: tuple[Finding, ...]


def quote(posting: Posting, rules: PriceRules) -> Quote:
    """Price the piece with every service it may use and take the cheapest. Problems are findings; nothing is raised."""
    case = open_case(posting, rules)
    settled = settle(case, rules)
    weight, label = settled.weight, posting.label_weight
    step = case.step_at(weight)
    offers = tuple([each.at(weight, label) for each in step.ranked])
    chosen = offers[0] if offers else None
    shared: _Shared | None = case.opened.remarks.get(step.place)
    if shared is None:
        shared = case.opened.remarks[step.place] = _shared_at(case, step, offers, weight, rules)
    billed = reasons_of(weight, chosen.chart, chosen.of.by_size, label) if chosen is not None else ()
    return Quote(
        chosen=chosen,
        offers=offers,
        out=shared.outs,
        shape=shared.shape,
        zone=_zone_of(case, chosen),
        findings=remarks(shared.shared, case, chosen, rules, settled.findings),
        reasons=(*shared.before, *billed, *shared.after),
        weight=weight,
    )


def _shared_at(
    case: QuoteCase, step: WeightStep, offers: Sequence[Offer], weight: Weight, rules: PriceRules
) -> _Shared:
    chosen = offers[0] if offers else None
    shape = _shape_of(case, weight, chosen)
    priced = Priced(case, chosen, step.outs, weight)
    before = (*shape.reasons, *handling(case.posting))
    return _Shared(shape, priced.outs, step_findings(priced, rules), before, tuple(_reasons(offers)))


def price_of(posting: Posting, service: str, key: str, rules: PriceRules) -> Offer | ServiceOut:
    """Return one service's price, whatever the shop's policy; `key` is the zone or price group, or empty.

    A piece without a size is assumed to have the service's shape.
    """
    piece, form = _with_assumed_size(posting, service, rules)
    found = candidate(0, service, key, piece, form, rules)
    offer = found if isinstance(found, Finding) else found.offer_at(piece.weight, piece.label_weight)
    return ServiceOut(service, offer) if isinstance(offer, Finding) else offer


def cheapest(posting: Posting, rules: PriceRules) -> Offer | None:
    """Return the cheapest offer at the weight as given, whatever the scale leaves open; None when nothing can carry it."""
    ranked = open_case(posting, rules).step_at(posting.weight).ranked
    return ranked[0].at(posting.weight, posting.label_weight) if ranked else None


def may_go(posting: Posting, service: str, rules: PriceRules) -> tuple[Finding, ...]:
    """Return what bars that service for this piece, as stops and reasons; empty: it may go.

    A piece without a size is assumed to have the service's shape. Without both ZIP codes it is assumed to stay in one
    zone, since no limit depends on the zone.
    """
    if not (posting.origin_zip and posting.destination_zip):
        anywhere = next(iter(rules.zones.matrix), "")
        posting = replace(posting, origin_zip=anywhere, destination_zip=anywhere)
    piece, form = _with_assumed_size(posting, service, rules)
    only = replace(piece, allowed=(service,), only_service=service if rules.service(service).packaging else "")
    case = open_case(only, rules, form)
    refused = case.step_at(only.weight).outs
    against = [out.reason for out in (*refused, *case.outs) if out.service == service]
    return (*against, *barred_goods(only))


def _with_assumed_size(posting: Posting, service: str, rules: PriceRules) -> tuple[Posting, ShapeOptions]:
    """Return the piece for a question about one service: a postcard is a card, no size means the service's shape."""
    is_card = rules.service(service).posted_as is PostedAs.POSTCARD
    piece = replace(posting, mailer_kind=MailerKind.CARD) if is_card else posting
    chart = rules.chart(service)
    if piece.size is not None or chart is None:
        return piece, form_of_piece(piece)
    shape = "parcel" if "parcel" in chart.shapes else next(iter(chart.shapes))
    return piece, assumed(shape, piece.traits)


def chart_findings(quotes: Iterable[Quote], on: date) -> tuple[Finding, ...]:
    """Return one finding for each list used past its last day, sorted by list id."""
    charts = [quote.chosen.chart for quote in quotes if quote.chosen is not None]
    past = {chart.chart: chart for chart in charts if chart.is_old(on)}
    return tuple(_out_of_date(past[name]) for name in sorted(past))


def _out_of_date(chart: ServiceChart) -> Finding:
    until = chart.last_day.isoformat()
    return finding(
        Code.CHART_OUT_OF_DATE, chart.source, chart=chart.chart, until=until, effective=chart.effective.isoformat()
    )


def _shape_of(case: QuoteCase, weight: Weight, chosen: Offer | None) -> ShapeVerdict:
    """Return the verdict; machinable is kept only for what goes as a letter or card."""
    verdict = weighed(case.form, weight)
    stays = chosen is None or chosen.facts.posted_as in (PostedAs.LETTER, PostedAs.POSTCARD)
    return verdict if stays or verdict.machinable is None else replace(verdict, machinable=None)


def _zone_of(case: QuoteCase, chosen: Offer | None) -> str:
    if chosen is not None and chosen.key:
        return chosen.key
    return case.zone.zone if case.zone is not None and chosen is None else ""


def _reasons(offers: Sequence[Offer]) -> Iterator[Finding]:
    if not offers:
        return
    chosen = offers[0]
    yield _row_used(chosen)
    for fee in chosen.surcharges:
        source, amount = fee.source or chosen.chart.source, fee.amount
        yield reason(Code.SURCHARGE_ADDED, source, fee=fee.code, amount=amount.text(), currency=amount.currency)
    yield _cheapest_of(offers)


def _row_used(chosen: Offer) -> Finding:
    """Return the row used; `up_to` is as printed in the list, `oversized` too; `keyed_by` is zone or price group."""
    return reason(
        Code.ROW_USED,
        chosen.chart.source,
        service=chosen.service,
        chart=chosen.chart.chart,
        effective=chosen.chart.effective.isoformat(),
        up_to=chosen.row_label,
        unit=chosen.chart.bills_in.value if chosen.row else "",
        keyed_by=chosen.chart.keyed_by,
        key=chosen.key,
        price=chosen.base.text(),
        currency=chosen.base.currency,
    )


def _cheapest_of(offers: Sequence[Offer]) -> Finding:
    chosen, following = offers[0], offers[1] if len(offers) > 1 else None
    return reason(
        Code.CHEAPEST_OF,
        "your rules in Setup > Rules",
        count=len(offers),
        next_service=following.service if following else "",
        next_price=following.price.text() if following else "",
        currency=chosen.price.currency,
    )
