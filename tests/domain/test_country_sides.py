"""Which addresses are abroad: one answer for prices, customs and screens."""

import pytest

from desk.domain.country import is_abroad


@pytest.mark.parametrize(
    ("country", "abroad"), [("US", False), ("PR", False), ("US-AE", False), ("AE", True), ("CA", True), ("", False)]
)
def test_domestic_places_and_unknown_countries_are_not_abroad(country, abroad):
    """Publication 28, Appendix B, for the places that domestic mail serves."""
    assert is_abroad(country) is abroad
