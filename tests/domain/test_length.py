"""Length and size: exact millimeters, sides in order, volume in cubic inches."""

from decimal import Decimal

import pytest

from desk.domain.length import Length, LengthUnit, Size, inches


@pytest.mark.parametrize(
    ("value", "unit", "mm"),
    [
        ("11.5", "in", "292.1"),
        (1, "in", "25.4"),
        ("0.25", "in", "6.35"),
        ("235", "mm", "235"),
        (Decimal("6.1"), "mm", "6.1"),
    ],
)
def test_a_length_is_made_of_a_number_and_a_unit(value, unit, mm):
    assert Length.of(value, unit).mm == Decimal(mm)


@pytest.mark.parametrize("value", ["nan", "inf", "-inf", "wide", ""])
def test_a_length_without_a_number_is_refused(value):
    with pytest.raises(ValueError, match="not a"):
        Length.of(value, "in")


@pytest.mark.parametrize("unit", ["cm", "IN", "", "inch"])
def test_a_length_without_a_unit_is_refused(unit):
    with pytest.raises(ValueError, match="LengthUnit"):
        Length.of("1", unit)


def test_lengths_can_be_added_multiplied_and_compared():
    assert inches("0.5") + inches("0.25") == inches("0.75")
    assert inches(3) * 2 == inches(6)
    assert inches("6.125") < inches("6.126")
    assert Length.of("25.4", LengthUnit.MILLIMETER) == inches(1)


def test_a_length_is_shown_in_inches():
    assert Length.of("292.1", "mm").inches() == Decimal("11.5")


def test_dimensions_are_sorted_longest_first():
    size = Size.of("0.05", "9.5", "4.125", "in")

    assert size.sides() == (inches("9.5"), inches("4.125"), inches("0.05"))
    assert size.length == inches("0.05")


@pytest.mark.parametrize(
    ("sides", "unit", "volume"),
    [(("18", "14", "8"), "in", "2016"), (("14", "10", "4"), "in", "560"), (("254", "254", "254"), "mm", "1000")],
)
def test_the_volume_is_in_cubic_inches(sides, unit, volume):
    assert Size.of(*sides, unit).cubic_inches() == Decimal(volume)


def test_a_size_with_a_side_that_is_not_a_number_is_refused():
    with pytest.raises(ValueError, match="not a"):
        Size.of("9", "x", "1", "in")
