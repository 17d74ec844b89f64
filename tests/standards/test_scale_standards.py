"""Scales compared with published values: units, HID usages, stillness, and coins as check weights."""

from decimal import Decimal

import pytest

from desk.domain.weight import OUNCE_G, WeightUnit
from desk.scales.drivers.descriptor import DATA_SCALING, DATA_WEIGHT, SCALES_PAGE, STATUSES, UNITS
from desk.scales.drivers.hid_report import STATUSES as STATUS_WORDS
from desk.scales.drivers.hid_report import read_report
from desk.scales.reading import State, shown_reading
from desk.scales.settling import Settling, StepRule
from desk.scales.typed import parse_typed
from desk.scales.units import DESK_UNITS, GRAMS, HID_UNITS, grams_of

HANDBOOK = "NIST Handbook 44, Appendix C"
UNIT_TABLE = [
    ("lb", "453.59237", f"{HANDBOOK}: pound, exact"),
    ("oz", "28.349523125", f"{HANDBOOK}: pound / 16, worked out"),
    ("grain", "0.06479891", f"{HANDBOOK}: grain, exact"),
    ("troy_oz", "31.1034768", f"{HANDBOOK}: 480 grains, exact"),
    ("pennyweight", "1.55517384", f"{HANDBOOK}: 24 grains, worked out"),
    ("short_ton", "907184.74", f"{HANDBOOK}: 2000 pounds"),
    ("carat", "0.2", f"{HANDBOOK}: metric carat, from memory"),
    ("mg", "0.001", "SI, definition"),
    ("kg", "1000", "SI, definition"),
    ("metric_ton", "1000000", "SI, definition"),
]


@pytest.mark.parametrize(("unit", "grams", "source"), UNIT_TABLE)
def test_each_unit_has_its_published_weight(unit, grams, source):
    assert grams_of(Decimal(1), unit) == Decimal(grams), source


def test_a_tael_has_no_single_size():
    """37.5 g, 37.799 g and 50 g are all legal somewhere (from memory)."""
    assert grams_of(Decimal(1), "tael") is None


def test_a_pound_is_7000_grains_and_16_ounces():
    """NIST Handbook 44, Appendix C."""
    assert GRAMS["grain"] * 7000 == GRAMS["lb"] == GRAMS["oz"] * 16


def test_every_whole_ounce_is_exact_to_seventy_pounds():
    """Worked out: with 28.35 g each whole ounce would count as a little more than itself."""
    assert all(grams_of(Decimal(n), "oz") / OUNCE_G == n for n in range(1, 1121))
    assert sum(n * Decimal("28.35") / OUNCE_G > n for n in range(1, 1121)) == 1120


# HID Usage Tables 1.7, Scales page 0x8D: units 0x51..0x5C, statuses 0x71..0x78, data weight 0x40, data scaling 0x41.
USAGES_OF_UNITS = {
    0x51: "mg",
    0x52: "g",
    0x53: "kg",
    0x54: "carat",
    0x55: "tael",
    0x56: "grain",
    0x57: "pennyweight",
    0x58: "metric_ton",
    0x59: "short_ton",
    0x5A: "troy_oz",
    0x5B: "oz",
    0x5C: "lb",
}
USAGES_OF_STATUSES = {
    0x71: "fault",
    0x72: "zero",
    0x73: "moving",
    0x74: "stable",
    0x75: "under_zero",
    0x76: "over_limit",
    0x77: "needs_calibration",
    0x78: "needs_zero",
}


def test_usage_numbers_are_those_of_the_hid_tables():
    assert (SCALES_PAGE, DATA_WEIGHT, DATA_SCALING) == (0x8D, 0x40, 0x41)
    assert {UNITS + place: unit for place, unit in enumerate(HID_UNITS, 1)} == USAGES_OF_UNITS
    assert {STATUSES + place: state.value for place, state in enumerate(STATUS_WORDS, 1)} == USAGES_OF_STATUSES


@pytest.mark.parametrize("usage", USAGES_OF_STATUSES)
def test_a_status_byte_is_its_index_in_the_list(usage):
    got = read_report(bytes([3, usage - 0x70, 11, 0xFF, 12, 0]))
    assert got.state == USAGES_OF_STATUSES[usage]
    assert (got.value is None) == (usage in (0x71, 0x76, 0x77, 0x78))


@pytest.mark.parametrize("usage", USAGES_OF_UNITS)
def test_a_unit_byte_is_its_index_in_the_list(usage):
    got = read_report(bytes([3, 4, usage - 0x50, 0xFF, 12, 0]))
    assert (got.unit, got.value) == (USAGES_OF_UNITS[usage], Decimal("1.2"))
    asked = {"tael": "no"}.get(got.unit, "yes" if got.unit in DESK_UNITS else "ask first")
    assert got.may_capture == asked


# United States Mint, coin specifications (from memory): the mass of a new coin.
COINS = [("cent", "2.500"), ("nickel", "5.000"), ("dime", "2.268"), ("quarter", "5.670"), ("half dollar", "11.340")]


@pytest.mark.parametrize(("coin", "grams"), COINS)
def test_coins_used_as_check_weights_have_their_published_weight(coin, grams):
    """Five quarters are an ounce to a twentieth of a gram, and five nickels are 25 g (from memory of the Mint)."""
    assert parse_typed(f"{grams} g", WeightUnit.OUNCE).weight.grams == Decimal(grams), coin


def test_five_quarters_weigh_an_ounce():
    """United States Mint (from memory): 5.670 g each; worked out: 28.350 g, within 0.001 g of an ounce."""
    five = parse_typed("5.670 g", WeightUnit.GRAM).weight * 5
    assert abs(five.grams - OUNCE_G) < Decimal("0.001")


@pytest.mark.parametrize(("steps", "still"), [(0, True), (1, True), (2, False), (3, False)])
def test_stable_means_within_one_division(steps, still):
    """NIST Handbook 44, Scales, S.2.5 (class III) and OIML R 76-1, 4.4.2, both from memory: within one division."""
    machine = Settling(StepRule(Decimal("0.1"), "oz"))
    base, events = Decimal("4.2"), []
    for place in range(30):
        value = base + Decimal("0.1") * (steps if place % 2 else 0)
        events += machine.feed(place / 10, shown_reading(value, "oz", State.NOT_TOLD, b""))
    assert bool(events) == still
