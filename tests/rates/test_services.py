"""Services: the facts in a list decide tracking, payment and side of the border, never the name."""

from dataclasses import replace
from datetime import date

import pytest

from desk.domain.service import FormRule, PaidBy, PostedAs
from desk.domain.shop.shop import LetterPostage, ParcelPayment, Policy
from desk.rates.lists.chart import Charts
from desk.rates.quote import PriceRules, quote
from desk.rates.services import Payment, payment_for, services_named
from tests.rates.chart_folder import RESOURCES, shipped
from tests.rates.tiny import ENVELOPE, FIVE, piece

HEAD = """\
effective = 2026-03-01
currency = "USD"
unit = "oz"
source = "invented list"
known_by = "invented"

[services.eu-letter]
shapes = ["letter"]
max_weight = "3.5"
"""
CELLS = "service,weight_max,key,price\neu-letter,1,,0.50\neu-letter,3.5,,0.60\n"


def own_lists(tmp_path, head=HEAD):
    folder = tmp_path / "own"
    folder.mkdir()
    (folder / "chart.toml").write_text(head, encoding="utf-8")
    (folder / "cells.csv").write_text(CELLS, encoding="utf-8")
    return Charts.read(RESOURCES / "charts", tmp_path)


def test_the_shops_own_letter_is_untracked_and_paid_like_its_letters(tmp_path):
    charts = own_lists(tmp_path)
    letter = charts.service("eu-letter")
    assert (letter.posted_as, letter.tracked, letter.abroad) == (PostedAs.LETTER, False, False)
    stamped = Policy(parcel_services=("eu-letter",), parcel_payment=ParcelPayment.ONLINE)
    assert payment_for(letter, stamped) is Payment.STAMPED
    assert payment_for(letter, Policy(letter_postage=LetterPostage.METERED)) is Payment.METERED
    found = quote(piece("1", ENVELOPE), PriceRules(charts, FIVE, stamped, date(2026, 7, 15)))
    assert found.chosen is not None
    assert found.chosen.service == "eu-letter"
    assert "untracked" in [each.code for each in found.findings]


def test_a_list_names_the_facts_of_its_services(tmp_path):
    facts = 'abroad = true\ntracked = true\npaid_by = "as parcels"\nform = "CN23"\ncover = "50.00"\n'
    letter = own_lists(tmp_path, HEAD + facts).service("eu-letter")
    assert (letter.abroad, letter.tracked, letter.paid_by) == (True, True, PaidBy.AS_PARCELS)
    assert (letter.form, letter.cover.text()) == (FormRule.CN23, "50.00")


def test_an_unknown_country_gets_no_service():
    found = quote(piece("1", ENVELOPE, country=""), PriceRules(shipped(), FIVE, Policy(), date(2026, 7, 15)))
    assert found.chosen is None
    assert {out.reason.code for out in found.out if out.service in ("letter-stamped", "ground-retail")} == {
        "country-unknown"
    }


@pytest.mark.parametrize(
    ("service", "tracked", "abroad", "surface"),
    [
        ("letter-stamped", False, False, False),
        ("postcard", False, False, False),
        ("ground-commercial", True, False, True),
        ("priority-flat-small-box-retail", True, False, False),
        ("media", True, False, True),
        ("intl-flat", False, True, False),
        ("intl-package", True, True, False),
    ],
)
def test_every_shipped_service_has_its_facts(service, tracked, abroad, surface):
    """resources/handbook/headless.md, "Service ids"; which services fly: common practice."""
    facts = shipped().service(service)
    assert (facts.tracked, facts.abroad, facts.surface_only) == (tracked, abroad, surface)


def test_every_shipped_service_is_described():
    assert shipped().services() <= set(shipped().known)


@pytest.mark.parametrize(
    ("paid_by", "letters", "parcels", "payment"),
    [
        (PaidBy.STAMPS, LetterPostage.METERED, ParcelPayment.ONLINE, Payment.STAMPED),
        (PaidBy.METER, LetterPostage.STAMPED, ParcelPayment.COUNTER, Payment.METERED),
        (PaidBy.AS_LETTERS, LetterPostage.STAMPED, ParcelPayment.COUNTER, Payment.STAMPED),
        (PaidBy.AS_LETTERS, LetterPostage.METERED, ParcelPayment.COUNTER, Payment.METERED),
        (PaidBy.AS_PARCELS, LetterPostage.STAMPED, ParcelPayment.COUNTER, Payment.COUNTER),
        (PaidBy.AS_PARCELS, LetterPostage.STAMPED, ParcelPayment.ONLINE, Payment.ONLINE),
    ],
)
def test_a_piece_is_paid_as_its_service_or_the_shop_requires(paid_by, letters, parcels, payment):
    service = replace(shipped().service("ground-commercial"), paid_by=paid_by)
    assert payment_for(service, Policy(letter_postage=letters, parcel_payment=parcels)) is payment


@pytest.mark.parametrize(
    ("text", "ids"),
    [
        ("Media Mail", {"media"}),
        ("USPS MEDIA MAIL®", {"media"}),
        ("media-mail", {"media"}),
        ("Ground Advantage Retail", {"ground-retail"}),
        ("ground-commercial", {"ground-commercial"}),
        ("Ground Advantage", {"ground-retail", "ground-commercial", "ground-cubic-commercial"}),
        ("Priority Mail Small Flat Rate Box Retail", {"priority-flat-small-box-retail"}),
        ("First-Class Package International Service", {"intl-package"}),
        ("Media Mail plus", set()),
        ("Medi", set()),
        ("USPS", set()),
        ("", set()),
    ],
)
def test_a_service_is_known_by_its_printed_name_and_never_guessed(text, ids):
    """The names are headings of Notice 123, July 12, 2026."""
    charts = shipped()
    assert services_named(text, [charts.service(one) for one in charts.services()]) == ids


def test_every_shipped_service_has_a_name():
    charts = shipped()
    assert [one for one in charts.services() if not charts.service(one).names] == []
