from __future__ import annotations

import pytest
from PySide6.QtCore import QSettings
from pytestqt.qtbot import QtBot

from desk.ui.bridge import Desk
from desk.ui.kit import type as typeface
from desk.ui.setup.appearance import AppearancePage


@pytest.fixture
def page(qtbot: QtBot, empty_desk: Desk) -> AppearancePage:
    QSettings().remove(typeface.KEY)
    made = AppearancePage(empty_desk)
    qtbot.addWidget(made)
    made.refresh()
    return made


def test_the_text_size_is_saved_and_rebuilds_the_window(page: AppearancePage, empty_desk: Desk) -> None:
    asked: list[bool] = []
    empty_desk.look_changed.connect(lambda: asked.append(True))
    assert page.form.values()["type"] == "100"
    field = page.form.fields["type"]
    field.put("150")
    field.commit()
    assert typeface.chosen_size() == "150"
    assert asked == [True]
    QSettings().remove(typeface.KEY)
