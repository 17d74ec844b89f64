"""Dialogs for files start in your documents, then where the last file was; opening and saving apart."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtWidgets import QFileDialog, QWidget
from pytestqt.qtbot import QtBot

from desk.ui.kit import files

ANSWERS = {"getOpenFileName": ("", ""), "getSaveFileName": ("", ""), "getOpenFileNames": ([], "")}


@pytest.fixture
def started(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> list[str]:
    """Where dialogs started; each is answered with what the test put in ANSWERS, or canceled."""
    heard: list[str] = []
    for name, answer in ANSWERS.items():
        monkeypatch.setattr(QFileDialog, name, lambda _p, _t, at, _k, answer=answer: (heard.append(at), answer)[1])
    monkeypatch.setattr(QFileDialog, "getExistingDirectory", lambda _p, _t, at: (heard.append(at), "")[1])
    (tmp_path / "documents").mkdir()
    monkeypatch.setattr(files, "documents", lambda: tmp_path / "documents")
    return heard


@pytest.fixture
def parent(qtbot: QtBot) -> QWidget:
    made = QWidget()
    qtbot.addWidget(made)
    return made


def test_the_first_dialog_starts_in_the_documents(parent: QWidget, started: list[str], tmp_path: Path) -> None:
    assert files.file_to_open(parent, "Import", "") is None
    assert files.files_to_open(parent, "Import", "") == []
    assert files.file_to_save(parent, "Save", "mine.csv", "") is None
    assert files.folder_to_save_in(parent, "Save") is None
    documents = str(tmp_path / "documents")
    assert started == [documents, documents, str(tmp_path / "documents" / "mine.csv"), documents]


def test_the_next_dialog_starts_where_the_last_file_was(
    parent: QWidget, started: list[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "shop").mkdir()
    file = tmp_path / "shop" / "orders.csv"
    with monkeypatch.context() as once:
        once.setattr(QFileDialog, "getOpenFileName", lambda *_: (str(file), ""))
        assert files.file_to_open(parent, "Import", "") == file
    files.file_to_open(parent, "Import", "")
    files.file_to_save(parent, "Save", "mine.csv", "")
    assert started == [str(tmp_path / "shop"), str(tmp_path / "documents" / "mine.csv")]


def test_a_deleted_folder_is_not_offered(
    parent: QWidget, started: list[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with monkeypatch.context() as once:
        once.setattr(QFileDialog, "getExistingDirectory", lambda *_: str(tmp_path / "stick"))
        assert files.folder_to_save_in(parent, "Save") == tmp_path / "stick"
    files.folder_to_save_in(parent, "Save")
    assert started == [str(tmp_path / "documents")]


def test_a_full_path_is_offered_unchanged(parent: QWidget, started: list[str], tmp_path: Path) -> None:
    files.file_to_save(parent, "Save", str(tmp_path / "labels.pdf"), "")
    assert started == [str(tmp_path / "labels.pdf")]
