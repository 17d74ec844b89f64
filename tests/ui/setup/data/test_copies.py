"""Back up and restore on the data page: what would change is shown before it is done."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFileDialog
from pytestqt.qtbot import QtBot

from desk.session.pile.bulk_changes import choose_mailer
from desk.session.pile.stored_cases import read_cases
from desk.session.sitting import Sitting
from desk.store.copies import make_copy
from desk.store.store import open_store
from desk.ui.bridge import Desk, Event
from desk.ui.setup.data.copies import CopyCard


@pytest.fixture
def card(qtbot: QtBot, desk: Desk) -> CopyCard:
    made = CopyCard(desk)
    qtbot.addWidget(made)
    made.show()
    return made


def test_a_backup_has_every_piece(
    qtbot: QtBot, card: CopyCard, desk: Desk, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = tmp_path / "copy.sqlite"
    offered: list[str] = []
    monkeypatch.setattr(
        QFileDialog, "getSaveFileName", lambda _parent, _title, name, _kinds: (offered.append(name), (str(file), ""))[1]
    )
    with qtbot.waitSignal(desk.happened) as reported:
        qtbot.keyClick(card.make, Qt.Key.Key_Space)
    assert reported.args == [Event(f"Backed up: {file}")]
    assert Path(offered[0]).name.startswith("tare-and-tag ")
    sitting = desk.sitting
    copied = Sitting(open_store(file, sitting.clock), sitting.clock, sitting.rulebook, sitting.on)
    assert read_cases(copied) == read_cases(sitting)
    copied.store.close()


def test_a_folder_that_cannot_be_written_is_reported(qtbot: QtBot, card: CopyCard, desk: Desk, tmp_path: Path) -> None:
    in_the_way = tmp_path / "a file"
    in_the_way.write_text("no folder")
    with qtbot.waitSignal(desk.happened) as reported:
        card.copy_to(in_the_way / "copy.sqlite")
    assert reported.args is not None
    assert reported.args[0].mark == "stop"
    assert card._job is None


def test_canceling_the_file_dialog_does_nothing(card: CopyCard, desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    chosen: list[object] = []
    desk.copy_chosen.connect(chosen.append)
    for dialog in ("getSaveFileName", "getOpenFileName"):
        monkeypatch.setattr(QFileDialog, dialog, lambda *_: ("", ""))
    card.make.click()
    card.ask_which()
    assert (card._job, chosen, card.restore.isVisible()) == (None, [], False)


def test_the_effect_of_restoring_is_shown_first(card: CopyCard, desk: Desk) -> None:
    chosen: list[object] = []
    desk.copy_chosen.connect(chosen.append)
    assert desk.sitting.store.file is not None
    copy = make_copy(desk.sitting.store.file, datetime(2026, 11, 25, 14, 5, tzinfo=UTC))
    desk.do(choose_mailer, [1], "Padded")
    desk.do(choose_mailer, [2], "Padded")
    card.refresh()
    card._choose(1)
    assert "2 later steps would be lost" in card.preview.text()
    assert "Your current data is kept" in card.preview.text()
    assert chosen == []
    card.restore.click()
    assert chosen == [copy.file]


def test_a_file_that_is_not_a_backup_is_reported_and_not_offered(card: CopyCard, tmp_path: Path) -> None:
    (tmp_path / "letter.sqlite").write_text("Dear all, " * 500)
    card.look_at(tmp_path / "letter.sqlite")
    assert "not a copy made by this program" in card.preview.text()
    assert not card.restore.isVisible()


def test_a_demo_has_nothing_to_restore(qtbot: QtBot, desk: Desk) -> None:
    desk.is_demo = True
    card = CopyCard(desk)
    qtbot.addWidget(card)
    assert (card.make.isEnabled(), card.which.isEnabled()) == (True, False)


def test_closing_waits_for_the_backup(card: CopyCard, desk: Desk, tmp_path: Path) -> None:
    card.copy_to(tmp_path / "copy.sqlite")
    job = card._job
    assert job is not None
    desk.closing.emit()
    assert not job.is_running()
