"""In a real window: a declaration is completed with the keyboard alone."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QLineEdit
from pytestqt.qtbot import QtBot

from desk.app.wiring import screens_of, words
from desk.ui.bridge import Desk
from desk.ui.window import Window


@pytest.mark.window
def test_a_declaration_is_completed_by_keyboard(qtbot: QtBot, desk: Desk, weigh_demo: Callable[[], None]) -> None:
    weigh_demo()
    window = Window(words())
    qtbot.addWidget(window)
    window.seat(desk, screens_of(desk))
    window.show()
    qtbot.waitExposed(window)
    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow)
    qtbot.keyClick(window, Qt.Key.Key_3, Qt.KeyboardModifier.ControlModifier)
    view = window.screen_of("Customs")
    typed = {
        "HS code": "442019",
        "Customs description (what, material, use)": "Sample cards of printed paper for choosing colors",
        "Country of origin": "Mexico",
        "Customs value of one, in USD": "0.50",
    }
    view.pose("trouble")
    lacking = view.editor.view.number  # type: ignore[attr-defined]
    for _ in range(12):
        here = QApplication.focusWidget()
        if not isinstance(here, QLineEdit) or view.editor.view.number != lacking:  # type: ignore[attr-defined]
            break
        qtbot.keyClicks(here, typed[here.accessibleName()])  # the old text is selected and replaced
        qtbot.keyClick(here, Qt.Key.Key_Return)
    shown = next(view for view in view.views.values() if view.number == lacking)  # type: ignore[attr-defined]
    missing = {one.short for one in shown.all_missing if one.mark in ("stop", "look")}
    assert missing == set()
