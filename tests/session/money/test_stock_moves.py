"""What stamps cost at hand-over, after a long history; and what the next 30 days may take."""

from __future__ import annotations

import random
from datetime import date, timedelta

import pytest

from desk.costs.stock import SPOILED, Taken
from desk.domain.clock import today
from desk.domain.money import Money
from desk.session.money.stock import StockItem, buy, count_stock, spoil
from desk.session.money.stock_moves import expected_use, read_moves, stamp_costs
from desk.store.tables import hand_overs, movements
from desk.store.tables.movements import CountedKind
from tests.session import made

NOW = date(2026, 12, 1)


def taken(*uses: tuple[int, int]) -> list[Taken]:
    """Uses: how many days ago, and how many."""
    return [Taken(NOW - timedelta(days=ago), count) for ago, count in uses]


@pytest.mark.parametrize(
    ("uses", "expected"),
    [
        ([], 0),
        ([(0, 4), (29, 3), (30, 50)], 19),  # the last 30 days took 7, the last 90 took 57: a third is 19
        ([(5, 40), (40, 10), (80, 10)], 40),  # the last 30 days took the most
        ([(5, 1), (40, 1), (80, 2)], 2),  # 4 in 90 days, a third rounded up
        ([(5, 10), (364, 90), (336, 5), (335, 7), (365, 50)], 102),  # a year ago: 90 + 5 + 7, not the day before
        ([(334, 90)], 0),  # a year ago, but 31 days on
    ],
)
def test_use_of_the_next_30_days_is_expected_from_the_last_90_and_a_year_ago(
    uses: list[tuple[int, int]], expected: int
) -> None:
    assert expected_use(taken(*uses), NOW) == expected


def test_spoiled_stock_is_not_expected_to_recur() -> None:
    assert expected_use([Taken(NOW, 9, SPOILED)], NOW) == 0


@pytest.fixture
def sold(sitting):
    return made.stock(sitting, [made.order(str(1000 + number)) for number in range(1, 16)])


FOREVER = StockItem(CountedKind.STAMP, "forever", "Forever")


def use(sitting, name: str, piece: int, count: int) -> None:
    with sitting.store.act("use") as tx:
        movements.move(tx, CountedKind.STAMP, {name: -count}, "used", piece)
        hand_overs.hand_over(tx, [piece])


def costs(sitting, *going: int) -> dict[int, int]:
    with sitting.store.reading() as conn:
        return {piece: cost.minor for piece, cost in stamp_costs(conn, going).items()}


def test_stamps_cost_what_the_oldest_ones_on_hand_did(sold) -> None:
    item, day = FOREVER, today(sold.clock)
    count_stock(sold, item, 0)  # the shop's own stock is gone
    left_over = item  # its stock had no price, and all of it left as missing
    buy(sold, left_over, 10, Money(500), day)
    buy(sold, left_over, 10, Money(700), day)
    use(sold, item.name, 1, 8)
    use(sold, item.name, 2, 4)
    assert costs(sold, 1, 2) == {1: 400, 2: 240}  # 8 x 0.50; 2 x 0.50 and 2 x 0.70
    assert costs(sold, 2) == {2: 240}


def test_two_kinds_of_stamps_on_a_package_cost_their_sum(sold) -> None:
    two_ounce = StockItem(CountedKind.STAMP, "two_ounce", "two-ounce")
    for item, price in ((FOREVER, 500), (two_ounce, 900)):
        count_stock(sold, item, 0)
        buy(sold, item, 10, Money(price), today(sold.clock))
        use(sold, item.name, 1, 1)
    assert costs(sold, 1) == {1: 140}  # 0.50 and 0.90


def test_stock_from_before_has_a_price_when_one_was_given(sold) -> None:
    item = FOREVER
    count_stock(sold, item, 0)
    count_stock(sold, item, 10, Money(600))
    use(sold, item.name, 1, 2)
    assert costs(sold, 1) == {1: 120}  # 2 x 0.60
    spoil(sold, item, 8)
    count_stock(sold, item, 5)  # found, without a price
    use(sold, item.name, 2, 1)
    assert costs(sold, 2) == {}


def test_stamps_are_charged_in_the_order_packages_leave(sold) -> None:
    """Two packages are stamped, and handed over one after the other: together they cost what their stamps did."""
    count_stock(sold, FOREVER, 0)
    buy(sold, FOREVER, 1, Money(50), today(sold.clock))
    buy(sold, FOREVER, 1, Money(70), today(sold.clock))
    with sold.store.act("stamps on") as tx:
        for piece in (1, 2):
            movements.move(tx, CountedKind.STAMP, {"forever": -1}, "used", piece)
    found = []
    for piece in (2, 1):
        with sold.store.act("leave") as tx:
            hand_overs.hand_over(tx, [piece])
        found.append(costs(sold, piece)[piece])
    assert found == [50, 70]


@pytest.mark.parametrize("seed", range(6))
def test_the_cost_of_each_hand_over_equals_first_in_first_out(sold, seed: int) -> None:
    chance = random.Random(seed)
    count_stock(sold, FOREVER, 0)
    shelf: list[int] = []
    for piece in range(1, 9):
        for _ in range(chance.randint(0, 2)):
            cents, count = chance.randint(30, 90), chance.randint(1, 6)
            buy(sold, FOREVER, count, Money(cents * count), today(sold.clock))
            shelf += [cents] * count
        if len(shelf) > 3 and chance.random() < 0.4:
            spoil(sold, FOREVER, 2)
            del shelf[:2]
        if shelf:
            count = chance.randint(1, min(len(shelf), 4))
            gone, shelf = shelf[:count], shelf[count:]
            use(sold, "forever", piece, count)
            assert costs(sold, piece) == {piece: sum(gone)}
    with sold.store.reading() as conn:
        lots, uses = read_moves(conn)
    key = CountedKind.STAMP, "forever"
    assert sum(lot.count for lot in lots[key]) - sum(one.count for one in uses[key]) == len(shelf)
