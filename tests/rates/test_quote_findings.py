"""Findings on a quoted piece: which apply, which do not, and the facts each sentence needs."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from desk.domain.finding import Severity
from desk.domain.length import Size
from desk.domain.money import Money
from desk.domain.shop.mailer import MailerKind
from desk.domain.shop.product import Restriction
from desk.domain.shop.shop import LetterPostage
from desk.domain.weight import Weight
from desk.rates.quote import quote
from desk.rates.quote_findings import _list_with
from tests.rates import tiny
from tests.rates.tiny import ABROAD, BOX, LARGE_ENVELOPE, chart, codes, piece, rules

CARD = Size.of("6", "4", "0.01", "in")


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
def test_a_piece_gets_the_findings_that_apply_to_it(posting, code):
    assert code in codes(quote(posting, rules()).findings)


@pytest.mark.parametrize(
    ("posting", "code"),
    [
        (piece("0.9"), "over-one-ounce"),
        (piece("1.4", CARD, mailer_kind=MailerKind.CARD), "over-one-ounce"),
        (piece("3.6", stiff=True), "not-machinable"),  # pays as a parcel
        (piece("10.0", Size.of("12", "9", "0.5", "in")), "hand-to-clerk"),
        (piece("12", BOX), "hand-to-clerk"),
        (piece("12", BOX), "untracked"),
        (piece("14", LARGE_ENVELOPE, stiff=True), "over-service-limit"),
        (piece("20", BOX), "list-ends"),
        (piece("20", BOX), "fee-unclear"),
        (piece("2.9", LARGE_ENVELOPE, stiff=True, country="DE"), "stiff-flat"),
    ],
)
def test_a_piece_gets_no_findings_that_do_not_apply(posting, code):
    assert code not in codes(quote(posting, rules()).findings)


def facts(answer, code):
    return next(dict(each.facts) for each in answer.findings if each.code == code)


def test_at_exactly_one_ounce_a_reading_is_too_close_to_call():
    answer = quote(piece("1.0"), rules())
    assert answer.chosen.price == Money(110)
    assert "too-close-to-call" in codes(answer.findings)
    assert "over-one-ounce" not in codes(answer.findings)
    over = quote(piece("2.0"), rules())
    assert "too-close-to-call" in codes(over.findings)
    assert facts(over, "over-one-ounce")["over_oz"] == "1"


def test_a_rigid_letter_over_its_weight_goes_as_a_parcel():
    assert quote(piece("3.6", stiff=True), rules()).chosen.service == "ground-retail"
    assert quote(piece("3.4", stiff=True), rules()).chosen.service == "letter-stamped"
    assert quote(piece("3.6"), rules()).chosen.service == "flat"


def test_an_ended_list_is_raised_only_where_it_leads_to_a_more_expensive_service():
    dearer = rules(tiny.GROUND, tiny.PRIORITY, parcel_services=("ground-retail", "priority-retail"))
    (found,) = [each for each in quote(piece("325", BOX), dearer).findings if each.code == "list-ends"]
    assert (found.severity, quote(piece("325", BOX), dearer).chosen.service) == (Severity.LOOK, "priority-retail")
    (alone,) = [each for each in quote(piece("325", BOX), rules(tiny.GROUND)).findings if each.code == "list-ends"]
    assert alone.severity is Severity.NOTE


@pytest.mark.parametrize(
    ("sides", "code"), [(("36", "18", "18"), "over-dimensional-weight"), (("30", "18", "18"), "list-ends")]
)
def test_a_size_that_bills_more_than_the_service_takes_says_so(sides, code):
    """36 x 18 x 18 in: 11,664 / 139 = 83.9, so 84 lb, over the 70 lb of the service; 30 x 18 x 18 is 70 lb."""
    answer = quote(piece("160", Size.of(*sides, "in")), rules(tiny.GROUND))
    assert answer.chosen is None
    why = next(out.reason for out in answer.out if out.service == "ground-retail")
    assert why.code == code
    if code == "over-dimensional-weight":
        assert (why.facts["pounds"], why.facts["limit"]) == ("84", "70")
        assert facts(answer, "over-service-limit")["pounds"] == "84"


def test_findings_of_a_quote_contain_their_facts():
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


TUBE = piece("20", Size.of("25", "3", "3", "in"), mailer_kind=MailerKind.TUBE)


def sums(*charts):
    reported = facts(quote(TUBE, rules(*charts)), "fee-unclear")
    return reported["lower"], reported["higher"], reported["fees"], reported["older_list"]


def test_unclear_fees_are_reported_with_both_totals():
    silent = replace(tiny.GROUND, surcharges=(), fees_listed=False)
    assert sums(tiny.GROUND) == ("15.00", "19.00", ("long-22", "tube"), "")
    assert sums(silent) == ("11.00", "", ("long-22", "tube"), "")
    older = replace(tiny.GROUND, chart="older", effective=date(2025, 1, 1))
    assert sums(silent, older) == ("11.00", "19.00", ("long-22", "tube"), "older")
    assert quote(TUBE, rules(silent, older)).chosen.price == Money.of("11.00")


def test_a_limit_of_value_is_reported_when_it_costs_more():
    own = {"only_service": "", "mailer_kind": MailerKind.BOX, "country": "DE", "value": Money.of("500.00")}
    answer = quote(piece("5", BOX, **own), rules(intl_services=("intl-package",)))
    assert facts(answer, "over-service-limit")["limit"] == "400.00"
    assert "no-service" in codes(answer.findings)


def test_a_limit_that_saves_nothing_is_not_reported():
    dear = chart("intl-package", {"16": "99.00"}, max_weight=None, **ABROAD)
    cheap = chart("intl-other", {"64": "50.00"}, **ABROAD)
    answer = quote(piece("20", BOX, country="DE"), rules(dear, cheap, intl_services=("intl-package", "intl-other")))
    assert "list-ends" not in codes(answer.findings)


ENVELOPE_ABROAD = {"country": "DE", "allowed": ("intl-letter", "intl-package")}


@pytest.mark.parametrize(
    ("fields", "why", "service"),
    [
        ({"country": "DE", "stamp_asked": True}, None, "intl-package"),  # the goods and the service decide
        (ENVELOPE_ABROAD, "in-envelope", "intl-package"),
        ({**ENVELOPE_ABROAD, "mailer_kind": None}, "in-envelope", "intl-package"),
        ({"country": "DE", "allowed": ("intl-letter",)}, "only-letters", None),
        ({**ENVELOPE_ABROAD, "mailer_kind": MailerKind.PADDED}, None, "intl-package"),
        ({"country": "DE"}, None, "intl-package"),
        ({**ENVELOPE_ABROAD, "documents_only": True}, None, "intl-letter"),
        ({**ENVELOPE_ABROAD, "country": "", "stamp_asked": True}, None, None),
        ({"country": "DE", "allowed": ("ground-retail",)}, None, None),
        ({}, None, "letter-stamped"),
    ],
)
def test_goods_in_a_letter_abroad_are_stopped(fields, why, service):
    answer = quote(piece("0.9", **fields), rules())
    stops = [each.facts["why"] for each in answer.findings if each.code == "goods-in-letter-abroad"]
    assert stops == ([why] if why else [])
    assert (answer.chosen.service if answer.chosen else None) == service


def test_restricted_goods_are_stopped_and_still_priced():
    answer = quote(piece("5", BOX, country="DE", restricted=frozenset({Restriction.AEROSOL})), rules())
    assert ("restricted-goods" in codes(answer.findings), answer.chosen.service) == (True, "intl-package")
    home = quote(piece("5", BOX, restricted=frozenset({Restriction.FLAMMABLE})), rules())
    assert "restricted-goods" not in codes(home.findings)
    assert "surface-only" in codes(home.reasons)


def test_stops_come_first():
    found = quote(piece("0.9", None, country="DE", allowed=("intl-letter",)), rules()).findings
    assert [each.severity for each in found] == sorted(
        (each.severity for each in found), key=["stop", "look", "note"].index
    )


def test_a_value_in_another_currency_is_raised_for_the_chosen_service():
    answer = quote(piece("5", BOX, country="DE", value=Money.of("500.00", "EUR")), rules())
    assert "value-not-compared" in codes(answer.findings)


@pytest.mark.parametrize(("parcel", "is_told"), [("4.75", False), ("4.76", True)])
def test_a_limit_is_reported_only_where_it_costs_more(parcel, is_told):
    """A large envelope of 13 oz costs 4.75 in the tiny list; 14 oz goes as a parcel."""
    ground = chart("ground-retail", {"16": parcel}, key="5", keyed_by="zone")
    answer = quote(piece("14", LARGE_ENVELOPE), rules(tiny.FLAT, ground, parcel_services=("ground-retail",)))
    assert answer.chosen.service == "ground-retail"
    assert ("over-service-limit" in codes(answer.findings)) is is_told


def test_goods_abroad_in_a_large_envelope_are_not_stopped_when_a_package_price_is_tried():
    posting = piece("3", LARGE_ENVELOPE, country="DE", allowed=("intl-letter", "intl-package"))
    assert "goods-in-letter-abroad" not in codes(quote(posting, rules()).findings)
    small = replace(posting, size=tiny.ENVELOPE)
    assert "goods-in-letter-abroad" in codes(quote(small, rules()).findings)


def test_a_stiff_large_envelope_abroad_is_reported_when_flats_are_tried():
    stiff = piece("3", LARGE_ENVELOPE, country="DE", stiff=True, documents_only=True)
    tried = replace(stiff, allowed=("intl-flat", "intl-package"))
    assert "stiff-flat" in codes(quote(tried, rules()).findings)
    assert "stiff-flat" not in codes(quote(replace(stiff, allowed=("intl-package",)), rules()).findings)


def test_a_piece_too_small_to_mail_is_stopped_whatever_is_tried():
    tiny_size = Size.of("4", "3", "0.1", "in")
    posting = piece("3", tiny_size, country="DE", allowed=("intl-package",))
    assert "too-small" in codes(quote(posting, rules()).findings)


def test_a_limit_of_another_shape_is_not_reported():
    """A letter of 14 oz is over the 13 oz of large envelopes; but it never was one."""
    assert "over-service-limit" not in codes(quote(piece("14"), rules(tiny.FLAT, tiny.GROUND)).findings)


@pytest.mark.parametrize(
    ("first", "second", "named"),
    [("5.00", "4.00", "priority-retail"), ("4.00", "5.00", "media"), ("4.00", "4.00", "media")],
)
def test_of_several_limits_the_cheapest_service_is_named(first, second, named):
    light = {"max_weight": Weight.of(16, "oz")}
    charts = (
        chart("media", {"16": first}, shapes=frozenset({"parcel"}), **light),
        chart("priority-retail", {"16": second}, key="5", keyed_by="zone", **light),
        chart("ground-retail", {"320": "9.00"}, key="5", keyed_by="zone"),
    )
    policy = {"parcel_services": ("media", "priority-retail", "ground-retail")}
    answer = quote(piece("20", BOX, media=True), rules(*charts, **policy))
    assert facts(answer, "over-service-limit")["service"] == named


def test_fees_from_a_list_that_starts_that_day_count():
    silent = replace(tiny.GROUND, surcharges=(), fees_listed=False)
    today = replace(tiny.GROUND, chart="today", effective=tiny.ON, rows={})
    tomorrow = replace(today, chart="tomorrow", effective=date(2026, 7, 16))
    lists = {"ground-retail": (today, silent)}
    assert _older(lists) == "today"
    assert _older({"ground-retail": (tomorrow, silent)}) == ""


def _older(lists):
    day = replace(rules(replace(tiny.GROUND, surcharges=(), fees_listed=False)))
    chosen = quote(TUBE, day).chosen
    held = _list_with(("long-22", "tube"), chosen, replace(day, charts=replace(day.charts, lists=lists)))
    return held.chart if held else ""


def test_an_unknown_zone_is_reported_when_it_kept_a_tracked_service_out():
    """Without a zone there is no ground price, so a box of flat rate is chosen; a stamped letter needs no zone at all."""
    mailer = {"mailer_kind": MailerKind.BOX, "destination_zip": "99999"}
    flat_rate = chart("priority-retail", {"1120": "12.00"})
    policy = {"parcel_services": ("ground-retail", "priority-retail")}
    answer = quote(piece("20", BOX, **mailer), rules(tiny.GROUND, flat_rate, **policy))
    assert answer.chosen.service == "priority-retail"
    assert "zone-unknown" in codes(answer.findings)
    letter = quote(piece("0.9", destination_zip="99999"), rules())
    assert letter.chosen.service == "letter-stamped"
    assert "zone-unknown" not in codes(letter.findings)


@pytest.mark.parametrize(("weight", "size"), [("14", LARGE_ENVELOPE), ("3.6", None)])
def test_a_limit_that_costs_more_is_a_note_though_a_service_is_chosen(weight, size):
    posting = piece(weight, size) if size else piece(weight)
    answer = quote(posting, rules())
    assert answer.chosen is not None
    assert {each.severity for each in answer.findings if each.code == "over-service-limit"} == {Severity.NOTE}


def test_goods_are_not_in_a_letter_when_no_service_was_tried():
    posting = piece("5", BOX, country="DE")
    assert "goods-in-letter-abroad" not in codes(quote(posting, rules(intl_services=())).findings)
