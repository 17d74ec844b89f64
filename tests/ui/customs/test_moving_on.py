"""Going through what is missing on Customs: Enter skips no piece, and Y closes one issue that can be answered."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QLineEdit
from pytestqt.qtbot import QtBot

from desk.domain.orders.order import Order
from desk.domain.orders.piece import PieceKey
from desk.domain.places.address import Address
from desk.domain.shop.product import Product, Restriction
from desk.domain.weight import Weight
from desk.session.bench.weigh import weigh
from desk.session.customs.declarations import declaration_view
from desk.session.importing.import_orders import import_orders, import_shop
from desk.ui.bridge import Desk
from desk.ui.customs.view import CustomsView, build
from tests.session.made import PADDED, line, shop, weighing
from tests.ui.screens import show_screen

PIN = Product(
    "PIN",
    "Magnet pin",
    Weight.of(20, "g"),
    customs_words="Enamel pin of metal with a magnet back, for clothing",
    hs="711719",
    origin="US",
    restricted=(Restriction.MAGNET,),
)
PLACES = (  # Brazil asks for a number; Guam and a suspended country have no field for their issue
    ("1", "Recife", "PE", "50030-230", "BR"),
    ("2", "Hagatna", "GU", "96910", "US"),
    ("3", "Haifa", "", "3303501", "IL"),
    ("4", "Seoul", "", "04515", "KR"),
)


@pytest.fixture
def view(qtbot: QtBot, open_desk: Callable[[Path], Desk], tmp_path: Path) -> CustomsView:
    desk = open_desk(tmp_path / "store.sqlite")
    import_shop(desk.sitting, shop(products=(PIN,), mailers=(PADDED,)))
    wave = [
        Order(number, Address(f"Buyer {number}", "", "Road 1", "", city, region, code, country), (line(PIN),))
        for number, city, region, code, country in PLACES
    ]
    import_orders(desk.sitting, wave)
    weigh(desk.sitting, [(PieceKey(order.number), weighing("5", "Padded")) for order in wave])
    made = build(desk)
    assert isinstance(made, CustomsView)
    return show_screen(qtbot, made, (1366, 690), in_front=True)


def press(qtbot: QtBot, key: Qt.Key) -> None:
    qtbot.keyClick(QApplication.focusWidget(), key)


def number_of(view: CustomsView) -> str:
    assert view.editor.view is not None
    return view.editor.view.number


def open_in(view: CustomsView) -> list[str]:
    assert view.editor.view is not None
    return list(view.editor.view.answerable)


def test_enter_reaches_every_piece_even_from_a_field(qtbot: QtBot, view: CustomsView) -> None:
    view.table.selectRow(3)
    view.next_missing()
    visited = [number_of(view)]
    for _ in PLACES:
        press(qtbot, Qt.Key.Key_Return)
        visited.append(number_of(view))
    assert visited == ["1", "2", "3", "4", "1"]


def test_y_closes_one_issue_and_undo_opens_it_again(qtbot: QtBot, view: CustomsView) -> None:
    view.table.selectRow(1)
    view.next_missing()
    assert number_of(view) == "3"
    assert view.editor.right.isVisible()
    assert open_in(view) == ["destination-suspended", "hazard-abroad"]
    view.editor.answer()
    assert open_in(view) == ["hazard-abroad"]
    view.editor.answer()
    assert open_in(view) == []
    assert view.editor.right.isHidden()
    view.desk.undo()
    assert open_in(view) == ["hazard-abroad"]


def test_a_reason_chosen_with_the_arrows_keeps_the_focus_and_enter_asks_for_its_words(
    qtbot: QtBot, view: CustomsView
) -> None:
    view.table.selectRow(0)
    assert view.editor.details is not None
    view.editor.details.form.fields["category"].setFocus()
    line_edit(view, "unit_weight").setText("heavy")
    for _ in range(4):
        press(qtbot, Qt.Key.Key_Down)
    assert name_in_focus() == "Reason for export"
    press(qtbot, Qt.Key.Key_Return)
    assert name_in_focus() == "Reason in words"
    assert line_edit(view, "unit_weight").text() == "heavy"  # typed, and not saved


def test_typed_text_stays_at_the_first_of_two_identical_lines(view: CustomsView) -> None:
    order = Order("5", Address("Buyer 5", "", "Road 1", "", "Recife", "PE", "50030-230", "BR"), (line(PIN), line(PIN)))
    import_orders(view.desk.sitting, [order])
    piece = view.desk.pile.find("5")
    assert piece is not None
    editor = view.editor
    shown = declaration_view(view.desk.pile.verdicts[piece], view.desk.pile.terms)
    editor.show_declaration(piece, shown)
    line_edit(view, "unit_weight").setText("heavy")
    assert editor.details is not None
    editor.show_declaration(piece, replace(shown, details=shown.details[:-1]))
    assert line_edit(view, "unit_weight").text() == "heavy"
    assert editor.lines[1].unsaved == {}


def test_tab_moves_down_the_page(qtbot: QtBot, view: CustomsView) -> None:
    view.table.selectRow(0)
    assert view.editor.details is not None
    names = [field.words for card in view.editor.cards for field in card.form.fields.values() if field.isVisible()]
    view.editor.details.form.fields["phone"].setFocus()
    visited = [name_in_focus()]
    for _ in names[1:]:
        press(qtbot, Qt.Key.Key_Tab)
        visited.append(name_in_focus())
    assert visited == names


def name_in_focus() -> str:
    focus = QApplication.focusWidget()
    return focus.accessibleName() if focus is not None else ""


def line_edit(view: CustomsView, name: str) -> QLineEdit:
    editor = view.editor.lines[0].form.fields[name].editor()
    assert isinstance(editor, QLineEdit)
    return editor
