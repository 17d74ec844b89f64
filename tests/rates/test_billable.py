"""The weight to write, and dimensional weight at its limits."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from desk.domain.length import INCH_MM, Size
from desk.domain.weight import Weight
from desk.rates.billable import billable, dimensional_weight, figure_of, whole_inches
from tests.rates.tiny import CUBIC, FLAT, GROUND, INTL_FLAT, LETTER, chart, codes

GRAMS = chart("in-grams", {"50": "1.00", "100": "2.00"}, unit="g")


@pytest.mark.parametrize(
    ("service", "ounces", "figure"),
    [
        (LETTER, "0.2", "1 oz"),
        (LETTER, "1.0", "1 oz"),
        (LETTER, "1.01", "2 oz"),
        (LETTER, "3.0", "3 oz"),
        (LETTER, "3.01", "3.5 oz"),
        (LETTER, "3.5", "3.5 oz"),
        (FLAT, "3.2", "4 oz"),
        (FLAT, "12.3", "13 oz"),
        (GROUND, "4.1", "5 oz"),  # not 8, the end of its row
        (GROUND, "15.0", "15 oz"),
        (GROUND, "15.001", "15.999 oz"),
        (GROUND, "15.999", "15.999 oz"),
        (GROUND, "15.9995", "1 lb"),
        (GROUND, "16.0", "1 lb"),
        (GROUND, "16.01", "2 lb"),
        (GROUND, "33", "3 lb"),
        (INTL_FLAT, "9", "9 oz"),
        (INTL_FLAT, "15.5", "15.994 oz"),
    ],
)
def test_the_billed_weight_is_rounded_as_the_service_rounds(service, ounces, figure):
    number, unit = figure_of(Weight.of(ounces, "oz"), service)
    assert f"{number} {unit}" == figure


@pytest.mark.parametrize(("grams", "figure"), [("49.1", "50"), ("50", "50"), ("0.2", "1"), ("500", "500")])
def test_a_list_in_grams_gives_whole_grams(grams, figure):
    assert figure_of(Weight.of(grams, "g"), GRAMS) == (Decimal(figure), "g")


def test_whole_ounces_in_grams_are_not_rounded_up():
    """A weight of n ounces in grams never counts as more than n ounces, as with the shortened factor 28.35."""
    wrong = [ounces for ounces in range(1, 16) if figure_of(Weight.of(ounces, "oz"), GROUND) != (Decimal(ounces), "oz")]
    assert wrong == []
    pounds = [pound for pound in range(1, 71) if figure_of(Weight.of(pound, "lb"), GROUND) != (Decimal(pound), "lb")]
    assert pounds == []


@pytest.mark.parametrize(
    ("mm", "rounding", "whole"),
    [
        (INCH_MM * 12, "up", 12),
        (INCH_MM * 12 + 1, "up", 13),
        (INCH_MM * 12, "nearest", 12),
        (INCH_MM * Decimal("12.49"), "nearest", 12),
        (INCH_MM * Decimal("12.5"), "nearest", 13),
    ],
)
def test_dimensions_are_rounded_to_whole_inches(mm, rounding, whole):
    assert whole_inches(mm, rounding) == whole


def test_the_volume_is_calculated_from_the_rounded_sides():
    just_under = Size.of("12", "12", "12", "in")
    assert dimensional_weight(just_under, CUBIC) is None
    # 12.1 goes up to 13: 13 x 12 x 12 = 1872, over 1728, and 1872 / 139 = 13.47
    assert dimensional_weight(Size.of("12.1", "12", "12", "in"), CUBIC) == Weight.of(14, "lb")
    assert dimensional_weight(Size.of("12.1", "12", "12", "in"), replace(CUBIC, rounding="nearest")) is None


def test_a_tube_counts_as_785_thousandths_of_its_box():
    size = Size.of("36", "8", "8", "in")  # 2304; times 0.785 = 1808.64; / 139 = 13.01
    assert dimensional_weight(size, CUBIC, tube=True) == Weight.of(14, "lb")
    assert dimensional_weight(size, CUBIC) == Weight.of(17, "lb")  # 16.58


def test_the_larger_weight_is_billed_with_its_reason():
    by_size = Weight.of(15, "lb")
    light = billable(Weight.of(3, "lb"), GROUND, by_size)
    assert (light.figure, light.unit, light.weight, light.dimensional) == (Decimal(15), "lb", by_size, True)
    assert codes(light.reasons) == ["dimensional-weight"]
    heavy = billable(Weight.of(16, "lb"), GROUND, by_size)
    assert (heavy.figure, heavy.dimensional, heavy.reasons) == (Decimal(16), False, ())


def test_a_label_added_later_is_reported():
    reported = billable(Weight.of(100, "g"), GROUND, None, Weight.of("1.5", "g")).reasons
    assert [(each.code, each.facts["grams"]) for each in reported] == [("label-weight-added", "1.5")]


def test_a_piece_as_heavy_as_its_dimensional_weight_is_billed_by_weight():
    ten = Weight.of(10, "lb")
    assert (billable(ten, GROUND, ten).dimensional, billable(ten, GROUND, ten).reasons) == (False, ())


@pytest.mark.parametrize(("sides", "pounds"), [(("19", "11", "11"), 13), (("16", "12", "12"), 14)])
def test_a_round_parcel_counts_785_thousandths_of_its_box(sides, pounds):
    """DMM Advisory, 2006-10-30: 2,299 cu in x 0.785 is 1,804.7, under 13 x 139 = 1,807; 2,304 x 0.785 is 1,808.6."""
    assert dimensional_weight(Size.of(*sides, "in"), CUBIC, tube=True) == Weight.of(pounds, "lb")
