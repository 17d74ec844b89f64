"""Worked examples of international mail, row by row: each row of the table has its source and how it is known.

Every row is put through `ask`, the rules or the papers, or is named in NOT_CHECKED with why no machine can check it.
"""

from __future__ import annotations

import csv
import re
from datetime import date
from decimal import Decimal

import pytest

from desk.customs.declaration import Consignment, CustomsRules, declare
from desk.customs.imports import duty, import_charges, seller_number
from desk.customs.tax_ids import check_tax_id
from desk.domain.money import Money
from desk.domain.places.address import Address
from desk.domain.shop.shop import ExchangeRate
from desk.domain.weight import Weight, WeightUnit
from desk.paper.label.address_lines import address_lines
from desk.session.ask import customs, postage
from desk.session.ask.question import Question
from desk.session.contents.piece_words import pounds_ounces
from tests.conftest import ROOT
from tests.customs.conftest import address, goods, grams, usd

ON = date(2026, 11, 25)
FILE = ROOT / "tests" / "standards" / "worked_international.csv"
ROWS = {row["id"]: row for row in csv.DictReader(FILE.read_text(encoding="utf-8").splitlines())}
NOT_CHECKED = {
    "FORM-10": "a form written by hand is refused at the counter: nothing here makes or reads one",
    "FORM-11": "nothing here prints a form: tests/paper holds the words NO_FORM on every worksheet",
    "TAX-09": "which goods a seller keeps outside the scheme is not known here",
    "TAX-29": "concerns goods that come into the United States",
    "LABEL-21": "describes a function of the library that is never called here (labels keep what was typed: LABEL rows)",
    "LABEL-24": "a proposal about plain letters; the font's letters are checked in tests/paper",
}
RATES = tuple(
    ExchangeRate(code, "USD", Decimal(rate), ON)
    for code, rate in (("EUR", "1"), ("GBP", "1"), ("NOK", "1"), ("CAD", "1"), ("AUD", "1"))
)  # one to one, so that the table's own amounts are compared


def of(*areas):
    return [name for name, row in ROWS.items() if row["area"] in areas and name not in NOT_CHECKED]


def ask(rulebook, kind, **fields):
    answers = {**customs.ANSWERS, "price": postage.price, "may-go": postage.may_go_answer}
    return answers[kind](Question(fields), rulebook, ON)


def first_number(text):
    return re.search(r"[0-9]+[.][0-9]{2}", text)[0]


def test_every_row_is_checked_or_excused_with_a_reason():
    areas = {"s10", "form choice", "service choice", "price", "export filing", "tax ids", "hs code", "description",
             "weight", "address check", "address label"}  # fmt: skip
    assert {row["area"] for row in ROWS.values()} == areas
    assert set(NOT_CHECKED) < set(ROWS)
    assert len(ROWS) - len(NOT_CHECKED) == sum(len(of(area)) for area in areas)
    one_by_one = {"FORM-06", "PRICE-18", "PRICE-19", "PRICE-21", "EXP-10", "LABEL-23", "WT-01", "WT-02", "WT-03",
                  "WT-04", "WT-05", "TAX-06", "TAX-08", "TAX-11", "TAX-12", "TAX-16", "TAX-17", "TAX-18", "TAX-19",
                  "TAX-20", "TAX-22", "TAX-27"}  # fmt: skip
    by_pattern = of("s10", "hs code", "description", "address check", "address label")
    named = {*FORMS, *SERVICES, *PRICES, *EXPORTS, *NUMBERS, *one_by_one, *by_pattern, *NOT_CHECKED}
    assert named == set(ROWS)


@pytest.mark.parametrize("name", of("s10"))
def test_item_identifiers_are_checked_as_published(rulebook, name):
    typed, expected = ROWS[name]["input"], ROWS[name]["expected"]
    if serial := re.match(r"serial (\d{8})", typed):
        got = ask(rulebook, "s10", text=f"RR{serial[1]}?US")
        assert got["check_digit"] == re.search(r"check digit (\d)", expected)[1]
    else:
        text = typed.removeprefix("lower case or spaced: ").split(" (")[0]
        assert ask(rulebook, "s10", text=text)["ok"] is not expected.startswith("invalid")


FORMS = {
    "FORM-01": ("intl-package", "40.00"),
    "FORM-03": ("intl-package", "400.01"),
    "FORM-04": ("intl-priority-flat-small-box", "399.99"),
    "FORM-05": ("intl-priority-flat-small-box", "400.00"),
    "FORM-09": ("intl-priority", "1.00"),
}


@pytest.mark.parametrize("name", [*FORMS])
def test_customs_forms_are_chosen_as_published(rulebook, name):
    service, value = FORMS[name]
    weight = {"value": "500", "unit": "g"}
    got = ask(rulebook, "form", service=service, goods_value_usd=value, gross=weight, destination="DE")
    if name == "FORM-03":
        assert "over-service-limit" in got["codes"]
    else:
        assert got["form"] == re.match(r"CN 2[23]", ROWS[name]["expected"])[0].replace(" ", "")
    assert ("form-edge" in got["codes"]) == ("warn at" in ROWS[name]["source"])


def test_exactly_300_sdr_gets_the_larger_form_with_a_note(rulebook):
    """FORM-06: the form says more than 300, two posts write 300 or more; the fuller one with a note here."""
    parity = ExchangeRate("XDR", "USD", Decimal("1.40"), ON)
    rules = CustomsRules(rulebook.destinations, rulebook.codes, {}, (parity,))
    piece = Consignment(goods=(goods(value=usd("420.00")),), gross=grams("500"), service=None, address=address("JP"))
    got = declare(piece, rules, ON)
    assert (got.form, "form-edge" in [one.code for one in got.findings]) == ("CN23", True)
    assert "warn at the edge" in ROWS["FORM-06"]["expected"]


SERVICES = {
    "SVC-01": ("intl-letter", "0.7", ("9.5", "4.125", "0.05"), {"goods": "yes"}),
    "SVC-02": ("intl-letter", "0.7", ("9.5", "4.125", "0.05"), {"goods": "no"}),
    "SVC-03": ("intl-flat", "3.5", ("12", "9", "0.5"), {"goods": "yes"}),
    "SVC-04": ("intl-letter", "3.5", ("9.5", "4.125", "0.05"), {"goods": "no"}),
    "SVC-05": ("intl-letter", "3.6", ("9.5", "4.125", "0.05"), {"goods": "no"}),
    "SVC-06": ("intl-flat", "15.994", ("12", "9", "0.5"), {"goods": "no"}),
    "SVC-07": ("intl-flat", "15.995", ("12", "9", "0.5"), {"goods": "no"}),
    "SVC-11": ("intl-package", "8", ("24", "8", "4.1"), {}),
    "SVC-12": ("intl-package", "8", ("24.5", "6", "2"), {}),
    "SVC-13": ("intl-package", "8", ("5.9", "4", "1"), {}),
    "SVC-14": ("intl-package", "8", ("36", "3", "3"), {"tube": "yes"}),
    "SVC-15": ("intl-package", "8", ("36", "3.1", "3.1"), {"tube": "yes"}),
    "SVC-16": ("intl-package", "8", ("4", "1.2", "1.2"), {"tube": "yes"}),
}
ALLOWED = ("allowed", "letter", "FCMI letter allowed")


@pytest.mark.parametrize("name", of("service choice"))
def test_services_abroad_are_open_as_published(rulebook, name):
    service, ounces, sides, more = SERVICES[name]
    size = dict(zip(("length", "width", "thickness"), sides, strict=True)) | {"unit": "in"}
    weight = {"value": ounces, "unit": "oz"}
    got = ask(rulebook, "may-go", service=service, destination="FR", weight=weight, size=size, **more)
    assert got["may_go"] == ("yes" if ROWS[name]["expected"].startswith(ALLOWED) else "no"), got


PRICES = {
    "PRICE-01": ("intl-letter", "1.0", "ZA"),
    "PRICE-02": ("intl-letter", "1.1", "DE"),
    "PRICE-03": ("intl-letter", "2", "CA"),
    "PRICE-04": ("intl-letter", "3", "MX"),
    "PRICE-05": ("intl-letter", "3.5", "JP"),
    "PRICE-06": ("intl-flat", "9", "GB"),
    "PRICE-08": ("intl-flat", "15.9", "MX"),
    "PRICE-10": ("intl-package", "8.1", "CA"),
    "PRICE-11": ("intl-package", "16.0", "GB"),
    "PRICE-13": ("intl-package", "20", "IT"),
    "PRICE-14": ("intl-package", "40", "AU"),
    "PRICE-15": ("intl-package", "64", "JP"),
    "PRICE-16": ("intl-package", "5", "DE"),
    "PRICE-17": ("intl-package", "12", "BR"),
}
SIZES = {"intl-letter": ("9.5", "4.125", "0.05"), "intl-flat": ("12", "9", "0.5"), "intl-package": ("8", "6", "4")}


@pytest.mark.parametrize("name", [*PRICES])
def test_prices_abroad_are_answered_as_published(rulebook, name):
    service, ounces, country = PRICES[name]
    size = dict(zip(("length", "width", "thickness"), SIZES[service], strict=True)) | {"unit": "in"}
    weight = {"value": ounces, "unit": "oz"}
    got = ask(rulebook, "price", service=service, destination=country, weight=weight, size=size, date="2026-07-12")
    assert got["postage"] == first_number(ROWS[name]["expected"])


@pytest.mark.parametrize(("name", "service", "country"), [("PRICE-18", "intl-package", "SO"), ("PRICE-19", "intl-priority", "BO")])  # fmt: skip
def test_countries_without_a_service_are_refused(rulebook, name, service, country):
    size = {"length": "8", "width": "6", "thickness": "4", "unit": "in"}
    weight = {"value": "8", "unit": "oz"}
    got = ask(rulebook, "may-go", service=service, destination=country, goods="yes", weight=weight, size=size)
    assert "not-to-that-country" in got["codes"], ROWS[name]["expected"]


def test_letters_and_packages_have_different_price_groups(rulebook):
    """PRICE-21: Germany is in group 5 for letters and 16 for packages."""
    charts = [rulebook.charts.in_force(service, ON) for service in ("intl-letter", "intl-package")]
    groups = [chart.groups["DE"] for chart in charts]
    assert " and ".join(groups) in ROWS["PRICE-21"]["expected"]


EXPORTS = {
    "EXP-01": ("DE", "", [["482010", "2500.00"]]),
    "EXP-02": ("DE", "", [["482010", "2500.01"]]),
    "EXP-03": ("DE", "", [["482010", "2000"], ["490900", "2000"]]),
    "EXP-05": ("CA", "", [["482010", "3000"]]),
    "EXP-06": ("CU", "", [["482010", "1"]]),
    "EXP-07": ("UA", "95000", [["482010", "1"]]),
}


@pytest.mark.parametrize("name", [*EXPORTS])
def test_export_filing_is_answered_as_published(rulebook, name):
    country, code, lines = EXPORTS[name]
    got = ask(rulebook, "export", destination=country, postal_code=code, lines=lines)["answer"]
    expected = ROWS[name]["expected"]
    assert expected.startswith("stop" if got == "barred" else got)


def test_a_filing_number_without_its_letter(rulebook):
    """EXP-10: the letter X is missing."""
    got = ask(rulebook, "itn", text=ROWS["EXP-10"]["input"].removeprefix("ITN "))
    assert (got["ok"], ROWS["EXP-10"]["expected"].startswith("invalid")) == (False, True)


NUMBERS = {
    "TAX-01": ("ioss", "IM3720000000"),
    "TAX-03": ("ioss", "IM1234567890"),
    "TAX-04": ("ioss", "IM27600000"),
    "TAX-05": ("ioss", "IN2760000000"),
    "TAX-14": ("voec", "2012345"),
    "TAX-15": ("voec", "201234"),
    "TAX-21": ("au_arn", "83 914 571 673"),
    "TAX-26": ("cpf", "390.533.447-05"),
    "TAX-28": ("kr", "P123456789012"),
}


@pytest.mark.parametrize("name", [*NUMBERS])
def test_tax_numbers_are_checked_as_published(name):
    kind, text = NUMBERS[name]
    expected = ROWS[name]["expected"]
    assert check_tax_id(kind, text).ok is not expected.startswith(("invalid", "refuse"))


def test_the_last_digit_of_an_ioss_number_is_not_tested():
    """TAX-06: its rule is not published."""
    assert all(check_tax_id("ioss", f"IM372000022{digit}").ok for digit in range(10))


@pytest.mark.parametrize(("digits", "ok"), [(12, True), (10, False)])
def test_both_australian_numbers_are_accepted(digits, ok):
    """TAX-20: an ARN has 12 digits, an ABN 11 (TAX-21)."""
    assert check_tax_id("au_arn", "1" * digits).ok is ok


def lines_of(*values, currency):
    return [goods(value=Money.of(value, currency), hs=hs, quantity=count) for value, hs, count in values]


@pytest.mark.parametrize(
    ("name", "country", "values", "currency", "has_number"),
    [
        ("TAX-08", "DE", [("150.01", "482010", 1)], "EUR", False),
        ("TAX-16", "NO", [("2000", "482010", 1), ("2000", "490900", 1)], "NOK", True),
        ("TAX-17", "NO", [("3000", "482010", 1)], "NOK", False),
        ("TAX-18", "GB", [("140", "482010", 2)], "GBP", False),
        ("TAX-19", "GB", [("135.00", "482010", 1)], "GBP", True),
    ],
)
def test_tax_schemes_have_the_published_limits(rulebook, name, country, values, currency, has_number):
    rule = rulebook.destinations.rule(country, "seller-number", ON)
    numbers = {"ioss": "IM0400000000", "voec": "2012345", "uk_vat": "GB980780684"}
    got = seller_number(rule, lines_of(*values, currency=currency), numbers, RATES, ON)
    assert bool(got.number) is has_number, ROWS[name]["expected"]


@pytest.mark.parametrize(
    ("name", "values"),
    [
        ("TAX-11", [("20", "610910", 1), ("40", "910211", 1)]),
        ("TAX-12", [("40", "620610", 2), ("30", "620620", 1)]),
    ],
)
def test_duty_is_charged_per_code_as_published(rulebook, name, values):
    rule = rulebook.destinations.rule("FR", "duty-per-code", ON)
    found = duty(rule, lines_of(*values, currency="EUR"), RATES, ON)
    assert f"EUR {Decimal(found.facts['amount']):.0f} " in ROWS[name]["expected"] + " "


def test_goods_up_to_twenty_canadian_dollars_are_duty_free(rulebook):
    """TAX-22."""
    rule = rulebook.destinations.rule("CA", "import-limit", ON)
    assert import_charges(rule, lines_of(("20.00", "482010", 1), currency="CAD"), RATES, ON) is None
    assert import_charges(rule, lines_of(("20.01", "482010", 1), currency="CAD"), RATES, ON) is not None


def test_brazil_requires_the_tax_number_of_the_buyer(rulebook):
    """TAX-27: Postal Bulletin 22536."""
    rules = CustomsRules(rulebook.destinations, rulebook.codes, {}, ())
    piece = Consignment(goods=(goods(value=usd("10")),), gross=grams("500"), service=None, address=address("BR"))
    assert "buyer-id-missing" in [one.code for one in declare(piece, rules, ON).findings]


@pytest.mark.parametrize("name", of("hs code"))
def test_hs_codes_are_checked_as_published(rulebook, name):
    got = ask(rulebook, "hs", text=ROWS[name]["input"])
    assert got["ok"] is ROWS[name]["expected"].startswith("accept")


@pytest.mark.parametrize("name", of("description"))
def test_descriptions_are_judged_as_published(rulebook, name):
    text, expected = ROWS[name]["input"], ROWS[name]["expected"]
    if text.startswith("description of"):
        long = ask(rulebook, "words", text="Letterpress printed cotton paper greeting card " * 4)
        assert (long["ok"], long["code"]) == (True, "words-too-long")
        return
    for one in text.removeprefix("description ").split(" or "):
        assert ask(rulebook, "words", text=one)["ok"] is expected.startswith("accept"), one


@pytest.mark.parametrize(("name", "gross", "stopped"), [("WT-01", "240", False), ("WT-02", "240", True)])
def test_net_above_gross_is_stopped_as_published(rulebook, name, gross, stopped):
    lines = {
        "WT-01": (goods(unit_net=grams("12"), quantity=3), goods(unit_net=grams("150"))),
        "WT-02": (goods(unit_net=grams("260")),),
    }[name]
    rules = CustomsRules(rulebook.destinations, rulebook.codes, {}, ())
    piece = Consignment(goods=lines, gross=grams(gross), service=None, address=address("JP"))
    got = declare(piece, rules, ON)
    assert ("net-over-gross" in [one.code for one in got.findings]) is stopped
    assert f"{Decimal(got.total_net_g) / 1000:.3f} kg" in ROWS[name]["input"] + ROWS[name]["expected"]


def test_weights_are_written_as_on_the_form():
    """WT-03 to WT-05: pounds and ounces on a US worksheet, kilograms to three decimals."""
    assert pounds_ounces(Weight(Decimal(186))) in ROWS["WT-03"]["expected"]
    assert f"{Weight(Decimal(1)).grams / 1000:.3f} kg" == ROWS["WT-04"]["expected"]
    pound = Weight.of(16, WeightUnit.OUNCE)
    assert f"{pound.grams:.3f} g = {pound.grams / 1000:.3f} kg" == ROWS["WT-05"]["expected"]


@pytest.mark.parametrize("name", of("address check"))
def test_postal_codes_are_checked_as_published(rulebook, name):
    typed, expected = ROWS[name]["input"], ROWS[name]["expected"]
    country, region, code = re.fullmatch(
        r"([A-Z]{2}) (?:state|province)? ?([A-Z]{2,3})?,? ?postal code (.+)", typed
    ).groups()
    got = ask(rulebook, "postal-code", country=country, region=region or "", text=code)
    assert got["ok"] is (expected == "valid")


@pytest.mark.parametrize("name", [name for name in of("address label") if name != "LABEL-23"])
def test_address_lines_are_printed_as_published(rulebook, name):
    parts = dict(part.split("=", 1) for part in ROWS[name]["input"].split("; "))
    names = {"country_code": "country", "name": "recipient", "street_address": "address1", "country_area": "region"}
    typed = Address(**{names.get(key, key): text for key, text in parts.items()})
    assert " / ".join(address_lines(typed, rulebook.countries)) == ROWS[name]["expected"]


def test_singapore_is_named_in_the_country_line(rulebook):
    """LABEL-23."""
    assert rulebook.countries.labels["SG"] in ROWS["LABEL-23"]["expected"].split("replace by ")[1]
