"""Show one view instead of the screens, while there is no data."""

from __future__ import annotations

from PySide6.QtWidgets import QStackedWidget, QWidget


def show_instead(window: QWidget, view: QWidget) -> None:
    """Show a view in place of the screens; opening a screen removes it."""
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
