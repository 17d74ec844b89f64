from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from desk.domain.faults import Refused
from desk.ui.bridge import Desk, Event
from desk.ui.setup.customs import destinations
from desk.ui.setup.customs.destinations import DestinationsPage


@pytest.fixture
def page(qtbot: QtBot, desk: Desk) -> DestinationsPage:
    page = DestinationsPage(desk)
    qtbot.addWidget(page)
    desk.changed.connect(lambda _told: page.refresh())
    page.refresh()
    page.resize(1000, 600)
    page.show()
    return page


def row_of(page: DestinationsPage, country: str) -> int:
    return next(at for at, row in enumerate(page.model.rows) if row[0] == country)


def test_enter_marks_a_country_as_checked_today(qtbot: QtBot, page: DestinationsPage, desk: Desk) -> None:
    page.table.selectRow(row_of(page, "Russia"))
    qtbot.keyClick(page.table, Qt.Key.Key_Return)
    assert page.model.rows[row_of(page, "Russia")][3] == "November 25, 2026"
    assert desk.steps()[0] == "Mail to Russia marked as resumed"
    desk.undo()
    assert page.model.rows[row_of(page, "Russia")][3] == ""


def test_the_age_of_each_list_is_shown(page: DestinationsPage) -> None:
    assert "Suspended countries: list of March 3, 2026." in page.words.text()
    assert "Import limits: list of November 25, 2026." in page.words.text()


def test_a_list_is_imported_and_a_faulty_one_says_where(
    page: DestinationsPage, desk: Desk, tmp_path: Path, qtbot: QtBot
) -> None:
    good, bad = tmp_path / "alerts.csv", tmp_path / "bad.csv"
    head = "country,rule,valid_from,source\n"
    good.write_text(head + "France,suspended,2026-11-24,alert\n", encoding="utf-8")
    bad.write_text(head + "France,suspended,,alert\n", encoding="utf-8")
    page.import_list(good)
    page.import_list(bad)  # nothing while one is being read
    assert not page.import_button.isEnabled()
    qtbot.waitUntil(page.import_button.isEnabled)
    assert "France" in [row[0] for row in page.model.rows]
    assert page.fault.text() == ""
    page.import_list(bad)
    qtbot.waitUntil(page.import_button.isEnabled)
    assert page.fault.text().startswith("bad.csv: line 2, valid_from")
    page.drop()
    assert "Russia" in [row[0] for row in page.model.rows]


def test_a_list_that_cannot_be_saved_now_says_why(
    page: DestinationsPage, desk: Desk, monkeypatch: pytest.MonkeyPatch, tmp_path: Path, qtbot: QtBot
) -> None:
    def refuse(*_: object) -> int:
        raise Refused("Another bench is busy. Try again.")

    events: list[Event] = []
    desk.happened.connect(events.append)
    monkeypatch.setattr(destinations, "keep_destinations", refuse)
    list_ = tmp_path / "list.csv"
    list_.write_text("country,rule,valid_from,source\nFrance,suspended,2026-11-24,alert\n", encoding="utf-8")
    page.import_list(list_)
    qtbot.waitUntil(page.import_button.isEnabled)
    assert [(one.words, str(one.mark)) for one in events] == [("Another bench is busy. Try again.", "stop")]
