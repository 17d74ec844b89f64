from __future__ import annotations

from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest
from PySide6.QtCore import QDate, QMimeData, QPoint, QPointF, Qt, QUrl
from PySide6.QtGui import QDragEnterEvent, QDropEvent
from PySide6.QtWidgets import QFileDialog, QLabel, QPushButton, QWidget
from pytestqt.qtbot import QtBot

from desk.domain.faults import Refused
from desk.domain.status import PieceStatus
from desk.store.tables.hand_overs import put_postage_on
from desk.ui.batch import mailing_date
from desk.ui.batch.mailing_date import choose_mailing_date
from desk.ui.batch.pieces.rows import NUMBER, RECIPIENT
from desk.ui.batch.view import BatchView
from desk.ui.bridge import Desk, Event
from desk.ui.kit.words import Word
from tests.ui.screens import show_screen


def show(qtbot: QtBot, desk: Desk, size: tuple[int, int] = (1216, 640)) -> BatchView:
    return show_screen(qtbot, BatchView(desk), size, in_front=True)


pytestmark = pytest.mark.screen(BatchView, size=(1216, 640), in_front=True)


def numbers(view: BatchView) -> list[str]:
    return [row.cells[NUMBER] for row in view.list.model.shown]


def select(view: BatchView, *rows: int) -> None:
    view.list.table.choose_rows(rows)


def button(parent: QWidget, words: str) -> QPushButton:
    return next(one for one in parent.findChildren(QPushButton) if one.accessibleName() == words)


def messages(desk: Desk) -> list[Event]:
    events: list[Event] = []
    desk.happened.connect(events.append)
    return events


def test_digits_search_and_enter_opens_the_piece(qtbot: QtBot, view: BatchView, desk: Desk) -> None:
    opened: list[int] = []
    desk.piece_opened.connect(opened.append)
    qtbot.keyClicks(view.focusWidget(), "1")
    qtbot.keyClicks(view.focusWidget(), "047")
    assert numbers(view) == ["1047"]
    qtbot.keyClick(view.focusWidget(), Qt.Key.Key_Return)
    assert opened == [desk.pile.find("1047")]
    assert len(numbers(view)) == len(desk.pile.verdicts)


def test_enter_in_the_table_opens_its_piece(qtbot: QtBot, view: BatchView, desk: Desk) -> None:
    opened: list[int] = []
    desk.piece_opened.connect(opened.append)
    qtbot.keyClick(view.list.table, Qt.Key.Key_Down)
    qtbot.keyClick(view.list.table, Qt.Key.Key_Return)
    assert opened == [desk.pile.find("1042")]


def test_a_letter_in_the_table_does_not_search(qtbot: QtBot, view: BatchView) -> None:
    qtbot.keyClick(view.list.table, Qt.Key.Key_Q)
    assert view.list.bar.search.text() == ""


def test_a_search_without_matches_offers_all_pieces(qtbot: QtBot, view: BatchView, desk: Desk) -> None:
    view.list.bar.search.setText("nobody")
    assert view.list.nothing_found.isVisible()
    view.list.arrive()
    qtbot.keyClick(view.focusWidget(), Qt.Key.Key_Space)
    assert view.list.table.isVisible()
    assert len(numbers(view)) == len(desk.pile.verdicts)


def test_escape_shows_all_pieces_again(qtbot: QtBot, view: BatchView, desk: Desk) -> None:
    qtbot.keyClicks(view.list.table, "9")
    qtbot.keyClick(view.focusWidget(), Qt.Key.Key_Escape)
    assert len(numbers(view)) == len(desk.pile.verdicts)
    assert view.list.table.hasFocus()


def test_the_status_words_filter_and_show_counts(
    qtbot: QtBot, view: BatchView, weigh_demo: Callable[[], None], desk: Desk
) -> None:
    weigh_demo()
    words = {word.text().rpartition(" ")[0]: word for word in view.findChildren(Word) if not word.isHidden()}
    assert words["In progress"].text() == f"In progress {len(desk.pile.verdicts)}"
    qtbot.mouseClick(words["Needs a check"], Qt.MouseButton.LeftButton)
    assert words["Needs a check"].text() == f"Needs a check {len(numbers(view))}"
    assert {row.status for row in view.list.model.shown} == {PieceStatus.NEEDS_A_LOOK}


def test_w_cycles_through_the_status_filters(qtbot: QtBot, view: BatchView) -> None:
    qtbot.keyClick(view.list.table, Qt.Key.Key_W)
    assert view.list.bar.wanted.status is PieceStatus.TO_WEIGH


def test_a_finding_is_filtered_from_the_keyboard(qtbot: QtBot, view: BatchView, weigh_demo: Callable[[], None]) -> None:
    weigh_demo()
    field = view.list.bar.code
    field.setFocus()
    field.setCurrentIndex(field.findData("over-one-ounce"))
    assert field.currentText() == f"over one ounce ({len(numbers(view))})"
    assert all("over-one-ounce" in row.codes for row in view.list.model.shown)


def test_the_selection_stays_after_a_step(view: BatchView, desk: Desk) -> None:
    select(view, 3, 5)
    chosen = view.list.chosen()
    view.list.set_beside(PieceStatus.LOST)
    assert view.list.chosen() == chosen
    assert {desk.pile.verdicts[piece].status for piece in chosen} == {PieceStatus.LOST}


def test_alt_down_sorts_by_the_focused_column(qtbot: QtBot, view: BatchView) -> None:
    table = view.list.table
    table.setCurrentIndex(view.list.model.index(0, RECIPIENT))
    qtbot.keyClick(table, Qt.Key.Key_Down, Qt.KeyboardModifier.AltModifier)
    names = [row.cells[RECIPIENT] for row in view.list.model.shown]
    assert names == sorted(names, key=str.casefold)
    table.setCurrentIndex(view.list.model.index(0, RECIPIENT))
    qtbot.keyClick(table, Qt.Key.Key_Down, Qt.KeyboardModifier.AltModifier)
    assert next(row.cells[RECIPIENT] for row in view.list.model.shown) == names[-1]


def test_key_a_sets_aside_and_puts_back(qtbot: QtBot, view: BatchView, desk: Desk) -> None:
    select(view, 0, 1)
    pieces = view.list.chosen()
    qtbot.keyClick(view.list.table, Qt.Key.Key_A)
    assert {desk.pile.verdicts[piece].status for piece in pieces} == {PieceStatus.SET_ASIDE}
    qtbot.keyClick(view.list.table, Qt.Key.Key_A)
    assert {desk.pile.verdicts[piece].status for piece in pieces} == {PieceStatus.TO_WEIGH}


def test_mailer_and_service_are_set_for_many_pieces(view: BatchView, desk: Desk) -> None:
    select(view, 0, 1, 2)
    pieces = view.list.chosen()
    view.list.many._mailers.actions()[0].trigger()
    mailer = desk.pile.terms.shop.mailers[0].name
    assert [desk.pile.verdicts[piece].case.mailer for piece in pieces] == [mailer] * 3
    view.list.many.services_asked.emit()
    action = next(one for one in view.list.many._services.actions() if "priority (retail)" in one.text())
    action.trigger()
    assert [desk.pile.verdicts[piece].case.service for piece in pieces] == ["priority-retail"] * 3


def test_without_a_selection_nothing_is_done(view: BatchView, desk: Desk) -> None:
    view.list.table.clearSelection()
    events = messages(desk)
    view.list.set_beside(PieceStatus.LOST)
    assert events == []
    assert not button(view, "Set aside / put back").isEnabled()


def test_the_history_of_the_selected_piece_is_shown(
    qtbot: QtBot, view: BatchView, weigh_demo: Callable[[], None]
) -> None:
    weigh_demo()
    view.list._choose_again([view.list.model.shown[2].piece_id])
    assert not view.list.side.isVisible()
    qtbot.keyClick(view.list.table, Qt.Key.Key_H, Qt.KeyboardModifier.ControlModifier)
    shown = [label.text() for label in view.list.side.findChildren(QLabel)]
    assert shown[0] == "1043"
    assert any(words.startswith("Weighed ") for words in shown)
    assert "Orders imported" in shown
    assert any("over 1 oz" in text for text in shown)
    qtbot.keyClick(view.list.table, Qt.Key.Key_H, Qt.KeyboardModifier.ControlModifier)
    assert not view.list.side.isVisible()


@pytest.mark.parametrize(("width", "has_mailer"), [(1300, True), (700, False)])
def test_columns_without_room_are_hidden(qtbot: QtBot, desk: Desk, width: int, has_mailer: bool) -> None:
    view = show(qtbot, desk, (width, 600))
    assert view.list.table.isColumnHidden(4) is not has_mailer
    assert not view.list.table.isColumnHidden(NUMBER)


def test_an_empty_batch_says_what_will_be_here(qtbot: QtBot, empty_desk: Desk) -> None:
    asked: list[bool] = []
    empty_desk.store_asked.connect(asked.append)
    view = show(qtbot, empty_desk)
    assert view.nothing_yet.isVisible()
    assert view.focusWidget() is view.nothing_yet.buttons[0]
    view.nothing_yet.buttons[1].click()
    assert asked == [True]


def test_the_demo_does_not_offer_the_demo(qtbot: QtBot, empty_desk: Desk) -> None:
    empty_desk.is_demo = True
    assert len(show(qtbot, empty_desk).nothing_yet.buttons) == 1


def test_a_dropped_file_is_previewed_then_imported(qtbot: QtBot, empty_desk: Desk, resources: Path) -> None:
    view, events = show(qtbot, empty_desk), messages(empty_desk)
    dropped = QMimeData()
    dropped.setUrls([QUrl.fromLocalFile(str(resources / "demo" / "orders.csv"))])
    buttons, keys = Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier
    view.dropEvent(QDropEvent(QPointF(5, 5), Qt.DropAction.CopyAction, dropped, buttons, keys))
    assert view.importing.isVisible()
    qtbot.waitUntil(lambda: view.importing.outcome is not None)
    rows = view.importing.columns.rows
    assert [rows.index(0, at).data() for at in range(3)] == ["order number", "order date", "name"]
    assert (rows.headerData(2, Qt.Orientation.Horizontal), rows.index(1, 2).data()) == ("recipient", "Ada Quist")
    assert len(empty_desk.pile.verdicts) == 0
    with qtbot.waitSignal(view.importing.ended):
        button(view.importing, "Import").click()
    assert view.list.isVisible()
    assert events[-1].undo
    assert events[-1].words.startswith(f"Imported: {len(empty_desk.pile.verdicts)} new, 0 changed")
    assert "1041" in numbers(view)


def test_only_files_can_be_dropped(view: BatchView, resources: Path) -> None:
    text, file = QMimeData(), QMimeData()
    text.setText("1047")
    file.setUrls([QUrl.fromLocalFile(str(resources / "demo" / "orders.csv"))])
    taken = []
    for dragged in (text, file):
        event = QDragEnterEvent(
            QPoint(5, 5), Qt.DropAction.CopyAction, dragged, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier
        )
        event.ignore()
        view.dragEnterEvent(event)
        taken.append(event.isAccepted())
    assert taken == [False, True]


def test_the_pose_trouble_shows_pieces_that_need_a_check(view: BatchView, weigh_demo: Callable[[], None]) -> None:
    weigh_demo()
    view.pose("trouble")
    assert view.list.bar.wanted.status is PieceStatus.NEEDS_A_LOOK
    assert view.list.side.isVisible()


def test_returning_to_a_file_preview_continues_with_it(qtbot: QtBot, view: BatchView, resources: Path) -> None:
    view.look_into(resources / "demo" / "orders.csv")
    qtbot.waitUntil(lambda: view.importing.outcome is not None)
    view.list.table.setFocus()
    view.arrive()
    assert view.focusWidget() is button(view.importing, "Import")


def test_the_date_field_asks_for_another_date(qtbot: QtBot, view: BatchView, desk: Desk) -> None:
    field = view.list.bar.date
    field.setFocus()
    field.setDate(QDate(2026, 11, 27))
    qtbot.keyClick(field, Qt.Key.Key_Return)
    assert desk.pile.terms.on == date(2026, 11, 27)


def test_clearing_the_field_with_escape_is_announced_once(qtbot: QtBot, view: BatchView) -> None:
    qtbot.keyClicks(view.list.table, "9")
    reported: list[object] = []
    view.list.bar.wanted_changed.connect(reported.append)
    qtbot.keyClick(view.focusWidget(), Qt.Key.Key_Escape)
    assert len(reported) == 1


def test_leaving_a_file_preview_changes_nothing(qtbot: QtBot, view: BatchView, desk: Desk, resources: Path) -> None:
    before = desk.sitting.store.revision
    view.look_into(resources / "demo" / "orders.csv")
    qtbot.keyClick(view.focusWidget(), Qt.Key.Key_Escape)
    assert view.list.isVisible()
    assert desk.sitting.store.revision == before


def test_a_file_that_is_no_table_is_reported(qtbot: QtBot, view: BatchView, desk: Desk, tmp_path: Path) -> None:
    (tmp_path / "empty.csv").write_text("")
    events = messages(desk)
    view.look_into(tmp_path / "empty.csv")
    qtbot.waitUntil(lambda: bool(events))
    assert [event.mark for event in events] == ["stop"]
    assert view.list.isVisible()


def test_uncertain_headers_are_suggested_and_used_if_accepted(qtbot: QtBot, view: BatchView, tmp_path: Path) -> None:
    (tmp_path / "odd.csv").write_text("order,recipient,country,itm\n7001,Ada Quist,US,Card\n")
    view.look_into(tmp_path / "odd.csv")
    qtbot.waitUntil(lambda: view.importing.preview is not None)
    assert view.importing.preview.missing == ("item",)
    assert not button(view.importing, "Import").isEnabled()
    assert view.focusWidget() is view.importing.columns
    qtbot.keyClick(view.importing.columns, Qt.Key.Key_Space)
    qtbot.waitUntil(lambda: view.importing.outcome is not None)
    assert view.importing.preview.missing == ()
    with qtbot.waitSignal(view.importing.ended):
        button(view.importing, "Import").click()
    assert "7001" in numbers(view)


def test_canceling_imports_nothing(qtbot: QtBot, view: BatchView, desk: Desk, resources: Path) -> None:
    before, events = desk.sitting.store.revision, messages(desk)
    with qtbot.waitSignal(view.importing.ended):
        view.look_into(resources / "demo" / "orders.csv")
        assert view.importing.is_busy
        view.importing.leave()
    assert events[-1].words == "Stopped. Nothing was imported."
    assert not view.importing.is_busy
    assert desk.sitting.store.revision == before


def test_importing_asks_for_a_file(view: BatchView, monkeypatch: pytest.MonkeyPatch, resources: Path) -> None:
    chosen = str(resources / "demo" / "orders.csv")
    monkeypatch.setattr(QFileDialog, "getOpenFileName", lambda *_: (chosen, ""))
    view.ask_for_file()
    assert view.importing.isVisible()


def test_another_mailing_date_changes_the_prices(
    qtbot: QtBot, view: BatchView, desk: Desk, weigh_demo: Callable[[], None]
) -> None:
    weigh_demo()
    events, reported = messages(desk), []
    desk.changed.connect(reported.append)
    choose_mailing_date(view.desk, date(2026, 11, 26))
    assert desk.pile.terms.on == date(2026, 11, 26)
    assert [one.changes.settings for one in reported] == [True]
    assert events[-1].words == "Priced for November 26, 2026. No paid package is short of postage."
    choose_mailing_date(view.desk, date(2026, 11, 26))
    assert len(reported) == 1


def test_a_refused_mailing_date_is_not_reported_as_set(
    view: BatchView, desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(*_: object) -> None:
        raise Refused("Another bench is busy. Try again.")

    before, events = desk.pile.terms.on, messages(desk)
    monkeypatch.setattr(mailing_date, "post_on", refuse)
    choose_mailing_date(view.desk, date(2026, 11, 26))
    assert [(one.words, one.mark) for one in events] == [("Another bench is busy. Try again.", "stop")]
    assert desk.pile.terms.on == before


def test_another_mailing_date_is_undone_and_redone(view: BatchView, desk: Desk) -> None:
    before = desk.pile.terms.on
    choose_mailing_date(view.desk, date(2026, 7, 1))
    assert desk.steps()[0] == "Mailing date: July 1, 2026"
    desk.undo()
    assert (desk.pile.terms.on, view.list.bar.date.date()) == (before, QDate(before.year, before.month, before.day))
    desk.redo()
    assert (desk.pile.terms.on, view.list.bar.date.date()) == (date(2026, 7, 1), QDate(2026, 7, 1))


def test_jumps_open_the_filtered_list(view: BatchView, weigh_demo: Callable[[], None]) -> None:
    weigh_demo()
    jump = view.jumps()[-1]
    jump.go()
    assert jump.words == f"{len(numbers(view))} need a check"
    assert {row.status for row in view.list.model.shown} == {PieceStatus.NEEDS_A_LOOK}


@pytest.mark.window
def test_m_offers_the_mailers_by_number(qtbot: QtBot, view: BatchView, desk: Desk) -> None:
    select(view, 0)
    piece = view.list.chosen()[0]
    qtbot.keyClick(view.list.table, Qt.Key.Key_M)
    qtbot.waitUntil(view.list.many._mailers.isVisible)
    qtbot.keyClick(view.list.many._mailers, Qt.Key.Key_2)
    assert desk.pile.verdicts[piece].case.mailer == desk.pile.terms.shop.mailers[1].name


def test_missing_postage_on_another_date_is_on_a_strip(
    view: BatchView, desk: Desk, weigh_demo: Callable[[], None]
) -> None:
    choose_mailing_date(view.desk, date(2026, 7, 1))
    weigh_demo()
    piece = desk.pile.find("1041")
    assert piece is not None
    with desk.sitting.store.act("Put postage on") as tx:
        put_postage_on(tx, [piece])
    desk.sitting.announce(desk.sitting.store.last_changes)
    choose_mailing_date(view.desk, date(2026, 11, 25))
    assert [state.words for state in desk.states] == ["Short of postage on this mailing date: 1041 ($0.04)"]
    desk.undo()
    assert desk.states == ()
    desk.redo()
    assert len(desk.states) == 1
    choose_mailing_date(view.desk, date(2026, 7, 1))
    assert desk.states == ()
