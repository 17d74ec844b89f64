"""Weight: made from typed text, added, shown, never a float."""

from dataclasses import FrozenInstanceError
from decimal import Decimal

import pytest

from desk.domain.weight import NOTHING, OUNCE_G, Shown, Weight, WeightUnit, last_place, pounds_and_ounces


@pytest.mark.parametrize(
    ("value", "unit", "grams"),
    [
        ("1", "oz", "28.349523125"),
        ("3.5", "oz", "99.2233309375"),
        (1, "lb", "453.59237"),
        ("19.2", "lb-oz", "544.310844000"),
        ("119", "g", "119"),
        (Decimal("0.1"), "kg", "100.0"),
        ("-0.1", "g", "-0.1"),
        ("0", WeightUnit.POUND, "0"),
    ],
)
def test_a_weight_is_made_of_a_number_and_a_unit(value, unit, grams):
    assert Weight.of(value, unit).grams == Decimal(grams)


@pytest.mark.parametrize("value", ["nan", "inf", "-inf", "", "1,2", "one", "1 oz"])
def test_a_weight_without_a_number_is_refused(value):
    with pytest.raises(ValueError, match="not a"):
        Weight.of(value, "g")


@pytest.mark.parametrize("unit", ["", "OZ", "ounce", "st", "mg"])
def test_a_weight_without_a_unit_is_refused(unit):
    with pytest.raises(ValueError, match="WeightUnit"):
        Weight.of("1", unit)


def test_weights_can_be_added_subtracted_and_multiplied():
    ounce = Weight.of(1, "oz")

    assert ounce + ounce == Weight.of(2, "oz")
    assert Weight.of(2, "oz") - ounce == ounce
    assert ounce * 16 == Weight.of(1, "lb")


def test_weights_compare_by_what_they_weigh():
    assert Weight.of(16, "oz") == Weight.of(1, "lb")
    assert Weight.of("15.999", "oz") < Weight.of(1, "lb")
    assert Weight.of(1, "kg") > Weight.of(2, "lb")
    assert max(Weight.of(1, "oz"), Weight.of(28, "g")) == Weight.of(1, "oz")


def test_equal_weights_have_one_hash():
    assert {Weight.of("1.0", "kg"): "a"}[Weight.of(1000, "g")] == "a"


def test_only_zero_is_false():
    assert not NOTHING
    assert not Weight.of("0.0", "lb")
    assert Weight.of("-0.1", "g")


def test_a_weight_cannot_be_changed():
    with pytest.raises(FrozenInstanceError):
        Weight.of(1, "g").grams = Decimal(2)


def test_a_weight_is_not_a_number():
    with pytest.raises((TypeError, AttributeError)):
        Weight.of(1, "g") + 1
    with pytest.raises((TypeError, AttributeError)):
        assert Weight.of(1, "g") < 2


@pytest.mark.parametrize(
    ("unit", "number"),
    [
        (WeightUnit.OUNCE, "16"),
        (WeightUnit.POUND, "1"),
        (WeightUnit.GRAM, "453.59237"),
        (WeightUnit.KILOGRAM, "0.45359237"),
        (WeightUnit.POUND_OUNCE, "16"),
    ],
)
def test_a_pound_is_converted_to_each_unit(unit, number):
    assert Weight.of(1, "lb").in_unit(unit) == Decimal(number)


def test_ounces_are_short_for_price_rows():
    assert Weight.of(119, "g").ounces().quantize(Decimal("0.0001")) == Decimal("4.1976")


def test_a_reading_keeps_what_was_shown():
    shown = Shown(Decimal("4.20"), WeightUnit.OUNCE, Decimal("0.1"))

    assert str(shown.value) == "4.20"
    assert shown.weight == Weight(Decimal("4.20") * OUNCE_G)
    assert shown.step == Weight.of("0.1", "oz")


def test_a_reading_in_pounds_and_ounces_has_its_step_in_ounces():
    shown = Shown(Decimal("19.2"), WeightUnit.POUND_OUNCE, Decimal("0.2"))

    assert shown.weight == Weight.of(1, "lb") + Weight.of("3.2", "oz")
    assert shown.step == Weight.of("0.2", "oz")


@pytest.mark.parametrize(
    ("typed", "step"),
    [("4.2", "0.1"), ("4.20", "0.01"), ("119", "1"), ("0.005", "0.001"), ("1E+2", "1"), ("0", "1"), ("0.0", "0.1")],
)
def test_the_step_is_one_of_the_last_decimal_typed(typed, step):
    assert last_place(Decimal(typed)) == Decimal(step)


@pytest.mark.parametrize(
    ("ounces", "place", "expected"),
    [
        ("15.994", "0.01", (0, "15.99")),
        ("15.996", "0.01", (1, "0.00")),  # rounds to a whole pound
        ("16", "0.001", (1, "0.000")),
        ("19.2", "0.01", (1, "3.20")),
    ],
)
def test_ounces_next_to_pounds_stay_under_sixteen(ounces, place, expected):
    pounds, rest = pounds_and_ounces(Weight.of(ounces, "oz"), Decimal(place))
    assert (pounds, str(rest)) == expected


@pytest.mark.parametrize(("unit", "words"), [("lb-oz", "1 lb 3.2 oz"), ("oz", "19.2 oz")])
def test_a_reading_as_text_is_as_the_scale_showed_it(unit, words):
    assert Shown(Decimal("19.2"), WeightUnit(unit), Decimal("0.1")).words == words


def test_weights_compare_on_both_sides_and_when_equal():
    less, same, more = Weight.of("0.9", "g"), Weight.of(1, "g"), Weight.of("1.1", "g")
    one = Weight.of("0.001", "kg")
    assert [less < one, same < one, more < one] == [True, False, False]
    assert [less <= one, same <= one, more <= one] == [True, True, False]
    assert [less > one, same > one, more > one] == [False, False, True]
    assert [less >= one, same >= one, more >= one] == [False, True, True]


@pytest.mark.parametrize(
    ("unit", "counted_in"),
    [
        (WeightUnit.POUND_OUNCE, WeightUnit.OUNCE),
        (WeightUnit.OUNCE, WeightUnit.OUNCE),
        (WeightUnit.POUND, WeightUnit.POUND),
        (WeightUnit.GRAM, WeightUnit.GRAM),
        (WeightUnit.KILOGRAM, WeightUnit.KILOGRAM),
    ],
)
def test_only_pounds_and_ounces_are_counted_in_another_unit(unit, counted_in):
    assert unit.counted_in is counted_in
