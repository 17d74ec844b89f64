from dataclasses import replace
from decimal import Decimal

import pytest

from desk.domain.money import Money
from desk.rates.lists.chart_compare import CellChange, compare
from tests.rates.tiny import FLAT, GROUND, LETTER, chart


def test_equal_lists_have_no_changes():
    assert compare(LETTER, LETTER) == ()
    assert compare(GROUND, GROUND) == ()


def test_the_ratio_has_four_decimals():
    higher = chart("letter-stamped", {"1": "0.85", "2": "1.10", "3": "1.40", "3.5": "1.70"})
    assert compare(LETTER, higher) == (CellChange("letter-stamped", "", "1", Money(80), Money(85)),)
    assert compare(LETTER, higher)[0].ratio == Decimal("1.0625")


def test_every_cell_of_a_list_without_a_predecessor_is_new():
    changes = compare(None, FLAT)
    assert len(changes) == 13
    assert {(change.before, change.ratio) for change in changes} == {(None, None)}


def test_missing_cells_come_last():
    shorter = chart("letter-stamped", {"1": "0.80", "2": "1.10", "4": "2.00"})
    assert [(change.weight, change.before, change.after) for change in compare(LETTER, shorter)] == [
        ("4", None, Money(200)),
        ("3", Money(140), None),
        ("3.5", Money(170), None),
    ]


def test_falling_prices_are_reported_even_where_nothing_changed():
    falling = chart("ground-retail", {"4": "7.00", "8": "6.90"}, key="5", keyed_by="zone", oversized={"5": Money(600)})
    assert [(change.weight, change.falls) for change in compare(falling, falling)] == [
        ("8", "weight"),
        ("oversized", "weight"),
    ]


def two_zones(near, far):
    first, second = (chart("g", cells, key="5", keyed_by="zone").rows["5"] for cells in (near, far))
    return replace(chart("g", near, key="5", keyed_by="zone"), rows={"1": first, "2": second})


def test_prices_that_fall_along_the_zones_are_reported():
    both = two_zones({"4": "7.00", "8": "8.00"}, {"4": "7.50", "8": "7.40"})
    assert [(each.key, each.weight, each.falls) for each in compare(both, both)] == [("2", "8", "weight and zone")]
    by_group = replace(both, keyed_by="group")
    assert [each.falls for each in compare(by_group, by_group)] == ["weight"]


def test_there_is_no_ratio_between_two_currencies():
    euros = replace(
        LETTER, rows={"": tuple(replace(row, price=Money(row.price.minor, "EUR")) for row in LETTER.rows[""])}
    )
    assert {change.ratio for change in compare(LETTER, euros)} == {None}


def test_an_equal_price_in_the_next_zone_is_not_a_fall():
    level = two_zones({"4": "7.00", "8": "8.00"}, {"4": "7.00", "8": "8.00"})
    assert compare(level, level) == ()


def test_a_weight_missing_from_the_nearer_zone_is_not_a_fall():
    both = two_zones({"4": "7.00"}, {"4": "7.50", "8": "8.00"})
    assert compare(both, both) == ()


def test_an_equal_price_in_the_next_zone_or_row_is_not_a_fall():
    both = two_zones({"4": "7.00", "8": "7.00"}, {"4": "7.00", "8": "7.00"})
    assert compare(both, both) == ()
    lower = two_zones({"4": "7.00", "8": "7.00"}, {"4": "7.00", "8": "6.99"})
    assert [each.falls for each in compare(lower, lower)] == ["weight and zone"]


@pytest.mark.parametrize(
    ("before", "after", "ratio"),
    [
        (Money(80), Money(100), Decimal("1.25")),
        (Money(0), Money(100), None),
        (None, Money(100), None),
        (Money(80), None, None),
        (Money(80), Money(100, "EUR"), None),
    ],
)
def test_a_ratio_needs_two_prices_in_one_currency(before, after, ratio):
    assert CellChange("media", "", "16", before, after).ratio == ratio
