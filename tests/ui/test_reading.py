from __future__ import annotations

import threading

from pytestqt.qtbot import QtBot

from desk.domain.faults import FileFault, Unreadable
from desk.ui.bridge import Desk
from desk.ui.reading import FileReading


def test_a_newer_reading_replaces_an_older_one(qtbot: QtBot, empty_desk: Desk) -> None:
    reading, shown, goes_on = FileReading(empty_desk, empty_desk), [], threading.Event()

    def slow() -> str:
        goes_on.wait(5)
        return "older"

    reading.read(slow, shown.append)
    reading.read(lambda: "newer", shown.append)
    qtbot.waitUntil(lambda: not reading.is_busy, timeout=5000)
    goes_on.set()
    qtbot.wait(100)
    assert shown == ["newer"]


def test_faults_of_the_file_are_passed_on(qtbot: QtBot, empty_desk: Desk) -> None:
    reading, found = FileReading(empty_desk, empty_desk), []
    fault = FileFault("prices.csv", 2, "price", "free", "an amount")

    def fails() -> None:
        raise Unreadable([fault])

    reading.read(fails, found.append, found.append)
    qtbot.waitUntil(lambda: not reading.is_busy, timeout=5000)
    assert found == [(fault,)]


def test_a_closed_desk_shows_nothing_more(qtbot: QtBot, empty_desk: Desk) -> None:
    reading, shown = FileReading(empty_desk, empty_desk), []
    reading.read(lambda: 7, shown.append)
    empty_desk.closing.emit()
    qtbot.wait(50)
    assert not reading.is_busy
    assert shown == []
