"""Typed numbers: one rule for money, weights, sizes and counts, in seven locales."""

from __future__ import annotations

from decimal import Decimal

import pytest

from desk.domain.faults import Refused
from desk.domain.weight import WeightUnit
from desk.session.scale.step_rule import read_weight
from desk.session.words.typed_numbers import TwoReadings, count_typed, number_typed, with_points
from desk.ui.costs.parts import typed_amount

# The separators are those of CLDR, by babel.
READ = [
    ("C", "1.50", "1.50"),
    ("C", "1,500.25", "1500.25"),
    ("en_US.UTF-8", "1.234", "1.234"),
    ("en_US.UTF-8", "1,234", "1234"),
    ("en_US.UTF-8", ".5", "0.5"),
    ("de_DE.UTF-8", "1,50", "1.50"),
    ("de_DE.UTF-8", "1.50", "1.50"),
    ("de_DE.UTF-8", "0.125", "0.125"),
    ("de_DE.UTF-8", "1.234,50", "1234.50"),
    ("de_DE.UTF-8", "1.234.567", "1234567"),
    ("de_DE.UTF-8", ",5", "0.5"),
    ("de_DE.UTF-8", "-2,5", "-2.5"),
    ("fr_FR.UTF-8", "1\u202f234,5", "1234.5"),
    ("fr_FR.UTF-8", "1\u00a0234,5", "1234.5"),
    ("fr_FR.UTF-8", "1 234,5", "1234.5"),
    ("fr_FR.UTF-8", "1.234", "1.234"),
    ("de_CH.UTF-8", "1’234.50", "1234.50"),
    ("de_CH.UTF-8", "1'234.50", "1234.50"),
    ("hi_IN.UTF-8", "12,34,567.5", "1234567.5"),
    ("ar_EG.UTF-8", "١٫٥", "1.5"),
    ("ar_EG.UTF-8", "١٬٢٣٤٫٥", "1234.5"),
    ("ar_EG.UTF-8", "1.5", "1.5"),
]


@pytest.mark.parametrize(("name", "text", "number"), READ)
def test_a_typed_number_is_read_as_the_locale_writes_it(locale, name, text, number):
    locale(name)
    assert number_typed(text) == Decimal(number)


@pytest.mark.parametrize(
    ("name", "text", "number"), [row for row in READ if " " not in row[1] and 0 < float(row[2]) < 1e6]
)
def test_weights_and_money_read_numbers_the_same_way(locale, name, text, number):
    locale(name)
    cents = Decimal(number).quantize(Decimal("0.01"))
    assert read_weight(f"{text} g", WeightUnit.OUNCE).value == Decimal(number)
    assert cents != Decimal(number) or typed_amount(text, "USD").amount == cents


@pytest.mark.parametrize(
    ("name", "text"),
    [
        *(("C", text) for text in ("1,50", "1,2,3", "", "x", "NaN", "1e3", "1_000", "1.2.3", ".", "-")),
        ("de_DE.UTF-8", "1'234,5"),
        ("de_DE.UTF-8", ","),
        ("de_CH.UTF-8", "1,5"),
        ("fr_FR.UTF-8", "1.234,5"),
        ("en_US.UTF-8", "12,34,567.5"),
    ],
)
def test_a_number_that_fits_no_locale_is_refused(locale, name, text):
    locale(name)
    with pytest.raises(ValueError, match=r"number|^$"):
        number_typed(text)


@pytest.mark.parametrize("name", ["de_DE.UTF-8", "pt_BR.UTF-8"])
def test_a_number_that_could_be_two_is_refused_for_weights_and_for_money(locale, name):
    locale(name)
    with pytest.raises(TwoReadings, match=r"1\.234 could be 1234 or 1,234\. Type one of these\."):
        number_typed("1.234")
    with pytest.raises(Refused, match=r"1\.234 could be 1234 or 1,234"):
        read_weight("1.234 g", WeightUnit.OUNCE)
    assert typed_amount("1.234", "USD") is None


@pytest.mark.parametrize(
    ("name", "text", "points"),
    [
        ("C", "1,3 oz, 2", "1,3 oz, 2"),
        ("de_DE.UTF-8", "1,3 oz, 2", "1.3 oz, 2"),
        ("de_DE.UTF-8", "1 lb 3 1/4 oz", "1 lb 3 1/4 oz"),
        ("de_DE.UTF-8", "1043 1,3", "1043 1.3"),
        ("de_DE.UTF-8", "9,5 x 6,25 x ,25", "9.5 x 6.25 x 0.25"),
        ("fr_FR.UTF-8", "1043 1,3", "1043 1.3"),
        ("ar_EG.UTF-8", "١٫٥ oz", "1.5 oz"),
    ],
)
def test_each_number_in_a_text_gets_a_decimal_point(locale, name, text, points):
    locale(name)
    assert with_points(text) == points


@pytest.mark.parametrize(
    ("name", "text", "count"),
    [
        ("C", "12", 12),
        ("C", "1,200", 1200),
        ("de_DE.UTF-8", "1.200.000", 1_200_000),
        ("ar_EG.UTF-8", "١٢", 12),
        ("C", "1.5", None),
        ("C", "-1", None),
        ("C", "-0", None),
        ("C", ".", None),
        ("C", "two", None),
        ("de_DE.UTF-8", "1.200", None),
    ],
)
def test_a_typed_count_is_a_whole_number_of_at_least_0(locale, name, text, count):
    locale(name)
    assert count_typed(text) == count


def test_a_weight_that_cannot_be_read_gets_examples_of_the_locale(locale):
    locale("de_DE.UTF-8")
    with pytest.raises(Refused, match=r"Type it like 4,2 oz, 1 lb 3,2 oz, 119 g or 0,5 kg\."):
        read_weight("heavy", WeightUnit.OUNCE)
