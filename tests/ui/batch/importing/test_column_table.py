"""The meaning of each column is chosen in its header: by letters, by one key for a suggestion, by one key to swap."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from desk.session.importing.columns import Column
from desk.session.importing.preview import Pasted
from desk.ui.batch.importing.column_line import ColumnLine, column_words
from desk.ui.batch.importing.column_table import ColumnTable
from desk.ui.batch.view import BatchView
from desk.ui.bridge import Desk
from desk.ui.kit.key_word import KeyWord
from tests.ui.batch.importing.test_import_panel import HEAD, ONE, looked
from tests.ui.batch.test_view import button, show

SWAPPED = HEAD.replace("city,region", "region,city")
NEAR = "order,Ship too,country,itm,shelf\n7001,Ada Finch,US,Card,A1\n7002,Bo Reed,US,Pen,A2\n"
CONTROL, SHIFT = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.ShiftModifier


def shown(qtbot: QtBot, desk: Desk, text: str) -> tuple[BatchView, ColumnTable]:
    view = show(qtbot, desk)
    looked(qtbot, view, Pasted(text))
    view.importing.columns.setFocus()
    return view, view.importing.columns


def settled(qtbot: QtBot, view: BatchView) -> None:
    qtbot.waitUntil(lambda: not view.importing.is_busy)


def meanings(table: ColumnTable) -> list[str]:
    return [table.rows.index(0, at).data() for at in range(table.rows.columnCount())]


def press(
    qtbot: QtBot, view: BatchView, key: Qt.Key, more: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier
) -> None:
    qtbot.keyClick(view.importing.columns, key, more)
    settled(qtbot, view)


def test_every_column_of_the_file_is_listed_with_its_field(qtbot: QtBot, empty_desk: Desk) -> None:
    _, table = shown(qtbot, empty_desk, NEAR)
    assert meanings(table) == ["order number", "Name?", "country", "Item?", "ignored"]
    heads = [table.rows.headerData(at, Qt.Orientation.Horizontal) for at in range(5)]
    assert heads == ["order", "Ship too", "country", "itm", "shelf"]
    assert [table.rows.index(row, 1).data() for row in (1, 2)] == ["Ada Finch", "Bo Reed"]
    spoken = table.rows.index(0, 1).data(int(Qt.ItemDataRole.AccessibleTextRole))
    assert spoken == "Ship too: Name?"


def test_the_first_column_that_needs_a_choice_is_selected(qtbot: QtBot, empty_desk: Desk) -> None:
    view, table = shown(qtbot, empty_desk, NEAR)
    assert table.place == 1
    line = view.importing.findChild(ColumnLine)
    assert line.words.text() == "“Ship too” may be the name: Ada Finch, Bo Reed"


def test_space_accepts_the_suggestion_and_stays_at_its_column(qtbot: QtBot, empty_desk: Desk) -> None:
    view, table = shown(qtbot, empty_desk, NEAR)
    press(qtbot, view, Qt.Key.Key_Space)
    assert meanings(table)[1:4] == ["name", "country", "Item?"]
    assert table.place == 1
    press(qtbot, view, Qt.Key.Key_Space)  # nothing is offered any more
    assert meanings(table)[1:4] == ["name", "country", "Item?"]


def test_one_key_accepts_all_suggestions(qtbot: QtBot, empty_desk: Desk) -> None:
    view, table = shown(qtbot, empty_desk, NEAR)
    press(qtbot, view, Qt.Key.Key_Space, SHIFT)
    assert meanings(table) == ["order number", "name", "country", "item", "ignored"]
    qtbot.waitUntil(lambda: view.importing.outcome is not None)
    assert view.importing.outcome.new == 2


def test_one_key_swaps_two_neighboring_columns(qtbot: QtBot, empty_desk: Desk) -> None:
    view, table = shown(qtbot, empty_desk, SWAPPED + ONE)
    table.choose(3)
    press(qtbot, view, Qt.Key.Key_Right, CONTROL)
    assert meanings(table)[3:5] == ["city", "state or region"]
    assert table.place == 4
    press(qtbot, view, Qt.Key.Key_Left, CONTROL)
    assert meanings(table)[3:5] == ["state or region", "city"]


@pytest.mark.parametrize(("place", "key"), [(0, Qt.Key.Key_Left), (8, Qt.Key.Key_Right)])
def test_nothing_is_swapped_at_the_edge(qtbot: QtBot, empty_desk: Desk, place: int, key: Qt.Key) -> None:
    view, table = shown(qtbot, empty_desk, HEAD + ONE)
    before = meanings(table)
    table.choose(place)
    press(qtbot, view, key, CONTROL)
    assert (meanings(table), table.place) == (before, place)


def test_choosing_the_meaning_of_another_column_swaps_both_in_one_step(qtbot: QtBot, empty_desk: Desk) -> None:
    view, table = shown(qtbot, empty_desk, HEAD + ONE)
    table.choose(2)
    table.meanings.chosen.emit("region")
    settled(qtbot, view)
    assert (meanings(table)[2], meanings(table)[4]) == ("state or region", "street")


def test_delete_skips_a_column(qtbot: QtBot, empty_desk: Desk) -> None:
    view, table = shown(qtbot, empty_desk, HEAD + ONE)
    table.choose(4)
    press(qtbot, view, Qt.Key.Key_Delete)
    assert meanings(table)[4] == "skipped"
    qtbot.waitUntil(lambda: view.importing.outcome is not None)


def test_arrows_choose_a_column_and_the_line_follows(qtbot: QtBot, empty_desk: Desk) -> None:
    view, table = shown(qtbot, empty_desk, HEAD + ONE)
    table.choose(0)
    qtbot.keyClick(table, Qt.Key.Key_Right)
    qtbot.keyClick(table, Qt.Key.Key_Down)  # rows are not chosen
    assert (table.place, table.currentIndex().row()) == (1, 0)
    assert view.importing.findChild(ColumnLine).words.text() == "“recipient” is read as name: Ada Quist"


def choose_city_by_keys(qtbot: QtBot, table: ColumnTable) -> None:
    table.choose(3)
    qtbot.keyClicks(table, "c")
    listed = table.meanings.view()
    assert listed.isVisible()
    assert table.meanings.accessibleName() == "Type of column Whereabouts"
    while listed.currentIndex().data() != "city":
        before = listed.currentIndex().row()
        qtbot.keyClick(listed, Qt.Key.Key_Down)
        assert listed.currentIndex().row() > before
    qtbot.keyClick(listed, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: meanings(table)[3] == "city")


@pytest.mark.window
def test_a_letter_opens_the_list_at_the_first_match(qtbot: QtBot, empty_desk: Desk) -> None:
    head = HEAD.replace("city", "Whereabouts").replace("recipient", "Whoever")
    view, table = shown(qtbot, empty_desk, head + ONE)
    choose_city_by_keys(qtbot, table)
    settled(qtbot, view)
    assert view.importing.preview is not None
    assert view.importing.preview.missing == ("recipient",)  # so the work goes on in the table
    qtbot.waitUntil(lambda: not table.meanings.isVisible() and QApplication.focusWidget() is table)


@pytest.mark.window
def test_once_everything_is_chosen_the_focus_is_on_import(qtbot: QtBot, empty_desk: Desk) -> None:
    view, table = shown(qtbot, empty_desk, HEAD.replace("city", "Whereabouts") + ONE)
    choose_city_by_keys(qtbot, table)
    take = button(view.importing, "Import")
    qtbot.waitUntil(lambda: not table.meanings.isVisible() and QApplication.focusWidget() is take)
    assert take.isEnabled()


@pytest.mark.window
def test_the_list_shows_which_column_has_each_field(qtbot: QtBot, empty_desk: Desk) -> None:
    _, table = shown(qtbot, empty_desk, HEAD.replace("city", "Town") + ONE)
    table.choose(0)
    table.open_list()
    words = [table.meanings.itemText(at) for at in range(table.meanings.count())]
    assert words[0] == "Skip this column"
    assert "city  (Town)" in words
    assert "order number" in words
    assert table.meanings.currentText() == "order number"
    table.meanings.hidePopup()


@pytest.mark.window
def test_escape_closes_the_list_but_not_the_table(qtbot: QtBot, empty_desk: Desk) -> None:
    view, table = shown(qtbot, empty_desk, HEAD + ONE)
    before = meanings(table)
    qtbot.keyClick(table, Qt.Key.Key_Return)
    qtbot.keyClick(table.meanings.view(), Qt.Key.Key_Escape)
    qtbot.waitUntil(lambda: not table.meanings.isVisible())
    assert view.importing.isVisible()
    assert meanings(table) == before


@pytest.mark.window
def test_letters_do_not_trigger_keys_of_the_screen(qtbot: QtBot, empty_desk: Desk) -> None:
    view, table = shown(qtbot, empty_desk, HEAD + ONE)
    done: list[str] = []
    for action in view.findChildren(QAction):
        action.triggered.connect(lambda _checked=False, action=action: done.append(action.text()))
    qtbot.keyClicks(table, "s")
    assert done == []
    assert table.meanings.view().currentIndex().data().startswith("s")
    table.meanings.hidePopup()


def test_the_keys_are_listed_below_and_can_be_clicked(qtbot: QtBot, empty_desk: Desk) -> None:
    view, table = shown(qtbot, empty_desk, NEAR)
    words = {word.text(): word for word in view.importing.findChildren(KeyWord)}
    assert words["Accept all 2 suggestions"].isVisible()
    assert words["Skip this column"].isVisible()
    qtbot.mouseClick(words["Yes, use it"], Qt.MouseButton.LeftButton)
    settled(qtbot, view)
    assert meanings(table)[1] == "name"
    assert words["Skip this column"].isVisible()
    assert not words["Yes, use it"].isVisible()
    assert {word.focusPolicy() for word in words.values()} == {Qt.FocusPolicy.NoFocus}


def test_a_column_that_does_not_fit_its_field_is_marked_and_reported(qtbot: QtBot, empty_desk: Desk) -> None:
    rows = ONE.replace("ME", "3 Quire St") + ONE.replace("7001", "7002").replace("ME", "4 Folio Rd")
    view, table = shown(qtbot, empty_desk, HEAD + rows)
    assert table.place == 4
    assert table.columns[4].is_doubtful
    assert "but doesn't look like it: 3 Quire St, 4 Folio Rd" in view.importing.findChild(ColumnLine).words.text()


def test_a_column_that_looks_like_an_address_needs_a_choice_and_one_key_skips_the_rest(
    qtbot: QtBot, empty_desk: Desk
) -> None:
    head = HEAD.replace("quantity", "Gate,Door,quantity")
    view, table = shown(qtbot, empty_desk, head + ONE.replace(",1\n", ",Apt 3,12 Quire Street,1\n"))
    assert meanings(table)[8:10] == ["Choose…", "Choose…"]
    assert view.importing.outcome is None
    assert "looks like part of an address" in view.importing.findChild(ColumnLine).words.text()
    press(qtbot, view, Qt.Key.Key_Delete, SHIFT)
    assert meanings(table)[8:10] == ["skipped", "skipped"]
    qtbot.waitUntil(lambda: view.importing.outcome is not None)
    assert "Skipped as you chose: “Gate”, “Door”." in view.importing._sentences.text()


@pytest.mark.window
def test_double_clicking_a_header_opens_the_list(qtbot: QtBot, empty_desk: Desk) -> None:
    _, table = shown(qtbot, empty_desk, HEAD + ONE)
    table.choose(2)
    table.horizontalHeader().sectionDoubleClicked.emit(2)
    assert table.meanings.isVisible()
    table.meanings.hidePopup()
    qtbot.waitUntil(lambda: not table.meanings.isVisible())


def test_an_empty_table_of_columns_does_nothing(qtbot: QtBot) -> None:
    table = ColumnTable()
    qtbot.addWidget(table)
    reported: list[object] = []
    for signal in (table.said, table.accepted, table.exchanged):
        signal.connect(lambda *words: reported.append(words))
    for do in (table.open_list, table.accept, table.accept_all, table.leave_out, lambda: table.exchange(1)):
        do()
    assert (reported, table.place, table.rows.rowCount()) == ([], -1, 0)
    assert not table.meanings.isVisible()


def test_a_cell_of_several_lines_is_shown_on_one_line() -> None:
    column = Column("Where to", values=("12 Ink Lane\nApt 3", "5 Quire Street"))
    assert column_words(column) == "“Where to” is not read: 12 Ink Lane, Apt 3, 5 Quire Street"
