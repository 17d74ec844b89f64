"""The page of stock: purchases, spoiled and counted pieces, and the stock on a day."""

from __future__ import annotations

from datetime import date

import pytest
from pytestqt.qtbot import QtBot

from desk.domain.money import Money
from desk.session.money.stock import buy
from desk.ui.bridge import Desk
from desk.ui.costs.stock_page import StockPage
from desk.ui.costs.view import STOCK, CostsView
from tests.ui.screens import show_screen


@pytest.fixture
def page(qtbot: QtBot, weighed_desk: Desk) -> StockPage:
    view = show_screen(qtbot, CostsView(weighed_desk))
    view.open_page(STOCK)
    view.stock_of.item.setCurrentText("Inserts")
    return view.stock_of


def row(page: StockPage) -> tuple[str, ...] | None:
    return next((one for one in page.model.rows if one[0] == "Inserts"), None)


def test_a_purchase_is_shown_with_its_cost_and_can_be_undone(page: StockPage) -> None:
    page.count.setText("100")
    page.price.setText("$5.00")
    page.enter_purchase()
    found = row(page)
    assert found is not None
    assert found[1:3] == ("100", "$5.00")
    page.desk.undo()
    page.refresh()
    assert row(page) is None


def test_a_cost_is_shown_in_each_currency_of_its_purchases(page: StockPage) -> None:
    item = next(one for one in page.items if one.words == "Inserts")
    page.desk.do(buy, item, 100, Money(500, "CAD"), date(2026, 7, 12))
    page.desk.do(buy, item, 100, Money(700, "JPY"), date(2026, 7, 13))
    page.refresh()
    found = row(page)
    assert found is not None
    assert found[1:3] == ("200", "CAD 5.00 + JPY 700")


def test_stock_that_was_never_priced_is_not_shown_as_free(page: StockPage) -> None:
    forever = next(one for one in page.model.rows if one[0] == "Forever")
    assert (int(forever[1]) > 0, forever[2]) == (True, "not entered")


def test_on_a_day_before_the_purchase_there_is_no_stock(page: StockPage) -> None:
    page.count.setText("100")
    page.price.setText("5")
    page.day.setText("2026-07-12")
    page.enter_purchase()
    page.day.setText("2026-07-11")
    page.refresh()
    found = row(page)
    assert found is not None
    assert found[1] == "0"


@pytest.mark.parametrize(
    ("count", "price", "day", "words"),
    [
        ("0", "5", "", "The number bought must be from 1 to 1000000."),
        ("12", "-3", "", "Can't read \u201c-3\u201d as a price. Type it like 12.50."),
        ("a lot", "5", "", "Can't read \u201ca lot\u201d as a number of pieces."),
        ("12", "5", "July", "Can't read \u201cJuly\u201d as a day. Type it like 2026-07-12."),
    ],
)
def test_unreadable_input_gives_one_sentence_and_changes_nothing(
    qtbot: QtBot, page: StockPage, count: str, price: str, day: str, words: str
) -> None:
    page.count.setText(count)
    page.price.setText(price)
    page.day.setText(day)
    with qtbot.waitSignal(page.desk.happened) as reported:
        page.enter_purchase()
    assert reported.args[0].words == words
    assert row(page) is None
