import time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from desk.domain.places.address import Address
from desk.domain.places.country import Countries
from desk.paper.label.address_lines import address_lines

NAMES = {
    "JP": "JAPAN",
    "AE": "UNITED ARAB EMIRATES",
    "GB": "UNITED KINGDOM",
    "SE": "SWEDEN",
    "CH": "SWITZERLAND",
    "AO": "ANGOLA",
    "GI": "GIBRALTAR",
    "CN": "CHINA",
    "MX": "MEXICO",
    "XK": "KOSOVO",
    "DE": "GERMANY",
    "SG": "SINGAPORE",
}
COUNTRIES = Countries.from_rows({"iso2": code, "label_name": name, "names": ""} for code, name in NAMES.items())


def lines(**typed):
    return " / ".join(address_lines(Address(**({"recipient": "x", "address1": "1 Road"} | typed)), COUNTRIES))


@pytest.mark.parametrize(
    ("typed", "expected"),
    [
        ({"country": "AE", "city": "Dubai", "postal_code": "00000"}, "X / 1 ROAD / DUBAI / UNITED ARAB EMIRATES"),
        (
            {"country": "AE", "city": "Al Ain", "region": "Abu Dhabi"},
            "X / 1 ROAD / AL AIN / ABU DHABI / UNITED ARAB EMIRATES",
        ),
        ({"country": "AE", "city": "Dubai", "region": "Dubai"}, "X / 1 ROAD / DUBAI / UNITED ARAB EMIRATES"),
        (
            {"country": "JP", "city": "Chiyoda-ku", "region": "Tokyo", "postal_code": "100-0001"},
            "X / 1 ROAD, CHIYODA-KU, TOKYO / 100-0001 / JAPAN",
        ),
        ({"country": "JP", "region": "Tokyo", "postal_code": "100-0001"}, "X / 1 ROAD, TOKYO / 100-0001 / JAPAN"),
        (
            {"country": "GI", "city": "Catalan Bay", "postal_code": "GX11 1AA"},
            "X / 1 ROAD / CATALAN BAY / GIBRALTAR / GX11 1AA / GIBRALTAR",
        ),
        (
            {"country": "SG", "city": "Singapore", "address2": "#02-11", "postal_code": "238801"},
            "X / 1 ROAD / #02-11 / SINGAPORE 238801 / SINGAPORE",
        ),
    ],
)
def test_no_city_is_lost_in_a_layout_without_it(typed, expected):
    assert lines(**typed) == expected


@pytest.mark.parametrize(
    ("typed", "expected"),
    [
        (
            {"country": "GB", "city": "London", "region": "England", "postal_code": "ec1y 8sy"},
            "X / 1 ROAD / LONDON / EC1Y 8SY / UNITED KINGDOM",
        ),
        ({"country": "GB", "region": "Kent"}, "X / 1 ROAD / KENT / UNITED KINGDOM"),
        (
            {"country": "SE", "city": "Stockholm", "postal_code": "SE-111 22"},
            "X / 1 ROAD / SE-111 22 STOCKHOLM / SWEDEN",
        ),
        ({"country": "SE", "city": "Stockholm", "postal_code": "111 22"}, "X / 1 ROAD / SE-111 22 STOCKHOLM / SWEDEN"),
        ({"country": "CH", "city": "Zürich"}, "X / 1 ROAD / ZÜRICH / SWITZERLAND"),
        ({"country": "MX", "city": "Puerto", "postal_code": "48300"}, "X / 1 ROAD / 48300 PUERTO / MEXICO"),
        (
            {"country": "AO", "city": "Luanda", "region": "Sul", "postal_code": "12"},
            "X / 1 ROAD / LUANDA 12 / SUL / ANGOLA",
        ),
        ({"country": "XK", "city": "Pristina", "postal_code": "10000"}, "X / 1 ROAD / 10000 PRISTINA / KOSOVO"),
    ],
)
def test_missing_parts_and_typed_prefixes_leave_no_gaps(typed, expected):
    assert lines(**typed) == expected


def test_an_address_in_native_script_has_the_native_order():
    typed = {
        "recipient": "山田花子",
        "address1": "千代田1-1",
        "city": "千代田区",
        "region": "東京都",
        "postal_code": "100-0001",
    }
    assert lines(country="JP", **typed) == "〒100-0001 / 東京都千代田区 / 千代田1-1 / 山田花子 / JAPAN"


def test_an_unknown_country_is_printed_as_typed():
    assert lines(city="Nowhere", country_typed="Freedonia", postal_code="1") == "X / 1 ROAD / NOWHERE 1 / FREEDONIA"
    assert lines(country="QQ", city="Nowhere") == "X / 1 ROAD / NOWHERE / QQ"


def test_domestic_addresses_have_the_unit_below_the_street_and_no_country_line():
    typed = {
        "company": "Kestrel House",
        "address2": " Apt  3 ",
        "city": "Duluth,",
        "region": "mn",
        "postal_code": "55804",
    }
    assert lines(country="US", **typed) == "X / KESTREL HOUSE / 1 ROAD / APT 3 / DULUTH MN  55804"
    assert lines(country="US", city="Duluth", region="MN") == "X / 1 ROAD / DULUTH MN"


def test_a_line_that_repeats_the_one_above_is_left_out():
    assert lines(country="US", company="x", address2="1 Road", postal_code="55804") == "X / 1 ROAD / 55804"


@given(st.sampled_from(sorted(NAMES)), st.text("abc ,-/", max_size=6), st.text("xyz", min_size=1, max_size=4))
def test_typed_parts_are_printed_without_stray_punctuation(country, region, city):
    found = address_lines(Address(recipient="n", address1="1 Q", city=city, region=region, country=country), COUNTRIES)
    assert any(city.upper() in line for line in found)
    assert not [line for line in found if line != line.strip() or line.endswith(",")]


def test_ten_thousand_addresses_are_formatted_in_two_seconds():
    """Three times the limit, on a busy machine."""
    began = time.process_time()
    for number in range(10_000):
        lines(country=("DE", "JP", "CN", "US")[number % 4], city="Town", postal_code=str(number))
    assert time.process_time() - began < 6
