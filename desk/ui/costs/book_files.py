"""Buttons that save a year's workbook, ledger or totals in the background, with progress and a way to stop."""

from __future__ import annotations

import threading
from collections.abc import Callable
from datetime import date
from pathlib import Path

from PySide6.QtWidgets import QProgressBar, QWidget

from desk.domain.severity import Severity
from desk.session.lists.ledger_list import save_ledger, save_totals
from desk.session.money.stock import read_stock, stock_sheet
from desk.session.money.year_file import write_year
from desk.session.papers.saving import cannot_write
from desk.ui.bridge import Desk, Event
from desk.ui.costs.parts import add_button
from desk.ui.jobs import Canceled, Job, Progress
from desk.ui.kit.files import file_to_save
from desk.ui.kit.wrapping import FlowLayout

CSV = "CSV (*.csv)"


class BookFiles(QWidget):
    """The files of one year, one at a time; `year` is set by the page."""

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self.desk = desk
        self.year: int | None = None
        self.job: Job | None = None
        line = FlowLayout(self)
        self.buttons = (
            add_button("&Save the year as a workbook…", lambda: self._ask("costs", "xlsx", self.write), line),
            add_button("Save &ledger…", lambda: self._ask("ledger", "csv", self.write_ledger), line),
            add_button("Save &totals…", lambda: self._ask("totals", "csv", self.write_totals), line),
        )
        self.progress = QProgressBar()
        self.progress.setAccessibleName("Rows saved")
        self.stop = add_button("S&top", self.cancel, line)
        line.addWidget(self.progress)
        self._show_running(None)
        desk.closing.connect(self._close)

    def _close(self) -> None:
        """End what is being written, because the store is closing."""
        if self.job is not None:
            self.job.end()

    def write(self, file: Path, year: int) -> None:
        """Write a year's workbook, in the background."""
        sitting = self.desk.sitting
        stock = stock_sheet(read_stock(sitting, self.desk.pile), year)
        self._start(file, lambda progress, canceled: write_year(sitting, year, stock, file, progress, canceled))

    def write_ledger(self, file: Path, year: int) -> None:
        """Write a year's ledger, in the background."""
        span = date(year, 1, 1), date(year, 12, 31)
        self._start(file, lambda progress, canceled: save_ledger(self.desk.sitting, span, file, progress, canceled))

    def write_totals(self, file: Path, year: int) -> None:
        """Write a year's totals, in the background."""
        span = date(year, 1, 1), date(year, 12, 31)
        self._start(file, lambda _progress, canceled: save_totals(self.desk.sitting, span, file, canceled))

    def cancel(self) -> None:
        """Stop saving; no file is left behind."""
        if self.job is not None:
            self.job.cancel()

    def _ask(self, name: str, kind: str, write: Callable[[Path, int], None]) -> None:
        year, filters = self.year, "Workbook (*.xlsx)" if kind == "xlsx" else CSV
        if year is None or self.job is not None:
            return
        if (file := file_to_save(self, f"Save {name}", f"{name}-{year}.{kind}", filters)) is not None:
            write(file, year)

    def _start(self, file: Path, work: Callable[[Progress, Canceled], bool]) -> None:
        is_saved = threading.Event()  # also when Stop came too late

        def save(progress: Progress, canceled: Canceled) -> None:
            if work(progress, canceled):
                is_saved.set()

        def end() -> None:
            self._end(Event(f"Saved: {file.name}" if is_saved.is_set() else "Stopped. No file was saved."))

        job = Job(save, self)
        job.advanced.connect(self._show_progress)
        job.done.connect(lambda _done: end())
        job.stopped.connect(end)
        job.failed.connect(lambda error: self._fail(file, error))
        self._show_running(job)
        job.start()

    def _show_running(self, job: Job | None) -> None:
        self.job = job
        for part in (self.progress, self.stop):
            part.setVisible(job is not None)
        for button in self.buttons:
            button.setEnabled(job is None)

    def _show_progress(self, done: int, of: int) -> None:
        self.progress.setRange(0, of)
        self.progress.setValue(done)

    def _end(self, event: Event) -> None:
        self._show_running(None)
        self.progress.reset()
        self.desk.happened.emit(event)

    def _fail(self, file: Path, error: Exception) -> None:
        """Show why the file could not be written; anything else is a bug."""
        self._show_running(None)
        if not isinstance(error, OSError):
            raise error
        self.desk.happened.emit(Event(cannot_write(file, error), Severity.STOP))
