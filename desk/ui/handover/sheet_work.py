"""Make the hand-over sheet in the background, then save it or print it."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QObject

from desk.domain.severity import Severity
from desk.session.papers import printing
from desk.session.papers.kinds import Paper
from desk.session.papers.making import MadePaper, PaperRequest, make_paper
from desk.session.papers.paper_settings import paper_settings
from desk.session.papers.printing import PrintResult
from desk.session.papers.saving import cannot_write, save_paper
from desk.session.pile.days_that_left import DayThatLeft
from desk.ui.bridge import Desk, Event
from desk.ui.jobs import Canceled, Job, Progress


class SheetWork(QObject):
    """One sheet at a time."""

    def __init__(self, desk: Desk, parent: QObject) -> None:
        super().__init__(parent)
        self._desk = desk
        self._job: Job | None = None
        desk.closing.connect(self._end)

    @property
    def is_busy(self) -> bool:
        """True while a sheet is made or printed."""
        return self._job is not None

    def save(self, file: Path, day: DayThatLeft | None) -> None:
        """Make the sheet of what is ready, or of a day, and write it to a file."""
        self._make(day, lambda made: self._write(file, made))

    def print_it(self, day: DayThatLeft | None) -> None:
        """Make the sheet and give it to the printer chosen for it on Papers."""
        queue = paper_settings(self._desk.sitting).choice(Paper.HAND_OVER).queue
        if not queue:
            words = "No printer is chosen for the hand-over sheet. Choose one on Papers, or save the sheet as PDF."
            self._desk.happened.emit(Event(words, Severity.LOOK))
            return

        def print_made(made: MadePaper) -> None:
            self._start(lambda _progress, _canceled: printing.print_paper(made, queue), self._tell)

        self._make(day, print_made)

    def _make(self, day: DayThatLeft | None, done: Callable[[MadePaper], None]) -> None:
        pile, resources = self._desk.pile, self._desk.resources
        only = frozenset(day.postage) if day else None
        if day:
            pile.bring(day.pieces)
        settings = paper_settings(self._desk.sitting)
        wanted = PaperRequest(Paper.HAND_OVER, pile.batch(), pile.terms, only, settings, day)

        def work(progress: Progress, canceled: Canceled) -> MadePaper | None:
            return make_paper(wanted, resources, progress, canceled)

        def take(made: MadePaper | None) -> None:
            self._job = None
            if made is not None:
                done(made)

        self._start(work, take)

    def _start(self, work: Callable[[Progress, Canceled], object], done: Callable[..., None]) -> None:
        self._job = Job(work, self)
        self._job.done.connect(done)
        self._job.failed.connect(self._fail)
        self._job.start()

    def _write(self, file: Path, made: MadePaper) -> None:
        try:
            save_paper(made, file)
        except OSError as fault:
            self._desk.happened.emit(Event(cannot_write(file, fault), Severity.STOP))
        else:
            self._desk.happened.emit(Event(f"Saved: {file}"))

    def _tell(self, result: PrintResult) -> None:
        self._job = None
        self._desk.happened.emit(Event(result.words, result.mark))

    def _fail(self, error: Exception) -> None:
        self._job = None
        raise error

    def _end(self) -> None:
        if self._job is not None:
            self._job.cancel()
            self._job.wait()
