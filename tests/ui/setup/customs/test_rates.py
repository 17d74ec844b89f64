from __future__ import annotations

from datetime import date

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLineEdit
from pytestqt.qtbot import QtBot

from desk.ui.bridge import Desk
from desk.ui.setup.customs.rates import RatesPage


@pytest.fixture
def page(qtbot: QtBot, desk: Desk) -> RatesPage:
    page = RatesPage(desk)
    qtbot.addWidget(page)
    desk.changed.connect(lambda _told: page.refresh())
    page.refresh()
    page.resize(1000, 600)
    page.show()
    return page


def fill(qtbot: QtBot, page: RatesPage, name: str, text: str) -> QLineEdit:
    editor = page.form.fields[name].editor()
    assert isinstance(editor, QLineEdit)
    editor.clear()
    qtbot.keyClicks(editor, text)
    return editor


def test_a_rate_is_typed_and_saved_with_enter(qtbot: QtBot, page: RatesPage, desk: Desk) -> None:
    fill(qtbot, page, "currency", "gbp")
    qtbot.keyClick(fill(qtbot, page, "rate", "1.34"), Qt.Key.Key_Return)
    rate = next(rate for rate in desk.pile.terms.shop.rates if rate.from_currency == "GBP")
    assert (str(rate.rate), rate.on) == ("1.34", date(2026, 11, 25))
    shown = next(row for row in page.model.rows if row[0] == "GBP")
    assert shown[1:4] == ("1.34", "November 25, 2026", "yours")
    assert page.form.values()["currency"] == ""
    desk.undo()
    assert next(row for row in page.model.rows if row[0] == "GBP")[3] == "approximate, comes with the program"


def test_a_faulty_rate_stays_typed_with_its_fault(qtbot: QtBot, page: RatesPage) -> None:
    fill(qtbot, page, "currency", "GBP")
    qtbot.keyClick(fill(qtbot, page, "rate", "much"), Qt.Key.Key_Return)
    assert page.form.fields["rate"].fault.label.text() == "Expected dollars for one unit, such as 1.1172."
    assert page.form.values()["rate"] == "much"


def test_only_a_rate_of_the_shop_can_be_removed(page: RatesPage, desk: Desk) -> None:
    own = next(at for at, row in enumerate(page.model.rows) if row[0] == "EUR")
    page.table.selectRow(own)
    assert page.form.values()["currency"] == "EUR"
    page.remove()
    assert all("EUR" not in (rate.from_currency, rate.to_currency) for rate in desk.pile.terms.shop.rates)
    messages: list[str] = []
    desk.happened.connect(lambda event: messages.append(event.words))
    page.table.selectRow(next(at for at, row in enumerate(page.model.rows) if row[0] == "EUR"))
    page.remove()
    assert messages == ["Choose one of your own rates first."]
