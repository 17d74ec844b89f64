from __future__ import annotations

import sys
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest
from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QDesktopServices, QFontDatabase, QGuiApplication
from PySide6.QtWidgets import QApplication, QPushButton
from pytestqt.qtbot import QtBot

from desk.app import wiring
from desk.app.one_window import OneWindow
from desk.app.wiring import Opening, open_window, own_store, prepare, words
from desk.domain.clock import SystemClock
from desk.domain.places.address import Address
from desk.domain.shop.shop import Shop
from desk.session.importing.import_orders import import_shop
from desk.session.setup.copies import copy_store
from desk.store.copies import make_copy
from desk.store.store import open_store
from desk.store.tables import settings
from desk.ui.kit import type as typeface
from desk.ui.kit.message import MessageLine
from desk.ui.kit.palette import DARK, LIGHT, sheet_in_force
from desk.ui.kit.scheme import choose_scheme, chosen_scheme
from desk.ui.kit.strip import Strip
from desk.ui.window import Window


@pytest.fixture(autouse=True)
def own_folders(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, qapp: QApplication) -> None:
    for name in ("DATA", "CONFIG", "STATE"):
        monkeypatch.setenv(f"XDG_{name}_HOME", str(tmp_path / name.lower()))
    monkeypatch.setattr(sys, "excepthook", sys.excepthook)
    prepare(qapp)


@pytest.fixture
def opening(qtbot: QtBot) -> Iterator[Opening]:
    window = Window(words())
    qtbot.addWidget(window)
    made = Opening(window)
    yield made
    made.close()
    made.claim(None)


def texts(window: Window) -> list[str]:
    return [strip.accessibleName() for strip in window.findChildren(Strip) if not strip.isHidden()]


def press(window: Window, name: str) -> None:
    next(one for one in window.findChildren(QPushButton) if one.accessibleName() == name and not one.isHidden()).click()


def test_the_demo_is_marked_as_one_and_starts_unweighed(opening: Opening) -> None:
    opening.open(None)
    assert opening.window.windowTitle() == "Demo – Tare & Tag"
    assert texts(opening.window) == ["Demo shop. Nothing you do here is saved."]
    assert opening.desk is not None
    assert len(opening.desk.pile.verdicts) > 50
    assert all(verdict.case.weighing is None for verdict in opening.desk.pile.verdicts.values())


def test_names_in_every_script_have_a_font(opening: Opening, monkeypatch: pytest.MonkeyPatch) -> None:
    loads: list[object] = []
    load = typeface.load_other_scripts
    monkeypatch.setattr(typeface, "load_other_scripts", lambda folder: (loads.append(folder), load(folder)))
    opening.open(None)
    opening.open(None)
    assert len(loads) == 1
    assert {"Noto Sans SC", "Noto Sans Thai", "Noto Sans Arabic"} <= set(QFontDatabase.families())


def test_switching_from_the_demo_to_a_real_store_and_back(qtbot: QtBot, opening: Opening) -> None:
    opening.open(None)
    demo = opening.desk
    press(opening.window, "Start with my own orders")
    qtbot.waitUntil(lambda: opening.desk is not None and opening.desk is not demo)
    assert own_store().exists()
    assert opening.window.windowTitle() == "Tare & Tag"
    assert texts(opening.window) == []
    press(opening.window, "Try the demo")
    qtbot.waitUntil(lambda: opening.window.windowTitle() == "Demo – Tare & Tag")


def test_restoring_a_backup_keeps_the_replaced_store(qtbot: QtBot, opening: Opening, tmp_path: Path) -> None:
    opening.open(own_store())
    assert opening.desk is not None
    import_shop(opening.desk.sitting, Shop(Address("Sorrel Street Bindery")))
    copy = copy_store(opening.desk.sitting, tmp_path / "copy.sqlite")
    import_shop(opening.desk.sitting, Shop(Address("Somebody Else")))
    before = opening.desk
    before.copy_chosen.emit(copy)
    qtbot.waitUntil(lambda: opening.desk is not None and opening.desk is not before)
    assert opening.desk.pile.terms.shop.sender.recipient == "Sorrel Street Bindery"
    (kept,) = own_store().parent.glob("*.before-restore-*")
    shown_message = opening.window.findChildren(MessageLine)[0].words
    assert shown_message == f"Restored: copy.sqlite. What was here before is in {kept}."


def test_a_file_that_is_not_a_backup_leaves_the_store_unchanged(qtbot: QtBot, opening: Opening, tmp_path: Path) -> None:
    opening.open(own_store())
    assert opening.desk is not None
    import_shop(opening.desk.sitting, Shop(Address("Sorrel Street Bindery")))
    (tmp_path / "letter.sqlite").write_text("Dear all")
    before = opening.desk
    before.copy_chosen.emit(tmp_path / "letter.sqlite")
    qtbot.waitUntil(lambda: opening.desk is not None and opening.desk is not before)
    assert opening.desk.pile.terms.shop.sender.recipient == "Sorrel Street Bindery"
    assert not list(own_store().parent.glob("*.before-restore-*"))
    assert opening.window.findChildren(MessageLine)[0].words


def test_a_store_that_cannot_be_opened_is_reported(opening: Opening, tmp_path: Path) -> None:
    (tmp_path / "notes.sqlite").write_text("no database")
    opening.open(tmp_path / "notes.sqlite")
    assert opening.desk is None
    assert opening.window._message.words != ""


def test_a_folder_that_cannot_be_written_is_reported(opening: Opening, tmp_path: Path) -> None:
    (tmp_path / "file").touch()
    opening.open(tmp_path / "file" / "below" / "store.sqlite")
    assert opening.desk is None
    shown_message = opening.window._message.words
    assert "can't be opened: not a directory" in shown_message
    assert str(tmp_path / "file") in shown_message


def test_a_bug_before_the_screens_exist_is_shown_in_a_message(
    opening: Opening, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(_desk: object) -> None:
        raise LookupError

    monkeypatch.setattr("desk.app.scale.attach_scale", fail)
    try:
        opening.open(None)
    except LookupError as error:
        sys.excepthook(LookupError, error, error.__traceback__)
    assert opening.window._message.words.endswith("a report was written.")


def test_a_second_start_brings_the_first_window_to_the_front_and_ends(
    qtbot: QtBot, opening: Opening, tmp_path: Path
) -> None:
    woken: list[int] = []
    opening.window.raise_to_front = lambda: woken.append(1)  # type: ignore[method-assign]
    store = tmp_path / "store.sqlite"
    assert opening.claim(store)
    second = Opening(Window(words()))
    qtbot.addWidget(second.window)
    assert not second.claim(store)
    qtbot.waitUntil(lambda: woken == [1])
    assert second.claim(tmp_path / "another.sqlite")
    second.claim(None)


def test_the_socket_name_of_a_crashed_window_is_reused(qtbot: QtBot, tmp_path: Path) -> None:
    first, second = OneWindow(tmp_path / "a"), OneWindow(tmp_path / "a")
    assert not first.wake_other()
    first.listen(lambda: None)
    first.close()
    assert not second.wake_other()
    assert OneWindow(tmp_path / "b").name != first.name


def test_a_start_paints_the_window_before_opening_the_store(
    qapp: QApplication, monkeypatch: pytest.MonkeyPatch
) -> None:
    seen: list[str] = []
    paint, start = Window.paintEvent, Opening.open

    def painted(window: Window, event: object) -> None:
        seen.append("paint")
        paint(window, event)  # type: ignore[arg-type]

    def opened(opening: Opening, where: Path | None) -> None:
        start(opening, where)
        seen.append(opening.window.windowTitle())
        QTimer.singleShot(0, opening.window.close)

    monkeypatch.setattr(Window, "paintEvent", painted)
    monkeypatch.setattr(Opening, "open", opened)
    for left in qapp.topLevelWidgets():
        left.hide()  # the program ends with its last window
    QTimer.singleShot(20_000, lambda: qapp.exit(1))
    assert open_window([]) == 0
    assert seen[0] == "paint"
    assert "Demo – Tare & Tag" in seen


def test_a_start_with_a_store_opens_it(qapp: QApplication, monkeypatch: pytest.MonkeyPatch) -> None:
    own_store().parent.mkdir(parents=True)
    own_store().touch()
    where: list[Path | None] = []
    monkeypatch.setattr(Opening, "open", lambda opening, store: (where.append(store), opening.window.close()))
    QTimer.singleShot(20_000, qapp.quit)
    open_window([])
    open_window(["--demo"])
    assert where == [own_store(), None]


def test_a_bug_is_reported_on_a_strip_and_the_program_goes_on(
    qtbot: QtBot, opening: Opening, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    opened: list[str] = []
    monkeypatch.setattr(QDesktopServices, "openUrl", lambda url: opened.append(url.toLocalFile()))
    opening.open(None)
    try:
        raise LookupError("Ada Quist")
    except LookupError as error:
        sys.excepthook(type(error), error, error.__traceback__)
    newest, *older = texts(opening.window)
    assert newest.startswith("Something went wrong")
    assert older == ["Demo shop. Nothing you do here is saved."]
    press(opening.window, "Open report")
    report = Path(opened[0]).read_text()
    assert "LookupError" in report
    assert "Ada Quist" not in report
    press(opening.window, "Copy")
    assert QGuiApplication.clipboard().text() == report
    press(opening.window, "Close")
    assert texts(opening.window) == older


def test_a_report_that_could_not_be_written_is_not_offered(opening: Opening, tmp_path: Path) -> None:
    opening.open(None)
    (tmp_path / "state").write_text("in the way of the folder")
    error = LookupError()
    sys.excepthook(LookupError, error, None)
    assert texts(opening.window)[0].endswith("a report could not be written.")
    assert [button for button in opening.window.findChildren(QPushButton) if button.text() == "Open report"] == []


def test_every_screen_name_has_its_screen(opening: Opening) -> None:
    opening.open(None)
    assert opening.desk is not None
    assert tuple(title for title, _, _ in wiring.screens_of(opening.desk)) == words()
    assert "Batch" in words()


@pytest.mark.parametrize(("name", "sheet"), [("light", LIGHT), ("dark", DARK)])
def test_the_chosen_color_scheme_is_saved_and_applied(qapp: QApplication, name: str, sheet: object) -> None:
    choose_scheme(name)
    assert (chosen_scheme(), sheet_in_force()) == (name, sheet)
    assert qapp.palette().window().color() == sheet_in_force().color("paper")
    choose_scheme("system")
    assert chosen_scheme() == "system"


def test_the_platform_gets_the_color_scheme_too(qapp: QApplication, monkeypatch: pytest.MonkeyPatch) -> None:
    reported: list[Qt.ColorScheme] = []
    hints = type(QGuiApplication.styleHints())
    monkeypatch.setattr(hints, "setColorScheme", lambda _hints, scheme: reported.append(scheme))
    choose_scheme("dark")
    assert reported == [Qt.ColorScheme.Dark]
    choose_scheme("system")


def test_a_damaged_store_is_reported_with_backups_to_restore(qtbot: QtBot, opening: Opening) -> None:
    where = own_store()
    where.parent.mkdir(parents=True)
    store = open_store(where, SystemClock())
    with store.act("A step") as tx:
        settings.write(tx, "a setting", "kept")
    store.close()
    make_copy(where, datetime(2026, 11, 25, 14, 5, tzinfo=UTC))
    where.write_bytes(where.read_bytes()[:5000])
    damaged = where.read_bytes()
    opening.window.show()
    opening.open(where)
    assert opening.desk is None
    assert where.read_bytes() == damaged
    (button,) = [
        one for one in opening.window.findChildren(QPushButton) if one.text().startswith("Restore the copy of")
    ]
    qtbot.mouseClick(button, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: opening.desk is not None)
    assert opening.desk is not None
    with opening.desk.sitting.store.reading() as conn:
        assert settings.read(conn, "a setting", "") == "kept"
    assert [path.read_bytes() for path in where.parent.glob("*.before-restore-1")] == [damaged]
