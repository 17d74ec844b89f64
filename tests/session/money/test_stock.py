"""Stock of stamps and materials, from purchases to the year's sheet. The arithmetic is written out."""

from __future__ import annotations

from contextlib import nullcontext
from datetime import date, timedelta

import pytest

from desk.domain.clock import today
from desk.domain.faults import Refused
from desk.domain.ledger import Entry
from desk.domain.money import Money
from desk.session.money.books import read_books
from desk.session.money.stock import (
    INSERTS,
    MOST,
    buy,
    count_stock,
    read_stock,
    spoil,
    stock_items,
    stock_sheet,
)
from desk.session.papers.hand_over import hand_pieces_over
from desk.session.papers.stamps_on import put_stamps_on
from desk.session.undo import undo
from desk.store.tables import movements
from tests.session import made

pytestmark = pytest.mark.stocked([made.order("1001"), made.order("1002")], weights={"1001": made.weighing("0.7")})


def item(pile, words):
    return next(one for one in stock_items(pile) if words in (one.name, one.words))


def row(sitting, pile, words):
    return next((one for one in read_stock(sitting, pile) if words in (one.item.name, one.item.words)), None)


def left(sitting, pile, number=1):
    put_stamps_on(sitting, pile, [number])
    hand_pieces_over(sitting, pile, [number])


def test_a_mailer_is_counted_down_from_its_first_purchase_and_undo_puts_it_back(sitting, pile) -> None:
    assert row(sitting, pile, "A7") is None
    buy(sitting, item(pile, "A7"), 50, Money(1000), today(sitting.clock))
    left(sitting, pile)
    bought = row(sitting, pile, "A7")
    assert bought.left == 49
    assert bought.on(today(sitting.clock)) == (49, 980)  # 1000 - 1 x 20
    assert bought.month == 1
    assert row(sitting, pile, INSERTS) is None
    undo(sitting)
    assert row(sitting, pile, "A7").left == 50


def test_there_is_no_stock_on_a_day_before_the_purchase(sitting, pile) -> None:
    day = today(sitting.clock)
    buy(sitting, item(pile, "A7"), 50, Money(1000), day)
    assert row(sitting, pile, "A7").on(day - timedelta(days=1)) == (0, 0)


def test_spoiled_and_miscounted_pieces_leave_at_cost_and_undo_restores_them(sitting, pile) -> None:
    day = today(sitting.clock)
    buy(sitting, item(pile, "A7"), 10, Money(200), day)
    spoil(sitting, item(pile, "A7"), 2)
    count_stock(sitting, item(pile, "A7"), 7)
    flow = row(sitting, pile, "A7").between(day, day)
    assert (flow.bought, flow.spoiled, flow.closing) == ((10, 200), (3, 60), (7, 140))
    undo(sitting)
    undo(sitting)
    assert row(sitting, pile, "A7").left == 10
    undo(sitting)
    assert row(sitting, pile, "A7") is None


@pytest.mark.parametrize(("count", "price"), [(0, 100), (-1, 100), (10, -1)])
def test_a_count_of_zero_and_a_negative_price_are_refused(sitting, pile, count, price) -> None:
    with pytest.raises(Refused):
        buy(sitting, item(pile, "A7"), count, Money(price), date(2026, 7, 1))
    assert row(sitting, pile, "A7") is None


def test_a_count_prices_no_more_than_the_pieces_counted(sitting, pile) -> None:
    """3 more were used than ever counted; then 10 are found, for 5.00 in all."""
    a7 = item(pile, "A7")
    with sitting.store.act("used") as tx:
        movements.move(tx, a7.kind, {a7.name: -3}, "spoiled")
    count_stock(sitting, a7, 10, Money(500))
    assert row(sitting, pile, "A7").left == 10
    assert row(sitting, pile, "A7").between(today(sitting.clock), today(sitting.clock)).bought == (13, 500)


def test_a_purchase_may_cost_nothing(sitting, pile) -> None:
    buy(sitting, item(pile, "A7"), 5, Money(0), today(sitting.clock))
    assert row(sitting, pile, "A7").on(today(sitting.clock)) == (5, 0)


@pytest.mark.parametrize(("count", "refused"), [(MOST, False), (MOST + 1, True)])
def test_a_count_has_a_limit(sitting, pile, count, refused) -> None:
    with pytest.raises(Refused, match="from 0 to") if refused else nullcontext():
        count_stock(sitting, item(pile, "A7"), count)


@pytest.mark.parametrize(("there", "count"), [(-3, 0), (5, 5), (5, 4)])
def test_a_price_that_no_piece_would_get_is_refused(sitting, pile, there, count) -> None:
    a7 = item(pile, "A7")
    with sitting.store.act("there") as tx:
        movements.move(tx, a7.kind, {a7.name: there}, "spoiled")
    with pytest.raises(Refused, match="so the price isn't used"):
        count_stock(sitting, a7, count, Money(500))
    assert row(sitting, pile, "A7").left == there
    count_stock(sitting, a7, count)
    assert row(sitting, pile, "A7").left == count


def test_more_than_the_stock_cannot_be_spoiled(sitting, pile) -> None:
    buy(sitting, item(pile, "A7"), 10, Money(200), date(2026, 7, 1))
    with pytest.raises(Refused, match="There are 10 on hand"):
        spoil(sitting, item(pile, "A7"), 11)


def test_stock_is_low_below_what_the_batch_and_a_month_need(sitting, pile) -> None:
    buy(sitting, item(pile, "A7"), 2, Money(40), today(sitting.clock))
    made.weigh_piece(sitting, 2, made.weighing("0.7"))
    assert not row(sitting, pile, "A7").runs_low  # 2 on hand, 2 waiting
    left(sitting, pile)
    found = row(sitting, pile, "A7")  # 1 on hand, 1 waiting, 1 used in a month
    assert (found.runs_low, found.to_buy) == (True, 1)


def test_the_ledger_has_stamps_at_their_purchase_price(sitting, pile) -> None:
    """The stamps of the shop are taken as counted away, then 10 are bought at 0.50 each."""
    used = pile.verdicts[1].stamps
    assert len(used.stamps) == 1
    stamp = next(one for one in stock_items(pile) if one.name == used.stamps[0].kind.value)
    count_stock(sitting, stamp, 0)
    buy(sitting, stamp, 10, Money(500), today(sitting.clock))
    lots = row(sitting, pile, stamp.name).lots
    assert lots[0].price is None or lots[0].price == Money(500)
    pile = made.following_pile(sitting)
    worth = pile.verdicts[1].offer.price + pile.verdicts[1].stamps.overpaid
    left(sitting, pile)
    number = pile.verdicts[1].stamps or used
    entries = {one.entry: one.amount for one in read_books(sitting)}
    spent = entries[Entry.POSTAGE_ESTIMATED] + entries.get(Entry.STAMPS_OVER, Money(0)) + entries[Entry.STAMP_PRICE]
    assert spent == Money(-50 * sum(one.number for one in number.stamps))
    assert entries[Entry.STAMP_PRICE] == worth + spent


def test_the_sheet_of_the_year_adds_up(sitting, pile) -> None:
    buy(sitting, item(pile, "A7"), 10, Money(199), date(2026, 1, 5))
    (line,) = [one for one in stock_sheet(read_stock(sitting, pile), 2026).rows if one[0] == "A7"]
    opening, bought, used, spoiled, closing = line[1:6]
    assert opening + bought - used - spoiled == closing == 10
    assert (str(line[10]), line[11]) == ("1.99", "USD")


def test_costs_of_stock_have_the_decimals_of_their_currency(sitting, pile) -> None:
    """ISO 4217: the yen has no minor unit."""
    buy(sitting, item(pile, "A7"), 10, Money(1990, "JPY"), date(2026, 1, 5))
    (line,) = [one for one in stock_sheet(read_stock(sitting, pile), 2026).rows if one[0] == "A7"]
    assert (str(line[10]), line[11]) == ("1990", "JPY")


def test_costs_in_two_currencies_are_in_two_rows(sitting, pile) -> None:
    buy(sitting, item(pile, "A7"), 10, Money(200), date(2026, 1, 5))
    buy(sitting, item(pile, "A7"), 10, Money(500, "CAD"), date(2026, 1, 6))
    spoil(sitting, item(pile, "A7"), 12)  # all 10 in USD, then 2 of 10 in CAD
    rows = [one for one in stock_sheet(read_stock(sitting, pile), 2026).rows if one[0] == "A7"]
    closing = [(one[5], str(one[7]), str(one[9]), str(one[10]), one[11]) for one in rows]
    assert closing == [(0, "2.00", "2.00", "0.00", "USD"), (8, "5.00", "1.00", "4.00", "CAD")]


@pytest.mark.parametrize(("count", "refused"), [(0, True), (1, False), (5, False), (6, True)])
def test_exactly_the_stock_on_hand_can_be_spoiled(sitting, pile, count, refused) -> None:
    """The shop has five Forever stamps."""
    forever = item(pile, "forever")
    if refused:
        with pytest.raises(Refused, match=f"There are 5 on hand, so {count} can't be spoiled"):
            spoil(sitting, forever, count)
    else:
        spoil(sitting, forever, count)
        (there,) = [one.on(today(sitting.clock))[0] for one in read_stock(sitting, pile) if one.item == forever]
        assert there == 5 - count
