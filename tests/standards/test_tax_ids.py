"""Tax numbers against published formats and worked examples; every row names its source."""

from datetime import date

import pytest

from desk.customs.destinations import Destinations
from desk.customs.imports import duty, seller_number
from desk.customs.tax_ids import check_tax_id
from desk.domain.money import Money
from tests.customs.conftest import RESOURCES, goods

DAY = date(2026, 11, 25)
PLACES = Destinations.read(RESOURCES / "destinations")
STDNUM = "python-stdnum 2.2"
VOEC = "Norwegian tax office; Postal Bulletin 22559"


@pytest.mark.parametrize(
    ("kind", "text", "ok", "why", "source"),
    [
        ("ioss", "IM0400000000", True, "", f"{STDNUM}, eu/oss: 040 is Austria; invented, not issued"),
        ("ioss", "IM1234567890", False, "member state", f"{STDNUM}, eu/oss: 123 is no member state"),
        ("ioss", "IM27600000", False, "length", f"{STDNUM}, eu/oss"),
        ("ioss", "IN2760000000", False, "intermediary", f"{STDNUM}, eu/oss: an intermediary's number"),
        ("ioss", "IM0400000001", True, "", f"{STDNUM}, eu/oss: the check digit's rule is not published, not tested"),
        ("voec", "0000000", True, "", VOEC),
        ("voec", "201234", False, "length", VOEC),
        ("au_arn", "83 914 571 673", True, "", f"{STDNUM}, au/abn, its own example"),
        ("au_arn", "000000000000", True, "", "Australian tax office: an ARN has 12 digits"),
        ("cpf", "390.533.447-05", True, "", f"{STDNUM}, br/cpf, its own example"),
        ("cpf", "390.533.447-06", False, "check digit", f"{STDNUM}, br/cpf"),
        ("kr", "P123456789012", True, "", "trade notice: P and 12 digits (weak)"),
    ],
)
def test_tax_numbers_equal_published_examples(kind, text, ok, why, source):
    checked = check_tax_id(kind, text)
    assert (checked.ok, checked.why) == (ok, why), source


def usable(place: str, kind: str, number: str, *lines: tuple[int, str, str]) -> bool:
    """Whether the number is sent with lines of (quantity, value of the line, currency)."""
    rule = PLACES.rule(place, "seller-number", DAY)
    assert rule is not None
    made = [goods(quantity=count, value=Money.of(value, currency)) for count, value, currency in lines]
    return seller_number(rule, made, {kind: number}, [], DAY).number != ""


@pytest.mark.parametrize(
    ("place", "kind", "number", "line", "expected", "source"),
    [
        ("DE", "ioss", "IM0400000000", (1, "150.00", "EUR"), True, "IOSS guidelines: intrinsic value up to EUR 150"),
        ("DE", "ioss", "IM0400000000", (1, "150.01", "EUR"), False, "IOSS guidelines: EUR 150.01 is not usable"),
        ("NO", "voec", "0000000", (2, "4000.00", "NOK"), True, "Norwegian tax office: the limit counts per item"),
        ("NO", "voec", "0000000", (1, "3000.00", "NOK"), False, "Norwegian tax office: below NOK 3000"),
        (
            "GB",
            "uk_vat",
            "GB980780684",  # python-stdnum's own example
            (2, "140.00", "GBP"),
            False,
            "UK tax authority: two items of GBP 70 are above 135",
        ),
        ("GB", "uk_vat", "GB980780684", (1, "135.00", "GBP"), True, "UK tax authority: at GBP 135 the seller charges"),
    ],
)
def test_tax_schemes_have_the_published_limits(place, kind, number, line, expected, source):
    assert usable(place, kind, number, line) is expected, source


@pytest.mark.parametrize(
    ("codes", "amount", "source"),
    [
        (["610910"], "3.00", "law-firm note of 2026-07-02: five T-shirts of one kind, EUR 3"),
        (["610910", "910211"], "6.00", "law-firm note of 2026-07-02: T-shirt and watch, EUR 6"),
        (["620610", "620610", "620620"], "6.00", "trade press on the duty: two silk blouses and one of wool, EUR 6"),
    ],
)
def test_the_duty_of_three_euros_is_charged_per_code(codes, amount, source):
    rule = PLACES.rule("FR", "duty-per-code", DAY)
    assert rule is not None
    found = duty(rule, [goods(hs=code, value=Money.of("20.00", "EUR")) for code in codes], [], DAY)
    assert found is not None
    assert found.facts["amount"] == amount, source


def test_brazil_requires_the_buyers_number():
    """Postal Bulletin 22536 (2020-01-02): CPF or CNPJ of the addressee for a parcel of goods."""
    assert [rule.value for rule in PLACES.rules("BR", "buyer-number", DAY)] == ["cpf or cnpj"]
