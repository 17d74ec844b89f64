from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFileDialog
from pytestqt.qtbot import QtBot

from desk.session.pile.stored_cases import read_cases
from desk.session.sitting import Sitting
from desk.store.store import open_store
from desk.ui.bridge import Desk, Event
from desk.ui.setup.data.copies import CopyCard


@pytest.fixture
def card(qtbot: QtBot, desk: Desk) -> CopyCard:
    made = CopyCard(desk)
    qtbot.addWidget(made)
    made.show()
    return made


def test_a_copy_has_every_piece(
    qtbot: QtBot, card: CopyCard, desk: Desk, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = tmp_path / "copy.sqlite"
    offered: list[str] = []
    monkeypatch.setattr(
        QFileDialog, "getSaveFileName", lambda _parent, _title, name, _kinds: (offered.append(name), (str(file), ""))[1]
    )
    with qtbot.waitSignal(desk.happened) as told:
        qtbot.keyClick(card.make, Qt.Key.Key_Space)
    assert told.args == [Event(f"Copied: {file}")]
    assert Path(offered[0]).name.startswith("tare-and-tag ")
    sitting = desk.sitting
    copied = Sitting(open_store(file, sitting.clock), sitting.clock, sitting.rulebook, sitting.on)
    assert read_cases(copied) == read_cases(sitting)
    copied.store.close()


def test_a_place_that_cannot_be_written_is_said(qtbot: QtBot, card: CopyCard, desk: Desk, tmp_path: Path) -> None:
    in_the_way = tmp_path / "a file"
    in_the_way.write_text("no folder")
    with qtbot.waitSignal(desk.happened) as told:
        card.copy_to(in_the_way / "copy.sqlite")
    assert told.args is not None
    assert told.args[0].mark == "stop"
    assert card._job is None


def test_nothing_is_copied_or_put_back_when_no_file_was_chosen(
    card: CopyCard, desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    chosen: list[object] = []
    desk.copy_chosen.connect(chosen.append)
    for dialog in ("getSaveFileName", "getOpenFileName"):
        monkeypatch.setattr(QFileDialog, dialog, lambda *_: ("", ""))
    card.make.click()
    card.back.click()
    assert (card._job, chosen) == (None, [])


def test_a_chosen_copy_is_handed_on(card: CopyCard, desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    chosen: list[object] = []
    desk.copy_chosen.connect(chosen.append)
    monkeypatch.setattr(QFileDialog, "getOpenFileName", lambda *_: ("/somewhere/copy.sqlite", ""))
    card.back.click()
    assert chosen == [Path("/somewhere/copy.sqlite")]


def test_a_demo_has_nothing_to_put_back(qtbot: QtBot, desk: Desk) -> None:
    desk.is_demo = True
    card = CopyCard(desk)
    qtbot.addWidget(card)
    assert (card.make.isEnabled(), card.back.isEnabled()) == (True, False)


def test_closing_waits_for_the_copy(card: CopyCard, desk: Desk, tmp_path: Path) -> None:
    card.copy_to(tmp_path / "copy.sqlite")
    job = card._job
    assert job is not None
    desk.closing.emit()
    assert not job.is_running()
