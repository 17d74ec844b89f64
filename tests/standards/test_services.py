"""What may be sent by which service at what price, by the published rules and lists."""

from __future__ import annotations

from datetime import date

import pytest

from desk.domain.length import Size
from desk.domain.money import Money
from desk.domain.shop.mailer import MailerKind
from desk.domain.shop.shop import LetterPostage, Policy
from desk.domain.weight import Weight
from desk.rates.posting import Posting, shown
from desk.rates.quote import Offer, PriceRules, may_go, price_of, quote
from desk.rates.zone import Zones

OLD, NEW = date(2025, 10, 5), date(2026, 7, 15)
LETTER, FLAT, BOX = ("9.5", "4.125", "0.05"), ("12", "9", "0.5"), ("8", "6", "4")
PACKAGE_PAGE = "First-Class Package International Service page of the post, about 2022"
LIST_2025 = "Notice 123, list headed October 05, 2025, "
LIST_2026 = "Notice 123, list of 2026-07-12 (one transcription)"


@pytest.fixture(scope="module")
def zones(resources):
    return Zones.read(resources / "zones")


def rules(charts, zones, on):
    return PriceRules(charts, zones, Policy(), on)


def post(weight, sides, unit="oz", **fields):
    """Return a piece read on a scale so fine that no reading is in doubt."""
    return Posting(gross=shown(weight, unit, "0.00001"), size=Size.of(*sides, "in"), **fields)


DOMESTIC = [
    ("letter-stamped", "1", LETTER, "", {}, "0.78", LIST_2025 + "p. 6"),
    ("letter-stamped", "1.1", LETTER, "", {}, "1.07", LIST_2025 + "p. 6"),
    ("letter-stamped", "3.4", LETTER, "", {}, "1.65", LIST_2025 + "p. 6"),
    ("letter-stamped", "3.5", LETTER, "", {}, "1.65", LIST_2025 + "p. 6"),
    ("letter-stamped", "1", ("5.5", "5.5", "0.05"), "", {}, "1.27", LIST_2025 + "p. 6 note 1"),
    ("flat", "1", FLAT, "", {}, "1.63", LIST_2025 + "p. 6"),
    ("flat", "9.1", FLAT, "", {}, "4.14", LIST_2025 + "p. 6"),
    ("ground-retail", "4.0", BOX, "5", {}, "7.80", LIST_2025 + "p. 7"),
    ("ground-commercial", "15.999", BOX, "5", {}, "7.07", LIST_2025 + "p. 15"),
    ("ground-commercial", "16.0", BOX, "5", {}, "8.41", LIST_2025 + "p. 15"),
    ("ground-retail", "32", ("23", "8", "4"), "4", {"mailer_kind": MailerKind.BOX}, "15.80", LIST_2025 + "p. 7 note 3"),
    ("priority-retail", "16", BOX, "4", {}, "11.30", LIST_2025 + "p. 5"),
    ("priority-commercial", "8", BOX, "9", {}, "26.67", LIST_2025 + "p. 11"),
    ("media", "19.2", BOX, "", {}, "5.22", LIST_2025 + "p. 9"),
]


@pytest.mark.parametrize(("service", "weight", "sides", "zone", "fields", "price", "source"), DOMESTIC)
def test_domestic_prices_of_the_2025_list_are_charged(
    charts, zones, service, weight, sides, zone, fields, price, source
):
    offer = price_of(post(weight, sides, **fields), service, zone, rules(charts, zones, OLD))
    assert isinstance(offer, Offer), source
    assert offer.price == Money.of(price), source


def test_over_108_inches_pays_the_oversized_price(charts, zones):
    """Notice 123, October 5, 2025, p. 7 note 1: 263.00 in zone 8, and no fees on top of that row."""
    offer = price_of(post("100", ("60", "10", "15")), "ground-retail", "8", rules(charts, zones, OLD))
    assert (offer.price, [fee.code for fee in offer.surcharges]) == (Money.of("263.00"), [])


def test_a_letter_size_piece_of_3_6_oz_pays_as_a_large_envelope_of_4(charts, zones):
    """DMM 101.1.1c, updated 2023-07-09; 2.56 on the list of 2026-07-12."""
    posting = post("3.6", LETTER, mailer_kind=MailerKind.ENVELOPE)
    answer = quote(posting, rules(charts, zones, NEW))
    assert (answer.chosen.service, answer.chosen.price, answer.shape.shape) == ("flat", Money.of("2.56"), "letter")
    assert answer.chosen.billable.figure == 4


ABROAD = [
    ("intl-letter", "1.0", "FR", "1.75"),
    ("intl-letter", "1.1", "DE", "3.50"),
    ("intl-letter", "2", "CA", "2.35"),
    ("intl-letter", "3", "MX", "3.50"),
    ("intl-letter", "3.5", "JP", "5.75"),
    ("intl-flat", "9", "GB", "15.75"),
    ("intl-flat", "15.9", "MX", "15.15"),
    ("intl-package", "8.1", "CA", "26.00"),
    ("intl-package", "16.0", "GB", "31.95"),
    ("intl-package", "20", "IT", "40.20"),
    ("intl-package", "40", "AU", "65.25"),
    ("intl-package", "64", "JP", "71.90"),
    ("intl-package", "5", "DE", "21.80"),
    ("intl-package", "12", "BR", "37.40"),
]


@pytest.mark.parametrize(("service", "weight", "country", "price"), ABROAD)
def test_prices_abroad_are_charged_as_published(charts, zones, service, weight, country, price):
    sides = {"intl-letter": LETTER, "intl-flat": FLAT, "intl-package": BOX}[service]
    posting = post(weight, sides, country=country, documents_only=service != "intl-package")
    offer = price_of(posting, service, charts.group(service, country, NEW), rules(charts, zones, NEW))
    assert offer.price == Money.of(price), LIST_2026


def test_no_package_to_a_country_the_list_leaves_out(charts, zones):
    """Somalia has no package group on the list of 2026-07-12."""
    answer = quote(post("5", BOX, country="SO"), rules(charts, zones, NEW))
    assert (answer.chosen, [each.code for each in answer.findings]) == (None, ["no-service"])


MAY_GO = [
    ("intl-letter", "0.7", LETTER, {}, ["documents-only"], "IMM 242.2, archive of 2020-11-02"),
    ("intl-letter", "0.7", LETTER, {"documents_only": True}, [], "IMM 242.1, archive of 2020-11-02"),
    ("intl-flat", "3.5", FLAT, {}, ["documents-only"], "IMM 242.2 and 123.632: a sold print is goods"),
    ("intl-letter", "3.5", LETTER, {"documents_only": True}, [], "Postal Bulletin 22523 (2019)"),
    ("intl-letter", "3.6", LETTER, {"documents_only": True}, ["over-weight"], "Postal Bulletin 22523 (2019)"),
    ("intl-flat", "3.6", LETTER, {"documents_only": True}, [], "Postal Bulletin 22523 (2019): a large envelope"),
    ("intl-flat", "15.994", FLAT, {"documents_only": True}, [], "Postal Bulletin 22523 (2019)"),
    ("intl-flat", "15.995", FLAT, {"documents_only": True}, ["over-weight"], "Postal Bulletin 22523 (2019)"),
    ("intl-package", "64", BOX, {}, [], PACKAGE_PAGE),
    ("intl-package", "64.1", BOX, {}, ["over-weight"], PACKAGE_PAGE),
    ("intl-package", "8", BOX, {"value": Money.of("400.00")}, [], "IMM 252.1, archive of 2020-09-08"),
    ("intl-package", "8", BOX, {"value": Money.of("400.01")}, ["over-value"], "IMM 252.1, archive of 2020-09-08"),
    ("intl-package", "8", ("24", "8", "4"), {}, [], PACKAGE_PAGE),
    ("intl-package", "8", ("24", "8", "4.1"), {}, ["over-size"], PACKAGE_PAGE),
    ("intl-package", "8", ("24.5", "6", "2"), {}, ["over-size"], PACKAGE_PAGE),
    ("intl-package", "8", ("5.9", "4", "1"), {}, ["under-size"], PACKAGE_PAGE),
    ("intl-package", "8", ("6", "4", "1"), {}, [], PACKAGE_PAGE),
    ("intl-package", "8", ("36", "3", "3"), {"mailer_kind": MailerKind.TUBE}, [], PACKAGE_PAGE),
    ("intl-package", "8", ("36", "3.1", "3.1"), {"mailer_kind": MailerKind.TUBE}, ["over-size"], PACKAGE_PAGE),
    ("intl-package", "8", ("36.1", "2", "2"), {"mailer_kind": MailerKind.TUBE}, ["over-size"], PACKAGE_PAGE),
    ("intl-package", "8", ("4", "1.2", "1.2"), {"mailer_kind": MailerKind.TUBE}, ["under-size"], PACKAGE_PAGE),
    ("intl-package", "8", ("3.9", "2", "2"), {"mailer_kind": MailerKind.TUBE}, ["under-size"], PACKAGE_PAGE),
    ("intl-priority-flat-small-box", "64", BOX, {}, [], LIST_2026),
    ("intl-priority-flat-small-box", "64.1", BOX, {}, ["over-weight"], LIST_2026),
    ("intl-priority-flat-medium-box", "320", BOX, {}, [], LIST_2026),
]


@pytest.mark.parametrize(("service", "weight", "sides", "fields", "codes", "source"), MAY_GO)
def test_goods_may_go_abroad_as_published(charts, zones, service, weight, sides, fields, codes, source):
    found = may_go(post(weight, sides, country="DE", **fields), service, rules(charts, zones, NEW))
    assert [each.code for each in found] == codes, source


def test_a_sticker_sheet_sold_abroad_in_an_envelope_is_stopped(charts, zones):
    """IMM 242.2 (archive of 2020-11-02): goods are barred from letters; it goes as a package."""
    policy = Policy(intl_services=("intl-letter", "intl-package"))
    posting = post("0.7", LETTER, country="FR", mailer_kind=MailerKind.ENVELOPE)
    answer = quote(posting, PriceRules(charts, zones, policy, NEW))
    assert "goods-in-letter-abroad" in [each.code for each in answer.findings]
    assert answer.chosen.service == "intl-package"


@pytest.mark.parametrize(
    ("weight", "thickness", "postage", "clerk"),
    [
        ("10.0", "0.5", LetterPostage.STAMPED, False),
        ("10.1", "0.5", LetterPostage.STAMPED, True),
        ("10.0", "0.51", LetterPostage.STAMPED, True),
        ("12", "0.6", LetterPostage.METERED, False),
    ],
)
def test_stamped_pieces_over_ten_ounces_or_half_an_inch_go_to_a_clerk(charts, zones, weight, thickness, postage, clerk):
    """Publication 52 section 211, Postal Bulletin 22530 (2019)."""
    day = PriceRules(charts, zones, Policy(letter_postage=postage), NEW)
    found = quote(post(weight, ("12", "9", thickness)), day).findings
    assert ("hand-to-clerk" in [each.code for each in found]) is clerk


@pytest.mark.parametrize(
    ("on", "lower", "higher", "postage", "source"),
    [
        (
            OLD,
            "4.00",
            "8.00",
            "8.00",
            LIST_2025 + "p. 7 note 3: 4.00 over 22 in, 4.00 for tubes; whether both, is open",
        ),
        (NEW, "0.00", "8.00", "0.00", LIST_2026 + " shows no fees: those of the list before are told, not charged"),
    ],
)
def test_a_long_tube_shows_both_possible_totals(charts, zones, on, lower, higher, postage, source):
    posting = post("20", ("24", "3", "3"), mailer_kind=MailerKind.TUBE, origin_zip="55802", destination_zip="97701")
    answer = quote(posting, rules(charts, zones, on))
    (found,) = [each for each in answer.findings if each.code == "fee-unclear"]
    base = answer.chosen.base
    assert found.facts["lower"] == (base + Money.of(lower)).text(), source
    assert found.facts["higher"] == (base + Money.of(higher)).text(), source
    assert answer.chosen.price == base + Money.of(postage), source


@pytest.mark.parametrize(
    ("grams", "service", "price"), [("0", "letter-stamped", "1.11"), ("2", "letter-stamped", "1.40")]
)
def test_a_label_added_afterward_counts(charts, zones, grams, service, price):
    """DMM 133.1.2: the piece as mailed is weighed; just under 2.0 oz with a label of 2 g pays for 3 oz."""
    posting = post("1.99", LETTER, label_weight=Weight.of(grams, "g"), mailer_kind=MailerKind.ENVELOPE)
    answer = quote(posting, rules(charts, zones, NEW))
    assert (answer.chosen.service, answer.chosen.price) == (service, Money.of(price))
    assert ("label-weight-added" in [each.code for each in answer.reasons]) is (grams != "0")
