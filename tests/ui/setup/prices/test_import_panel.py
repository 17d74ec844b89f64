"""Import of a price list uses what its fields show, and only if it is still wanted."""

from __future__ import annotations

import threading
import time
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from desk.ui.bridge import Desk
from desk.ui.setup.prices import import_panel
from desk.ui.setup.prices.page import PriceListsPage
from tests.ui.conftest import ON
from tests.ui.setup.prices.test_page import LETTERS, first_ounce, price_file, read, retype, wait_until


@pytest.fixture
def slow(page: PriceListsPage, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[threading.Event]:
    """A previewed list, read again only once the event is set."""
    page.look_into(price_file(tmp_path, LETTERS))
    read(page.importing)
    goes_on, preview = threading.Event(), import_panel.preview_chart

    def wait(*words: Any) -> Any:
        goes_on.wait(5)
        return preview(*words)

    monkeypatch.setattr(import_panel, "preview_chart", wait)
    yield goes_on
    goes_on.set()


def test_import_pressed_after_a_new_first_day_imports_once_with_that_day(
    qtbot: QtBot, page: PriceListsPage, desk: Desk, slow: threading.Event
) -> None:
    panel, imported = page.importing, []
    panel.imported.connect(imported.append)
    retype(qtbot, panel.form.fields["effective"].editor(), "2026-12-05")
    panel.import_button.click()
    assert imported == []
    slow.set()
    wait_until(lambda: bool(imported))
    read(panel)
    assert len(imported) == 1
    assert first_ounce(desk) == "0.82"
    assert first_ounce(desk, date(2026, 12, 5)) == "0.90"


def test_going_back_to_the_earlier_first_day_imports_with_the_earlier_day(
    qtbot: QtBot, page: PriceListsPage, desk: Desk, slow: threading.Event
) -> None:
    slow.set()
    for day in ("2026-12-05", ON.isoformat()):
        retype(qtbot, page.importing.form.fields["effective"].editor(), day)
        read(page.importing)
    page.importing.import_button.click()
    assert first_ounce(desk) == "0.90"


@pytest.mark.parametrize("leave", ["Cancel", "Escape", "a change"])
def test_leaving_or_a_later_change_calls_an_import_off_that_waits(
    qtbot: QtBot, page: PriceListsPage, desk: Desk, slow: threading.Event, leave: str
) -> None:
    panel = page.importing
    line = panel.form.fields["source"].editor()
    retype(qtbot, line, "by hand")
    panel.import_button.click()
    if leave == "a change":
        retype(qtbot, line, "by hand again")
    elif leave == "Escape":
        qtbot.keyClick(panel.cancel_button, Qt.Key.Key_Escape)
    else:
        panel.cancel_button.click()
    slow.set()
    read(panel)
    QTest.qWait(100)
    assert first_ounce(desk) == "0.82"


def test_leaving_a_field_does_not_wait_for_a_reading(qtbot: QtBot, page: PriceListsPage, slow: threading.Event) -> None:
    line = page.importing.form.fields["source"].editor()
    retype(qtbot, line, "by hand")
    start = time.monotonic()
    retype(qtbot, line, "by hand again")
    assert not slow.is_set()
    assert time.monotonic() - start < 3  # seconds; the reading waits for 5
