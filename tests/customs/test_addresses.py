"""Addresses: complete, unusual, too long."""

import time
from dataclasses import replace

import pytest

from desk.customs.addresses import LONGEST_LINE, check_address
from desk.domain.finding import Severity
from desk.domain.places.address import Address
from tests.customs.conftest import address

HOME = Address("Ada Finch", "", "12 Sorrel Street", "", "Millbrook", "NY", "12545", "US")


def codes(given: Address) -> list[str]:
    return [found.code for found in check_address(given)]


def missing(given: Address) -> object:
    (found,) = check_address(given)
    assert (found.code, found.severity) == ("address-incomplete", Severity.STOP)
    return found.facts["missing"]


def test_a_complete_address_gives_no_finding():
    assert check_address(HOME) == ()
    assert check_address(address("DE")) == ()


@pytest.mark.parametrize("part", ["recipient", "address1", "city", "region", "postal_code"])
def test_each_missing_domestic_part_is_reported(part):
    bare = replace(HOME, **{part: "  "})
    assert missing(bare) == (part,)


def test_all_missing_parts_are_named_at_once():
    assert missing(Address(country="US")) == ("recipient", "address1", "city", "region", "postal_code")


def test_a_company_may_replace_the_recipient():
    assert check_address(replace(HOME, recipient="", company="Heron Books")) == ()


@pytest.mark.parametrize("part", ["recipient", "address1", "city", "postal_code"])
def test_each_missing_part_abroad_is_reported(part):
    assert missing(address("DE", **{part: ""})) == (part,)


def test_an_unknown_country_is_missing_and_shown_as_typed():
    (found,) = check_address(address("", country_typed="Atlantis", city=""))
    assert found.facts == {"missing": ("city", "country"), "country_typed": "Atlantis"}
    assert missing(address("", country_typed="Atlantis")) == ("country",)


@pytest.mark.parametrize(
    "whole",
    [
        address("IE", postal_code=""),  # an Eircode is optional
        address("HK", postal_code="", city="Kowloon"),
        address("HK", postal_code="", city="", region="Kowloon"),
        address("SG", city="", postal_code="238801"),
        address("JP", city="", region="Tokyo", postal_code="100-0006"),
        address("GI", city="", postal_code="GX11 1AA"),
    ],
)
def test_a_part_that_the_country_does_not_use_is_not_missing(whole):
    assert check_address(whole) == ()


def test_where_a_state_is_enough_the_city_may_be_missing():
    assert missing(address("AE", city="", postal_code="")) == ("city",)


def test_a_place_written_as_a_country_is_its_own_state():
    island = replace(HOME, country="PR", region="", city="San Juan", postal_code="00907")
    assert check_address(island) == ()
    assert codes(replace(island, postal_code="10001")) == ["postal-code-odd"]
    assert missing(replace(island, postal_code="")) == ("postal_code",)


def test_an_unusual_postal_code_is_reported_with_the_reason():
    (found,) = check_address(replace(HOME, postal_code="90210"))
    assert (found.code, found.severity) == ("postal-code-odd", Severity.LOOK)
    assert found.facts == {"postal_code": "90210", "country": "US", "region": "NY", "why": "state"}


def test_a_country_prefix_is_removed_and_reported():
    (found,) = check_address(address("CH", postal_code="CH-8001"))
    assert (found.code, found.severity) == ("postal-code-mended", Severity.NOTE)
    assert found.facts == {"typed": "CH-8001", "corrected": "8001", "country": "CH"}


@pytest.mark.parametrize("part", ["recipient", "company", "address1", "address2", "city"])
def test_a_line_that_cannot_fit_a_label_stops(part):
    fits = replace(HOME, **{part: "x" * (LONGEST_LINE - (11 if part == "city" else 0))})
    assert "address-too-long" not in codes(fits)
    long = replace(HOME, **{part: "x" * (LONGEST_LINE + 1)})
    (found,) = check_address(long)
    assert (found.code, found.severity, found.facts["part"]) == ("address-too-long", Severity.STOP, part)
    assert found.facts["longest"] == LONGEST_LINE == 100


def test_wide_characters_count_double_and_combining_marks_do_not_count():
    assert codes(replace(HOME, recipient="田" * 50)) == []
    assert codes(replace(HOME, recipient="田" * 51)) == ["address-too-long"]
    assert codes(replace(HOME, recipient="e\u0301" * 100)) == []


def test_another_paper_may_have_room_for_fewer_characters():
    assert [found.code for found in check_address(HOME, longest=10)] == ["address-too-long"] * 2


def test_ten_thousand_addresses_are_checked_quickly():
    countries = ["US", "DE", "GB", "JP", "CA", "AU", "FR", "CH", "BR", "HK"]
    batch = [replace(HOME, country=country) for country in countries] * 1000
    start = time.perf_counter()
    found = [check_address(one) for one in batch]
    assert len(found) == 10_000
    assert time.perf_counter() - start < 3  # three times the limit of one second


@pytest.mark.parametrize(
    ("fields", "missing"),
    [
        ({"recipient": "山田花子", "address1": "千代田1-1", "city": "東京"}, ("recipient", "address1", "city")),
        ({"recipient": "Yamada Hanako", "address1": "千代田1-1", "city": "Tokyo"}, ("address1",)),
        ({"recipient": "山田 Yamada", "address1": "1-1", "city": "Tokyo 東京"}, ()),
    ],
)
def test_an_unreadable_address_is_asked_for_in_latin_letters(fields, missing):
    found = check_address(Address(**fields, country="JP", postal_code="100-0006", region="Tokyo"))
    reported = [one.facts["missing"] for one in found if one.code == "latin-line-missing"]
    assert reported == ([missing] if missing else [])


def test_an_island_written_as_a_country_is_domestic():
    island = replace(HOME, country="PR", region="", postal_code="00901")
    assert check_address(island) == ()
    assert missing(replace(island, postal_code="")) == ("postal_code",)
    assert missing(replace(HOME, region="")) == ("region",)


def test_a_company_unreadable_abroad_is_reported_where_no_person_is_named():
    (found,) = check_address(address("JP", recipient="", company="山田製本", postal_code="100-0001", region="東京都"))
    assert (found.code, found.facts["missing"]) == ("latin-line-missing", ("recipient",))


def test_an_island_written_as_a_country_is_a_domestic_address():
    """PR is its own state, and needs a street, a town and a ZIP code like any other."""
    island = replace(HOME, country="PR", region="", postal_code="00901")
    assert check_address(island) == ()
    assert missing(replace(island, postal_code="")) == ("postal_code",)
    assert check_address(replace(island, postal_code=""))[0].source == "Publication 28, section 22"
    assert "latin-line-missing" not in codes(replace(island, recipient="\u674e"))


def test_the_script_of_an_address_without_a_country_is_not_judged():
    nowhere = replace(address("CN"), country="", recipient="\u674e")
    assert "latin-line-missing" not in codes(nowhere)
    assert "latin-line-missing" in codes(replace(nowhere, country="CN"))


def test_a_character_with_latin_in_its_unicode_name_may_not_be_a_latin_letter():
    assert "latin-line-missing" in codes(replace(address("CN"), recipient="\u674e \u271d"))  # a Latin cross
    assert "latin-line-missing" not in codes(replace(address("CN"), recipient="\u674e L"))
