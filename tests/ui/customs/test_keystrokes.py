"""Keys for a batch of 40 invented orders to 12 countries: from unknown products to complete, and with all known."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QLineEdit
from pytestqt.qtbot import QtBot

from desk.domain.money import Money
from desk.domain.orders.order import Order, OrderLine
from desk.domain.orders.piece import PieceKey
from desk.domain.places.address import Address
from desk.session.bench.weigh import weigh
from desk.session.importing.import_orders import import_orders, import_shop
from desk.ui.bridge import Desk
from desk.ui.customs.view import CustomsView, build
from tests.session.made import PADDED, shop, weighing

PLACES = (
    ("DE", "10115", "Berlin"), ("FR", "69002", "Lyon"), ("GB", "EC1Y 8SY", "London"), ("CA", "M5E 1T4", "Toronto"),
    ("JP", "100-0006", "Tokyo"), ("AU", "5024", "West Beach"), ("NL", "1012 AB", "Amsterdam"), ("CH", "8001", "Bern"),
    ("NO", "0150", "Oslo"), ("SE", "111 22", "Stockholm"), ("ES", "28001", "Madrid"), ("IT", "00187", "Roma"),
)  # fmt: skip
PRODUCTS = {  # name -> what is typed: words, code, origin, grams of one
    "Fern notebook": ("Hand-bound pocket notebook of blank paper", "482010", "US", "90"),
    "Moth print": ("Printed art print on paper, botanical design", "491191", "US", "20"),
    "Fox pin": ("Enamel pin of zinc alloy, worn on clothing", "711719", "CN", "12"),
    "Beeswax light": ("Beeswax candle poured in a tin, for the table", "340600", "US", "80"),
    "Linen wrap": ("Woven linen cloth for wrapping books", "630790", "LT", "60"),
    "Clay cup": ("Stoneware cup with glaze, for drinking", "691200", "US", "95"),
    "Oak bookmark": ("Bookmark carved of oak wood, for books", "442199", "US", "15"),
    "Leaf card": ("Letterpress printed greeting card with envelope", "490900", "US", "18"),
}
MOST_FIRST, MOST_KNOWN = 8.0, 0.0  # keys a piece


def orders(first: int) -> list[Order]:
    made = []
    for number in range(first, first + 40):
        country, code, city = PLACES[number % len(PLACES)]
        name = list(PRODUCTS)[number % len(PRODUCTS)]
        address = Address(f"Buyer {number}", "", f"Road {number}", "", city, "", code, country)
        made.append(Order(str(number), address, (OrderLine(name, 1, Money(1800)),), source="wave.csv"))
    return made


@pytest.fixture
def desk_of(open_desk: Callable[[Path], Desk], tmp_path: Path) -> Desk:
    desk = open_desk(tmp_path / "store.sqlite")
    import_shop(desk.sitting, shop(products=(), mailers=(PADDED,)))
    return desk


def take_wave(desk: Desk, first: int) -> None:
    wave = orders(first)
    import_orders(desk.sitting, wave)
    weigh(desk.sitting, [(PieceKey(order.number), weighing("5", "Padded")) for order in wave])


def count_keys(qtbot: QtBot, view: CustomsView) -> int:
    """Fill in what is missing as a person does: type in each field Enter leads to; return the keys pressed."""
    keys = 0
    if view.model.next_lacking(-1) is None:
        return keys
    view.next_missing()  # F6
    keys += 1
    for _ in range(200):
        here = QApplication.focusWidget()
        if not isinstance(here, QLineEdit):
            break
        text = next(_texts(view, here), "")
        here.selectAll()
        qtbot.keyClicks(here, text)
        qtbot.keyClick(here, Qt.Key.Key_Return)
        keys += len(text) + 1
    return keys


def _texts(view: CustomsView, here: QLineEdit):  # type: ignore[no-untyped-def]
    for card in view.editor.lines:
        for at, name in enumerate(("customs_words", "hs", "origin", "unit_weight")):
            if card.form.fields[name].editor() is here:
                yield PRODUCTS[card.view.item][at]


def test_forty_orders_take_few_keys_at_first_and_none_once_products_are_known(qtbot: QtBot, desk_of: Desk) -> None:
    take_wave(desk_of, 100)
    view = build(desk_of)
    assert isinstance(view, CustomsView)
    qtbot.addWidget(view)
    view.show()
    view.activateWindow()
    with qtbot.waitActive(view):
        pass
    first = count_keys(qtbot, view)
    assert view.model.next_lacking(-1) is None
    take_wave(desk_of, 200)
    assert len(view.model.rows) == 80
    known = count_keys(qtbot, view)
    assert 0 < first / 40 <= MOST_FIRST
    assert known / 40 <= MOST_KNOWN
