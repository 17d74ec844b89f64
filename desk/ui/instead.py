"""One view in the place of a window's screens, while there is no data to show."""

from __future__ import annotations

from PySide6.QtWidgets import QStackedWidget, QWidget


def show_instead(window: QWidget, view: QWidget) -> None:
    """Show a view where the screens are; the first screen that is opened takes it away."""
    stack = window.findChild(QStackedWidget)
    assert isinstance(stack, QStackedWidget)
    stack.addWidget(view)
    stack.setCurrentWidget(view)
    view.setFocus()

    def leave(_at: int) -> None:
        if stack.currentWidget() is not view:
            stack.currentChanged.disconnect(leave)
            stack.removeWidget(view)
            view.deleteLater()

    stack.currentChanged.connect(leave)
