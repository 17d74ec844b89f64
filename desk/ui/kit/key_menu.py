"""A menu that keeps no key from the window: a key it doesn't use closes it and goes to the window."""

from __future__ import annotations

from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QApplication, QMenu

Key = Qt.Key
USED = frozenset(
    {Key.Key_Up, Key.Key_Down, Key.Key_Left, Key.Key_Right, Key.Key_Home, Key.Key_End, Key.Key_PageUp, Key.Key_PageDown}
    | {Key.Key_Return, Key.Key_Enter, Key.Key_Space, Key.Key_Tab, Key.Key_Backtab, Key.Key_Escape}
    | {Key.Key_Shift, Key.Key_Control, Key.Key_Alt, Key.Key_AltGr, Key.Key_Meta}
)


class HandedKey(QEvent):
    """A key that a menu hands to its window."""

    KIND = QEvent.Type(QEvent.registerEventType())

    def __init__(self, pressed: QKeyEvent) -> None:
        super().__init__(self.KIND)
        self.pressed = pressed.clone()


class KeyMenu(QMenu):
    """A menu with numbered lines. Its parent's window gets a `HandedKey` for every key the menu doesn't use."""

    def keyPressEvent(self, event: QKeyEvent) -> None:
        plain = not event.modifiers() & (Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.AltModifier)
        if event.key() in USED or (plain and event.text().isalnum()):
            super().keyPressEvent(event)
            return
        self.close()
        parent = self.parentWidget()
        if parent is not None:
            QApplication.postEvent(parent.window(), HandedKey(event))
