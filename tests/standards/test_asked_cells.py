"""Every cell of the lists in force on two days, asked one by one through `ask price`.

Counts, sums and digests are those of `test_cells`, worked out from other copies of the published lists.
"""

from __future__ import annotations

import hashlib
from datetime import date
from decimal import Decimal

import pytest

from desk.session.ask.postage import price
from desk.session.ask.question import Question
from desk.session.rulebook import Rulebook
from tests.standards.test_cells import CELLS

SUMMER, SEASON = date(2026, 8, 12), date(2026, 11, 28)
JULY, HOLIDAYS = "us-2026-07-12", "us-2026-10-04"
PUBLISHED = {(chart, service): figures for chart, service, *figures in CELLS}
IN_SEASON = {service for chart, service, *_ in CELLS if chart == HOLIDAYS}
# Sides that fall into each tier: 12 x 12 in and this high, in quarter inches.
HEIGHTS = "1 2.25 3.5 4.75 6 7 8.25 9.5 10.75 12".split()
SIZES = {"postcard": ("5", "4", "0.01"), "letter": ("9", "6", "0.1"), "flat": ("12", "9", "0.3")}


def asked(rulebook: Rulebook, service: str, chart: str, on: date) -> dict[tuple[str, str], int]:
    """Return `(upper weight or volume, key) -> cents` as `ask price` answers for each cell of that list."""
    listed = next(each for each in rulebook.charts.lists[service] if each.chart == chart)
    kind = next((name for name in SIZES if name in listed.shapes and "parcel" not in listed.shapes), "")
    key_name = {"zone": "zone", "group": "group"}.get(listed.keyed_by)
    cells = {}
    for key, rows in listed.rows.items():
        for row in rows:
            fields = {"service": service, "weight": {"value": row.max_label, "unit": "oz"}, "goods": "no"}
            fields |= {key_name: key} if key_name else {}
            fields |= {"size": size(*SIZES[kind])} if kind else {}
            answer = price(Question(fields), rulebook, on)
            assert answer["chart"] == chart
            cells[f"{Decimal(row.max_label).normalize():f}", key] = cents(answer)
    for key, tiers in listed.tiers.items():
        for tier, height in zip(tiers, HEIGHTS, strict=True):
            weight = {"value": "5", "unit": "lb"}
            fields = {"service": service, "weight": weight, "zone": key, "size": size("12", "12", height)}
            cells[tier.label, key] = cents(price(Question(fields), rulebook, on))
    return cells


def size(length: str, width: str, thickness: str) -> dict[str, str]:
    return {"length": length, "width": width, "thickness": thickness}


def cents(answer: dict[str, str]) -> int:
    return int(Decimal(answer["postage"]) * 100)


def figures(cells: dict[tuple[str, str], int]) -> list[object]:
    written = ";".join(f"{weight}|{key}|{amount}" for (weight, key), amount in sorted(cells.items()))
    return [len(cells), sum(cells.values()), hashlib.sha256(written.encode()).hexdigest()[:16]]


@pytest.mark.parametrize("service", sorted(service for chart, service in PUBLISHED if chart == JULY))
def test_in_summer_every_price_asked_is_that_of_the_july_list(rulebook, service):
    assert figures(asked(rulebook, service, JULY, SUMMER)) == PUBLISHED[JULY, service]


@pytest.mark.parametrize("service", sorted(IN_SEASON))
def test_in_the_holiday_season_every_price_asked_is_that_of_the_season_list(rulebook, service):
    assert figures(asked(rulebook, service, HOLIDAYS, SEASON)) == PUBLISHED[HOLIDAYS, service]


@pytest.mark.parametrize(
    "service", sorted(service for chart, service in PUBLISHED if chart == JULY and service not in IN_SEASON)
)
def test_in_the_holiday_season_other_services_keep_the_july_list(rulebook, service):
    assert figures(asked(rulebook, service, JULY, SEASON)) == PUBLISHED[JULY, service]


def test_the_season_list_adds_the_announced_amounts(rulebook):
    """Announcement of August 25, 2026: from 0.40 to 3.85 by service, zone and weight; ground (online), zone 5."""
    for pounds, added in (("3", 55), ("10", 105), ("25", 175)):
        fields = {"service": "ground-commercial", "weight": {"value": pounds, "unit": "lb"}, "zone": "5"}
        answers = [price(Question(fields), rulebook, on) for on in (SUMMER, SEASON)]
        assert cents(answers[1]) - cents(answers[0]) == added
