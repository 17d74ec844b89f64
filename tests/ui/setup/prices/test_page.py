"""Setup > Price lists: the lists, a new one compared and imported, prices and dates edited, the zone chart; undo."""

from __future__ import annotations

import re
import threading
import time
from collections.abc import Callable
from datetime import date
from functools import partial
from pathlib import Path

import pytest
import xlsxwriter
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QFileDialog
from pytestqt.qtbot import QtBot

from desk.session.setup.own_rules import own_zones
from desk.ui.bridge import Desk
from desk.ui.setup.prices import import_panel, zones_panel
from desk.ui.setup.prices.import_panel import ImportPanel
from desk.ui.setup.prices.page import PriceListsPage
from desk.ui.setup.prices.zones_panel import ZonesPanel
from tests.ui.conftest import ON

LETTERS = "service,weight_max,key,price\nletter-stamped,1,,0.90\nletter-stamped,2,,1.20\nletter-stamped,3,,1.10\n"


def first_ounce(desk: Desk, on: date = ON) -> str:
    chart = desk.sitting.rulebook.charts.in_force("letter-stamped", on)
    assert chart is not None
    return chart.rows[""][0].price.text()


def price_file(tmp_path: Path, text: str, name: str = "new.csv") -> Path:
    (tmp_path / name).write_text(text, encoding="utf-8")
    return tmp_path / name


def read(panel: ImportPanel | ZonesPanel) -> None:
    """Wait until the file was read in the background."""
    wait_until(lambda: not panel.is_reading)


def wait_until(holds: Callable[[], bool]) -> None:
    """Handle the window's events until a condition holds; fail after 10 seconds."""
    end = time.monotonic() + 10
    while not holds():
        assert time.monotonic() < end
        QTest.qWait(5)


def row_of(page: PriceListsPage, service: str) -> int:
    return next(at for at, row in enumerate(page.rows) if row.service == service)


def retype(qtbot: QtBot, line: object, text: str) -> None:
    line.setFocus()  # type: ignore[attr-defined]
    line.selectAll()  # type: ignore[attr-defined]
    qtbot.keyClicks(line, text)  # type: ignore[arg-type]
    qtbot.keyClick(line, Qt.Key.Key_Return)  # type: ignore[arg-type]


def test_every_list_is_shown_with_its_days_and_its_age(page: PriceListsPage) -> None:
    letter = page.rows[row_of(page, "letter-stamped")]
    assert letter.words[:5] == ("letter, stamped", "Jul 12, 2026", "", "current", "136 days")
    older = page.rows[row_of(page, "letter-stamped") + 1]
    assert (older.words[1], older.words[3]) == ("Oct 5, 2025", "old")
    ground = page.rows[row_of(page, "ground-retail")]
    assert ground.words[1:4] == ("Oct 4, 2026", "Jan 17, 2027", "current")
    july = page.rows[row_of(page, "ground-retail") + 1]
    assert july.words[3] == "used for weights the newest list lacks"
    abroad = page.rows[row_of(page, "intl-package")]
    assert abroad.words[2:4] == ("Oct 3, 2026", "current (may be outdated)")
    page.table.selectRow(row_of(page, "priority-retail"))
    assert page.sure_line.text() == (
        "Price list of July 12, 2026: copied from the official list once; compare before you rely on it."
    )


def test_a_new_list_is_compared_cell_by_cell_then_imported_and_undone(
    qtbot: QtBot, page: PriceListsPage, desk: Desk, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = price_file(tmp_path, LETTERS)
    monkeypatch.setattr(QFileDialog, "getOpenFileName", lambda *_: (str(file), ""))
    qtbot.keyClick(page, Qt.Key.Key_N, Qt.KeyboardModifier.ControlModifier)
    panel = page.importing
    assert panel.isVisible()
    read(panel)
    assert panel.changes.rows == (
        ("letter, stamped", "", "1", "$0.82", "$0.90", "1.0976", ""),
        ("letter, stamped", "", "2", "$1.11", "$1.20", "1.0811", ""),
        ("letter, stamped", "", "3", "$1.40", "$1.10", "0.7857", "lower at a higher weight"),
        ("letter, stamped", "", "3.5", "$1.69", "–", "", "missing in the new list"),
    )
    assert panel.summary.text() == "1 service, 4 prices changed, 1 missing, 1 lower than the one before."
    qtbot.keyClick(panel.import_button, Qt.Key.Key_Space)
    assert page.table.isVisible()
    assert first_ounce(desk) == "0.90"
    assert page.rows[row_of(page, "letter-stamped")].words[1] == "Nov 25, 2026"
    assert page.rows[row_of(page, "letter-stamped") + 1].words[1:4] == (
        "Jul 12, 2026",
        "",
        "used for weights the newest list lacks",
    )
    desk.undo()
    assert first_ounce(desk) == "0.82"
    desk.redo()
    assert first_ounce(desk) == "0.90"


def test_faults_of_the_file_are_sentences_with_their_line_and_nothing_can_be_imported(
    qtbot: QtBot, page: PriceListsPage, desk: Desk, tmp_path: Path
) -> None:
    page.look_into(price_file(tmp_path, LETTERS.replace("1.20", "free").replace(",3,", ",0.5,")))
    read(page.importing)
    panel = page.importing
    reported = panel.faults.label.text().splitlines()
    assert reported[0].startswith("new.csv: line 3, price: 'free' found, expected an amount of USD")
    assert reported[1].startswith("new.csv: line 4, weight_max: '0.5' found")
    assert not panel.import_button.isEnabled()
    panel.take()
    assert first_ounce(desk) == "0.82"
    qtbot.keyClick(panel.cancel_button, Qt.Key.Key_Escape)
    assert page.table.isVisible()
    assert page.table.hasFocus()


def test_a_complete_list_in_grams_and_euros_is_compared_imported_and_undone(
    page: PriceListsPage, desk: Desk, tmp_path: Path, resources: Path
) -> None:
    reported = (resources / "handbook" / "price-lists.md").read_text(encoding="utf-8")
    folder = tmp_path / "zz-2026-03-01"
    folder.mkdir()
    for language, name in (("toml", "chart.toml"), ("csv", "cells.csv")):
        (block,) = re.findall(rf"```{language}\n(.*?)```", reported, re.DOTALL)
        (folder / name).write_text(block, encoding="utf-8")
    page.look_into(folder / "chart.toml")
    read(page.importing)
    panel = page.importing
    assert panel.heading.text() == "zz-2026-03-01"
    assert panel.form.isHidden()
    assert panel.cancel_button.hasFocus()
    assert panel.changes.rows[0] == ("brief", "", "20", "–", "EUR 1.15", "", "new")
    panel.take()
    page.open_row(row_of(page, "brief"))
    heads = [page.cells.model.headerData(at, Qt.Orientation.Horizontal) for at in (1, 2)]
    assert heads == ["Up to, g", "Price, EUR"]
    assert page.cells.table.isColumnHidden(0)
    desk.undo()
    assert "brief" not in desk.sitting.rulebook.charts.services()


def test_column_headers_say_what_a_price_depends_on(page: PriceListsPage) -> None:
    page.open_row(row_of(page, "ground-retail"))
    assert page.cells.model.headerData(0, Qt.Orientation.Horizontal) == "Zone"
    assert not page.cells.table.isColumnHidden(0)
    page.back()
    page.open_row(row_of(page, "letter-stamped"))
    assert page.cells.table.isColumnHidden(0)


def test_an_invalid_date_is_reported_at_its_field(qtbot: QtBot, page: PriceListsPage, tmp_path: Path) -> None:
    page.look_into(price_file(tmp_path, LETTERS))
    read(page.importing)
    fields = page.importing.form.fields
    retype(qtbot, fields["until"].editor(), "soon")
    assert fields["until"].fault.label.text() == "Enter a date such as 2026-07-12."
    assert not page.importing.import_button.isEnabled()
    retype(qtbot, fields["until"].editor(), "2026-01-01")
    assert fields["until"].fault.label.text() == "The last day can't come before the first."
    retype(qtbot, fields["until"].editor(), "2027-01-16")
    read(page.importing)
    assert page.importing.import_button.isEnabled()
    assert page.importing.preview is not None
    assert page.importing.preview.lists[0].until == date(2027, 1, 16)


def test_a_price_is_corrected_by_keyboard_and_undone(qtbot: QtBot, page: PriceListsPage, desk: Desk) -> None:
    page.table.selectRow(row_of(page, "letter-stamped"))
    qtbot.keyClick(page.table, Qt.Key.Key_Return)
    cells = page.cells
    assert cells.table.hasFocus()
    assert cells.model.rows[0] == ("", "1", "0.82")
    price = cells.form.fields["price"]
    qtbot.keyClick(cells.table, Qt.Key.Key_Return)
    retype(qtbot, price.editor(), "cheap")
    assert price.fault.label.text() == "Enter a price in USD such as 0.82."
    retype(qtbot, price.editor(), "0.83")
    assert first_ounce(desk) == "0.83"
    assert cells.model.rows[0] == ("", "1", "0.83")
    cells.table.selectRow(1)
    retype(qtbot, price.editor(), "1.12")
    assert desk.steps()[0] == "Price changed: letter, stamped up to 2, $1.12"
    desk.undo()
    desk.undo()
    assert first_ounce(desk) == "0.82"
    assert page.table.isVisible()


def test_the_last_day_of_a_list_is_set(qtbot: QtBot, page: PriceListsPage, desk: Desk) -> None:
    page.open_row(row_of(page, "letter-stamped"))
    retype(qtbot, page.cells.form.fields["until"].editor(), "2026-11-01")
    chart = desk.sitting.rulebook.charts.in_force("letter-stamped", ON)
    assert chart is not None
    assert chart.is_past(ON)
    retype(qtbot, page.cells.form.fields["until"].editor(), "2026-01-01")
    assert "come before the first" in page.cells.form.fields["until"].fault.label.text()
    qtbot.keyClick(page.cells.table, Qt.Key.Key_Escape)
    assert page.rows[row_of(page, "letter-stamped")].words[3] == "current (may be outdated)"


def test_a_zone_chart_of_the_post_is_loaded_saved_and_removed(
    page: PriceListsPage, desk: Desk, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = desk.sitting.rulebook.zones.find(desk.pile.terms.shop.sender.postal_code, "10001").zone
    other = "7" if before != "7" else "6"
    file = price_file(tmp_path, f"prefix,zone,edition\n100-102,{other},2026-10-01\n", "zones.csv")
    monkeypatch.setattr(QFileDialog, "getOpenFileName", lambda *_: (str(file), ""))
    page.ask_for_zones()
    read(page.zones)
    assert own_zones(desk.sitting).rows == {}  # it is compared first
    page.zones.import_button.click()
    answer = desk.sitting.rulebook.zones.find(desk.pile.terms.shop.sender.postal_code, "10001")
    assert (answer.zone, answer.edition, answer.findings) == (other, "2026-10-01", ())
    assert "October 1, 2026, 3 prefixes" in page.zone_words.text()
    page.drop_button.click()
    assert desk.sitting.rulebook.zones.find(desk.pile.terms.shop.sender.postal_code, "10001").zone == before
    assert page.drop_button.isHidden()
    desk.undo()
    assert own_zones(desk.sitting).rows == {"100": int(other), "101": int(other), "102": int(other)}
    assert desk.sitting.rulebook.zones.find(desk.pile.terms.shop.sender.postal_code, "10001").zone == other


def test_a_faulty_zone_chart_changes_nothing_and_names_the_line(
    page: PriceListsPage, desk: Desk, tmp_path: Path
) -> None:
    page.load_zones(price_file(tmp_path, "prefix,zone\n100,12\n", "zones.csv"))
    read(page.zones)
    assert page.zones.faults.label.text() == "zones.csv: line 2, zone: '12' found, expected a zone from 1 to 9"
    assert not page.zones.import_button.isEnabled()
    assert own_zones(desk.sitting).rows == {}


def test_a_workbook_offers_a_service_for_each_table(page: PriceListsPage, desk: Desk, tmp_path: Path) -> None:
    zones = [f"Zone {zone}" for zone in range(1, 10)]
    book = xlsxwriter.Workbook(tmp_path / "prices.xlsx")
    for tab, first in (("Ground Advantage Retail", 9), ("Sheet2", 5)):
        sheet = book.add_worksheet(tab)
        for at, cells in enumerate([["Prices (invented)"], ["Not over (lb)", *zones], [1, *[first] * 9], ["Note 1"]]):
            sheet.write_row(at, 0, cells)
    book.close()
    page.look_into(tmp_path / "prices.xlsx")
    read(page.importing)
    panel = page.importing
    assert panel.tables is not None
    assert panel.tables.values() == {"Ground Advantage Retail": "ground-retail", "Sheet2": ""}
    assert [chart.service for chart in panel.preview.lists] == ["ground-retail"]
    panel.tables.fields["Sheet2"].put("priority-retail")
    panel.tables.fields["Sheet2"].commit()
    read(panel)
    assert sorted(chart.service for chart in panel.preview.lists) == ["ground-retail", "priority-retail"]
    panel.take()
    assert desk.sitting.rulebook.charts.in_force("priority-retail", ON).rows["5"][0].price.text() == "5.00"


def test_an_import_shows_its_effect_on_weighed_pieces(
    page: PriceListsPage, desk: Desk, tmp_path: Path, weigh_demo: Callable[[], None]
) -> None:
    weigh_demo()
    page.look_into(price_file(tmp_path, LETTERS))
    read(page.importing)
    panel = page.importing
    assert panel.meaning.text().startswith("The ")
    assert "They cost" in panel.meaning.text()
    panel.turn_button.click()
    assert panel.table.model() is panel.effects
    letter = next(row for row in panel.effects.rows if row[2] == "letter, stamped" and row[1] == "1 oz")
    assert letter[5:] == ("$0.82", "$0.90", "+$0.08")
    reported = panel.meaning.text()
    panel.take()
    assert page.effect_line.text() == reported


def test_a_zone_chart_says_how_many_pieces_change_zone(
    page: PriceListsPage, desk: Desk, tmp_path: Path, weigh_demo: Callable[[], None]
) -> None:
    weigh_demo()
    everywhere = "".join(f"{prefix:03},8\n" for prefix in range(1000))
    page.load_zones(price_file(tmp_path, f"prefix,zone\n{everywhere}", "zones.csv"))
    read(page.zones)
    reported = page.zones.meaning.text()
    assert re.search(r"Of the last \d+ pieces priced by zone, \d+ change zone: \d+ farther", reported)
    assert own_zones(desk.sitting).rows == {}
    moved = page.zones.moves.rows
    assert sum(int(row[2]) for row in moved) == int(re.search(r"(\d+) change zone", reported)[1])  # type: ignore[index]
    assert {row[1] for row in moved} == {"8"}
    assert all(row[5].startswith("+") for row in moved if row[0] < "8")
    page.zones.take()
    assert page.effect_line.text() == reported
    assert len(own_zones(desk.sitting).rows) == 1000


def test_the_window_accepts_keys_while_files_are_read_and_import_waits_for_them(
    page: PriceListsPage, desk: Desk, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    goes_on = threading.Event()

    def slow(read: Callable[..., object], *words: object) -> object:
        assert threading.current_thread() is not threading.main_thread()
        goes_on.wait(5)
        return read(*words)

    monkeypatch.setattr(zones_panel, "read_zones", partial(slow, zones_panel.read_zones))
    monkeypatch.setattr(import_panel, "preview_chart", partial(slow, import_panel.preview_chart))
    page.load_zones(price_file(tmp_path, "prefix,zone\n100,8\n", "zones.csv"))
    assert page.zones.cancel_button.hasFocus()
    assert not page.zones.import_button.isEnabled()
    page.look_into(price_file(tmp_path, LETTERS))
    wait_until(lambda: page.importing.heading.text() == "new.csv")
    page.importing.take()
    assert first_ounce(desk) == "0.82"
    goes_on.set()
    wait_until(lambda: first_ounce(desk) == "0.90")
    read(page.zones)
    assert page.zones.import_button.isEnabled()


def test_cancel_leaves_the_zones_unchanged(page: PriceListsPage, desk: Desk, tmp_path: Path) -> None:
    page.load_zones(price_file(tmp_path, "prefix,zone\n100,8\n", "zones.csv"))
    read(page.zones)
    page.zones.cancel_button.click()
    assert page.stack.currentIndex() == 0
    assert own_zones(desk.sitting).rows == {}


def test_before_anything_is_weighed_the_demo_shows_what_a_change_means(
    page: PriceListsPage, desk: Desk, tmp_path: Path
) -> None:
    page.look_into(price_file(tmp_path, LETTERS))
    read(page.importing)
    assert page.importing.meaning.text().startswith(
        "Nothing weighed yet, so this uses the packages of the demo shop. The"
    )
    assert page.importing.effects.rows
    everywhere = "".join(f"{prefix:03},8\n" for prefix in range(1000))
    page.load_zones(price_file(tmp_path, f"prefix,zone\n{everywhere}", "zones.csv"))
    read(page.zones)
    assert "demo shop. Of the last" in page.zones.meaning.text()


def test_another_screen_can_open_a_list_or_the_zone_chart(qtbot, desk) -> None:
    page = PriceListsPage(desk)
    qtbot.addWidget(page)
    page.refresh()
    page.show_part("flat 2026-07-12")
    row = page.rows[page.table.currentIndex().row()]
    assert (row.service, row.effective.isoformat()) == ("flat", "2026-07-12")
    page.show()
    page.show_part("zone chart")
    assert page.focusWidget() is page.load_button
    for unknown in ("no-such-service 2026-07-12", "flat 2001-01-01", "flat "):
        with qtbot.waitSignal(desk.happened) as reported:
            page.show_part(unknown)
        assert reported.args[0].words == "That price list isn't here anymore."
        assert page.rows[page.table.currentIndex().row()] == row
