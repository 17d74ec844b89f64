"""Mappings of order lists: kept by name, found by the header row, chosen, forgotten, as a file; and prefixes."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtWidgets import QFileDialog
from pytestqt.qtbot import QtBot

from desk.intake.order_headers.mapping_file import read_mapping
from desk.session.importing.import_table import ColumnMapping, ReadingChoices
from desk.session.importing.mappings import save_mapping, saved_mappings
from desk.session.importing.preview import Pasted
from desk.ui.batch.view import BatchView
from desk.ui.bridge import Desk
from tests.ui.batch.importing.test_import_panel import HEAD, ONE, TWO, city, looked
from tests.ui.batch.test_view import messages, numbers, show

FAIR = HEAD.replace("city", "Whereabouts").replace("item", "Thing")
MARKET = HEAD.replace("recipient", "Whom")
COLUMNS = {"city": "Whereabouts", "item": "Thing"}
WHOM = {"recipient": "Whom"}


def prefixed(view: BatchView, prefix: str, name: str) -> None:
    view.importing.kept.prefix.setText(prefix)
    view.importing.kept.prefix.editingFinished.emit()
    view.importing.kept.name.setText(name)


def take(qtbot: QtBot, view: BatchView) -> None:
    qtbot.waitUntil(lambda: view.importing.outcome is not None)
    with qtbot.waitSignal(view.importing.ended):
        view.importing.import_list()


def names(desk: Desk) -> list[str]:
    return [saved.name for saved in saved_mappings(desk.sitting)]


def test_number_1047_of_two_shops_stays_two_orders(qtbot: QtBot, empty_desk: Desk) -> None:
    """Each shop's mapping has its prefix and is found by its header row: the second time nothing has to be chosen."""
    view, order = show(qtbot, empty_desk), ONE.replace("7001", "#1047")
    for head, columns, prefix, name in ((FAIR, COLUMNS, "F-", "Fair"), (MARKET, WHOM, "M-", "Market")):
        looked(qtbot, view, Pasted(head + order))
        view.importing._read_by(ColumnMapping(columns))
        prefixed(view, prefix, name)
        take(qtbot, view)
    assert numbers(view) == ["F-1047", "M-1047"]
    assert names(empty_desk) == ["Market", "Fair"]
    for head, prefix in ((FAIR, "F-"), (MARKET, "M-")):
        looked(qtbot, view, Pasted(head + order))
        assert view.importing.kept.prefix.text() == prefix
        assert (view.importing.outcome.new, view.importing.outcome.same) == (0, 1)
        view.importing.leave()


def test_a_mapping_is_saved_under_the_typed_name_and_found_by_the_header_row(qtbot: QtBot, empty_desk: Desk) -> None:
    view = show(qtbot, empty_desk)
    looked(qtbot, view, Pasted(FAIR + ONE))
    view.importing._read_by(ColumnMapping(COLUMNS))
    view.importing.kept.name.setText(" Spring fair ")
    take(qtbot, view)
    looked(qtbot, view, Pasted(FAIR + TWO, "another name"))
    assert view.importing.kept.box.currentText() == "Spring fair"
    assert view.importing.kept.name.text() == "Spring fair"
    take(qtbot, view)
    assert (city(empty_desk, "7002"), names(empty_desk)) == ("Bath", ["Spring fair"])


def test_without_choices_no_mapping_is_saved(qtbot: QtBot, empty_desk: Desk) -> None:
    view = show(qtbot, empty_desk)
    looked(qtbot, view, Pasted(HEAD + ONE))
    take(qtbot, view)
    assert names(empty_desk) == []


def test_a_canceled_table_saves_no_mapping(qtbot: QtBot, empty_desk: Desk) -> None:
    view = show(qtbot, empty_desk)
    looked(qtbot, view, Pasted(FAIR + ONE))
    view.importing._read_by(ColumnMapping(COLUMNS))
    view.importing.leave()
    assert names(empty_desk) == []


def test_another_mapping_is_chosen_by_name(qtbot: QtBot, empty_desk: Desk) -> None:
    save_mapping(empty_desk.sitting, "Fair", ColumnMapping(COLUMNS, prefix="F-"))
    view = show(qtbot, empty_desk)
    looked(qtbot, view, Pasted(FAIR.replace("order", "order no") + ONE))
    box = view.importing.kept.box
    assert [box.itemText(at) for at in range(box.count())] == ["none", "Fair"]
    assert box.currentText() == "Fair"
    for chosen, prefix in (("none", ""), ("Fair", "F-")):
        box.setCurrentIndex(box.findText(chosen))
        box.activated.emit(box.currentIndex())
        qtbot.waitUntil(lambda: not view.importing.is_busy)
        assert (view.importing.choices.mapping.prefix, view.importing.kept.prefix.text()) == (prefix, prefix)


def test_a_mapping_is_exported_to_toml_and_imported_again(
    qtbot: QtBot, empty_desk: Desk, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = tmp_path / "fair.toml"
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (str(file), ""))
    monkeypatch.setattr(QFileDialog, "getOpenFileName", lambda *_: (str(file), ""))
    view, events = show(qtbot, empty_desk), messages(empty_desk)
    looked(qtbot, view, Pasted(FAIR + ONE))
    view.importing._read_by(ColumnMapping(COLUMNS, prefix="F-", reading=ReadingChoices(delimiter=",")))
    qtbot.waitUntil(lambda: view.importing.outcome is not None)
    view.importing.kept.name.setText("Fair")
    view.importing.kept.to_button.click()
    assert events[-1].words == "Mapping saved in fair.toml."
    assert read_mapping(file) == ColumnMapping(COLUMNS, "F-", ReadingChoices(delimiter=","), "Fair")
    view.importing.leave()
    looked(qtbot, view, Pasted(FAIR + ONE))
    assert view.importing.choices.mapping == ColumnMapping()
    view.importing.kept.from_button.click()
    qtbot.waitUntil(lambda: view.importing.outcome is not None)
    assert names(empty_desk) == ["Fair"]
    take(qtbot, view)
    assert (numbers(view), city(empty_desk, "F-7001")) == (["F-7001"], "Bath")
    assert names(empty_desk) == ["Fair"]


def test_an_invalid_mapping_file_is_reported(
    qtbot: QtBot, empty_desk: Desk, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = tmp_path / "bad.toml"
    file.write_text("[columns]\ncolour = 'red'\n", encoding="utf-8")
    monkeypatch.setattr(QFileDialog, "getOpenFileName", lambda *_: (str(file), ""))
    view, events = show(qtbot, empty_desk), messages(empty_desk)
    looked(qtbot, view, Pasted(FAIR + ONE))
    view.importing.kept.from_button.click()
    assert (events[-1].mark, "colour" in events[-1].words, names(empty_desk)) == ("stop", True, [])


def test_a_file_that_cannot_be_written_is_reported(qtbot: QtBot, empty_desk: Desk, tmp_path: Path) -> None:
    view, events = show(qtbot, empty_desk), messages(empty_desk)
    looked(qtbot, view, Pasted(HEAD + ONE))
    view.importing.kept.write(tmp_path / "nowhere" / "m.toml")
    assert [event.mark for event in events] == ["stop"]


def test_canceling_the_file_dialog_changes_nothing(
    qtbot: QtBot, empty_desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: ("", ""))
    monkeypatch.setattr(QFileDialog, "getOpenFileName", lambda *_: ("", ""))
    view, events = show(qtbot, empty_desk), messages(empty_desk)
    looked(qtbot, view, Pasted(HEAD + ONE))
    view.importing.kept.from_button.click()
    view.importing.kept.to_button.click()
    assert (events, view.importing.choices.mapping) == ([], ColumnMapping())


def test_a_mapping_is_deleted_and_restored(qtbot: QtBot, empty_desk: Desk) -> None:
    save_mapping(empty_desk.sitting, "Fair", ColumnMapping(COLUMNS))
    view = show(qtbot, empty_desk)
    looked(qtbot, view, Pasted(FAIR + ONE))
    assert view.importing.kept.forget_button.isEnabled()
    view.importing.kept.forget_button.click()
    qtbot.waitUntil(lambda: not view.importing.is_busy)
    assert (names(empty_desk), view.importing.choices.mapping) == ([], ColumnMapping())
    assert not view.importing.kept.forget_button.isEnabled()
    empty_desk.undo()
    assert names(empty_desk) == ["Fair"]


def test_a_mapping_that_does_not_fit_the_table_is_reported_and_not_used(
    qtbot: QtBot, empty_desk: Desk, tmp_path: Path
) -> None:
    """The mapping chose an encoding the new file is not in: the table is read without it."""
    save_mapping(empty_desk.sitting, "Fair", ColumnMapping(COLUMNS, reading=ReadingChoices(encoding="utf-8")))
    file = tmp_path / "fair.csv"
    file.write_bytes((FAIR + ONE.replace("Quist", "Müller")).encode("cp1252"))
    view, events = show(qtbot, empty_desk), messages(empty_desk)
    looked(qtbot, view, file)
    assert [event.mark for event in events] == ["stop"]
    assert "text in utf-8" in events[0].words
    assert (view.importing.isVisible(), view.importing.choices.mapping) == (True, ColumnMapping())
    assert view.importing.preview.encoding.startswith("cp125")
