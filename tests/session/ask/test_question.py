from datetime import date
from decimal import Decimal

import pytest

from desk.domain.exact import plain
from desk.domain.faults import Refused
from desk.domain.length import Size
from desk.domain.money import Money
from desk.domain.weight import Shown, WeightUnit
from desk.session.ask.question import Question

TODAY = date(2026, 7, 15)


def asked(**fields):
    return Question(fields)


def test_a_field_with_null_is_missing():
    assert asked(a=1).has("a") is True
    assert asked(a=None).has("a") is False
    assert asked().has("a") is False


@pytest.mark.parametrize(("value", "expected"), [("x", "x"), (7, "7"), ("", "")])
def test_a_text_field_is_read(value, expected):
    assert asked(a=value).text("a") == expected


@pytest.mark.parametrize(("value", "expected"), [(True, True), (False, False), ("yes", True), ("no", False)])
def test_a_yes_or_no_field_is_read(value, expected):
    assert asked(a=value).flag("a") is expected


def test_a_missing_field_gets_its_default():
    assert asked().text("a", "b") == "b"
    assert asked().flag("a", default=True) is True
    assert asked().day("date", TODAY) == TODAY
    assert asked(date="2026-11-25").day("date", TODAY) == date(2026, 11, 25)


def test_a_weight_names_its_step_or_gets_the_last_decimal():
    ounces = {"value": "1.2", "unit": "oz"}
    assert asked(weight=ounces).weight() == Shown(Decimal("1.2"), WeightUnit.OUNCE, Decimal("0.1"))
    assert asked(weight={**ounces, "division": "0.05"}).weight().division == Decimal("0.05")
    assert asked(weight={"value": 119, "unit": "g"}).weight().division == Decimal(1)


def test_a_size_and_an_amount_are_read():
    size = {"length": "9.5", "width": 4, "thickness": "0.05"}
    assert asked(size=size).size() == Size.of("9.5", "4", "0.05", "in")
    assert asked(size={**size, "unit": "mm"}).size() == Size.of("9.5", "4", "0.05", "mm")
    assert asked(value="12.50").money("value") == Money(1250)
    assert asked(value="1200").money("value", "JPY") == Money(1200, "JPY")


@pytest.mark.parametrize(
    ("fields", "read", "reported"),
    [
        ({}, lambda q: q.text("a"), "a: expected a text"),
        ({"a": True}, lambda q: q.text("a"), "a: expected a text"),
        ({"a": []}, lambda q: q.text("a"), "a: expected a text"),
        ({"a": "maybe"}, lambda q: q.flag("a"), "a: expected yes or no"),
        ({"a": []}, lambda q: q.flag("a"), "a: expected yes or no"),
        ({"a": 1}, lambda q: q.flag("a"), "a: expected yes or no"),
        ({}, lambda q: q.number("a"), "a: expected a number"),
        ({"a": "x"}, lambda q: q.number("a"), "a: expected a number"),
        ({"a": "NaN"}, lambda q: q.number("a"), "a: expected a number"),
        ({"a": "1e400"}, lambda q: q.number("a"), "a: expected a number"),
        ({"a": "1e-400"}, lambda q: q.number("a"), "a: expected a number"),
        ({"a": False}, lambda q: q.number("a"), "a: expected a number"),
        ({"a": "soon"}, lambda q: q.day("a", TODAY), "a: expected a date as YYYY-MM-DD"),
        ({"a": "1.005"}, lambda q: q.money("a"), "a: expected an amount of USD"),
        ({}, lambda q: q.weight(), "weight: expected an object"),
        ({"weight": "1 oz"}, lambda q: q.weight(), "weight: expected an object"),
        ({"weight": {"value": "1"}}, lambda q: q.weight(), "weight.unit: expected one of oz, lb, g, kg, lb-oz"),
        ({"weight": {"value": "x", "unit": "oz"}}, lambda q: q.weight(), "weight.value: expected a number"),
        (
            {"weight": {"value": "-1", "unit": "oz"}},
            lambda q: q.weight(),
            "weight: expected a weight that is not negative, and a division above 0",
        ),
        (
            {"weight": {"value": "1", "unit": "oz", "division": "0"}},
            lambda q: q.weight(),
            "weight: expected a weight that is not negative, and a division above 0",
        ),
        ({"size": {"length": 1, "width": 1}}, lambda q: q.size(), "size.thickness: expected a number"),
        ({"size": {"length": 1, "width": 1, "thickness": 0}}, lambda q: q.size(), "size: expected sides above 0"),
        (
            {"size": {"length": 1, "width": 1, "thickness": 1, "unit": "ft"}},
            lambda q: q.size(),
            "size.unit: expected one of in, mm",
        ),
        ({"a": [[1]]}, lambda q: list(q.rows("a", 2)), "a: expected a list of lists of 2"),
        ({"a": "x"}, lambda q: list(q.rows("a", 2)), "a: expected a list of lists of 2"),
    ],
)
def test_an_unreadable_field_is_refused_with_a_sentence(fields, read, reported):
    with pytest.raises(Refused) as refused:
        read(Question(fields))
    assert refused.value.sentence == reported


@pytest.mark.parametrize(
    ("number", "expected"), [("1.20", "1.2"), ("100", "100"), ("1E+2", "100"), ("0.0", "0"), ("0", "0")]
)
def test_numbers_are_written_without_exponents(number, expected):
    assert plain(Decimal(number)) == expected


def fits(read):
    """Return whether a field can be read."""
    try:
        read()
    except Refused:
        return False
    return True


@pytest.mark.parametrize(("value", "fit"), [("0", False), ("1", True), ("1000", True), ("1001", False), ("1.5", False)])
def test_a_whole_number_goes_from_one_to_a_thousand(value, fit):
    assert fits(lambda: asked(a=value).whole("a", 1)) is fit


@pytest.mark.parametrize(
    ("amount", "fit"), [("-0.01", False), ("0", True), ("0.01", True), ("20.00", True), ("20.01", False)]
)
def test_an_amount_goes_from_zero_to_its_limit(amount, fit):
    assert fits(lambda: asked(a=amount).money("a", most=Decimal(20))) is fit


@pytest.mark.parametrize(
    ("value", "division", "fit"),
    [
        ("0", "0.1", True),
        ("10000", "0.1", True),
        ("10000.1", "0.1", False),
        ("1", "10000", True),
        ("1", "10001", False),
    ],
)
def test_a_weight_goes_from_zero_to_ten_thousand_pounds(value, division, fit):
    assert fits(lambda: asked(weight={"value": value, "unit": "lb", "division": division}).weight()) is fit


@pytest.mark.parametrize(("length", "fit"), [("1000", True), ("1000.1", False)])
def test_a_side_goes_up_to_a_thousand_inches(length, fit):
    assert fits(lambda: asked(size={"length": length, "width": "1", "thickness": "1"}).size()) is fit


@pytest.mark.parametrize(("number", "fit"), [("1e12", True), ("1e13", False), ("1e-12", True), ("1e-13", False)])
def test_a_number_has_at_most_twelve_digits_on_either_side(number, fit):
    assert fits(lambda: asked(a=number).number("a")) is fit
