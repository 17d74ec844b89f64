"""Cover for what is lost, and what two weights of one piece pay."""

from __future__ import annotations

from decimal import Decimal

import pytest

from desk.domain.finding import Severity
from desk.domain.money import Money
from desk.domain.orders.order import OrderLine
from desk.domain.orders.piece import PieceKey
from desk.domain.shop.shop import ExchangeRate
from desk.domain.weight import Shown, WeightUnit
from desk.session.verdict.money import refund_for
from desk.session.verdict.verdict import Terms
from desk.session.words.sentences import sentence
from tests.session import made


def cover(judged, service_weight, cents, mailer="Padded", **policy):
    lines = (made.line(made.BOOK, 1, cents),)
    verdict = judged(service_weight, mailer, lines=lines, shop=made.shop(policy=made.policy(**policy)))
    return {one.code: one.severity for one in verdict.findings if one.code in ("cover-short", "over-included-cover")}


@pytest.mark.parametrize(("cents", "expected"), [(9999, {}), (10000, {"cover-short": Severity.LOOK})])
def test_a_letter_has_no_insurance_and_goods_of_100_dollars_need_a_check(judged, cents, expected):
    assert cover(judged, "0.9", cents, "A7") == expected


@pytest.mark.parametrize(
    ("cents", "expected"),
    [(10000, {}), (10001, {"over-included-cover": Severity.NOTE}), (90000, {"over-included-cover": Severity.NOTE})],
)
def test_goods_partly_covered_by_a_parcel_are_noted(judged, cents, expected):
    """Ground parcels include 100 dollars: price list, insurance included."""
    assert cover(judged, "12.4", cents) == expected


@pytest.mark.parametrize(
    ("cents", "expected"), [(14999, {"over-included-cover": Severity.NOTE}), (15000, {"cover-short": Severity.LOOK})]
)
def test_the_shop_sets_the_uncovered_amount_that_needs_a_check(judged, cents, expected):
    assert cover(judged, "12.4", cents, cover_from=Money(5000)) == expected


@pytest.mark.parametrize(
    ("cents", "currency", "covered"),
    [(9090, "EUR", True), (9091, "EUR", False), (10000, "CAD", True), (12900, "CAD", False)],
)
def test_included_insurance_is_compared_in_the_currency_of_the_goods(judged, cents, currency, covered):
    """EUR by the shop's rate, 1.10; CAD by the shipped rough one, which covers only what is clearly under."""
    goods = OrderLine(made.BOOK.name, 1, Money(cents, currency), made.BOOK.sku)
    rates = (ExchangeRate("EUR", "USD", Decimal("1.10"), made.ON),)
    paid = {"currency": currency, "shipping_paid": Money(0, currency), "discount": Money(0, currency)}
    verdict = judged("12.4", "Padded", lines=(goods,), shop=made.shop(rates=rates), **paid)
    reported = [one for one in verdict.findings if one.code == "over-included-cover"]
    assert not reported if covered else reported[0].facts["cover_currency"] == "USD"
    assert covered or "covers $100.00" in sentence(reported[0])


@pytest.mark.parametrize(("earlier", "now", "severity"), [("0.7", "0.6", Severity.NOTE), ("1.4", "0.7", Severity.LOOK)])
def test_two_weights_of_one_piece_need_a_check_where_their_prices_differ(judged, earlier, now, severity):
    before = Shown(Decimal(earlier), WeightUnit.OUNCE, Decimal("0.1"))
    verdict = judged(weighing=made.weighing(now, earlier=before))
    (found,) = [one for one in verdict.findings if one.code == "weighed-twice"]
    assert found.severity is severity
    assert dict(found.facts) == {"first": f"{earlier} oz", "then": f"{now} oz"}


@pytest.mark.parametrize(("piece", "charged", "refund"), [(1, 500, 406), (2, 0, 0)])
def test_an_order_in_two_pieces_is_charged_and_refunded_once(judged, rulebook, piece, charged, refund):
    """Shipping paid 5.00, less a letter of 0.82 and an envelope of 24.00 / 200 = 0.12: 4.06."""
    verdict = judged("0.7", key=PieceKey("1001", piece), pieces_in_order=2, is_divided=True)
    assert verdict.money.charged.minor == charged
    terms = Terms(made.shop(), rulebook, made.ON)
    assert refund_for(verdict.case, verdict.contents, Money(82), terms).minor == refund


@pytest.mark.parametrize(("piece", "is_told"), [(1, True), (2, False)])
def test_money_that_cannot_be_counted_is_reported_once_an_order(judged, piece, is_told):
    verdict = judged("0.7", key=PieceKey("1001", piece), pieces_in_order=2, shipping_paid=Money(500, "CHF"))
    assert ("paid-not-counted" in [found.code for found in verdict.findings]) is is_told


@pytest.mark.parametrize(("paid", "is_told"), [(100, True), (101, False)])
def test_shipping_that_covers_postage_and_materials_is_not_too_little(judged, paid, is_told):
    """A letter of 0.82, an envelope of 24.00 / 200 = 0.12, an insert of 0.04 and a label of 0.03: 1.01."""
    verdict = judged("0.7", shipping_paid=Money(paid))
    assert ("charged-too-little" in [found.code for found in verdict.findings]) is is_told


@pytest.mark.parametrize(("bought", "is_told"), [("certificate-of-mailing", True), ("insurance", False)])
def test_insurance_covers_the_goods_but_a_certificate_does_not(judged, bought, is_told):
    verdict = judged(
        "12.4", "Padded", lines=(made.line(made.BOOK, 1, 15000),), extras=(bought,), service="ground-retail"
    )
    assert verdict.extras[0].price is not None
    assert ("over-included-cover" in [found.code for found in verdict.findings]) is is_told


def test_a_stamp_request_that_becomes_a_parcel_is_refunded_nothing(judged):
    asked = {"buyer_note": "by stamp please", "shipping_paid": Money(2000)}
    assert judged("0.7", "A7", **asked).money.refund > Money(0)
    parcel = judged("12.4", "Padded", lines=(made.line(made.BOOK),), **asked)
    assert parcel.money.refund == Money(0)


@pytest.mark.parametrize(("extra", "is_short"), [("certificate-of-mailing", True), ("insurance", False)])
def test_only_insurance_covers_a_loss(judged, extra, is_short):
    lines = (made.line(made.BOOK, 1, 40000),)
    verdict = judged("12.4", "Padded", lines=lines, extras=(extra,))
    assert [one.price is not None for one in verdict.extras] == [True]
    assert bool({"cover-short", "over-included-cover"} & {one.code for one in verdict.findings}) is is_short


def test_insurance_is_not_judged_for_goods_in_a_currency_without_a_rate(judged):
    goods = (OrderLine("Book", 1, Money(90000, "XPF"), "NB"),)
    verdict = judged("12.4", "Padded", lines=goods, currency="XPF", discount=Money(0, "XPF"))
    assert verdict.offer is not None
    assert not {"cover-short", "over-included-cover"} & {one.code for one in verdict.findings}
