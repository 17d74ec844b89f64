"""Stock at cost, first in, first out. The arithmetic of each case is written out."""

from __future__ import annotations

from datetime import date, timedelta
from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from desk.costs.stock import SPOILED, Lot, Taken, by_currency, costed, flow
from desk.domain.money import Money

DAY = date(2026, 1, 1)


def day(number: int) -> date:
    return DAY + timedelta(days=number)


def test_the_oldest_stock_is_used_first_at_its_own_cost() -> None:
    lots = [Lot(day(5), 10, Money(820)), Lot(day(0), 3, Money(234))]  # 0.78 each, then 0.82 each
    found = costed(lots, [Taken(day(7), 2), Taken(day(8), 4)])
    # 2 x 0.78 = 1.56; then 1 x 0.78 + 3 x 0.82 = 3.24
    assert [use.cost for use in found] == [Money(156), Money(324)]


def test_a_purchase_that_does_not_divide_evenly_costs_exactly_what_was_paid() -> None:
    found = costed([Lot(DAY, 3, Money(100))], [Taken(day(n), 1) for n in (1, 2, 3)])
    assert [use.cost.minor for use in found if use.cost] == [33, 33, 34]


def test_stock_without_a_price_has_no_cost_and_neither_has_stock_that_never_came() -> None:
    lots = [Lot(DAY, 1), Lot(day(1), 1, Money(80))]
    assert [use.cost for use in costed(lots, [Taken(day(n), 1) for n in (2, 3, 4)])] == [None, Money(80), None]
    assert [use.cost for use in costed(lots, [Taken(day(2), 2)])] == [None]  # one of the two has none


def test_pieces_bought_in_two_currencies_have_no_cost_in_either() -> None:
    """80 cents and 95 Canadian cents are not 1.75 of anything."""
    lots = [Lot(DAY, 1, Money(80)), Lot(day(1), 2, Money(190, "CAD"))]
    assert [use.cost for use in costed(lots, [Taken(day(2), 2), Taken(day(3), 1)])] == [None, None]
    assert [use.cost for use in costed(lots[:1], [Taken(day(2), 1)])] == [Money(80)]


def test_the_stock_of_a_worked_month_adds_up() -> None:
    lots = [Lot(day(0), 20, Money(1560)), Lot(day(40), 10, Money(820))]
    taken = [Taken(day(3), 5), Taken(day(35), 4), Taken(day(36), 1, SPOILED)]
    month = flow(lots, taken, day(31), day(58))
    # opening 20 - 5 = 15 at 0.78 = 11.70; bought 10 at 0.82 = 8.20; used 4 = 3.12; spoiled 1 = 0.78
    assert month.opening == (15, 1170)
    assert month.bought == (10, 820)
    assert (month.used, month.spoiled) == ((4, 312), (1, 78))
    assert month.closing == (20, 1600)  # 10 x 0.78 + 10 x 0.82


LOTS = st.lists(
    st.builds(Lot, st.integers(0, 60).map(day), st.integers(1, 30), st.integers(0, 5000).map(Money)), max_size=6
)
TAKEN = st.lists(
    st.builds(Taken, st.integers(0, 90).map(day), st.integers(1, 4), st.sampled_from(["used", SPOILED])), max_size=8
)


@given(LOTS, TAKEN, st.integers(0, 90))
def test_closing_stock_is_opening_plus_bought_less_used_and_spoiled(lots, taken, cut) -> None:
    """Closing is compared with a count of single pieces, each with its own cost, in a list."""
    units = []
    for lot in sorted(lots, key=lambda one: one.day):
        shares = [lot.price.minor * n // lot.count for n in range(lot.count + 1)]
        units += [after - before for before, after in pairwise(shares)]
    out = sum(one.count for one in taken)
    whole = flow(lots, taken, day(0), day(90))
    assert whole.closing == (len(units) - out, sum(units[out:]))
    first, second = flow(lots, taken, day(0), day(cut)), flow(lots, taken, day(cut + 1), day(90))
    assert first.closing == second.opening
    assert second.closing == whole.closing


def test_stock_of_unknown_price_and_stock_that_never_came_go_with_the_first_currency() -> None:
    found, dollars, euros = Lot(day(0), 2), Lot(day(1), 3, Money(300)), Lot(day(2), 4, Money(400, "EUR"))
    parts = by_currency([euros, dollars, found], [Taken(day(3), 6), Taken(day(4), 5)])
    assert parts == [
        ([found, dollars], [Taken(day(3), 5), Taken(day(4), 2)]),  # 2 + 3, and 2 more than ever came
        ([euros], [Taken(day(3), 1), Taken(day(4), 3)]),
    ]


def test_stock_in_no_known_currency_is_one_part() -> None:
    assert by_currency([Lot(DAY, 1)], [Taken(day(1), 2)]) == [([Lot(DAY, 1)], [Taken(day(1), 2)])]
