"""Order statuses: one spelling for comparison, and what a shop does with each."""

from __future__ import annotations

import pytest

from desk.domain.orders.order_status import Sorting, sorting_of, status_key
from desk.domain.shop.shop import Policy


@pytest.mark.parametrize(
    "status", ["Cancelled", "canceled", " CANCELED ", "Refunded", "refund", "VOIDED", "failed", "Cancel"]
)
def test_a_new_shop_skips_the_usual_statuses_in_any_case_and_spelling(status: str) -> None:
    assert sorting_of(status, Policy().ship_status, Policy().skip_status) is Sorting.SKIP


@pytest.mark.parametrize("status", ["unpaid", "partially refunded", "on hold", "not cancelled", "pending"])
def test_an_unassigned_status_neither_ships_nor_is_skipped(status: str) -> None:
    assert sorting_of(status, Policy().ship_status, Policy().skip_status) is Sorting.UNSORTED


@pytest.mark.parametrize("status", ["", "  ", "paid", "PAID"])
def test_a_paid_order_and_one_without_a_status_ship(status: str) -> None:
    assert sorting_of(status, Policy().ship_status, Policy().skip_status) is Sorting.SHIP


def test_the_shop_decides_and_skipping_has_priority() -> None:
    assert sorting_of("On hold", ("on-hold",), ()) is Sorting.SHIP
    assert sorting_of("paid", ("paid",), ("Paid",)) is Sorting.SKIP
    assert sorting_of("cancelled", ("paid",), ()) is Sorting.UNSORTED


def test_a_status_is_compared_without_case_accents_and_punctuation() -> None:
    assert status_key("  Payé — EN LIGNE! ") == "paye en ligne"
    assert status_key("order_cancelled") == "order canceled"
