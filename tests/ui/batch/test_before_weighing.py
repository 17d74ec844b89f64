"""Before weighing: issues to sort out, orders to one address packed together, and the forecast for the pile."""

from __future__ import annotations

from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from desk.ui.bridge import Desk
from tests.ui.batch.test_view import numbers, select, show


def test_the_jump_counts_issues_before_weighing_and_opens_them(qtbot: QtBot, desk: Desk) -> None:
    view = show(qtbot, desk)
    count = view.ahead.count()
    assert count > 0
    jump = view.jumps()[0]
    assert jump.words == f"{count} to sort out first"
    jump.go()
    assert view.ahead.isVisible()
    assert view.ahead.table.hasFocus()
    assert view.ahead.table.model().rowCount() == count
    assert "letters" in view.ahead.forecast.text()
    assert "abroad" in view.ahead.forecast.text()
    view.back()
    assert view.list.isVisible()


def test_two_orders_to_one_address_are_sent_together_and_undone(qtbot: QtBot, desk: Desk) -> None:
    view = show(qtbot, desk)
    qtbot.keyClick(view.list.table, Qt.Key.Key_B, Qt.KeyboardModifier.ControlModifier)
    row = next(row for row, thing in enumerate(view.ahead.things) if thing.found.code == "same-door")
    before, pieces = view.ahead.count(), len(desk.pile.verdicts)
    view.ahead.table.selectRow(row)
    assert "save" in view.ahead.table.model().index(row, 1).data()
    assert "Send them together" in view.ahead.table.model().index(row, 2).data()
    qtbot.keyClick(view.ahead.table, Qt.Key.Key_J, Qt.KeyboardModifier.ControlModifier)
    assert len(desk.pile.verdicts) == pieces - 1
    assert view.ahead.count() == before - 1
    desk.undo()
    assert view.ahead.count() == before


def test_the_whole_text_of_the_selected_row_is_below_a_narrow_table(qtbot: QtBot, desk: Desk) -> None:
    view = show(qtbot, desk, (700, 600))
    view.look_ahead()
    assert view.ahead.table.isColumnHidden(2)
    for row in range(len(view.ahead.things)):
        view.ahead.table.selectRow(row)
        cells = [view.ahead.table.model().index(row, column).data() for column in (1, 2)]
        assert view.ahead.words.text() == "\n".join(cells)


def test_the_key_for_sending_together_does_nothing_on_another_row(qtbot: QtBot, desk: Desk) -> None:
    view = show(qtbot, desk)
    view.look_ahead()
    row = next(row for row, thing in enumerate(view.ahead.things) if thing.found.code != "same-door")
    view.ahead.table.selectRow(row)
    revision = desk.sitting.store.revision
    qtbot.keyClick(view.ahead.table, Qt.Key.Key_J, Qt.KeyboardModifier.ControlModifier)
    assert not view.ahead._pack.isEnabled()
    assert desk.sitting.store.revision == revision


def test_enter_opens_the_piece_of_the_row(qtbot: QtBot, desk: Desk) -> None:
    view, opened = show(qtbot, desk), []
    desk.piece_opened.connect(opened.append)
    view.look_ahead()
    qtbot.keyClick(view.ahead.table, Qt.Key.Key_Return)
    assert opened == [desk.pile.find(view.ahead.things[0].keys[0].reference)]


def test_keys_of_the_list_do_nothing_on_another_page(qtbot: QtBot, desk: Desk) -> None:
    view = show(qtbot, desk)
    select(view, 0, 1)
    view.look_ahead()
    revision = desk.sitting.store.revision
    for key in (Qt.Key.Key_A, Qt.Key.Key_B, Qt.Key.Key_Z, Qt.Key.Key_S):
        qtbot.keyClick(view.ahead.table, key)
    assert desk.sitting.store.revision == revision
    assert view.list.many.size_field.isHidden()
    assert numbers(view)


def test_an_empty_pile_has_nothing_to_sort_out(qtbot: QtBot, empty_desk: Desk) -> None:
    view = show(qtbot, empty_desk)
    assert view.jumps() == []
    view.look_ahead()
    assert view.ahead.forecast.text() == "Nothing to sort out first. Nothing is waiting to be weighed."
