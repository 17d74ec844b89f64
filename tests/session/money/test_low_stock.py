"""What is not enough for the packages that wait here."""

from __future__ import annotations

import pytest

from desk.domain.clock import today
from desk.domain.money import Money
from desk.session.money.low_stock import running_out, running_out_words
from desk.session.money.stock import INSERTS, buy, stock_items
from desk.session.undo import undo
from tests.session import made

pytestmark = pytest.mark.stocked(
    [made.order(number) for number in ("1001", "1002")],
    weights={number: made.weighing("0.7") for number in ("1001", "1002")},
)


def bought(sitting, pile, name: str, count: int) -> None:
    item = next(one for one in stock_items(pile) if one.name == name)
    buy(sitting, item, count, Money(100), today(sitting.clock))


def test_stock_that_was_never_bought_or_counted_is_not_reported_as_low(sitting, pile) -> None:
    assert running_out(sitting, pile) == ()
    assert running_out_words(()) == ""


@pytest.mark.parametrize(("count", "names"), [(1, ("A7",)), (2, ())])
def test_two_packages_need_two_mailers(sitting, pile, count: int, names: tuple[str, ...]) -> None:
    bought(sitting, pile, "A7", count)
    assert running_out(sitting, pile) == names


def test_several_materials_are_named_in_one_line(sitting, pile) -> None:
    bought(sitting, pile, "A7", 1)
    bought(sitting, pile, INSERTS, 1)
    words = "Not enough for the packages here: Inserts and A7. See Costs > Stock."
    assert running_out_words(running_out(sitting, pile)) == words
    undo(sitting)
    assert running_out(sitting, pile) == ("A7",)
