"""Keys pressed while the program is still loading, replayed in order when it is ready."""

from __future__ import annotations

from PySide6.QtCore import QEvent
from PySide6.QtGui import QAction, QKeyEvent, QKeySequence
from PySide6.QtWidgets import QApplication, QWidget

MOST = 200  # keys kept at most, for a book lying on the keyboard


class EarlyKeys:
    """Keys pressed before the screens exist."""

    def __init__(self) -> None:
        self._kept: list[QKeyEvent] = []

    def keep(self, event: QKeyEvent) -> None:
        """Keep a key that was pressed."""
        if len(self._kept) < MOST:
            self._kept.append(event.clone())

    def do_now(self, window: QWidget, screen: QWidget) -> None:
        """Replay them all: an action's key triggers it, any other goes to the focused widget."""
        waiting, self._kept = self._kept, []
        for event in waiting:
            action = _action_of(event, (*screen.actions(), *window.actions()))
            if action is not None:
                action.trigger()
                continue
            receiver = window.focusWidget() or screen
            for kind in (QEvent.Type.KeyPress, QEvent.Type.KeyRelease):
                again = QKeyEvent(kind, event.key(), event.modifiers(), event.text())
                QApplication.sendEvent(receiver, again)


def _action_of(event: QKeyEvent, actions: tuple[QAction, ...]) -> QAction | None:
    pressed = QKeySequence(event.keyCombination())
    return next((action for action in actions if action.isEnabled() and pressed in action.shortcuts()), None)
