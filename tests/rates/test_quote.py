"""The whole answer for a piece: which service, what else was possible, and why."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from desk.domain.length import Size
from desk.domain.mailer import MailerKind
from desk.domain.money import Money
from desk.domain.product import Restriction
from desk.domain.shop import LetterPostage, Untracked
from desk.rates.quote import Offer, Out, chart_findings, may_go, price_of, quote
from tests.rates import tiny
from tests.rates.tiny import ABROAD, BOX, ENVELOPE, LARGE_ENVELOPE, chart, codes, piece, rules

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
def test_the_cheapest_that_may_carry_it(posting, service, price):
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


def test_every_service_is_an_offer_or_out_with_a_reason():
    answer = quote(piece("3"), rules(parcel_services=(*PARCELS, "priority-commercial")))
    assert {offer.service for offer in answer.offers} == {"letter-stamped", "ground-retail", "priority-retail"}
    assert reason_of(answer, "flat") == "not-its-shape"
    assert reason_of(answer, "media") == "media-only"
    assert reason_of(answer, "priority-commercial") == "no-price-list"
    assert reason_of(answer, "priority-flat-envelope-retail") == "only-own-packaging"


def test_reasons_tell_the_way_to_the_price():
    answer = quote(piece("1.5", stiff=True), rules())
    told = {each.code: each for each in answer.reasons}
    assert list(told) == ["letter-by-size", "not-machinable", "row-used", "surcharge-added", "cheapest-of"]
    assert dict(told["row-used"].facts) == {
        "service": "letter-stamped",
        "chart": "tiny",
        "up_to": "2",
        "key": "",
        "price": "1.10",
    }
    assert told["surcharge-added"].facts["amount"] == "0.50"
    assert (told["cheapest-of"].facts["next_service"], told["cheapest-of"].facts["count"]) == ("ground-retail", 2)
    assert all(each.source for each in answer.reasons)


def test_reasons_when_nothing_else_was_possible():
    only = quote(piece("0.9", allowed=("letter-stamped",)), rules())
    assert only.reasons[-1].facts["next_service"] == ""
    nothing = quote(piece("0.9", allowed=("priority-commercial",)), rules())
    assert codes(nothing.reasons) == ["letter-by-size"]


def test_a_choice_wins_over_the_policy():
    answer = quote(piece("0.9", allowed=("priority-retail",)), rules())
    assert (answer.chosen.service, reason_of(answer, "letter-stamped")) == ("priority-retail", "not-among-choices")


@pytest.mark.parametrize(("value", "service"), [("45.00", "letter-stamped"), ("45.01", "ground-retail")])
def test_dear_orders_are_tracked(value, service):
    day = rules(untracked=Untracked.UP_TO, untracked_up_to=Money.of("45.00"))
    answer = quote(piece("0.9", order_value=Money.of(value)), day)
    assert answer.chosen.service == service
    assert ("untracked" in codes(answer.findings)) is (service == "letter-stamped")
    assert answer.shape.machinable is (True if service == "letter-stamped" else None)


def test_flat_rate_packaging_goes_as_itself_alone():
    answer = quote(piece("30", LARGE_ENVELOPE, only_service="priority-flat-envelope-retail"), rules())
    assert (answer.chosen.price.text(), len(answer.offers)) == ("12.00", 1)
    assert reason_of(answer, "ground-retail") == "mailer-only-for"


def test_zone_or_group_of_the_chosen_service():
    assert quote(piece("0.9"), rules()).zone == ""
    assert quote(piece("20", BOX), rules()).zone == "5"
    assert quote(piece("5", BOX, country="DE"), rules()).zone == "1"


def test_zone_unknown_matters_only_for_what_is_zoned():
    far = {"destination_zip": "99999"}
    assert "zone-unknown" not in codes(quote(piece("0.9", **far), rules()).findings)
    parcel = quote(piece("20", BOX, **far), rules())
    assert {"zone-unknown", "no-service"} <= set(codes(parcel.findings))
    assert (reason_of(parcel, "ground-retail"), parcel.zone) == ("zone-unknown", "")


def test_zone_estimated_is_told_for_zoned_services_alone():
    assert "zone-estimated" not in codes(quote(piece("0.9"), rules()).findings)
    assert "zone-estimated" in codes(quote(piece("20", BOX), rules()).findings)
    military = quote(piece("20", BOX, destination_zip="34001", region="AA"), rules())
    assert [each.severity for each in military.findings if each.code == "zone-estimated"] == ["look"]
    stuck = quote(piece("400", BOX), rules())
    assert "zone-estimated" not in codes(stuck.findings)
    assert stuck.zone == "5"


def test_size_missing_is_priced_as_a_parcel():
    answer = quote(piece("0.9", None), rules())
    assert (answer.chosen.service, answer.shape.pays_as) == ("ground-retail", "parcel")
    assert "size-missing" in codes(answer.findings)
    assert reason_of(answer, "letter-stamped") == "size-not-known"


def test_too_small_has_no_service():
    answer = quote(piece("0.9", Size.of("4", "3", "0.1", "in")), rules())
    assert (answer.chosen, codes(answer.findings)) == (None, ["no-service", "too-small"])
    assert (answer.shape.shape, answer.shape.pays_as) == ("", "none")


def test_no_service_says_what_was_tried():
    (stop,) = [each for each in quote(piece("400", BOX, country="DE"), rules()).findings if each.code == "no-service"]
    assert stop.facts["tried"] == "intl-package: over-weight"


def test_a_destination_without_a_price_group():
    answer = quote(piece("5", BOX, country="SO"), rules())
    assert (answer.chosen, reason_of(answer, "intl-package")) == (None, "not-to-that-country")


@pytest.mark.parametrize(
    ("posting", "code"),
    [
        (piece("1.4"), "over-one-ounce"),
        (piece("0.9", stiff=True), "not-machinable"),
        (piece("2.9", LARGE_ENVELOPE, stiff=True), "stiff-flat"),
        (piece("2.9", LARGE_ENVELOPE, uneven=True), "uneven-flat"),
        (piece("3", Size.of("9", "6", "0.4", "in")), "too-thick-for-letter"),
        (piece("10.1", LARGE_ENVELOPE), "hand-to-clerk"),
        (piece("3", Size.of("12", "9", "0.51", "in")), "hand-to-clerk"),
        (piece("14", LARGE_ENVELOPE), "over-service-limit"),
        (piece("3.6"), "over-service-limit"),
        (piece("325", BOX), "list-ends"),
        (piece("20", Size.of("25", "3", "3", "in"), mailer_kind=MailerKind.TUBE), "fee-unclear"),
    ],
)
def test_remarks_on_the_piece(posting, code):
    assert code in codes(quote(posting, rules()).findings)


@pytest.mark.parametrize(
    ("posting", "code"),
    [
        (piece("0.9"), "over-one-ounce"),
        (piece("1.4", CARD, mailer_kind=MailerKind.CARD), "over-one-ounce"),
        (piece("3.6", stiff=True), "not-machinable"),  # pays the flat price
        (piece("10.0", Size.of("12", "9", "0.5", "in")), "hand-to-clerk"),
        (piece("12", BOX), "hand-to-clerk"),
        (piece("12", BOX), "untracked"),
        (piece("14", LARGE_ENVELOPE, stiff=True), "over-service-limit"),
        (piece("20", BOX), "list-ends"),
        (piece("20", BOX), "fee-unclear"),
        (piece("2.9", LARGE_ENVELOPE, stiff=True, country="DE"), "stiff-flat"),
    ],
)
def test_remarks_that_do_not_belong(posting, code):
    assert code not in codes(quote(posting, rules()).findings)


def facts(answer, code):
    return next(dict(each.facts) for each in answer.findings if each.code == code)


def test_facts_of_remarks():
    assert facts(quote(piece("1.4"), rules()), "over-one-ounce") == {
        "weight_oz": "1.4",
        "over_oz": "0.4",
        "extra": "0.30",
        "currency": "USD",
    }
    assert facts(quote(piece("14", LARGE_ENVELOPE), rules()), "over-service-limit") == {
        "service": "flat",
        "limit": "13",
        "unit": "oz",
        "kind": "over-weight",
    }
    assert facts(quote(piece("325", BOX), rules()), "list-ends") == {
        "service": "ground-retail",
        "chart": "tiny",
        "what": "rows",
        "last": "320",
        "unit": "oz",
    }
    assert facts(quote(piece("10.1", LARGE_ENVELOPE), rules()), "hand-to-clerk") == {
        "heavy": True,
        "thick": False,
        "weight_oz": "10.1",
        "thickness_in": "0.5",
    }


def test_metered_pieces_need_no_clerk():
    metered = rules(letter_postage=LetterPostage.METERED)
    assert "hand-to-clerk" not in codes(quote(piece("11", LARGE_ENVELOPE), metered).findings)
    letter = chart("letter-stamped", {"16": "1.00"}, shapes=frozenset({"letter"}), max_weight=None)
    assert quote(piece("2", allowed=("letter-stamped",)), rules(letter)).chosen.service == "letter-stamped"


def test_both_sums_of_unclear_fees():
    tube = Size.of("25", "3", "3", "in")
    sums = facts(quote(piece("20", tube, mailer_kind=MailerKind.TUBE), rules()), "fee-unclear")
    assert (sums["lower"], sums["higher"], sums["fees"]) == ("15.00", "19.00", "long-22+tube")
    silent = replace(tiny.GROUND, surcharges=(), fees_listed=False)
    sums = facts(quote(piece("20", tube, mailer_kind=MailerKind.TUBE), rules(silent)), "fee-unclear")
    assert (sums["lower"], sums["higher"], sums["fees"]) == ("11.00", "", "long-22+tube")


def test_a_limit_of_value_is_told_when_it_costs_more():
    own = {"only_service": "", "mailer_kind": MailerKind.BOX, "country": "DE", "value": Money.of("500.00")}
    answer = quote(piece("5", BOX, **own), rules(intl_services=("intl-package",)))
    assert facts(answer, "over-service-limit")["limit"] == "400.00"
    assert "no-service" in codes(answer.findings)


def test_a_limit_that_saves_nothing_is_not_told():
    dear = chart("intl-package", {"16": "99.00"}, max_weight=None, **ABROAD)
    cheap = chart("intl-other", {"64": "50.00"}, **ABROAD)
    answer = quote(piece("20", BOX, country="DE"), rules(dear, cheap, intl_services=("intl-package", "intl-other")))
    assert "list-ends" not in codes(answer.findings)


ENVELOPE_ABROAD = {"country": "DE", "allowed": ("intl-letter", "intl-package")}


@pytest.mark.parametrize(
    ("fields", "why", "service"),
    [
        ({"country": "DE", "stamp_asked": True}, "stamp-asked", "intl-package"),
        (ENVELOPE_ABROAD, "in-envelope", "intl-package"),
        ({**ENVELOPE_ABROAD, "mailer_kind": None}, "in-envelope", "intl-package"),
        ({"country": "DE", "allowed": ("intl-letter",)}, "only-letters", None),
        ({**ENVELOPE_ABROAD, "mailer_kind": MailerKind.PADDED}, None, "intl-package"),
        ({"country": "DE"}, None, "intl-package"),
        ({**ENVELOPE_ABROAD, "documents_only": True}, None, "intl-letter"),
        ({"country": "DE", "allowed": ("ground-retail",)}, None, None),
        ({}, None, "letter-stamped"),
    ],
)
def test_goods_in_letters_abroad(fields, why, service):
    answer = quote(piece("0.9", **fields), rules())
    stops = [each.facts["why"] for each in answer.findings if each.code == "goods-in-letter-abroad"]
    assert stops == ([why] if why else [])
    assert (answer.chosen.service if answer.chosen else None) == service


def test_restricted_goods_are_stopped_and_still_priced():
    answer = quote(piece("5", BOX, country="DE", restricted=frozenset({Restriction.BATTERY})), rules())
    assert ("restricted-goods" in codes(answer.findings), answer.chosen.service) == (True, "intl-package")
    home = quote(piece("5", BOX, restricted=frozenset({Restriction.FLAMMABLE})), rules())
    assert "restricted-goods" not in codes(home.findings)
    assert "surface-only" in codes(home.reasons)


def test_stops_come_first():
    found = quote(piece("0.9", None, country="DE", stamp_asked=True), rules()).findings
    assert [each.severity for each in found] == sorted(
        (each.severity for each in found), key=["stop", "look", "note"].index
    )


def test_value_in_other_money_is_a_look_on_the_chosen_service():
    answer = quote(piece("5", BOX, country="DE", value=Money.of("500.00", "EUR")), rules())
    assert "value-not-compared" in codes(answer.findings)


def test_charts_past_their_day_are_told_once_each():
    old = replace(tiny.LETTER, until=date(2026, 7, 14), chart="old")
    last_day = replace(tiny.FLAT, until=tiny.ON)
    day = rules(old, last_day)
    quotes = [quote(piece("0.9"), day), quote(piece("2"), day), quote(piece("2", LARGE_ENVELOPE), day)]
    quotes.append(quote(piece("20", BOX), day))
    assert [dict(each.facts) for each in chart_findings(quotes, tiny.ON)] == [
        {"chart": "old", "until": "2026-07-14", "effective": "2026-01-01"}
    ]


def test_price_of_one_service_asks_no_policy():
    offer = price_of(piece("20", BOX), "priority-retail", "5", rules(parcel_services=()))
    assert isinstance(offer, Offer)
    assert offer.price == Money.of("10.00")
    assert price_of(piece("20", None), "ground-retail", "5", rules()).price == Money.of("11.00")
    assert isinstance(price_of(piece("20", BOX), "priority-retail", "6", rules()), Out)
    assert price_of(piece("20", BOX), "unheard-of", "", rules()).reason.code == "no-price-list"


def test_may_go_answers_what_speaks_against_it():
    day = rules()
    assert may_go(piece("5", BOX, country="DE"), "intl-package", day) == ()
    assert codes(may_go(piece("5", BOX, country="DE"), "intl-letter", day)) == ["documents-only"]
    assert may_go(piece("5", BOX, country="DE"), tiny.INTL_BOX.service, day) == ()
    battery = piece("5", BOX, country="DE", restricted=frozenset({Restriction.BATTERY}))
    assert codes(may_go(battery, "intl-package", day)) == ["restricted-goods"]
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
def test_may_go_without_a_size(service, weight, expected):
    documents = piece(weight, None, country="DE", documents_only=True)
    assert codes(may_go(documents, service, rules())) == expected
