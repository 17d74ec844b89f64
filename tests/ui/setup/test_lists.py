"""A list of products or mailers imported from its Setup page: previewed on Batch, imported, and back on that page."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtWidgets import QFileDialog
from pytestqt.qtbot import QtBot

from desk.ui.batch import view as batch
from desk.ui.batch.view import BatchView
from desk.ui.bridge import Desk
from desk.ui.setup import view as setup
from desk.ui.setup.records import RecordsPage
from desk.ui.setup.view import SetupView
from desk.ui.window import Window

LISTS = {
    "Products": "sku;name;unit_weight;weight_unit\nGP-1;Glue pot;120;g\n",
    "Mailers": "mailer;type\nLong tube;tube\n",
}


@pytest.fixture
def window(qtbot: QtBot, desk: Desk) -> Window:
    made = Window(["Batch", "Setup"])
    qtbot.addWidget(made)
    made.seat(desk, [(one.TITLE, one.SHORTCUT, one.build(desk)) for one in (batch, setup)])
    made.show()
    return made


def asked(window: Window, page: str, file: Path, monkeypatch: pytest.MonkeyPatch) -> tuple[RecordsPage, BatchView]:
    monkeypatch.setattr(QFileDialog, "getOpenFileName", lambda *_: (str(file), ""))
    window.open_page("Setup", page)
    screen, tables = window.screen_of("Setup"), window.screen_of("Batch")
    assert isinstance(screen, SetupView)
    assert isinstance(tables, BatchView)
    assert isinstance(screen.page, RecordsPage)
    return screen.page, tables


def names(page: RecordsPage) -> list[str]:
    return [page.list.item(row).text() for row in range(page.list.count())]


@pytest.mark.parametrize(("page", "new"), [("Products", "Glue pot"), ("Mailers", "Long tube")])
@pytest.mark.parametrize("takes", [True, False])
def test_a_list_is_imported_from_its_page_and_shown_there(
    qtbot: QtBot, window: Window, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, page: str, new: str, takes: bool
) -> None:
    file = tmp_path / "list.csv"
    file.write_text(LISTS[page], encoding="utf-8")
    shown, tables = asked(window, page, file, monkeypatch)
    shown.take_button.click()
    assert window.screen_open == "Batch"
    qtbot.waitUntil(lambda: tables.importing.outcome is not None)
    assert tables.importing.choices.kind == page.lower()
    with qtbot.waitSignal(tables.importing.ended):
        tables.importing.import_list() if takes else tables.importing.leave()
    assert (window.screen_open, window.screen_of("Setup").page) == ("Setup", shown)
    assert (new in names(shown)) is takes


def test_a_list_opened_from_batch_stays_on_batch(
    qtbot: QtBot, window: Window, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = tmp_path / "list.csv"
    file.write_text(LISTS["Mailers"], encoding="utf-8")
    _, tables = asked(window, "Mailers", file, monkeypatch)
    window.open_screen("Batch")
    tables.look_into(file)
    qtbot.waitUntil(lambda: tables.importing.outcome is not None)
    tables.importing.import_list()
    assert window.screen_open == "Batch"


def test_a_file_that_is_not_a_table_returns_to_the_page(
    qtbot: QtBot, window: Window, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "empty.csv").write_text("")
    shown, tables = asked(window, "Products", tmp_path / "empty.csv", monkeypatch)
    with qtbot.waitSignal(tables.importing.ended):
        shown.take_button.click()
    assert window.screen_open == "Setup"


def test_canceling_the_file_dialog_stays_on_the_page(window: Window, monkeypatch: pytest.MonkeyPatch) -> None:
    shown, _ = asked(window, "Products", Path(), monkeypatch)
    monkeypatch.setattr(QFileDialog, "getOpenFileName", lambda *_: ("", ""))
    shown.take_button.click()
    assert window.screen_open == "Setup"


@pytest.mark.parametrize(
    ("page", "offered"), [("Products", True), ("Mailers", True), ("Stamps", False), ("Shipping choices", False)]
)
def test_only_pages_with_lists_offer_an_import(window: Window, page: str, offered: bool) -> None:
    window.open_page("Setup", page)
    screen = window.screen_of("Setup")
    assert isinstance(screen, SetupView)
    assert isinstance(screen.page, RecordsPage)
    assert screen.page.take_button.isVisible() is offered
    if offered:
        assert screen.page.take_button.accessibleName() == f"Import a list of {page.lower()}"
