from __future__ import annotations

from collections.abc import Callable
from importlib import import_module

import pytest
from PySide6.QtCore import QPoint, QSettings, Qt
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QLabel, QPushButton
from pytestqt.qtbot import QtBot

from desk.domain.status import PieceStatus
from desk.session.pile.bulk_changes import set_beside
from desk.ui.actions import Act
from desk.ui.batch.view import BatchView
from desk.ui.bridge import Desk, DeskChanges, OngoingState
from desk.ui.early_keys import MOST
from desk.ui.kit.message import MessageLine
from desk.ui.kit.strip import Strip
from desk.ui.kit.words import LineOfWords, Word
from desk.ui.screen import Jump, Screen
from desk.ui.window import PLACE, Window


class Other(Screen):
    """A screen that counts its refreshes."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.told: list[DeskChanges] = []
        self.jumped = self.pressed = 0

    def refresh(self, told: DeskChanges) -> None:
        self.told.append(told)

    def acts(self) -> tuple[Act, ...]:
        return (Act("K", "Count", self.press), Act("0 – 9", "Digits"))

    def jumps(self) -> tuple[Jump, ...]:
        return (Jump("5 to count", self.jump),)

    def press(self) -> None:
        self.pressed += 1

    def jump(self) -> None:
        self.jumped += 1


@pytest.fixture
def window(qtbot: QtBot, desk: Desk) -> Window:
    made = Window(("Batch", "Bench"))
    qtbot.addWidget(made)
    made.show()
    made.seat(desk, [("Batch", "Ctrl+1", BatchView(desk)), ("Bench", "Ctrl+2", Other(desk))])
    made.activateWindow()
    with qtbot.waitActive(made):
        pass
    return made


def other(window: Window) -> Other:
    found = window.findChild(Other)
    assert found is not None
    return found


def words(window: Window) -> list[str]:
    line = window.findChild(LineOfWords)
    assert line is not None
    return [jump.text() for jump in line.jumps()]


def message(window: Window) -> str:
    line = window.findChild(MessageLine)
    assert line is not None
    return line.words


def test_only_the_first_screen_is_refreshed_at_the_start(window: Window) -> None:
    assert window.screen_open == "Batch"
    assert other(window).told == []


def test_ctrl_and_a_digit_open_a_screen(qtbot: QtBot, window: Window) -> None:
    qtbot.keyClick(window, Qt.Key.Key_2, Qt.KeyboardModifier.ControlModifier)
    assert window.screen_open == "Bench"
    assert len(other(window).told) == 1


def test_a_tab_opens_its_screen(qtbot: QtBot, window: Window) -> None:
    word = next(word for word in window.findChildren(Word) if word.text() == "Bench")
    qtbot.mouseClick(word, Qt.MouseButton.LeftButton)
    assert window.screen_open == "Bench"
    assert word.isChecked()


def test_a_hidden_screen_is_refreshed_once_when_it_is_opened(window: Window, desk: Desk) -> None:
    window.open_screen("Bench")
    window.open_screen("Batch")
    desk.do(set_beside, [1], PieceStatus.LOST)
    desk.do(set_beside, [2], PieceStatus.LOST)
    assert len(other(window).told) == 1
    window.open_screen("Bench")
    assert [told.pieces for told in other(window).told[1:]] == [frozenset({1, 2})]


def test_keys_of_a_screen_work_only_on_it(qtbot: QtBot, window: Window) -> None:
    qtbot.keyClick(window.focusWidget(), Qt.Key.Key_K)
    assert other(window).pressed == 0
    window.open_screen("Bench")
    qtbot.keyClick(other(window), Qt.Key.Key_K)
    assert other(window).pressed == 1


def test_the_jumps_follow_every_act(window: Window, desk: Desk) -> None:
    assert words(window) == ["8 to sort out first", "59 to weigh", "5 to count"]
    desk.do(set_beside, [1], PieceStatus.SET_ASIDE)
    assert words(window) == ["8 to sort out first", "58 to weigh", "5 to count"]


def test_a_jump_opens_its_screen_and_its_place(qtbot: QtBot, window: Window) -> None:
    jump = next(word for word in window.findChildren(Word) if word.text() == "5 to count")
    qtbot.mouseClick(jump, Qt.MouseButton.LeftButton)
    assert (window.screen_open, other(window).jumped) == ("Bench", 1)


def test_undo_works_by_key_and_from_the_message(qtbot: QtBot, window: Window, desk: Desk) -> None:
    desk.do(set_beside, [1], PieceStatus.LOST)
    assert message(window) == "Lost: 1 piece"
    undo = next(button for button in window.findChildren(QPushButton) if button.text() == "Undo")
    assert undo.isVisible()
    qtbot.mouseClick(undo, Qt.MouseButton.LeftButton)
    assert message(window) == "Undone: Lost: 1 piece"
    assert not undo.isVisible()
    qtbot.keyClick(window, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier)
    assert desk.pile.verdicts[1].status == PieceStatus.LOST
    qtbot.keyClick(window, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert desk.pile.verdicts[1].status == PieceStatus.TO_WEIGH


def test_undo_and_redo_carry_the_name_of_the_step(window: Window, desk: Desk) -> None:
    desk.do(set_beside, [1], PieceStatus.LOST)
    assert "Undo: Lost: 1 piece" in [action.text() for action in window.findChildren(QAction)]


def test_states_are_shown_on_strips(window: Window, desk: Desk) -> None:
    pressed: list[str] = []
    desk.state("scale", OngoingState("The scale is lost.", ways=(("Look again", lambda: pressed.append("look")),)))
    strip = window.findChild(Strip)
    assert strip is not None
    assert strip.accessibleName() == "The scale is lost."
    strip.findChildren(QPushButton)[0].click()
    assert pressed == ["look"]
    desk.state("scale", None)
    assert strip.isHidden()


def test_the_list_of_keys_is_made_from_the_acts(qtbot: QtBot, window: Window) -> None:
    window.open_screen("Bench")

    def shown() -> set[str]:
        return {label.text() for label in window.findChildren(QLabel) if label.isVisible()}

    qtbot.keyClick(other(window), "?")
    qtbot.waitUntil(lambda: {"K", "Count", "Digits", "Ctrl+Q", "Quit", "Ctrl+2"} <= shown())
    qtbot.keyClick(other(window), "?")
    assert "Digits" not in shown()


def test_the_place_of_the_window_is_saved(qtbot: QtBot, window: Window) -> None:
    window.move(QPoint(20, 10))
    window.close()
    assert QSettings().value(PLACE) == window.saveGeometry()


def test_ctrl_q_closes_it(qtbot: QtBot, window: Window) -> None:
    qtbot.keyClick(window, Qt.Key.Key_Q, Qt.KeyboardModifier.ControlModifier)
    assert not window.isVisible()


def test_another_desk_replaces_the_first(window: Window, desk: Desk) -> None:
    first = other(window)
    again = Desk(desk.sitting, desk.pile, desk.resources, is_demo=True)
    window.seat(again, [("Bench", "Ctrl+2", Other(again))])
    assert window.screen_open == "Bench"
    assert window.windowTitle() == "Demo – Tare & Tag"
    assert "Demo" in [label.text() for label in window._words.findChildren(QLabel) if not label.isHidden()]
    assert words(window) == ["5 to count"]
    assert first not in [window._stack.widget(at) for at in range(window._stack.count())]


def test_opening_a_piece_shows_the_bench(window: Window, desk: Desk) -> None:
    desk.piece_opened.emit(3)
    assert window.screen_open == "Bench"


def test_a_refusal_stays_longer_than_another_message(window: Window, monkeypatch: pytest.MonkeyPatch) -> None:
    line = window.findChild(MessageLine)
    assert line is not None
    line.say("Done.")
    soon = line._timer.interval()
    line.say("Not now.", "stop")
    assert line._timer.interval() > soon


def test_raising_a_hidden_window_shows_it(window: Window, monkeypatch: pytest.MonkeyPatch) -> None:
    raised, note = counting()
    monkeypatch.setattr(window, "raise_", note)  # the screenless platform cannot
    window.hide()
    window.raise_to_front()
    assert (window.isVisible(), raised) == (True, [1])


def counting() -> tuple[list[int], Callable[[], None]]:
    counted: list[int] = []
    return counted, lambda: counted.append(1)


def test_jump_buttons_are_reused_with_their_new_action(qtbot: QtBot) -> None:
    line = LineOfWords(("Batch",))
    qtbot.addWidget(line)
    first, go_first = counting()
    second, go_second = counting()
    line.show_jumps([("3 to weigh", go_first), ("1 needs a look", go_first)])
    button = line.jumps()[0]
    line.show_jumps([("3 to weigh", go_second)])
    assert line.jumps() == [button]
    button.click()
    assert (first, second) == ([], [1])


def test_keys_pressed_before_the_screens_exist_are_done_later(qtbot: QtBot, desk: Desk) -> None:
    window = Window(["Batch", "Costs"])
    qtbot.addWidget(window)
    window.show()
    qtbot.keyClicks(window, "104")
    batch = import_module("desk.ui.batch.view")
    window.seat(desk, [(batch.TITLE, batch.SHORTCUT, batch.build(desk))])
    assert window.screen_of("Batch").list.bar.search.text() == "104"


def test_a_shortcut_pressed_early_opens_its_screen(qtbot: QtBot, desk: Desk) -> None:
    window = Window(["Batch", "Other"])
    qtbot.addWidget(window)
    window.show()
    qtbot.keyClick(window, Qt.Key.Key_2, Qt.KeyboardModifier.ControlModifier)
    view = import_module("desk.ui.batch.view").build(desk)
    window.seat(desk, [("Batch", "Ctrl+1", view), ("Other", "Ctrl+2", Other(desk))])
    assert window.screen_open == "Other"


def test_a_key_held_down_while_loading_is_kept_only_up_to_a_limit(qtbot: QtBot, desk: Desk) -> None:
    window, done = Window(["Batch"]), []
    qtbot.addWidget(window)
    window.show()
    for _ in range(MOST + 50):
        qtbot.keyClick(window, Qt.Key.Key_W)
    view = import_module("desk.ui.batch.view").build(desk)
    view.list.next_status = lambda: done.append(1)  # type: ignore[method-assign]
    window.seat(desk, [("Batch", "Ctrl+1", view)])
    assert len(done) == MOST
