"""A menu uses its own keys and passes every other to its window."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QEvent, Qt
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from desk.ui.kit.key_menu import HandedKey, KeyMenu

PLAIN, CONTROL = Qt.KeyboardModifier.NoModifier, Qt.KeyboardModifier.ControlModifier


class Hears(QWidget):
    """A window that notes the keys it is handed."""

    def __init__(self) -> None:
        super().__init__()
        self.handed: list[Qt.Key] = []

    def event(self, event: QEvent) -> bool:
        if isinstance(event, HandedKey):
            self.handed.append(event.pressed.key())
            return True
        return super().event(event)


@pytest.mark.qt_log_ignore("This plugin does not support")
@pytest.mark.parametrize(
    ("key", "modifier", "is_handed"),
    [
        (Qt.Key.Key_F1, PLAIN, True),
        (Qt.Key.Key_Question, PLAIN, True),
        (Qt.Key.Key_2, CONTROL, True),
        (Qt.Key.Key_2, PLAIN, False),
        (Qt.Key.Key_Down, PLAIN, False),
        (Qt.Key.Key_Shift, PLAIN, False),
    ],
)
def test_a_key_that_a_menu_does_not_use_closes_it_and_goes_to_its_window(
    qtbot: QtBot, key: Qt.Key, modifier: Qt.KeyboardModifier, *, is_handed: bool
) -> None:
    window = Hears()
    qtbot.addWidget(window)
    window.show()
    menu, chosen = KeyMenu(window), list[str]()
    for number in "12":
        menu.addAction(f"&{number}", lambda number=number: chosen.append(number))
    menu.show()
    qtbot.keyClick(menu, key, modifier)
    qtbot.wait(1)
    assert window.handed == ([key] if is_handed else [])
    if is_handed:
        assert menu.isHidden()
    assert chosen == (["2"] if key == Qt.Key.Key_2 and modifier == PLAIN else [])
