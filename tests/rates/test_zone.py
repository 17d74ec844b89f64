import pytest

from desk.domain.finding import Severity
from desk.rates.zone import MILITARY, spread
from tests.rates.chart_folder import shipped_zones


def test_a_zone_from_the_matrix_in_force_needs_no_note():
    answer = shipped_zones().find("60601", "53202")
    assert (answer.zone, answer.edition, answer.findings) == ("2", "2024-04-01", ())


@pytest.mark.parametrize(
    ("origin", "destination"), [("60601", "09012"), ("606", "340"), ("962", "606"), ("606", "966")]
)
def test_military_addresses_are_reported(origin, destination):
    (found,) = shipped_zones().find(origin, destination).findings
    assert (found.code, found.severity, found.facts["military"]) == ("zone-estimated", Severity.LOOK, True)


def test_there_are_fifteen_military_prefixes():
    assert len(MILITARY) == 15
    assert {"089", "099", "341", "961", "967"} & MILITARY == set()


@pytest.mark.parametrize(
    ("origin", "destination"),
    [
        ("60601", "00001"),
        ("00001", "60601"),
        ("", "60601"),
        ("60601", ""),
        ("60601", "ABC"),
        ("60601", "99"),
        ("sixty", "1"),
    ],
)
def test_an_unknown_prefix_has_no_zone(origin, destination):
    answer = shipped_zones().find(origin, destination)
    assert answer.zone == ""
    (found,) = answer.findings
    assert (found.code, found.severity) == ("zone-unknown", Severity.LOOK)
    assert found.facts == {"origin": origin[:3], "destination": destination[:3]}


def test_spaces_and_zip_plus_four_do_no_harm():
    assert shipped_zones().find(" 60601-1234", "90001-0001 ").zone == shipped_zones().find("606", "900").zone


def test_a_zone_chart_of_the_shop_overrides_the_matrix():
    zones = shipped_zones().with_chart({"532": 3, "969": 9, "96913": 8}, "606", "2026-10-01")
    assert zones.find("60601", "53202").zone == "3"
    assert zones.find("60601", "53202").edition == "2026-10-01"
    assert zones.find("60601", "53202").findings == ()
    assert zones.find("60601", "96913-1234").zone == "8"
    assert zones.find("60601", "96940").zone == "9"


def test_a_zone_chart_of_the_shop_has_no_zones_for_other_prefixes():
    zones = shipped_zones().with_chart({"532": 3}, "60601", "2026-10-01")
    for origin, destination in (("606", "900"), ("607", "532")):
        answer = zones.find(origin, destination)
        assert answer.edition == "2024-04-01"


def test_the_shipped_matrix_is_unchanged_when_a_chart_is_loaded():
    zones = shipped_zones()
    zones.with_chart({"532": 9}, "606", "2026-10-01")
    assert zones.find("606", "532").zone == "2"


def test_ranges_of_zip_codes_are_expanded():
    assert spread(["005", "009-011", "96939-96940"]) == ["005", "009", "010", "011", "96939", "96940"]


@pytest.mark.parametrize(
    ("zip_code", "zone"), [("96938", "8"), ("96939", "9"), ("96944", "9"), ("96945", "8"), ("96960", "9"), ("969", "9")]
)
def test_within_969_the_five_digits_decide(zip_code, zone):
    """National Zone Charts Matrix 2018, five-digit exceptions: the Freely Associated States are zone 9."""
    assert shipped_zones().find("606", zip_code).zone == zone
