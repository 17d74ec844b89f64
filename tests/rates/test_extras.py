"""Extras with their price, by side of the border, service and value."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from desk.domain.money import Money
from desk.domain.shop.shop import ExchangeRate, Policy
from desk.rates.extras import FIRM_SHEET, INSURANCE, INSURANCE_ABROAD, SIGNATURE, extras_of_side, priced_extras
from desk.rates.rules import PriceRules
from tests.rates.chart_folder import shipped, shipped_zones

LIST = "price list of July 12, 2026 (copied once)"
ON = date(2026, 8, 12)
RULES = PriceRules(shipped(), shipped_zones(), Policy(), ON)
EURO = ExchangeRate("EUR", "USD", Decimal("1.1767"), ON)


def price(code, service, value="75.00", rules=RULES, currency="USD"):
    (priced,) = priced_extras([code], rules.service(service), Money.of(value, currency), rules)
    return priced.price and priced.price.text()


@pytest.mark.parametrize(
    ("code", "service", "value", "expected", "source"),
    [
        (FIRM_SHEET, "letter-stamped", "0.00", "0.75", LIST),
        (INSURANCE, "ground-retail", "50.00", "2.80", LIST),
        (INSURANCE, "ground-retail", "50.01", "3.50", LIST),
        (INSURANCE, "media", "600.00", "9.05", LIST),
        (INSURANCE, "media", "600.01", None, LIST + ": no step above"),
        (INSURANCE, "media", "0.00", None, "nothing to insure"),
        (SIGNATURE, "ground-commercial", "75.00", "4.15", LIST),
        (SIGNATURE, "ground-retail", "75.00", "5.15", LIST),
        (SIGNATURE, "letter-stamped", "75.00", None, LIST + ": for parcels"),
        (INSURANCE_ABROAD, "intl-priority", "200.01", "13.85", LIST),
        (INSURANCE_ABROAD, "intl-package", "75.00", None, LIST + ": sold with priority mail"),
        (INSURANCE_ABROAD, "intl-priority-flat-small-box", "75.00", None, "IMM 232"),
        (INSURANCE, "intl-priority", "75.00", None, "an extra for mail at home"),
        (INSURANCE_ABROAD, "ground-retail", "75.00", None, "an extra for mail abroad"),
    ],
)
def test_the_published_price_of_each_extra(code, service, value, expected, source):
    assert price(code, service, value) == expected, source


def test_insurance_of_goods_in_another_currency_needs_a_rate():
    assert price(INSURANCE, "ground-retail", "42.50", currency="EUR") is None
    assert price(INSURANCE, "ground-retail", "42.50", replace(RULES, rates=(EURO,)), "EUR") == "3.50"  # 50.01 dollars


@pytest.mark.parametrize(("is_rough", "expected"), [(False, "2.80"), (True, "3.50")])
def test_at_an_approximate_rate_insurance_covers_the_most_the_goods_can_be_worth(is_rough, expected):
    """EUR 40.00 is $47.07 at the rate; up to 25% more is over the list's step of $50."""
    rules = replace(RULES, rates=(replace(EURO, rough=is_rough),))
    assert price(INSURANCE, "ground-retail", "40.00", rules, "EUR") == expected


def test_domestic_and_international_services_have_their_own_extras():
    assert set(extras_of_side(abroad=False)) & set(extras_of_side(abroad=True)) == {
        "certificate-of-mailing",
        FIRM_SHEET,
    }
