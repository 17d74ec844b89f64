"""Size limits as the standards print them."""

from decimal import Decimal

import pytest

from desk.domain import size_limits


@pytest.mark.parametrize(
    ("limit", "inches", "source"),
    [
        (size_limits.LETTER, ("11.5", "6.125", "0.25"), "DMM 101.1.1b"),
        (size_limits.LARGE_ENVELOPE, ("15", "12", "0.75"), "DMM 101.2.1b"),
        (size_limits.CARD, ("6", "4.25", "0.016"), "DMM 101.6.3.1"),
        ((size_limits.LEAST_LENGTH, size_limits.LEAST_HEIGHT), ("5", "3.5"), "DMM 601.1.2"),
        ((size_limits.LEAST_THICKNESS, size_limits.THIN_WHEN_LARGE), ("0.007", "0.009"), "DMM 101.1.1a, 601.1.2"),
        ((size_limits.LONG, size_limits.VERY_LONG), ("22", "30"), "Notice 123, July 12, 2026, p. 15"),
    ],
)
def test_size_limits_equal_the_printed_ones(limit, inches, source):
    assert tuple(side.inches() for side in limit) == tuple(map(Decimal, inches)), source


def test_volume_limits_equal_the_printed_ones():
    """Notice 123, July 12, 2026, p. 15: fees over 2 cu ft, and dimensional weight over 1 cu ft."""
    assert (size_limits.BULKY_CUBIC_INCHES, size_limits.CUBIC_FOOT_INCHES) == (2 * 12**3, 12**3)
