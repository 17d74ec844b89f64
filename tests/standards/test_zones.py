"""Zones compared with other charts: one in use for billed parcels, and the distance between all pairs of areas.

Source unless another is named: National Zone Charts Matrix, April 1, 2024.
"""

from __future__ import annotations

from collections import defaultdict
from pathlib import Path

import numpy as np
import pytest
import zipcodes

from tests.rates.chart_folder import shipped_zones

# Miles up to which zones 1 to 7 reach (DMM 608.9, from memory; the matrix agrees).
MILES = (50, 150, 300, 600, 1000, 1400, 1800)
EARTH_MILES = 3958.8
# Pairs more than one zone from their distance: the mean of prefix 969 is far from Guam, which the matrix measures from,
# and ZIP codes of 979 and 894 are far from where their mail is sorted.
FAR = {("967", "969"), ("968", "969"), ("894", "979")}


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
        ("995", "981", "6"),
        ("006", "331", "6"),
        ("441", "432", "2"),
        ("303", "331", "4"),
        ("553", "606", "4"),
        ("631", "606", "3"),
        ("605", "205", "5"),
        ("380", "064", "5"),
    ],
)
def test_zones_equal_the_published_ones(origin, destination, zone):
    assert shipped_zones().find(origin, destination).zone == zone
    assert shipped_zones().find(f"{origin}01", f"{destination}99").zone == zone


def test_every_row_of_a_chart_in_use_agrees():
    """Chart of prefix 850 in use for 81,817 billed parcels from August 2025 to January 2026: 930 rows."""
    text = (Path(__file__).parent / "zone_chart_850.txt").read_text(encoding="utf-8")
    chart = {}
    for part in text.split():
        prefixes, _, zone = part.partition(":")
        first, _, last = prefixes.partition("-")
        chart |= {f"{number:03}": zone for number in range(int(first), int(last or first) + 1)}
    zones = shipped_zones()
    assert len(chart) == 930
    assert {prefix: zones.find("850", prefix).zone for prefix in chart} == chart


def mean_positions():
    """Return the mean position of the ZIP codes of each prefix, in radians (package zipcodes 3, MIT license)."""
    places = defaultdict(list)
    for place in zipcodes.list_all():
        if place["zip_code_type"] != "MILITARY" and float(place["lat"] or 0):
            places[place["zip_code"][:3]].append((float(place["lat"]), float(place["long"])))
    return {prefix: np.radians(np.mean(known, axis=0)) for prefix, known in places.items()}


def test_all_pairs_agree_with_the_distance_between_their_areas():
    """Great-circle miles between mean ZIP positions: 96 of 100 pairs agree, and the rest differ by one zone."""
    zones, positions = shipped_zones(), mean_positions()
    prefixes = sorted(positions.keys() & zones.matrix.keys())
    columns = [int(prefix) for prefix in prefixes]
    published = np.array([[int(zones.matrix[origin][column]) for column in columns] for origin in prefixes])
    latitude, longitude = np.array([positions[prefix] for prefix in prefixes]).T
    cosine = np.sin(latitude)[:, None] * np.sin(latitude)
    cosine += np.cos(latitude)[:, None] * np.cos(latitude) * np.cos(longitude[:, None] - longitude)
    miles = EARTH_MILES * np.arccos(np.clip(cosine, -1, 1))
    by_distance = 1 + np.searchsorted(MILES, miles, side="left")
    plain = (published >= 1) & (published <= 8)  # zone 9 is by place, not by distance
    assert plain.sum() == 836_313
    assert (published == by_distance)[plain].mean() >= 0.96
    apart = np.argwhere(plain & (abs(published - by_distance) > 1))
    assert {tuple(sorted((prefixes[a], prefixes[b]))) for a, b in apart} == FAR


@pytest.mark.parametrize(
    ("destination", "zone"),
    [
        *((f"969{last}", "9") for last in (39, 40, 41, 42, 43, 44, 60, 70)),
        *((f"969{last}", "8") for last in (10, 13, 31, 38, 45, 50, 59, 61, 69, 71)),
    ],
)
def test_zone_nine_covers_the_freely_associated_states(destination, zone):
    """Zone-chart page of the operator for the states; the ZIP codes from the exceptions file of 2018."""
    assert shipped_zones().find("606", destination).zone == zone


def test_zones_within_the_pacific_come_from_the_matrix():
    assert shipped_zones().find("967", "96913").zone == "1"
    assert shipped_zones().find("967", "96940").zone == "1"


def test_a_published_military_pair_is_correct_and_needs_checking():
    """ZIP 96310 to prefix 581 is zone 7: the example in the note on the five-digit exceptions of 2018."""
    answer = shipped_zones().find("96310", "58125")
    assert answer.zone == "7"
    assert [found.severity for found in answer.findings] == ["look"]


def test_the_matrix_is_complete():
    """931 prefixes, the same as origins and destinations, zones 1 to 9, as counted in the operator's file."""
    matrix = shipped_zones().matrix
    assert len(matrix) == 931
    assert {len(row) for row in matrix.values()} == {1000}
    assert set("".join(matrix.values())) == set("0123456789")
    reached = {f"{column:03}" for row in matrix.values() for column, zone in enumerate(row) if zone != "0"}
    assert reached == set(matrix)
