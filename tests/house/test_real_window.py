"""Under a virtual display a window is painted by the real platform and takes keys."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QLineEdit

pytestmark = pytest.mark.window


def test_a_window_is_shown_on_the_real_platform(qtbot):
    line = QLineEdit()
    qtbot.addWidget(line)
    with qtbot.waitExposed(line):
        line.show()

    assert QGuiApplication.platformName() == "xcb"
    assert line.windowHandle().isExposed()


def test_an_active_window_receives_keys(qtbot):
    line = QLineEdit()
    qtbot.addWidget(line)
    line.show()
    line.activateWindow()
    with qtbot.waitActive(line):
        pass

    qtbot.keyClicks(line, "1042")
    qtbot.keyClick(line, Qt.Key.Key_Backspace)

    assert line.text() == "104"
