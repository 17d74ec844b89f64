"""The complete answer for a piece: which service, the alternatives, and the reasons."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from desk.domain.length import Size
from desk.domain.money import Money
from desk.domain.shop.mailer import MailerKind
from desk.domain.shop.product import Restriction
from desk.domain.shop.shop import Untracked
from desk.rates.quote import Offer, ServiceOut, chart_findings, may_go, price_of, quote
from tests.rates import tiny
from tests.rates.tiny import BOX, ENVELOPE, LARGE_ENVELOPE, chart, codes, piece, rules

CARD = Size.of("6", "4", "0.01", "in")
PARCELS = ("priority-retail", "ground-retail", "media")


def reason_of(answer, service):
    return next(out.reason.code for out in answer.out if out.service == service)


@pytest.mark.parametrize(
    ("posting", "service", "price"),
    [
        (piece("0.9"), "letter-stamped", "0.80"),
        (piece("0.9", stiff=True), "letter-stamped", "1.30"),
        (piece("3.6"), "flat", "2.50"),
        (piece("13.1"), "ground-retail", "8.00"),
        (piece("2.9", LARGE_ENVELOPE), "flat", "2.25"),
        (piece("2.9", LARGE_ENVELOPE, stiff=True), "ground-retail", "7.00"),
        (piece("2.9", LARGE_ENVELOPE, media=True, stiff=True), "media", "4.50"),
        (piece("0.9", CARD, mailer_kind=MailerKind.CARD), "postcard", "0.60"),
        (piece("0.9", CARD), "letter-stamped", "0.80"),
        (piece("20", BOX, mailer_kind=MailerKind.BOX), "priority-retail", "10.00"),
        (piece("5", BOX, mailer_kind=MailerKind.BOX), "ground-retail", "7.00"),
    ],
)
def test_the_cheapest_eligible_service_is_chosen(posting, service, price):
    answer = quote(posting, rules(parcel_services=PARCELS))
    assert (answer.chosen.service, answer.chosen.price.text()) == (service, price)
    prices = [offer.price.minor for offer in answer.offers]
    assert prices == sorted(prices)


def test_ties_go_to_fewer_surcharges_and_then_to_the_shop_order():
    plain = [
        chart(service, {"64": "7.00"}, key="5", keyed_by="zone") for service in ("ground-retail", "priority-retail")
    ]
    for order in (("ground-retail", "priority-retail"), ("priority-retail", "ground-retail")):
        assert quote(piece("20", BOX), rules(*plain, parcel_services=order)).chosen.service == order[0]
    long = Size.of("23", "10", "4", "in")
    dear = replace(plain[0], rows=chart("x", {"64": "5.00"}, key="5").rows, surcharges=(tiny.fee("long-22", "2.00"),))
    both = rules(dear, plain[1], parcel_services=("ground-retail", "priority-retail"))
    assert quote(piece("20", long), both).chosen.service == "priority-retail"


def test_every_service_is_an_offer_or_excluded_with_a_reason():
    answer = quote(piece("3"), rules(parcel_services=(*PARCELS, "priority-commercial")))
    assert {offer.service for offer in answer.offers} == {"letter-stamped", "ground-retail", "priority-retail"}
    assert reason_of(answer, "flat") == "not-its-shape"
    assert reason_of(answer, "media") == "media-only"
    assert reason_of(answer, "priority-commercial") == "no-price-list"
    assert reason_of(answer, "priority-flat-envelope-retail") == "only-own-packaging"


def test_reasons_explain_the_price():
    answer = quote(piece("1.5", stiff=True), rules())
    reported = {each.code: each for each in answer.reasons}
    assert list(reported) == ["letter-by-size", "not-machinable", "row-used", "surcharge-added", "cheapest-of"]
    assert dict(reported["row-used"].facts) == {
        "service": "letter-stamped",
        "chart": "tiny",
        "effective": reported["row-used"].facts["effective"],
        "up_to": "2",
        "unit": "oz",
        "keyed_by": "",
        "key": "",
        "price": "1.10",
        "currency": "USD",
    }
    assert date.fromisoformat(reported["row-used"].facts["effective"]) <= rules().on
    assert reported["surcharge-added"].facts["amount"] == "0.50"
    assert (reported["cheapest-of"].facts["next_service"], reported["cheapest-of"].facts["count"]) == (
        "ground-retail",
        2,
    )
    assert all(each.source for each in answer.reasons)


def test_the_reasons_say_when_no_other_service_was_possible():
    only = quote(piece("0.9", allowed=("letter-stamped",)), rules())
    assert only.reasons[-1].facts["next_service"] == ""
    nothing = quote(piece("0.9", allowed=("priority-commercial",)), rules())
    assert codes(nothing.reasons) == ["letter-by-size"]


def test_the_buyers_choice_overrides_the_policy():
    answer = quote(piece("0.9", allowed=("priority-retail",)), rules())
    assert (answer.chosen.service, reason_of(answer, "letter-stamped")) == ("priority-retail", "not-among-choices")


@pytest.mark.parametrize(("value", "service"), [("45.00", "letter-stamped"), ("45.01", "ground-retail")])
def test_orders_of_high_value_are_tracked(value, service):
    day = rules(untracked=Untracked.UP_TO, untracked_up_to=Money.of("45.00"))
    answer = quote(piece("0.9", order_value=Money.of(value)), day)
    assert answer.chosen.service == service
    assert ("untracked" in codes(answer.findings)) is (service == "letter-stamped")
    assert answer.shape.machinable is (True if service == "letter-stamped" else None)


def test_flat_rate_packaging_goes_only_by_its_own_service():
    answer = quote(piece("30", LARGE_ENVELOPE, only_service="priority-flat-envelope-retail"), rules())
    assert (answer.chosen.price.text(), len(answer.offers)) == ("12.00", 1)
    assert reason_of(answer, "ground-retail") == "mailer-only-for"


def test_a_quote_has_the_zone_or_price_group_of_its_service():
    assert quote(piece("0.9"), rules()).zone == ""
    assert quote(piece("20", BOX), rules()).zone == "5"
    assert quote(piece("5", BOX, country="DE"), rules()).zone == "1"


def test_an_unknown_zone_is_reported_only_for_services_priced_by_zone():
    far = {"destination_zip": "99999"}
    assert "zone-unknown" not in codes(quote(piece("0.9", **far), rules()).findings)
    parcel = quote(piece("20", BOX, **far), rules())
    assert {"zone-unknown", "no-service"} <= set(codes(parcel.findings))
    assert (reason_of(parcel, "ground-retail"), parcel.zone) == ("zone-unknown", "")


def test_an_estimated_zone_is_reported_only_for_services_priced_by_zone():
    assert "zone-estimated" not in codes(quote(piece("0.9"), rules()).findings)
    assert "zone-estimated" not in codes(quote(piece("20", BOX), rules()).findings)
    military = quote(piece("20", BOX, destination_zip="34001", region="AA"), rules())
    assert [each.severity for each in military.findings if each.code == "zone-estimated"] == ["look"]
    stuck = quote(piece("400", BOX), rules())
    assert "zone-estimated" not in codes(stuck.findings)
    assert stuck.zone == "5"


def test_a_piece_without_a_size_is_priced_as_a_parcel():
    answer = quote(piece("0.9", None), rules())
    assert (answer.chosen.service, answer.shape.pays_as) == ("ground-retail", "parcel")
    assert "size-missing" in codes(answer.findings)
    assert reason_of(answer, "letter-stamped") == "size-not-known"


def test_a_piece_too_small_to_mail_has_no_service():
    answer = quote(piece("0.9", Size.of("4", "3", "0.1", "in")), rules())
    assert (answer.chosen, codes(answer.findings)) == (None, ["no-service", "too-small"])
    assert (answer.shape.shape, answer.shape.pays_as) == ("", "none")


def test_without_a_service_the_finding_names_those_tried():
    (stop,) = [each for each in quote(piece("400", BOX, country="DE"), rules()).findings if each.code == "no-service"]
    assert (stop.facts["tried"], stop.facts["because"]) == (("intl-package",), ("over-weight",))


def test_a_destination_without_a_price_group_has_no_price():
    answer = quote(piece("5", BOX, country="SO"), rules())
    assert (answer.chosen, reason_of(answer, "intl-package")) == (None, "not-to-that-country")


def test_each_outdated_price_list_is_reported_once():
    old = replace(tiny.LETTER, until=date(2026, 7, 14), chart="old")
    last_day = replace(tiny.FLAT, until=tiny.ON)
    day = rules(old, last_day)
    quotes = [quote(piece("0.9"), day), quote(piece("2"), day), quote(piece("2", LARGE_ENVELOPE), day)]
    quotes.append(quote(piece("20", BOX), day))
    assert [dict(each.facts) for each in chart_findings(quotes, tiny.ON)] == [
        {"chart": "old", "until": "2026-07-14", "effective": "2026-01-01"}
    ]


def test_the_price_of_one_service_ignores_the_policy():
    offer = price_of(piece("20", BOX), "priority-retail", "5", rules(parcel_services=()))
    assert isinstance(offer, Offer)
    assert offer.price == Money.of("10.00")
    assert price_of(piece("20", None), "ground-retail", "5", rules()).price == Money.of("11.00")
    assert isinstance(price_of(piece("20", BOX), "priority-retail", "6", rules()), ServiceOut)
    assert price_of(piece("20", BOX), "unheard-of", "", rules()).reason.code == "no-price-list"


def test_reasons_against_a_service_are_listed():
    day = rules()
    assert may_go(piece("5", BOX, country="DE"), "intl-package", day) == ()
    assert codes(may_go(piece("5", BOX, country="DE"), "intl-letter", day)) == ["documents-only"]
    assert may_go(piece("5", BOX, country="DE"), tiny.INTL_BOX.service, day) == ()
    perfume = piece("5", BOX, country="DE", restricted=frozenset({Restriction.FLAMMABLE}))
    assert codes(may_go(perfume, "intl-package", day)) == ["restricted-goods"]
    assert codes(may_go(piece("0.9", ENVELOPE, country="DE"), "intl-package", day)) == []


@pytest.mark.parametrize(
    ("service", "weight", "fields", "price"),
    [
        ("letter-stamped", "1", {}, "0.80"),
        ("letter-stamped", "3.5", {"stiff": True}, "2.20"),
        ("postcard", "1", {}, "0.60"),
        ("flat", "3", {}, "2.25"),
        ("ground-retail", "5", {}, "7.00"),
    ],
)
def test_a_price_can_be_asked_without_a_size(service, weight, fields, price):
    key = "5" if service == "ground-retail" else ""
    assert price_of(piece(weight, None, **fields), service, key, rules()).price == Money.of(price)


def test_the_price_of_a_postcard_is_that_of_a_card():
    assert price_of(piece("1", CARD), "postcard", "", rules()).price == Money.of("0.60")
    assert price_of(piece("1", ENVELOPE), "postcard", "", rules()).reason.code == "not-its-shape"


@pytest.mark.parametrize(
    ("service", "weight", "expected"),
    [("intl-letter", "3.5", []), ("intl-letter", "3.6", ["over-weight"]), ("intl-flat", "15.995", ["over-weight"])],
)
def test_reasons_against_a_service_need_no_size(service, weight, expected):
    documents = piece(weight, None, country="DE", documents_only=True)
    assert codes(may_go(documents, service, rules())) == expected


@pytest.mark.parametrize(
    "fields", [{"destination_zip": ""}, {"origin_zip": ""}, {"origin_zip": "", "destination_zip": ""}]
)
def test_reasons_against_a_service_need_no_zip_codes(fields):
    assert may_go(piece("20", BOX, **fields), "ground-retail", rules()) == ()
