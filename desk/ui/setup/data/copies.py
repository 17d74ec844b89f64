"""Card of the store page: copy the store into a file while it is open, and put such a copy back."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QStandardPaths, Qt
from PySide6.QtWidgets import QFileDialog, QPushButton

from desk.domain.faults import Fault
from desk.session.setup.copies import copy_store, name_of_copy
from desk.ui.bridge import Desk, Event
from desk.ui.jobs import Job
from desk.ui.kit.card import Card, Inked
from desk.ui.setup.page import say

FILES = "Copies (*.sqlite)"


class CopyCard(Card):
    """A copy is made beside the window; putting one back opens the store anew, and what was there is kept beside it."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(say("A copy of the store"), say("A copy of the store"))
        self._desk = desk
        self._job: Job | None = None
        said = say(
            "Orders, weights, shop and history are one file. Copy it to another disk at the end of a day. A copy that "
            "is put back takes the place of what is here now, which is kept beside it under another name. Price lists of "
            "your own lie in a folder beside the store and are not in the copy."
        )
        caution = Inked(said, "soft_ink")
        caution.setWordWrap(True)
        self.make = QPushButton(say("Copy the store …"))
        self.back = QPushButton(say("Put a copy back …"))
        self.make.clicked.connect(lambda _checked=False: self.ask_where())
        self.back.clicked.connect(lambda _checked=False: self.ask_which())
        self.back.setEnabled(not desk.is_demo)
        self.column.setSpacing(12)
        self.column.addWidget(caution)
        for button in (self.make, self.back):
            button.setAccessibleName(button.text().removesuffix(" …"))
            self.column.addWidget(button, 0, Qt.AlignmentFlag.AlignLeft)
        desk.closing.connect(self._end_job)

    def ask_where(self) -> None:
        """Ask for the file of a new copy, and make it."""
        offered = str(Path(_documents()) / name_of_copy(self._desk.sitting))
        name, _ = QFileDialog.getSaveFileName(self, say("Copy the store"), offered, FILES)
        if name:
            self.copy_to(Path(name))

    def copy_to(self, file: Path) -> None:
        """Make a copy beside the window; nothing while one is being made."""
        if self._job is not None:
            return
        sitting = self._desk.sitting
        self._job = Job(lambda _progress, _cancelled: copy_store(sitting, file), self)
        self._job.done.connect(self._tell)
        self._job.failed.connect(self._fail)
        self._job.start()

    def ask_which(self) -> None:
        """Ask for a copy, and have it put back."""
        name, _ = QFileDialog.getOpenFileName(self, say("Put a copy back"), _documents(), FILES)
        if name:
            self._desk.copy_chosen.emit(Path(name))

    def _tell(self, file: Path) -> None:
        self._job = None
        self._desk.happened.emit(Event(say("Copied: {file}").format(file=file)))

    def _fail(self, error: Exception) -> None:
        self._job = None
        if not isinstance(error, Fault):
            raise error
        self._desk.happened.emit(Event(error.sentence, "stop"))

    def _end_job(self) -> None:
        if self._job is not None:
            self._job.cancel()
            self._job.wait()


def _documents() -> str:
    return QStandardPaths.writableLocation(QStandardPaths.StandardLocation.DocumentsLocation)
