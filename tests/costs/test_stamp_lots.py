"""Stamps at their cost: first in, first out, to the cent."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from desk.costs.stamp_lots import StampAmount, StampEvent, StampLedger, StampMove, statement
from desk.domain.money import Money

DAY = date(2026, 3, 1)


def move(day: int, event: StampEvent, count: int, paid: int | None = None, kind: str = "forever") -> StampMove:
    return StampMove(DAY + timedelta(days=day), kind, event, count, None if paid is None else Money(paid))


def test_a_worked_month():
    """20 at 0.78 and 100 at 0.82: 25 used cost 20 x 0.78 + 5 x 0.82 = 19.70; 2 spoiled cost 1.64; 93 left: 76.26."""
    moves = [
        move(-30, StampEvent.BOUGHT, 20, 1560),
        move(2, StampEvent.BOUGHT, 100, 8200),
        move(5, StampEvent.USED, 25),
        move(9, StampEvent.SPOILED, 2),
    ]
    (month,) = statement(moves, DAY, DAY + timedelta(days=30))
    assert month.opening == StampAmount(20, Money(1560))
    assert month.bought == StampAmount(100, Money(8200))
    assert month.used == StampAmount(25, Money(1970))
    assert month.spoiled == StampAmount(2, Money(164))
    assert month.closing == StampAmount(93, Money(7626))


def test_a_purchase_that_does_not_divide_evenly_loses_no_cent():
    ledger = StampLedger()
    ledger.apply(move(0, StampEvent.BOUGHT, 3, 100))
    costs = [ledger.apply(move(1, StampEvent.USED, 1)).cost.minor for _ in range(3)]
    assert sum(costs) == 100
    assert max(costs) - min(costs) <= 1


def test_stamps_without_a_purchase_cost_their_face_value_and_are_counted():
    (line,) = statement([move(0, StampEvent.USED, 3)], DAY, DAY, faces={"forever": Money(82)})
    assert (line.used, line.unpriced) == (StampAmount(3, Money(246)), 3)


@pytest.mark.parametrize(("count", "paid"), [(0, 100), (-1, 100), (5, None), (5, -1)])
def test_a_purchase_has_a_count_and_a_price(count, paid):
    with pytest.raises(ValueError, match=r"at least 1|0 or more"):
        StampLedger().apply(move(0, StampEvent.BOUGHT, count, paid))


EVENTS = st.tuples(st.integers(0, 60), st.sampled_from(list(StampEvent)), st.integers(1, 40), st.integers(0, 5000))


@given(st.lists(EVENTS, max_size=40), st.integers(0, 30), st.integers(0, 30))
def test_opening_plus_bought_minus_used_and_spoiled_is_closing(events, start, length):
    moves = [move(0, StampEvent.BOUGHT, 2000, 160_001)]
    moves += [
        move(day, event, count, paid if event is StampEvent.BOUGHT else None) for day, event, count, paid in events
    ]
    first, last = DAY + timedelta(days=start), DAY + timedelta(days=start + length)
    for line in statement(moves, first, last):
        assert line.unpriced == 0
        assert line.opening + line.bought - line.used - line.spoiled == line.closing


def test_the_first_and_the_last_day_belong_to_the_span():
    moves = [move(0, StampEvent.BOUGHT, 10, 820), move(5, StampEvent.USED, 2), move(5, StampEvent.BOUGHT, 1, 82)]
    (span,) = statement(moves, DAY, DAY + timedelta(days=5))
    assert (span.opening.count, span.bought.count, span.used.count, span.closing.count) == (0, 11, 2, 9)
    (after,) = statement(moves, DAY + timedelta(days=6), DAY + timedelta(days=9))
    assert (after.opening.count, after.bought.count, after.used.count) == (9, 0, 0)
    (before,) = statement(moves, DAY, DAY + timedelta(days=4))
    assert (before.bought.count, before.used.count, before.closing.count) == (10, 0, 10)


def test_a_purchase_is_available_on_its_day():
    (span,) = statement([move(0, StampEvent.USED, 2), move(0, StampEvent.BOUGHT, 2, 150)], DAY, DAY)
    assert (span.used, span.closing.count, span.unpriced) == (StampAmount(2, Money(150)), 0, 0)


def test_a_purchase_for_nothing_counts():
    ledger = StampLedger()
    assert ledger.apply(move(0, StampEvent.BOUGHT, 1, 0)).cost == Money(0)
    assert ledger.on_hand("forever") == StampAmount(1, Money(0))


def test_stamps_used_before_the_span_are_not_unpriced_in_it():
    moves = [move(-3, StampEvent.USED, 4), move(1, StampEvent.USED, 1)]
    (span,) = statement(moves, DAY, DAY + timedelta(days=2), faces={"forever": Money(82)})
    assert (span.unpriced, span.used) == (1, StampAmount(1, Money(82)))
