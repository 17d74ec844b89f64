"""Zones as published. Source unless another stands beside it: National Zone Charts Matrix, file header 11012018."""

import csv

import pytest

from tests.rates.chart_folder import RESOURCES, shipped_zones


@pytest.mark.parametrize(
    ("origin", "destination", "zone"),
    [
        ("100", "900", "8"),
        ("100", "606", "5"),
        ("100", "021", "3"),
        ("606", "532", "2"),
        ("941", "900", "4"),
        ("802", "841", "4"),
        ("770", "752", "3"),
        ("331", "100", "6"),
        ("981", "972", "2"),
        ("967", "900", "8"),
        ("995", "981", "7"),
        ("006", "331", "6"),
        ("441", "432", "2"),
        ("303", "331", "4"),
        ("553", "606", "4"),
        ("631", "606", "3"),
        ("605", "205", "4"),
        ("380", "064", "6"),
    ],
)
def test_published_zone(origin, destination, zone):
    assert shipped_zones().find(origin, destination).zone == zone
    assert shipped_zones().find(f"{origin}01", f"{destination}99").zone == zone


@pytest.mark.parametrize(
    ("destination", "zone"),
    [
        *((f"969{last}", "9") for last in (39, 40, 41, 42, 43, 44, 60, 70)),
        *((f"969{last}", "8") for last in (10, 13, 31, 38, 45, 50, 59, 61, 69, 71)),
    ],
)
def test_zone_nine_is_the_freely_associated_states(destination, zone):
    """Zone-chart page of the operator for the states; the ZIP codes from the exceptions file of 2018."""
    assert shipped_zones().find("606", destination).zone == zone


def test_within_the_pacific_the_matrix_stands():
    assert shipped_zones().find("967", "96913").zone == "1"
    assert shipped_zones().find("967", "96940").zone == "1"


def test_a_published_military_pair_is_right_and_marked_for_a_look():
    """ZIP 96310 to prefix 581 is zone 7: the example in the note beside the five-digit exceptions of 2018."""
    answer = shipped_zones().find("96310", "58125")
    assert answer.zone == "7"
    assert [found.severity for found in answer.findings] == ["look"]


def test_every_pair_of_prefixes_equals_the_file():
    """All 864,900 pairs through the public function, against the two files read by other means."""
    folder = RESOURCES / "zones"
    with (folder / "groups.csv").open(encoding="utf-8") as file:
        prefixes = [tuple(line) for line in csv.reader(file)][1:]
    lines = (folder / "matrix.csv").read_text(encoding="utf-8").split()[1:]
    rows = dict(line.split(",") for line in lines)
    find = shipped_zones().find
    wrong = [
        (origin, destination)
        for origin, row, _ in prefixes
        for destination, _, column in prefixes
        if find(origin, destination).zone != rows[row][int(column)]
    ]
    assert wrong == []
    assert len(prefixes) ** 2 == 864_900


def test_the_matrix_is_whole():
    """930 prefixes in 167 rows and 168 columns, zones 1 to 9, as counted in the operator's file."""
    zones = shipped_zones()
    assert (len(zones.groups), len(zones.matrix)) == (930, 167)
    assert {len(row) for row in zones.matrix.values()} == {168}
    assert set("".join(zones.matrix.values())) == set("123456789")
