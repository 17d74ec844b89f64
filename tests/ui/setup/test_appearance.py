from __future__ import annotations

import pytest
from PySide6.QtCore import QSettings
from pytestqt.qtbot import QtBot

from desk.ui.bridge import Desk, Event
from desk.ui.kit import type as typeface
from desk.ui.setup.appearance import AppearancePage


@pytest.fixture
def page(qtbot: QtBot, empty_desk: Desk) -> AppearancePage:
    QSettings().remove(typeface.KEY)
    made = AppearancePage(empty_desk)
    qtbot.addWidget(made)
    made.refresh()
    return made


def test_the_size_of_the_type_is_kept_and_holds_from_the_next_start(page: AppearancePage, empty_desk: Desk) -> None:
    events: list[Event] = []
    empty_desk.happened.connect(events.append)
    assert page.form.values()["type"] == "100"
    field = page.form.fields["type"]
    field.put("150")
    field.commit()
    assert typeface.chosen_size() == "150"
    assert [event.words for event in events] == ["Restart to apply."]
    QSettings().remove(typeface.KEY)
