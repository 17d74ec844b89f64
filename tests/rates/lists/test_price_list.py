from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from desk.domain.money import Money
from desk.domain.weight import Weight, WeightUnit
from desk.rates.lists.price_list import CubicTier, DimensionalRule, Extra, ServiceChart
from tests.rates.chart_folder import shipped

NOVEMBER = date(2026, 11, 25)


def chart(service: str, on: date = NOVEMBER) -> ServiceChart:
    found = shipped().in_force(service, on)
    assert found is not None
    return found


def ounces(value: str) -> Weight:
    return Weight.of(value, WeightUnit.OUNCE)


@pytest.mark.parametrize(
    ("weight", "label"),
    [
        ("0.01", "1"),
        ("1", "1"),
        ("1.0000001", "2"),
        ("3", "3"),
        ("3.01", "3.5"),
        ("3.5", "3.5"),
    ],
)
def test_the_upper_weight_of_a_row_belongs_to_it(weight, label):
    row = chart("letter-stamped").row(ounces(weight))
    assert row is not None
    assert row.max_label == label


def test_a_weight_above_the_last_row_has_no_price():
    assert chart("letter-stamped").row(ounces("3.5000001")) is None
    assert chart("ground-retail").row(Weight.of("25.01", "lb"), "5") is None


def test_grams_are_compared_exactly_with_ounces():
    assert chart("letter-stamped").row(Weight(Decimal("28.349523125"))).max_label == "1"
    assert chart("letter-stamped").row(Weight(Decimal("28.349523126"))).max_label == "2"


def test_a_key_must_be_a_column_of_the_list():
    ground = chart("ground-retail")
    assert ground.row(ounces("4"), "5") is not None
    assert ground.row(ounces("4")) is None
    assert ground.row(ounces("4"), "10") is None


def test_the_heaviest_weight_is_in_the_last_row_of_the_key():
    assert chart("ground-retail").heaviest("1") == Weight.of(25, "lb")
    assert chart("priority-retail").heaviest("9") == Weight.of(70, "lb")
    assert chart("ground-retail").heaviest("") is None


def test_the_weight_limit_of_a_service_may_be_above_its_rows():
    assert chart("ground-retail").max_weight == Weight.of(70, "lb")


def test_a_surcharge_is_found_by_its_code():
    assert chart("letter-stamped").surcharge("nonmachinable").amount.text() == "0.49"
    assert chart("letter-stamped").surcharge("tube") is None


@pytest.mark.parametrize(
    ("service", "on", "past"),
    [
        ("ground-retail", date(2027, 1, 17), False),
        ("ground-retail", date(2027, 1, 18), True),
        ("intl-package", date(2026, 10, 3), False),
        ("intl-package", date(2026, 10, 4), True),
        ("letter-stamped", date(2030, 1, 1), False),
        ("priority-retail", date(2026, 1, 17), False),
        ("priority-retail", date(2026, 1, 18), True),
    ],
)
def test_a_list_is_outdated_after_its_last_day(service, on, past):
    assert chart(service, on).is_past(on) is past


@pytest.mark.parametrize(
    ("service", "on", "old"),
    [
        ("ground-retail", date(2027, 1, 17), False),
        ("ground-retail", date(2027, 1, 18), True),
        ("letter-stamped", date(2027, 8, 12), False),  # 396 days after July 12, 2026
        ("letter-stamped", date(2027, 8, 13), True),
    ],
)
def test_a_list_without_a_last_day_is_outdated_after_thirteen_months(service, on, old):
    assert chart(service, on).is_old(on) is old


@pytest.mark.parametrize(
    ("on", "name"),
    [
        (date(2026, 10, 3), "us-2026-07-12"),
        (date(2026, 10, 4), "us-2026-10-04"),
        (date(2027, 1, 17), "us-2026-10-04"),
        (date(2027, 1, 18), "us-2026-07-12"),
    ],
)
def test_a_season_list_applies_between_its_dates(on, name):
    """Season of October 4, 2026 to January 17, 2027 by the operator's announcement of August 25, 2026."""
    assert chart("ground-commercial", on).chart == name


def test_the_dimensional_rule_depends_on_the_day():
    first = DimensionalRule(date(2025, 1, 1), Decimal(1728), Decimal(166), "nearest", "", "")
    later = replace(first, since=date(2026, 7, 12), divisor=Decimal(139), rounding="up")
    ruled = replace(chart("flat"), dimensional_rules=(later, first))
    assert ruled.as_of(date(2026, 7, 11)).dimensional == first
    assert ruled.as_of(date(2026, 7, 12)).dimensional == later
    assert ruled.as_of(date(2024, 12, 31)).dimensional is None
    assert ruled.as_of(date(2026, 7, 12)).rows == ruled.rows


def test_price_lists_are_hashable():
    assert len({chart("flat"), chart("flat"), chart("postcard")}) == 2


TIERS = (CubicTier(Decimal("0.1"), "0.10 cu ft", Money(500)), CubicTier(Decimal("0.2"), "0.20 cu ft", Money(600)))


@pytest.mark.parametrize(
    ("cubic_feet", "label"),
    [("0.01", "0.10 cu ft"), ("0.1", "0.10 cu ft"), ("0.11", "0.20 cu ft"), ("0.2", "0.20 cu ft")],
)
def test_the_upper_volume_of_a_tier_belongs_to_it(cubic_feet, label):
    tiered = replace(chart("ground-commercial"), tiers={"5": TIERS})
    tier = tiered.tier(Decimal(cubic_feet), "5")
    assert tier is not None
    assert tier.label == label
    assert tiered.tier(Decimal("0.21"), "5") is None
    assert tiered.tier(Decimal("0.01"), "6") is None


@pytest.mark.parametrize(
    ("on", "season", "counts"),
    [
        (date(2026, 10, 3), True, False),
        (date(2026, 10, 4), True, True),
        (date(2027, 1, 17), True, True),
        (date(2027, 1, 18), True, False),
        (date(2027, 1, 18), False, True),  # another list is in force until a newer one is
        (date(2026, 10, 3), False, False),
    ],
)
def test_a_season_list_applies_from_its_first_day_through_its_last(on, season, counts):
    listed = replace(chart("ground-commercial"), effective=date(2026, 10, 4), until=date(2027, 1, 17), season=season)
    assert listed.counts_on(on) is counts
    assert listed.is_past(on) is (on > date(2027, 1, 17))


@pytest.mark.parametrize(
    ("until", "on", "is_old"),
    [
        (date(2027, 1, 17), date(2027, 1, 17), False),
        (date(2027, 1, 17), date(2027, 1, 18), True),
        (None, date(2027, 8, 12), False),  # 396 days after July 12, 2026
        (None, date(2027, 8, 13), True),
    ],
)
def test_a_list_is_outdated_after_its_last_day_or_thirteen_months(until, on, is_old):
    listed = replace(chart("letter-stamped"), effective=date(2026, 7, 12), until=until)
    assert listed.is_old(on) is is_old


@pytest.mark.parametrize(
    ("service", "value", "holds"),
    [("box", "50.00", True), ("box", "50.01", False), ("letter", "1.00", False), ("box", "0.00", True)],
)
def test_an_extra_applies_up_to_its_value_and_to_its_services(service, value, holds):
    extra = Extra("insurance", Money(280), "list", "made up", Money.of("50.00"), frozenset({"box"}))
    assert extra.holds_for(service, Money.of(value)) is holds
    assert replace(extra, services=frozenset(), value_max=None).holds_for("letter", Money.of("9999"))
