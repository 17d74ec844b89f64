"""The shipped list under the shop's own column names."""

from __future__ import annotations

import csv
from dataclasses import replace
from datetime import timedelta

import pytest

from desk.domain.clock import today
from desk.domain.faults import Refused
from desk.session.lists.shipped_list import (
    ShippedHeaders,
    save_shipped_headers,
    save_shipped_list,
    shipped_headers,
)
from desk.session.papers.hand_over import hand_pieces_over
from desk.session.papers.stamps_on import put_stamps_on
from desk.session.undo import undo
from tests.session import made


@pytest.fixture
def left(sitting):
    made.stock(sitting, [made.order("1001"), made.order("1002")])
    pile = made.following_pile(sitting)
    pile.terms = replace(pile.terms, on=sitting.on + timedelta(days=1))
    made.weigh_piece(sitting, 1, made.weighing("0.7"))
    put_stamps_on(sitting, pile, [1])
    hand_pieces_over(sitting, pile, [1])
    return sitting


def test_only_handed_over_orders_are_listed_under_the_shops_column_names(left, tmp_path) -> None:
    save_shipped_headers(left, ShippedHeaders("Order ID", "Tracking  code", "Shipped on"))
    assert save_shipped_list(left, tmp_path / "shipped.csv") == 1
    with (tmp_path / "shipped.csv").open(encoding="utf-8") as lines:
        (row,) = csv.DictReader(lines)
    day = today(left.clock) + timedelta(days=1)  # handed over for tomorrow's mail
    assert row == {"Order ID": "1001", "Tracking code": "", "Shipped on": day.isoformat()}
    undo(left)
    assert shipped_headers(left) == ShippedHeaders()


@pytest.mark.parametrize("names", [("", "b", "c"), ("a", "  ", "c"), ("a", "A ", "c")])
def test_a_missing_or_repeated_name_is_refused(left, names) -> None:
    with pytest.raises(Refused):
        save_shipped_headers(left, ShippedHeaders(*names))
    assert shipped_headers(left) == ShippedHeaders()
