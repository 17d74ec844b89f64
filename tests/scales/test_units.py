"""Units that a scale may name, in exact grams. The published factors are in tests/standards/test_scale_standards.py."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from desk.domain.weight import WeightUnit
from desk.scales.units import DESK_UNITS, GRAMS, HID_UNITS, LINE_UNITS, grams_of, plain


@pytest.mark.parametrize(
    ("value", "unit", "grams"),
    [
        ("1", "lb", "453.59237"),
        ("16", "oz", "453.59237"),
        ("1.2", "oz", "34.01942775"),
        ("7000", "grain", "453.59237"),
        ("1", "short_ton", "907184.74"),
        ("20", "pennyweight", "31.1034768"),
        ("1", "troy_oz", "31.1034768"),
        ("5", "carat", "1"),
        ("1000", "mg", "1"),
        ("0.7", "kg", "700"),
        ("-0.1", "g", "-0.1"),
        ("0", "oz", "0"),
    ],
)
def test_grams_are_exact(value, unit, grams):
    assert str(grams_of(Decimal(value), unit)) == grams


@pytest.mark.parametrize("unit", ["tael", "stone", "", "OZ", None])
def test_a_unit_without_a_single_size_has_no_grams(unit):
    assert grams_of(Decimal(1), unit) is None


def test_the_twelve_units_are_in_the_order_of_the_usage_page():
    assert len(HID_UNITS) == 0x5C - 0x51 + 1
    assert set(HID_UNITS) - GRAMS.keys() == {"tael"}


def test_supported_units_are_those_that_can_be_stored():
    assert {str(unit) for unit in WeightUnit if unit is not WeightUnit.POUND_OUNCE} == DESK_UNITS
    assert set(LINE_UNITS.values()) <= GRAMS.keys()


@pytest.mark.parametrize(
    ("number", "text"),
    [
        ("700.00", "700"),
        ("7E+2", "700"),
        ("0.10", "0.1"),
        ("-0", "0"),
        ("-0.00", "0"),
        ("0E+9", "0"),
        ("-1.50", "-1.5"),
    ],
)
def test_numbers_are_plain_without_exponents(number, text):
    assert str(plain(Decimal(number))) == text


@given(st.decimals(-(10**9), 10**9, places=6))
def test_a_plain_number_has_the_same_value(number):
    assert plain(number) == number
    assert "E" not in f"{plain(number)}" or abs(number) < Decimal("1e-5")
    assert not plain(number).is_signed() or number < 0
