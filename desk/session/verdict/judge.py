"""The verdict on one piece: its price, its declaration, its findings and its status.

Pure: the same case under the same terms gives the same verdict. Stamps come from a drawer that many pieces share, so
`desk.session.pile.batch` assigns them; everything else is decided here.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from desk.customs.addresses import LONGEST_UNWRAPPED, check_address
from desk.customs.declaration import Declaration
from desk.domain.exchange import in_money
from desk.domain.finding import Code, Finding, Severity, finding, is_of_shop, rank
from desk.domain.money import Money, zero
from desk.domain.orders.piece import Weighing
from desk.domain.places.address import Address
from desk.domain.places.country import is_abroad
from desk.domain.status import status
from desk.rates.extras import priced_extras
from desk.rates.posting import Posting
from desk.rates.quote import Offer, Quote, quote
from desk.session.verdict.case import Case, Contents, contents_of, goods_only
from desk.session.verdict.confirmed import is_confirmed
from desk.session.verdict.default_mailer import family_of
from desk.session.verdict.goods_checks import goods_findings, media_doubts
from desk.session.verdict.library import LIBRARY, names_a_library
from desk.session.verdict.money import charged_for, money_findings, money_of, refund_for, uncounted
from desk.session.verdict.payment import Payment, payment_for
from desk.session.verdict.piece_declaration import declaration_of
from desk.session.verdict.stamp_request import DECLINED, REQUESTED, letter_instead, request_finding
from desk.session.verdict.verdict import Terms, Verdict
from desk.session.verdict.weight_findings import weight_findings


def judge(case: Case, terms: Terms) -> Verdict:
    """Return the verdict on one piece, without stamps."""
    case = goods_only(case, terms.shop)
    contents = contents_of(case, terms.shop)
    known = [*case.order.findings, *contents.findings, *uncounted(case, terms)]
    if case.weighing is None:
        findings = [finding(Code.NO_WEIGHT), *known, *check_address(case.order.address, LONGEST_UNWRAPPED)]
        return settle(Verdict(case=case, contents=contents, charged=charged_for(case, terms)), findings)
    return _judge_weighed(case, case.weighing, contents, terms, known)


def settle(verdict: Verdict, findings: Iterable[Finding]) -> Verdict:
    """Return the verdict with its findings, most serious first, and the status that follows."""
    all_findings = tuple(findings)
    ranked = tuple(sorted((one for one in all_findings if not is_of_shop(one)), key=rank))
    of_shop = tuple(one for one in all_findings if is_of_shop(one)) or verdict.of_shop
    case = verdict.case
    where = status(
        weighed=case.weighing is not None,
        findings=ranked,
        answered=case.answered,
        postage_on=case.postage_on,
        handed_over=case.handed_over,
        beside=case.beside,
    )
    return replace(verdict, findings=ranked, of_shop=of_shop, status=where)


def _judge_weighed(case: Case, weighing: Weighing, contents: Contents, terms: Terms, known: list[Finding]) -> Verdict:
    policy = terms.shop.policy
    posting = posting_of(case, weighing, contents, terms)
    quoted = quote(posting, terms.price_rules)
    letter = None if case.service else letter_instead(posting, quoted, terms.price_rules)
    if letter is not None and REQUESTED in case.answered:
        quoted = letter
    closing = _closed(case, quoted, terms)
    closed = [issue for issue in closing if issue.severity is not Severity.NOTE]
    offer = None if closed else quoted.chosen
    payment = payment_for(offer.facts, policy) if offer else None
    declaration = _declaration(case, weighing, offer, terms)
    value = case.order.goods_value
    extras = priced_extras(case.extras, offer.facts, value, terms.price_rules) if offer else ()
    money = money_of(case, contents, offer, payment, terms, extras)
    verdict = Verdict(
        case=case,
        contents=contents,
        charged=money.charged,
        quote=quoted,
        offer=offer,
        payment=payment,
        declaration=declaration,
        extras=extras,
        money=money,
    )
    findings = [
        *known,
        *_address(case.order.address, payment),
        *closing,
        *(_without_no_service(quoted.findings) if closed else quoted.findings),
        *declaration.findings,
        *weight_findings(case, weighing, contents, terms.shop),
        *_stamp_request(verdict, letter.chosen if letter else None, terms),
        *money_findings(verdict, terms),
        *_guess(case, weighing, terms),
        *_old_lists(case, terms),
        *_goods(verdict, terms),
        *_weighed_twice(weighing, posting, quoted, terms),
    ]
    return settle(verdict, findings)


def _address(address: Address, payment: Payment | None) -> tuple[Finding, ...]:
    """Return the findings of an address; a label bought online is not ours to measure, so its lines must be shorter.

    A piece that isn't weighed may still get one.
    """
    return check_address(address, LONGEST_UNWRAPPED) if payment is Payment.ONLINE else check_address(address)


def posting_of(case: Case, weighing: Weighing, contents: Contents, terms: Terms) -> Posting:
    """Return what the post sees of the piece, with what the buyer and the shop allow."""
    shop, address, mailer = terms.shop, case.order.address, contents.mailer
    return Posting(
        gross=weighing.shown,
        label_weight=shop.policy.label_weight,
        size=contents.size,
        mailer_kind=contents.mailer_kind,
        paper=mailer.paper if mailer else True,
        stiff=contents.stiff,
        uneven=contents.uneven,
        only_service=mailer.only_service if mailer else "",
        country=address.country,  # empty when unknown: then no service is guessed
        region=address.region,
        destination_zip=address.postal_code,
        origin_zip=shop.sender.postal_code,
        documents_only=contents.documents_only,
        media=contents.media,
        library=names_a_library(shop.sender, address) or _is_for_libraries(case.service, terms),
        restricted=contents.restricted,
        value=case.order.declared_value,
        order_value=_in_shop_money(case.order.goods_value, terms),
        allowed=_allowed(case, terms),
        stamp_asked=contents.stamp_asked,
    )


def _is_for_libraries(service: str, terms: Terms) -> bool:
    """Return True for a service reserved for libraries: choosing it says that the piece qualifies."""
    return bool(service) and terms.price_rules.service(service).takes == LIBRARY


def _in_shop_money(value: Money, terms: Terms) -> Money:
    """Return the value in the shop's currency by its own rate; unchanged where there is none."""
    there = in_money(value, terms.shop.policy.currency, terms.shop.rates)
    return there if there is not None else value


def _allowed(case: Case, terms: Terms) -> tuple[str, ...] | None:
    """Return the service chosen for this piece, else what the buyer's choice allows, else None: the rules decide.

    When a request for stamps was declined, and the buyer chose no service, it goes without stamps.
    """
    if case.service:
        return (case.service,)
    chosen = terms.shop.services_for(case.order.shipping_choice) or None  # a choice without services allows all
    if chosen is None and DECLINED in case.answered:
        return terms.shop.policy.parcel_services
    return chosen


def _guess(case: Case, weighing: Weighing, terms: Terms) -> Iterator[Finding]:
    """Return an issue for a guessed mailer, until it is confirmed for these contents."""
    if weighing.mailer_guessed and not case.mailer:
        issue = finding(Code.MAILER_GUESSED, mailer=weighing.mailer, family=family_of(case.order, terms.shop))
        if not is_confirmed(issue, terms.confirmed):
            yield issue


def _goods(verdict: Verdict, terms: Terms) -> Iterator[Finding]:
    """Return hazards of the contents, and doubts about the media price."""
    address, offer = verdict.case.order.address, verdict.offer
    where = {"country": address.country, "region": address.region}
    yield from goods_findings(verdict.contents, terms.confirmed, abroad=verdict.is_abroad, **where)
    asked = (*terms.shop.policy.parcel_services, *(_allowed(verdict.case, terms) or ()))
    if offer is not None and not verdict.is_abroad and any(terms.price_rules.service(one).takes for one in asked):
        yield from media_doubts(verdict.contents)


def _weighed_twice(weighing: Weighing, posting: Posting, quoted: Quote, terms: Terms) -> Iterator[Finding]:
    """Return an issue when the two weights have different prices, else a note."""
    earlier, shown = weighing.earlier, weighing.shown
    if earlier is None:
        return
    before = quote(replace(posting, gross=earlier), terms.price_rules).chosen
    now = quoted.chosen
    same = (before and (before.service, before.price)) == (now and (now.service, now.price))
    facts = {"first": earlier.words, "then": shown.words}
    yield finding(Code.WEIGHED_TWICE, "", Severity.NOTE if same else None, **facts)


def _closed(case: Case, quoted: Quote, terms: Terms) -> list[Finding]:
    """Return why nothing can be mailed there: an embargo, or suspended mail; a note where that was checked."""
    address = case.order.address
    if not is_abroad(address.country):
        return []
    places = terms.rulebook.destinations
    barred = places.barred(address.country, address.postal_code, f"{address.region} {address.city}")
    service = quoted.chosen.facts if quoted.chosen else None
    suspended = places.suspended(address.country, service, terms.on)
    return [issue for issue in (barred, suspended) if issue is not None]


def _old_lists(case: Case, terms: Terms) -> list[Finding]:
    """Return the age of the destination lists, for a piece abroad; reported once per batch."""
    country = case.order.address.country
    return terms.rulebook.destinations.old_lists(country, terms.on) if is_abroad(country) else []


def _without_no_service(findings: Iterable[Finding]) -> Iterator[Finding]:
    return (issue for issue in findings if issue.code != Code.NO_SERVICE)


def _declaration(case: Case, weighing: Weighing, offer: Offer | None, terms: Terms) -> Declaration:
    return declaration_of(case, terms, gross=weighing.shown.weight, service=offer.facts if offer else None)


def _stamp_request(verdict: Verdict, letter: Offer | None, terms: Terms) -> list[Finding]:
    stamped = verdict.payment is Payment.STAMPED
    if not verdict.contents.stamp_asked or verdict.is_abroad or (verdict.case.service and not stamped):
        return []  # a service chosen for this piece is the answer
    by_stamp = verdict.offer if stamped else letter
    nothing = zero(terms.shop.policy.currency)
    refund = refund_for(verdict.case, verdict.contents, by_stamp.price, terms) if by_stamp else nothing
    if by_stamp is not None and not refund:
        return []  # there is nothing to refund, so nothing to ask
    return [request_finding(verdict.offer, by_stamp, refund)]
