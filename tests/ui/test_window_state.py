"""What the window keeps and shows: its place, its strips in order, the jumps, its keys."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from PySide6.QtCore import QRect, QSettings, Qt
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QAbstractButton, QApplication, QLineEdit, QPushButton
from pytestqt.qtbot import QtBot

from desk.domain.faults import Refused
from desk.domain.status import PieceStatus
from desk.session.pile.bulk_changes import set_beside
from desk.session.sitting import Sitting
from desk.ui.actions import Act
from desk.ui.bridge import Desk, DeskChanges, Event, OngoingState
from desk.ui.kit import type as typeface
from desk.ui.kit.message import MessageLine
from desk.ui.kit.strip import Strip
from desk.ui.kit.words import LineOfWords
from desk.ui.screen import Jump, Screen
from desk.ui.window import NAME, PLACE, Window, inside

Seat = Callable[[], Window]


class Page(Screen):
    """A screen with a jump for each piece that is lost, and pages to open."""

    opened = ""

    def refresh(self, reported: DeskChanges) -> None:
        """Nothing to paint."""

    def acts(self) -> tuple[Act, ...]:
        return (Act("K", f"Count on {self.objectName()}", lambda: None),)

    def jumps(self) -> tuple[Jump, ...]:
        lost = sum(verdict.status is PieceStatus.LOST for verdict in self.desk.pile.verdicts.values())
        return (Jump(f"{lost} lost", lambda: None),) if lost else ()

    def open_page(self, page: str) -> None:
        self.opened = page


@pytest.fixture
def seat(qtbot: QtBot, desk: Desk) -> Seat:
    def make() -> Window:
        window = Window(("One", "Two"))
        qtbot.addWidget(window)
        window.show()
        screens = []
        for title, keys in (("One", "Ctrl+1"), ("Two", "Ctrl+2")):
            page = Page(desk)
            page.setObjectName(title)
            screens.append((title, keys, page))
        window.seat(desk, screens)
        return window

    return make


def strips(window: Window) -> list[str]:
    layout = window._strips.layout()
    shown = [item.widget() for at in range(layout.count()) if (item := layout.itemAt(at)) is not None]
    return [strip.accessibleName() for strip in shown if isinstance(strip, Strip)]


def jumps(window: Window) -> list[str]:
    return [jump.text() for jump in window.findChildren(LineOfWords)[0].jumps()]


def line(window: Window) -> MessageLine:
    return window.findChildren(MessageLine)[0]


@pytest.mark.parametrize(("wide", "high"), [(1024, 700), (1024, 640)])
def test_the_next_window_opens_as_large_as_the_last_was(seat: Seat, wide: int, high: int) -> None:
    first = seat()
    first.resize(wide, high)
    first.close()
    second = seat()
    assert (second.width(), second.height()) == (wide, high)


@pytest.mark.parametrize("kept", [None, b"", b"no place at all"])
def test_without_a_saved_place_the_window_has_its_default_size(seat: Seat, kept: bytes | None) -> None:
    QSettings().setValue(PLACE, kept)
    window = seat()
    assert (window.width(), window.height()) == (1280, 800)


def test_the_window_is_never_smaller_than_its_screens_need(seat: Seat) -> None:
    window = seat()
    window.resize(300, 200)
    assert (window.width(), window.height()) == (1024, 640)


def test_a_real_store_has_only_the_name_of_the_program_as_title(seat: Seat) -> None:
    assert seat().windowTitle() == NAME


def press_strip(window: Window, name: str) -> None:
    next(one for one in window._strips.findChildren(QAbstractButton) if one.accessibleName() == name).click()


@pytest.mark.parametrize(("height", "most"), [(750, 2), (749, 1)])
def test_the_newest_strips_are_shown_and_a_button_shows_the_rest(
    seat: Seat, desk: Desk, monkeypatch: pytest.MonkeyPatch, height: int, most: int
) -> None:
    monkeypatch.setattr("desk.ui.strips.HIGH_ENOUGH", 750 / typeface.scale())
    window = seat()
    window.resize(1280, height)
    for name, words in (("a", "First."), ("b", "Second."), ("c", "Third.")):
        desk.state(name, OngoingState(words))
    newest_first = ["Third.", "Second.", "First."]
    assert strips(window) == newest_first[:most]
    press_strip(window, f"{3 - most} more")
    assert strips(window) == newest_first
    press_strip(window, "Show fewer")
    desk.state("c", None)
    assert strips(window) == newest_first[1 : most + 1]


def test_a_dismissed_strip_comes_back_only_when_it_says_something_else(seat: Seat, desk: Desk) -> None:
    window = seat()
    desk.state("a", OngoingState("2 stamps left."))
    press_strip(window, "Dismiss")
    desk.state("b", OngoingState("No scale."))
    assert strips(window) == ["No scale."]
    desk.state("a", OngoingState("1 stamp left."))
    assert strips(window) == ["1 stamp left.", "No scale."]


def test_a_strip_is_one_line_however_long_its_words(seat: Seat, desk: Desk) -> None:
    window = seat()
    desk.state("a", OngoingState("Short."))
    desk.state("a", OngoingState("Long, and longer than any window is wide. " * 20))
    QApplication.processEvents()
    (strip,) = [one for one in window._strips.findChildren(Strip) if not one.isHidden()]
    assert strip.height() < 2 * strip.fontMetrics().height() + 12
    assert window.width() <= 1280


def test_states_that_began_earlier_are_shown_at_once(seat: Seat, desk: Desk) -> None:
    desk.state("a", OngoingState("The list is old."))
    assert strips(seat()) == ["The list is old."]


def test_a_state_of_one_screen_is_shown_only_there(seat: Seat, desk: Desk) -> None:
    window = seat()
    desk.state("a", OngoingState("The list is old.", only_on="Two"))
    desk.state("b", OngoingState("No scale."))
    assert strips(window) == ["No scale."]
    window.open_screen("Two")
    assert strips(window) == ["No scale.", "The list is old."]
    window.open_screen("One")
    assert strips(window) == ["No scale."]


def test_an_action_of_a_strip_opens_its_page(seat: Seat, desk: Desk) -> None:
    window = seat()
    desk.state("a", OngoingState("No scale.", ways=(("Set it up", lambda: desk.screen_asked.emit("Two", "Scale")),)))
    next(one for one in window.findChildren(QPushButton) if one.text() == "Set it up").click()
    page = window.screen_of("Two")
    assert isinstance(page, Page)
    assert (window.screen_open, page.opened) == ("Two", "Scale")


@pytest.mark.parametrize("title", ["", "Nowhere"])
def test_an_unknown_screen_is_not_opened(seat: Seat, title: str) -> None:
    window = seat()
    window.open_screen(title)
    window.open_page(title, "Page")
    assert window.screen_open == "One"


def test_jumps_follow_undo_and_redo(seat: Seat, desk: Desk) -> None:
    window = seat()
    assert jumps(window) == []
    desk.do(set_beside, [1, 2], PieceStatus.LOST)
    assert jumps(window) == ["2 lost", "2 lost"]  # each screen says its own
    desk.undo()
    assert jumps(window) == []


@pytest.mark.parametrize("mark", ["fine", "note", "look", "stop"])
def test_a_message_has_the_mark_of_its_event(seat: Seat, desk: Desk, mark: str) -> None:
    window = seat()
    desk.happened.emit(Event("Something happened.", mark))
    assert line(window).words == "Something happened."
    assert line(window)._mark.kind == mark


def test_a_refusal_offers_no_undo(seat: Seat, desk: Desk) -> None:
    def refuses(_sitting: Sitting) -> None:
        raise Refused("This piece has its postage on. Void it first.")

    window = seat()
    desk.do(set_beside, [1], PieceStatus.LOST)
    assert not line(window)._undo.isHidden()
    desk.do(refuses)
    assert line(window).words == "This piece has its postage on. Void it first."
    assert line(window)._undo.isHidden()


@pytest.mark.parametrize("key", [Qt.Key.Key_Z])
def test_undo_without_a_step_is_reported(qtbot: QtBot, seat: Seat, desk: Desk, key: Qt.Key) -> None:
    window = seat()
    window.activateWindow()
    with qtbot.waitActive(window):
        pass
    while desk.steps()[0]:
        desk.undo()
    qtbot.keyClick(window, key, Qt.KeyboardModifier.ControlModifier)
    assert line(window)._mark.kind == "stop"
    assert line(window).words.endswith(".")


def test_names_of_undo_and_redo_follow_each_act(seat: Seat, desk: Desk) -> None:
    window = seat()

    def names() -> set[str]:
        return {action.text() for action in window.findChildren(QAction)}

    desk.do(set_beside, [1], PieceStatus.LOST)
    desk.do(set_beside, [2], PieceStatus.SET_ASIDE)
    assert "Undo: Set aside: 1 piece" in names()
    desk.undo()
    assert {"Undo: Lost: 1 piece", "Redo: Set aside: 1 piece"} <= names()
    assert "Undo: Set aside: 1 piece" not in names()


def test_the_list_of_keys_follows_the_open_screen(seat: Seat) -> None:
    window = seat()

    def shown() -> set[str]:
        groups = window.overlays.keys.shown()
        return {heading for heading, _ in groups} | {act.words for _, acts in groups for act in acts}

    window.overlays.toggle_keys()
    assert {"Count on One", "One", "Two", "Everywhere"} <= shown()
    window.open_screen("Two")
    assert "Count on Two" in shown()
    assert "Count on One" not in shown()
    window.overlays.toggle_keys()
    assert window.overlays.keys.isHidden()


def test_the_list_of_keys_covers_the_screen_without_moving_it(seat: Seat) -> None:
    window = seat()
    before = window._stack.geometry()
    window.overlays.toggle_keys()
    assert window._stack.geometry() == before
    assert before.contains(window.overlays.keys.geometry())


@pytest.mark.parametrize("key", [Qt.Key.Key_Escape, Qt.Key.Key_Question])
def test_closing_the_list_of_keys_restores_the_focus(qtbot: QtBot, seat: Seat, key: Qt.Key) -> None:
    window = seat()
    window.activateWindow()
    with qtbot.waitActive(window):
        pass
    field = QLineEdit(window.screen_of("One"))
    field.show()
    field.setFocus()
    window.overlays.toggle_keys()
    assert window.focusWidget() is window.overlays.keys
    qtbot.keyClick(window.overlays.keys, key)
    assert window.overlays.keys.isHidden()
    assert window.focusWidget() is field


def test_the_focus_returns_to_the_screen_if_its_control_is_gone(qtbot: QtBot, seat: Seat) -> None:
    window = seat()
    window.activateWindow()
    with qtbot.waitActive(window):
        pass
    field = QLineEdit(window.screen_of("One"))
    field.show()
    field.setFocus()
    window.overlays.toggle_keys()
    field.hide()
    qtbot.keyClick(window.overlays.keys, Qt.Key.Key_Escape)
    assert window.focusWidget() is window.screen_of("One")


def test_a_key_of_the_list_works_and_closes_it(qtbot: QtBot, seat: Seat) -> None:
    window = seat()
    done: list[str] = []
    window.screen_of("One").addAction(QAction("Note", window, shortcut="J", triggered=lambda: done.append("J")))
    window.overlays.toggle_keys()
    qtbot.keyClick(window.overlays.keys, Qt.Key.Key_J)
    assert (done, window.overlays.keys.isHidden()) == (["J"], True)


def test_opening_another_screen_under_the_list_keeps_the_focus_there(qtbot: QtBot, seat: Seat) -> None:
    window = seat()
    window.activateWindow()
    with qtbot.waitActive(window):
        pass
    window.overlays.toggle_keys()
    window.open_screen("Two")
    assert window.focusWidget() is window.overlays.keys
    qtbot.keyClick(window.overlays.keys, Qt.Key.Key_Escape)
    assert window.focusWidget() is window.screen_of("Two")


def test_undo_next_to_a_message_disappears_after_another_step(seat: Seat, desk: Desk) -> None:
    """Otherwise it would undo the later step and not the one named next to it."""
    window = seat()
    desk.do(set_beside, [1], PieceStatus.LOST)
    assert not line(window)._undo.isHidden()
    desk.do_quietly(set_beside, [2], PieceStatus.LOST)
    assert line(window)._undo.isHidden()


def test_a_piece_to_open_without_a_bench_changes_nothing(seat: Seat, desk: Desk) -> None:
    window = seat()
    desk.piece_opened.emit(1)
    assert window.screen_open == "One"


@pytest.mark.parametrize(
    ("place", "fits"),
    [
        (QRect(100, 50, 1100, 650), QRect(100, 50, 1100, 650)),
        (QRect(900, 50, 1100, 650), QRect(266, 50, 1100, 650)),
        (QRect(-40, -40, 1100, 650), QRect(0, 24, 1100, 650)),
        (QRect(0, 0, 2560, 1440), QRect(0, 24, 1366, 744)),
    ],
)
def test_a_saved_place_is_moved_and_cut_to_the_work_area(place: QRect, fits: QRect) -> None:
    assert inside(QRect(0, 24, 1366, 744), place) == fits


def test_the_first_window_fills_the_work_area_and_later_ones_their_saved_place(qtbot: QtBot) -> None:
    first = Window(("One",))
    qtbot.addWidget(first)
    first.fit(QRect(0, 0, 1000, 600))
    assert (first.width(), first.height()) == (1000, 600)
    assert first.isMaximized()
    first.setWindowState(Qt.WindowState.WindowNoState)
    first.setGeometry(10, 10, 900, 500)
    first.close()
    later = Window(("One",))
    qtbot.addWidget(later)
    later.fit(QRect(0, 0, 1400, 900))
    assert not later.isMaximized()


@pytest.mark.parametrize(("kept", "logged"), [(None, 0), (b"no place", 1)])
def test_an_unreadable_saved_place_is_logged(
    qtbot: QtBot, caplog: pytest.LogCaptureFixture, kept: bytes | None, logged: int
) -> None:
    before = QSettings().value(PLACE)
    QSettings().setValue(PLACE, kept) if kept else QSettings().remove(PLACE)
    try:
        qtbot.addWidget(Window(("One", "Two")))
        assert caplog.messages == ["the window's saved place cannot be read"] * logged
    finally:
        QSettings().remove(PLACE) if before is None else QSettings().setValue(PLACE, before)
