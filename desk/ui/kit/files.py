"""Ask for a file or a folder. Dialogs start where a file was opened or saved last, at first in your documents."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QSettings, QStandardPaths
from PySide6.QtWidgets import QFileDialog, QWidget

OPENED, SAVED = "files/opened", "files/saved"  # keys of the folders used last


def documents() -> Path:
    """Return the folder of documents, or the home folder where there is none."""
    return Path(QStandardPaths.writableLocation(QStandardPaths.StandardLocation.DocumentsLocation) or Path.home())


def last_folder(key: str) -> Path:
    """Return the folder used last, as long as it exists; otherwise the documents, or the home folder."""
    usual = documents()
    saved = Path(str(QSettings().value(key) or usual))
    return next((folder for folder in (saved, usual) if folder.is_dir()), Path.home())


def file_to_open(parent: QWidget, title: str, kinds: str) -> Path | None:
    """Return the file chosen to be opened; None when canceled."""
    name, _ = QFileDialog.getOpenFileName(parent, title, str(last_folder(OPENED)), kinds)
    return _remember(OPENED, name)


def files_to_open(parent: QWidget, title: str, kinds: str) -> list[Path]:
    """Return the files chosen to be opened; none when canceled."""
    names, _ = QFileDialog.getOpenFileNames(parent, title, str(last_folder(OPENED)), kinds)
    return [file for name in names if (file := _remember(OPENED, name))]


def file_to_save(parent: QWidget, title: str, offered: str, kinds: str) -> Path | None:
    """Return the file to write, starting from an offered name or path; None when canceled."""
    name, _ = QFileDialog.getSaveFileName(parent, title, str(last_folder(SAVED) / offered), kinds)
    return _remember(SAVED, name)


def folder_to_save_in(parent: QWidget, title: str) -> Path | None:
    """Return the folder chosen to save files in; None when canceled."""
    if name := QFileDialog.getExistingDirectory(parent, title, str(last_folder(SAVED))):
        QSettings().setValue(SAVED, name)
    return Path(name) if name else None


def _remember(key: str, name: str) -> Path | None:
    if not name:
        return None
    QSettings().setValue(key, str(Path(name).parent))
    return Path(name)
