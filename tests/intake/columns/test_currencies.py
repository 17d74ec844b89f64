"""Currencies in use, and currency signs shared by several, which decide none."""

import pytest
from babel.core import get_global

from desk.domain.money import DECIMALS
from desk.intake.columns.currencies import CURRENCIES, DRAWING_RIGHTS, SIGNS


def legal_tender():
    """Return the currencies in use, from the CLDR data in babel."""
    entries = (entry for entries in get_global("territory_currencies").values() for entry in entries)
    return {code for code, _start, end, tender in entries if end is None and tender}


def test_every_currency_in_use_is_known_and_no_other():
    """Source: CLDR, the currencies of territories, in babel (locked version)."""
    assert legal_tender() == CURRENCIES


@pytest.mark.parametrize("code", sorted(CURRENCIES))
def test_a_currency_is_three_capital_letters(code):
    assert (len(code), code.isascii(), code.isupper(), code.isalpha()) == (3, True, True, True)


def test_special_drawing_rights_are_not_a_payment_currency():
    assert DRAWING_RIGHTS not in CURRENCIES


@pytest.mark.parametrize("code", sorted(DECIMALS))
def test_currencies_with_zero_or_three_decimals_are_included(code):
    assert code in CURRENCIES or code == "UYI"  # an account unit of Uruguay


@pytest.mark.parametrize("sign", SIGNS)
def test_each_currency_sign_names_known_currencies_once(sign):
    assert set(SIGNS[sign]) <= CURRENCIES
    assert len(SIGNS[sign]) == len(set(SIGNS[sign]))
    assert sign == sign.upper()


@pytest.mark.parametrize(("sign", "several"), [("$", True), ("¥", True), ("KR", True), ("€", False), ("£", False)])
def test_a_dollar_sign_is_not_one_currency(sign, several):
    assert (len(SIGNS[sign]) > 1) == several
