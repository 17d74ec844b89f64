"""The money of one piece: income, costs, and findings about them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from desk.costs.ledger import PieceMoney
from desk.costs.materials import materials_cost
from desk.costs.refunds import stamp_refund
from desk.domain.exchange import converted, in_money
from desk.domain.finding import Code, Finding, finding
from desk.domain.money import Money, zero
from desk.rates.extras import INSURANCE, INSURANCE_ABROAD, PricedExtra
from desk.rates.quote import Offer
from desk.session.verdict.case import Case, Contents
from desk.session.verdict.payment import Payment, has_label
from desk.session.verdict.stamp_request import REQUESTED
from desk.session.verdict.verdict import Terms, Verdict

_INSURES = frozenset({INSURANCE, INSURANCE_ABROAD})
COVER_FROM = Money(10000)  # goods of this value without any cover need a check (common practice, no source)


def charged_for(case: Case, terms: Terms) -> Money:
    """Return the shipping paid, once per order, in the shop's currency; zero where there is no rate for the buyer's."""
    nothing = zero(terms.shop.policy.currency)
    there = in_money(case.order.shipping_paid, nothing.currency, terms.shop.rates)
    return there if there is not None and case.key.piece == 1 else nothing


def uncounted(case: Case, terms: Terms) -> list[Finding]:
    """Return a note when the buyer paid in a currency without a rate."""
    paid, currency = case.order.shipping_paid, terms.shop.policy.currency
    if not paid or case.key.piece > 1 or in_money(paid, currency, terms.shop.rates) is not None:
        return []
    return [finding(Code.PAID_NOT_COUNTED, "your currency in Setup > Rules", paid=paid.text(), paid_in=paid.currency)]


def money_of(
    case: Case,
    contents: Contents,
    offer: Offer | None,
    payment: Payment | None,
    terms: Terms,
    extras: Sequence[PricedExtra] = (),
) -> PieceMoney:
    """Return the income and costs of a piece, extras with its postage; none where no service can carry it."""
    policy = terms.shop.policy
    nothing = zero(policy.currency)
    charged = charged_for(case, terms)
    postage = offer.price if offer else nothing
    refund = nothing
    if contents.stamp_asked and payment is Payment.STAMPED:
        refund = refund_for(case, contents, postage, terms)
    materials = materials_cost(contents.mailer, policy, has_label=has_label(payment))
    postage = sum((extra.price for extra in extras if extra.price is not None), postage)
    return PieceMoney(charged, postage, materials, refund, nothing)


def refund_for(case: Case, contents: Contents, postage: Money, terms: Terms) -> Money:
    """Return what would be refunded for this postage, once per order."""
    nothing = zero(terms.shop.policy.currency)
    if case.key.piece > 1:
        return nothing
    mailer = contents.mailer.cost(nothing.currency) if contents.mailer else nothing
    return stamp_refund(charged_for(case, terms), postage, mailer)


def refund_due(verdict: Verdict) -> Money:
    """Return the refund owed to the buyer for an accepted request, on the order's first piece; else nothing."""
    if verdict.money is None:
        return zero(verdict.charged.currency)
    return verdict.money.refund if REQUESTED in verdict.case.answered else zero(verdict.money.refund.currency)


def money_findings(verdict: Verdict, terms: Terms) -> Iterator[Finding]:
    """Yield findings about the money: shipping undercharged, an extra that is not sold, goods not covered."""
    offer, money, case = verdict.offer, verdict.money, verdict.case
    if offer is None or money is None:
        return
    spent = money.postage + money.materials
    if case.pieces_in_order == 1 and money.charged < spent and not uncounted(case, terms):
        yield finding(Code.CHARGED_TOO_LITTLE, "your costs in Setup", None, **_sums(charged=money.charged, spent=spent))
    for extra in verdict.extras:
        if extra.price is None:
            yield finding(Code.EXTRA_NOT_SOLD, offer.chart.source, bought=extra.code, service=offer.service)
    if not any(extra.code in _INSURES and extra.price is not None for extra in verdict.extras):
        yield from _cover(offer, case.order.goods_value, terms)


def _cover(offer: Offer, value: Money, terms: Terms) -> Iterator[Finding]:
    """Yield a finding about goods not covered if the piece is lost: an issue from the sum the shop sets, else a note.

    If the shop sets no sum, goods without any cover are an issue from $100. Goods that a rough rate can't settle count
    as not covered.
    """
    cover, limit = offer.facts.cover or zero("USD"), terms.shop.policy.cover_from
    there = converted(value, cover.currency, terms.rates)
    if there is None or there.is_over(cover) is False:
        return
    least = limit if limit is not None else None if cover else COVER_FROM
    held = converted(least, cover.currency, terms.rates) if least is not None else None
    facts = _sums(value=value, cover=cover) | {"cover_currency": cover.currency}
    if held is not None and there.amount - cover.amount >= held.amount:
        yield finding(Code.COVER_SHORT, "Price list, insurance included", None, **facts)
    elif cover:
        yield finding(Code.OVER_INCLUDED_COVER, "Price list, insurance included", None, **facts)


def _sums(**sums: Money) -> dict[str, str]:
    """Return sums as facts, with the currency of the first."""
    return {name: amount.text() for name, amount in sums.items()} | {"currency": next(iter(sums.values())).currency}
