from dataclasses import replace
from decimal import Decimal

import pytest

from desk.customs.declaration import DOMESTIC, Consignment, CustomsRules, declare
from desk.customs.goods import goods_of
from desk.domain.finding import Code, Severity, finding
from desk.domain.money import Money
from desk.domain.orders.order import OrderLine
from desk.domain.orders.piece import PieceKey
from desk.domain.shop.product import Restriction
from desk.domain.shop.shop import ExchangeRate, LetterPostage, ParcelPayment
from desk.domain.status import PieceStatus
from desk.domain.weight import Shown, WeightUnit
from desk.session.verdict.judge import judge
from desk.session.verdict.payment import Payment
from desk.session.verdict.stamp_request import DECLINED
from tests.session.made import (
    BOOK,
    CARD,
    FRANCE,
    HOME,
    LETTER,
    MANUAL,
    ON,
    abroad,
    case,
    line,
    order,
    policy,
    shop,
    weighing,
)  # fmt: skip

PARCEL = {"lines": (line(BOOK),), "value": "12.4", "mailer": "Padded"}


def codes(verdict):
    return [found.code for found in verdict.findings]


def facts(verdict, code):
    return dict(next(found for found in verdict.findings if found.code == code).facts)


def test_a_plain_letter_is_ready(judged):
    verdict = judged()
    assert verdict.offer.service == "letter-stamped"
    assert verdict.payment is Payment.STAMPED
    assert verdict.status is PieceStatus.READY
    assert verdict.declaration.form == "none"
    assert codes(verdict) == ["untracked"]


def test_the_costs_of_a_letter_add_up_by_hand(judged):
    """Mailer 24.00 / 200 = 0.12, insert 0.04, label 0.03; paid 5.00; one ounce stamped."""
    money = judged().money
    assert (money.charged.text(), money.materials.text(), money.refund.text()) == ("5.00", "0.19", "0.00")
    assert money.margin == money.charged - money.postage - money.materials


def test_an_unweighed_piece_has_the_status_to_weigh(judged):
    verdict = judged(None)
    assert codes(verdict) == ["no-weight"]
    assert verdict.status is PieceStatus.TO_WEIGH
    assert (verdict.quote, verdict.offer, verdict.money, verdict.declaration) == (None, None, None, None)
    assert verdict.charged == Money(500)


def test_findings_of_the_order_are_included_most_serious_first(judged):
    verdict = judged(
        findings=(finding(Code.POSTAL_CODE_MENDED, typed="2906", corrected="02906"),),
        address=replace(HOME, address1=""),
    )
    assert codes(verdict)[0] == "address-incomplete"
    assert "postal-code-mended" in codes(verdict)
    ranks = [list(Severity).index(found.severity) for found in verdict.findings]
    assert ranks == sorted(ranks)


@pytest.mark.parametrize("rest", [{"beside": PieceStatus.SET_ASIDE}, {"postage_on": True}, {"handed_over": True}])
def test_a_finished_step_decides_the_status(judged, rest):
    expected = {
        "beside": PieceStatus.SET_ASIDE,
        "postage_on": PieceStatus.LABELED,
        "handed_over": PieceStatus.HANDED_OVER,
    }
    assert judged(**rest).status is expected[next(iter(rest))]


def test_answering_the_issue_makes_the_piece_ready(judged):
    assert judged(buyer_note="by stamp").status is PieceStatus.NEEDS_A_LOOK
    assert judged(buyer_note="by stamp", answered=frozenset({"stamps-requested"})).status is PieceStatus.READY
    stopped = judged(address=replace(HOME, city=""), answered=frozenset({"address-incomplete"}))
    assert stopped.status is PieceStatus.NEEDS_A_LOOK


def test_a_stamp_request_is_a_check_with_its_refund(judged):
    """5.00 paid, less 0.82 postage (list of 2026-07-12) and 0.12 for the mailer."""
    verdict = judged(buyer_note="by stamp please")
    assert facts(verdict, "stamps-requested") == {
        "refund": "4.06",
        "service": "letter-stamped",
        "postage": "0.82",
        "currency": "USD",
    }
    assert verdict.money.refund == Money(406)


def test_a_refund_is_never_below_zero(judged):
    verdict = judged(buyer_note="by stamp please", shipping_paid=Money(50))
    assert verdict.money.refund == Money(0)


def test_a_stamp_request_for_a_parcel_is_not_possible(judged):
    verdict = judged(PARCEL["value"], PARCEL["mailer"], lines=PARCEL["lines"], buyer_note="by stamp please")
    assert facts(verdict, "stamp-not-possible")["service"] == "ground-retail"
    assert verdict.money.refund == Money(0)


def test_a_stamp_request_from_abroad_does_not_stop_a_package(judged):
    verdict = judged("4", "Padded", address=FRANCE, buyer_note="by stamp please")
    assert "goods-in-letter-abroad" not in codes(verdict)
    assert "stamps-requested" not in codes(verdict)


@pytest.mark.parametrize(("paid", "reported"), [(500, False), (101, False), (100, True), (0, True)])
def test_shipping_is_undercharged_below_postage_and_materials(judged, paid, reported):
    """0.82 postage and 0.19 materials."""
    assert ("charged-too-little" in codes(judged(shipping_paid=Money(paid)))) is reported


def test_undercharged_shipping_names_both_amounts(judged):
    assert facts(judged(shipping_paid=Money(100)), "charged-too-little") == {
        "charged": "1.00",
        "spent": "1.01",
        "currency": "USD",
    }


def test_an_order_in_two_pieces_is_paid_once_and_not_reported_as_undercharged(judged):
    second = judged("12.4", "Padded", key=PieceKey("1001", 2), pieces_in_order=2)
    assert second.charged == Money(0)
    assert second.money.margin < Money(0)
    assert "charged-too-little" not in codes(second)


def test_goods_above_the_included_insurance_need_a_check(judged):
    dear = (line(BOOK, 1, 10001),)
    verdict = judged("12.4", "Padded", lines=dear)
    sums = {"value": "100.01", "cover": "100.00", "currency": "USD", "cover_currency": "USD"}
    assert facts(verdict, "over-included-cover") == sums
    assert "over-included-cover" not in codes(judged("12.4", "Padded", lines=(line(BOOK, 1, 10000),)))
    assert "over-included-cover" not in codes(judged(lines=dear))


def test_a_piece_lighter_than_its_contents_needs_a_check(judged):
    """23 g mailer and 310 g book are expected; half a book is missing."""
    verdict = judged("5.0", "Padded", lines=(line(BOOK),))
    assert facts(verdict, "lighter-than-contents")["expected_g"] == "333.0"
    assert "lighter-than-contents" not in codes(judged("11.7", "Padded", lines=(line(BOOK),)))


def test_an_order_in_several_packages_has_no_expected_weight(judged):
    assert "lighter-than-contents" not in codes(judged("5.0", "Padded", lines=(line(BOOK),), pieces_in_order=2))


def test_shipping_paid_in_another_currency_is_converted_at_the_shops_rate(judged):
    rates = (ExchangeRate("EUR", "USD", Decimal("1.20"), ON),)
    verdict = judged(shop=shop(rates=rates), shipping_paid=Money(500, "EUR"))
    assert verdict.charged == Money(600)
    assert "paid-not-counted" not in codes(verdict)


def test_shipping_paid_in_a_currency_without_a_rate_is_reported_and_left_out(judged):
    verdict = judged(shipping_paid=Money(500, "EUR"))
    assert facts(verdict, "paid-not-counted") == {"paid": "5.00", "paid_in": "EUR"}
    assert verdict.charged == Money(0)
    assert "charged-too-little" not in codes(verdict)
    assert "paid-not-counted" not in codes(judged(shipping_paid=Money(0, "EUR")))


def test_a_barred_destination_has_no_service_and_one_reason(judged):
    verdict = judged("5", "Padded", address=abroad(country="CU", postal_code="10100"))
    assert "destination-barred" in codes(verdict)
    assert "no-service" not in codes(verdict)
    assert (verdict.offer, verdict.payment, verdict.money.postage) == (None, None, Money(0))
    assert verdict.declaration.form == "CN22"


def test_a_suspended_destination_has_no_service(judged):
    verdict = judged("5", "Padded", address=abroad(country="RU", postal_code="125009"))
    assert "destination-suspended" in codes(verdict)
    assert verdict.offer is None
    assert (verdict.is_stopped, str(verdict.status)) == (False, "needs a look")


def test_an_unknown_country_has_no_price(judged):
    verdict = judged("5", "Padded", address=replace(HOME, country="", country_typed="Atlantis"))
    assert facts(verdict, "address-incomplete") == {"missing": ("country",), "country_typed": "Atlantis"}
    assert verdict.offer is None


def test_a_piece_too_small_to_mail_has_no_service(judged):
    from desk.domain.length import Size

    verdict = judged(weighing=weighing("0.2", "", size=Size.of("4.5", "3", "0.02", "in")))
    assert {"no-service", "too-small"} <= set(codes(verdict))
    assert verdict.offer is None
    assert verdict.money.materials == Money(4)


def test_a_restricted_product_abroad_is_stopped_but_still_priced(judged):
    perfume = replace(CARD, restricted=(Restriction.FLAMMABLE,))
    verdict = judged("4", "Padded", shop=shop(products=(perfume,)), address=FRANCE)
    assert "restricted-goods" in codes(verdict)
    assert verdict.offer.service == "intl-package"


def test_goods_abroad_are_declared_and_documents_are_not(judged):
    goods = judged("4", "Padded", address=FRANCE)
    assert (goods.declaration.form, goods.is_abroad) == ("CN22", True)
    papers = shop(policy=policy(intl_services=("intl-letter", "intl-package")))
    letter = judged("0.9", "A7", shop=papers, address=FRANCE, lines=(line(LETTER),))
    assert (letter.offer.service, letter.declaration.form) == ("intl-letter", "none")


def test_contents_of_several_packages_abroad_are_unknown(judged):
    first = judged("12.4", "Padded", address=FRANCE, pieces_in_order=2)
    second = judged("12.4", "Padded", address=FRANCE, key=PieceKey("1001", 2), pieces_in_order=2)
    assert facts(first, "contents-unknown") == {"pieces": 2, "listed": True}
    assert facts(second, "contents-unknown") == {"pieces": 2, "listed": True}
    assert (first.declaration.lines, second.declaration.lines) == ((), ())
    assert (first.declaration.form, second.declaration.form) == ("CN22", "CN22")
    assert "contents-unknown" not in codes(judged("12.4", "Padded", pieces_in_order=2))


@pytest.mark.parametrize("named", [(), (line(),)])
def test_an_order_abroad_with_a_line_that_names_no_goods_is_stopped(judged, named):
    empty = judged("12.4", "Padded", address=FRANCE, lines=(*named, OrderLine("", 1, Money(0))))
    assert facts(empty, "contents-unknown") == {"pieces": 1, "listed": False}
    assert empty.declaration.lines == ()
    assert not {"hs-missing", "origin-missing", "words-too-vague", "value-zero"} & set(codes(empty))


def test_duty_is_not_stated_until_the_contents_are_known(judged):
    assert "eu-duty" in codes(judged("12.4", "Padded", address=FRANCE))
    assert "eu-duty" not in codes(judged("12.4", "Padded", address=FRANCE, pieces_in_order=2))


def test_a_service_chosen_for_the_piece_overrides_the_policy(judged):
    assert judged(service="ground-retail").offer.service == "ground-retail"


def test_the_buyers_choice_limits_the_services(judged):
    ours = shop(choices={"Tracked": ("ground-retail",)})
    assert judged(shop=ours, shipping_choice="Tracked").offer.service == "ground-retail"
    assert judged(shop=ours, shipping_choice="Whatever").offer.service == "letter-stamped"


def test_the_media_price_is_only_for_media(judged):
    ours = shop(policy=policy(parcel_services=("ground-retail", "media")))
    assert judged("15.5", "Padded", shop=ours, lines=(line(MANUAL),)).offer.service == "media"
    assert judged("15.5", "Padded", shop=ours, lines=(line(MANUAL), line())).offer.service == "ground-retail"


def test_the_payment_follows_the_service_and_the_policy(judged):
    metered = judged(shop=shop(policy=policy(letter_postage=LetterPostage.METERED)))
    assert (metered.offer.service, metered.payment) == ("letter-metered", Payment.METERED)
    counter = judged("12.4", "Padded", shop=shop(policy=policy(parcel_payment=ParcelPayment.COUNTER)))
    assert counter.payment is Payment.COUNTER
    assert judged("12.4", "Padded").payment is Payment.ONLINE


@pytest.mark.parametrize(("way", "longest"), [(ParcelPayment.COUNTER, 100), (ParcelPayment.ONLINE, 50)])
def test_an_address_must_be_shorter_on_a_label_that_we_do_not_print(judged, way, longest):
    fields = {**PARCEL, "shop": shop(policy=policy(parcel_payment=way))}
    assert "address-too-long" not in codes(judged(**fields, address=replace(HOME, recipient="x" * longest)))
    long = judged(**fields, address=replace(HOME, recipient="x" * (longest + 1)))
    assert facts(long, "address-too-long")["longest"] == longest


def test_a_label_is_a_material_cost_only_if_we_print_it(judged):
    """Padded 37.50 / 100 = 0.38 (half up), insert 0.04."""
    assert judged("12.4", "Padded").money.materials == Money(42)
    counter = shop(policy=policy(parcel_payment=ParcelPayment.COUNTER))
    assert judged("12.4", "Padded", shop=counter).money.materials == Money(45)


def test_order_and_case_builders_agree():
    assert case(number="7").key.order == order("7").number


@pytest.mark.parametrize(("region", "is_declared"), [("ME", False), ("", False), ("PR", True), (" ae ", True)])
def test_only_pieces_that_may_need_a_form_are_worked_out_for_customs(judged, region, is_declared):
    verdict = judged(address=replace(HOME, region=region))
    assert (verdict.declaration is not DOMESTIC) is is_declared


def test_domestic_mail_needs_no_declaration(rulebook):
    piece = Consignment(
        goods=goods_of(order(lines=(line(BOOK),)), shop()),
        gross=weighing("40").shown.weight,
        service=None,
        address=HOME,
    )
    full = declare(piece, CustomsRules(rulebook.destinations, rulebook.codes), ON)
    kept = {"lines": (), "total_net_g": None, "total_value": DOMESTIC.total_value, "gross": None}
    assert replace(full, **kept) == DOMESTIC


@pytest.mark.parametrize(("address", "is_asked"), [(HOME, True), (FRANCE, False)])
def test_a_stamp_request_is_asked_about_only_in_domestic_mail(judged, address, is_asked):
    """Goods abroad cannot go in a letter (IMM 123.6), so there is nothing to accept."""
    verdict = judged(
        "0.9", address=address, buyer_note="by stamp", shop=shop(policy=policy(letter_postage=LetterPostage.METERED))
    )
    assert verdict.contents.stamp_asked
    assert ("stamps-requested" in [found.code for found in verdict.findings]) is is_asked


def test_a_guessed_mailer_is_not_asked_about_once_one_is_chosen(terms):
    guessed = case(weighing=weighing("0.7", "A7", mailer_guessed=True))
    assert "mailer-guessed" in codes(judge(guessed, terms))
    assert "mailer-guessed" not in codes(judge(replace(guessed, mailer="Padded"), terms))


def test_two_weights_of_a_piece_without_a_service_are_a_note(judged):
    closed = abroad(country="SO", city="Mogadishu")
    read = weighing("0.7", "A7", earlier=weighing("0.9").shown)
    verdict = judged(weighing=read, address=closed, shop=shop(policy=policy(intl_services=())))
    assert verdict.offer is None
    assert next(one for one in verdict.findings if one.code == "weighed-twice").severity is Severity.NOTE


def test_two_weights_in_pounds_and_ounces_are_named_as_typed(judged):
    first, then = (Shown(Decimal(value), WeightUnit.POUND_OUNCE, Decimal(1)) for value in ("19", "20"))
    verdict = judged(weighing=replace(weighing("0.7", "A7"), shown=then, earlier=first))
    facts = next(one for one in verdict.findings if one.code == "weighed-twice").facts
    assert (facts["first"], facts["then"]) == ("1 lb 3 oz", "1 lb 4 oz")


def test_the_buyers_choice_applies_after_a_declined_stamp_request(judged):
    chosen = shop(choices={"by letter": ("letter-stamped",)})
    asked = {"buyer_note": "by stamp please", "answered": frozenset({DECLINED})}
    assert judged(shop=chosen, shipping_choice="by letter", **asked).offer.service == "letter-stamped"
    assert judged(shop=chosen, **asked).offer.service != "letter-stamped"


def test_a_stamp_request_from_abroad_is_not_asked_about(judged):
    """Nothing is refunded abroad: there the package price is usual."""
    lines = (line(LETTER),)
    verdict = judged("0.7", "A7", address=FRANCE, lines=lines, buyer_note="by stamp please", shipping_paid=Money(2000))
    assert verdict.contents.stamp_asked
    assert not {"stamps-requested", "stamp-not-possible"} & set(codes(verdict))
