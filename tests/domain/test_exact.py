"""Exact numbers: typed text is a number, or refused with a ValueError that shows it."""

from decimal import Decimal

import pytest

from desk.domain.exact import exact


@pytest.mark.parametrize(
    ("value", "number"),
    [("4.20", "4.20"), (7, "7"), ("-0.5", "-0.5"), ("1E+3", "1000"), (Decimal("0.1"), "0.1"), ("9" * 18, "9" * 18)],
)
def test_a_number_is_kept_as_typed(value, number):
    assert exact(value) == Decimal(number)


def test_decimals_typed_are_kept():
    assert str(exact("4.20")) == "4.20"


@pytest.mark.parametrize(
    "value", ["", " ", "four", "1,5", "4 oz", "nan", "sNaN", "inf", "-Infinity", "1E+18", "9" * 19, "1E+999999"]
)
def test_a_text_that_is_not_a_number_is_refused_and_shown(value):
    with pytest.raises(ValueError, match="not a number") as refused:
        exact(value)

    assert repr(value) in str(refused.value)
