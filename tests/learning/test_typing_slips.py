"""The readings that one typing error turns into what was typed."""

from __future__ import annotations

import pytest

from desk.learning.parcel import ShownWeight
from desk.learning.typing_slips import slips


def shown(digits: str, unit_g: float = 1.0) -> list[float]:
    return slips(ShownWeight(float(digits or 0), 1.0, digits, unit_g)).tolist()


def test_swapped_and_missing_digits_are_considered():
    found = shown("12")
    assert 21 in found
    assert {112, 122, 129, 912} <= set(found)
    assert 12 not in found


def test_decimals_and_units_are_kept():
    assert 2.1 in shown("1.2")
    assert (
        pytest.approx(max(value for value in shown("3.6", 28.0) if value < 200 and abs(value - 176.4) < 1)) == 6.3 * 28
    )


@pytest.mark.parametrize("digits", ["", "1 lb 3", "abc"])
def test_a_reading_from_a_scale_has_no_typing_errors(digits):
    assert slips(ShownWeight(10.0, 1.0, digits)).size == 0
