"""The card for backups: back up into one file, and restore after showing what would change."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QComboBox, QPushButton

from desk.domain.faults import Fault
from desk.domain.severity import Severity
from desk.session.setup.copies import copies_here, copy_store, name_of_copy, restore_preview
from desk.session.words.figures import moment_in_words
from desk.ui.bridge import Desk, Event
from desk.ui.jobs import Job
from desk.ui.kit.card import Card, Inked
from desk.ui.kit.files import file_to_open, file_to_save
from desk.ui.kit.wrapping import labeled

FILES = "Backups (*.sqlite)"
ABOUT = (
    "A backup is one file with everything: orders, weights, shop, history and your own price lists. Copy it to another "
    "disk at the end of the day, or to a new computer. The program also makes a copy on start and every hour."
)
OTHER = "Another file…"


class CopyCard(Card):
    """Makes backups in the background; restoring reopens the data and sets the current data aside."""

    def __init__(self, desk: Desk) -> None:
        super().__init__("Backup", "Backup")
        self._desk = desk
        self._job: Job | None = None
        self._chosen: Path | None = None
        about = Inked(ABOUT, "soft_ink")
        self.make = QPushButton("Back up…")
        self.which = QComboBox()
        which = labeled("Copy to restore", self.which)
        self.preview = Inked()
        self.restore = QPushButton("Restore this copy")
        self.make.clicked.connect(lambda _checked=False: self.ask_where())
        self.which.activated.connect(self._choose)
        self.restore.clicked.connect(lambda _checked=False: self._restore())
        self.column.setSpacing(12)
        for words in (about, self.preview):
            words.setWordWrap(True)
        for button in (self.make, self.restore):
            button.setAccessibleName(button.text().removesuffix("…"))
        for part in (about, self.make, which, self.preview, self.restore):
            flag = Qt.AlignmentFlag.AlignLeft if part in (self.make, which, self.restore) else Qt.AlignmentFlag(0)
            self.column.addWidget(part, 0, flag)
        desk.closing.connect(self._end_job)
        self.refresh()

    def refresh(self) -> None:
        """List the copies; a demo has nothing to restore."""
        here = copies_here(self._desk.sitting)
        self.which.clear()
        self.which.addItem("choose a copy")
        for one in here:
            self.which.addItem(moment_in_words(one.at) + (f", {one.why}" if one.why else ""), one.file)
        self.which.addItem(OTHER)
        self.which.setEnabled(not self._desk.is_demo)
        self._offer(None, ())

    def ask_where(self) -> None:
        """Ask for the file of a new backup, and make it."""
        offered = name_of_copy(self._desk.sitting)
        if (file := file_to_save(self, "Back up", offered, FILES)) is not None:
            self.copy_to(file)

    def copy_to(self, file: Path) -> None:
        """Make a backup in the background; nothing while one is being made."""
        if self._job is not None:
            return
        sitting = self._desk.sitting
        self._job = Job(lambda _progress, _canceled: copy_store(sitting, file), self)
        self._job.done.connect(self._tell)
        self._job.failed.connect(self._fail)
        self._job.start()

    def ask_which(self) -> None:
        """Ask for the file of a backup, and show what restoring it would change."""
        if (file := file_to_open(self, "Restore", FILES)) is not None:
            self.look_at(file)

    def look_at(self, file: Path) -> None:
        """Show what restoring that copy would change, with the button to do it."""
        try:
            self._offer(file, restore_preview(self._desk.sitting, file))
        except Fault as fault:
            self._offer(None, (fault.sentence,))

    def _choose(self, row: int) -> None:
        if self.which.itemText(row) == OTHER:
            self.ask_which()
        elif (file := self.which.itemData(row)) is not None:
            self.look_at(Path(file))
        else:
            self._offer(None, ())

    def _offer(self, file: Path | None, sentences: tuple[str, ...]) -> None:
        self._chosen = file
        aside = ("Your current data is kept in the same folder under another name.",) if file else ()
        self.preview.setText(" ".join((*sentences, *aside)))
        self.preview.setVisible(bool(sentences))
        self.restore.setVisible(file is not None)

    def _restore(self) -> None:
        if self._chosen is not None:
            self._desk.copy_chosen.emit(self._chosen)

    def _tell(self, file: Path) -> None:
        self._job = None
        self._desk.happened.emit(Event(f"Backed up: {file}"))

    def _fail(self, error: Exception) -> None:
        self._job = None
        if not isinstance(error, Fault):
            raise error
        self._desk.happened.emit(Event(error.sentence, Severity.STOP))

    def _end_job(self) -> None:
        if self._job is not None:
            self._job.cancel()
            self._job.wait()
