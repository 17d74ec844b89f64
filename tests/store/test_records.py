"""Records as text and back."""

from __future__ import annotations

import json
from dataclasses import dataclass, field
from datetime import date, datetime
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from desk.domain.money import Money
from desk.domain.orders.order import Order, OrderLine
from desk.domain.shop.shop import Shop
from desk.domain.weight import Weight
from desk.store.ranges import chunks, from_ranges, to_ranges
from desk.store.records import from_text, to_text
from desk.store.times import from_utc_text, to_utc_text
from tests.store.samples import MONDAY, SHOP, order


def test_an_order_is_read_back_equal() -> None:
    assert from_text(Order, to_text(order())) == order()


def test_a_shop_is_read_back_equal_with_tuples() -> None:
    back = from_text(Shop, to_text(SHOP))

    assert back == SHOP
    assert isinstance(back.choices["letter"], tuple)


def test_every_decimal_keeps_its_digits() -> None:
    assert from_text(Weight, to_text(Weight(Decimal("1.20")))).grams.as_tuple() == Decimal("1.20").as_tuple()


def test_stored_text_contains_no_float() -> None:
    def refuse(text: str) -> float:
        raise AssertionError(text)

    assert json.loads(to_text(SHOP), parse_float=refuse)["policy"]["label_weight"] == {"grams": "1.20"}


@given(
    st.builds(
        Order,
        number=st.text(),
        address=st.just(order().address),
        lines=st.lists(
            st.builds(OrderLine, item=st.text(), quantity=st.integers(), unit_price=st.builds(Money, st.integers()))
        ).map(tuple),
        placed=st.none() | st.dates(),
        findings=st.just(()),
    )
)
def test_any_order_is_read_back_equal(some: Order) -> None:
    assert from_text(Order, to_text(some)) == some


@dataclass(frozen=True, slots=True)
class Old:
    name: str
    dropped: date


@dataclass(frozen=True, slots=True)
class New:
    name: str
    gained: tuple[int, ...] = field(default=(7,))


def test_a_removed_field_is_dropped_and_a_new_one_takes_its_default() -> None:
    assert from_text(New, to_text(Old("a", date(2026, 1, 1)))) == New("a", (7,))


def test_plain_values_need_no_conversion() -> None:
    assert from_text(str, to_text("IM04")) == "IM04"


def test_times_sort_as_text_and_are_read_back() -> None:
    assert to_utc_text(MONDAY) == "2026-03-02T09:00:00.000000+00:00"
    assert from_utc_text(to_utc_text(MONDAY)) == MONDAY
    assert from_utc_text(None) is None


def test_a_time_without_zone_is_refused() -> None:
    with pytest.raises(ValueError, match="time zone"):
        to_utc_text(datetime(2026, 1, 1))  # noqa: DTZ001


def test_ranges_of_ids_are_short() -> None:
    assert to_ranges([9, 1, 2, 3, 7]) == [[1, 3], [7, 7], [9, 9]]
    assert to_ranges(range(1, 10_001)) == [[1, 10_000]]


@given(st.sets(st.integers(0, 60)))
def test_ranges_give_back_the_ids(ids: set[int]) -> None:
    assert from_ranges(to_ranges(ids)) == sorted(ids)


def test_chunks_are_complete() -> None:
    assert [len(some) for some in chunks(range(12_000))] == [5000, 5000, 2000]
