"""The Papers screen: choose a paper, look at its pages, save it or print it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

from PySide6.QtCore import Qt, QTimer
from PySide6.QtWidgets import QHBoxLayout, QScrollArea

from desk.domain.severity import Severity
from desk.session.papers import making, printing
from desk.session.papers.kinds import Paper
from desk.session.papers.making import MadePaper
from desk.session.papers.paper_settings import PaperSettings, choose_paper, paper_settings
from desk.session.papers.printed import note_printed, printed_at, void_papers
from desk.session.papers.printing import PrintResult
from desk.session.papers.saving import cannot_write, save_paper
from desk.session.unfinished import WorkKind, begin, end
from desk.session.words.figures import pieces_in_words
from desk.ui.actions import Act
from desk.ui.bridge import Desk, DeskChanges, Event
from desk.ui.common_keys import HISTORY, PRINT, SAVE
from desk.ui.jobs import Job, Work
from desk.ui.kit import type as typeface
from desk.ui.papers.middle import PapersMiddle
from desk.ui.papers.model import PaperScope, count_words, left_out_words, pieces_of, references_of, wanted_of
from desk.ui.papers.papers_side import PapersSide
from desk.ui.screen import Screen

TITLE, SHORTCUT = "Papers", "Ctrl+4"
SIDE_WIDTH = 330
POSES_S = 20.0


class PapersView(Screen):
    """Makes a paper in the background whenever another one is wanted, or a piece on it has changed."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.side = PapersSide()
        self.middle = PapersMiddle(desk)
        self.pages = self.middle.pages
        self.made: MadePaper | None = None
        self._making: Job | None = None
        self._printing: Job | None = None
        self._asking: Job | None = None
        self._jobs: list[Job] = []  # dropped ones too, until their threads have ended
        self._again = QTimer(self, singleShot=True, interval=0)
        self._again.timeout.connect(self.make)
        self._build()
        self._connect()

    def _build(self) -> None:
        scroll = QScrollArea()
        scroll.setAccessibleName("Which paper")
        scroll.setFrameShape(QScrollArea.Shape.NoFrame)
        scroll.setWidgetResizable(True)
        scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        scroll.setWidget(self.side)
        scroll.setFixedWidth(round(SIDE_WIDTH * min(typeface.scale(), 1.6)))
        line = QHBoxLayout(self)
        line.setContentsMargins(32, 12, 32, 0)
        line.setSpacing(20)
        line.addWidget(scroll)
        line.addWidget(self.middle, 1)

    def _connect(self) -> None:
        self.side.wanted_changed.connect(self._want)
        self.side.choice_changed.connect(self._choose)
        self.side.save_asked.connect(self.save)
        self.side.print_asked.connect(self.print_it)
        self.side.void_asked.connect(self.void)
        self.side.cancel_asked.connect(self.cancel)
        self.side.history_asked.connect(self.middle.toggle)
        self.middle.again.connect(self.side.show_printing)
        self.middle.changed.connect(self._show_printed)
        self.desk.closing.connect(self.close_all)

    def acts(self) -> Sequence[Act]:
        """Return the keys of Papers."""
        return (
            Act(SAVE, "Save as PDF", self.save),
            Act(PRINT, "Print", self.print_it),
            Act("PgDown", "Next page of the preview"),
            Act(HISTORY, "History", self.middle.toggle),
            Act("Escape", "Stop", self.cancel),
        )

    @property
    def paper(self) -> Paper:
        """The paper chosen."""
        return Paper(self.side.paper.value())

    @property
    def is_busy(self) -> bool:
        """True while a paper is being made or printed."""
        return self._making is not None or self._printing is not None

    def settings(self) -> PaperSettings:
        """Return the settings of Setup > Papers."""
        return paper_settings(self.desk.sitting)

    def refresh(self, changes: DeskChanges) -> None:
        """Show the current papers."""
        self.middle.refresh()
        if changes.pieces or changes.changes.shop or self.made is None:
            self._again.start()
        self._show_choice()
        self._show_printed()

    def arrive(self) -> None:
        """Put the focus on the kind of paper, and ask for the printers there are."""
        self.side.paper.setFocus()
        if self._asking is None:
            self._asking = self._start(lambda _progress, _canceled: printing.queue_names(), self._show_queues)

    def pose(self, name: str) -> None:
        """For a picture: make the labels of ready pieces, or of all with what was left out, and wait for them."""
        self._again.stop()
        self.side.which.put(PaperScope.ALL.value if name == "trouble" else PaperScope.READY.value)
        self.make()
        self._jobs[-1].wait(POSES_S)
        if self._asking is not None:
            self._asking.wait(POSES_S)

    def make(self) -> None:
        """Make the chosen paper again; one still being made is dropped."""
        self.cancel()
        pile = self.desk.pile
        only, unknown = references_of(pile, PaperScope(self.side.which.value()), self.side.numbers.value())
        nobody = f"No package has this number: {', '.join(unknown)}"
        self.side.numbers.say(Severity.LOOK if unknown else None, nobody if unknown else "")
        wanted, resources = wanted_of(pile, self.paper, only, self.settings()), self.desk.resources
        self._making = self._start(
            lambda progress, canceled: making.make_paper(wanted, resources, progress, canceled), self._show
        )
        self._making.advanced.connect(self._advance)

    def save(self) -> None:
        """Save the PDF in the named file; never an outdated one while another is being made."""
        if self.made is None or self._is_outdated():
            return
        if not self.made.references:
            self.desk.happened.emit(Event("No package is on this paper yet. Nothing was saved.", Severity.LOOK))
            return
        try:
            file = save_paper(self.made, Path(self.side.file.text()).expanduser())
        except OSError as fault:
            self.desk.happened.emit(Event(cannot_write(self.side.file.text(), fault), Severity.STOP))
        else:
            self.desk.happened.emit(Event(f"Saved {count_words(self.made)}: {file}"))

    def print_it(self) -> None:
        """Give the paper to the printer, and report the result."""
        made, queue, first = self.made, self.side.queue.currentText(), self.side.first_page()
        if made is None or self._printing is not None or self._is_outdated():
            return
        if not queue:
            none = "No printers on this computer. Save the PDF and print it elsewhere."
            words = "Choose a printer first." if self.side.queue.count() else none
            self.desk.happened.emit(Event(words, Severity.LOOK))
            return
        if not made.references:
            self.desk.happened.emit(Event("No package is on this paper yet. Nothing was printed.", Severity.LOOK))
            return
        self.side.print.setEnabled(False)
        begin(self.desk.sitting, WorkKind.PRINTING, f"{made.paper.words}: {pieces_in_words(len(made.references))}")
        self._printing = self._start(
            lambda _progress, _canceled: printing.print_paper(made, queue, first),
            lambda result: self._tell(result, made),
            must_report=True,
        )

    def void(self) -> None:
        """Cancel what was printed for the pieces on this paper."""
        if self.made is not None:
            pieces = pieces_of(self.desk.pile, self.made.references)
            voided = self.desk.do(void_papers, pieces, self.made.paper)
            if voided == 0:
                self.desk.happened.emit(Event("Nothing was printed for these packages.", Severity.NOTE))
            self._show_printed()

    def cancel(self) -> None:
        """Stop making the paper."""
        if self._making is not None:
            self._making.cancel()
            self._making = None
        self.side.show_progress(0, -1)

    def close_all(self) -> None:
        """Stop all background work, because the store is closing."""
        self._again.stop()
        for job in self._jobs:
            job.end()
        self._making = self._printing = self._asking = None
        self.pages.close_pages()

    def _is_outdated(self) -> bool:
        """Return True, with a message, while the paper is being rebuilt and the shown one may be outdated."""
        outdated = self._making is not None or self._again.isActive()
        if outdated:
            self.desk.happened.emit(Event("The document is being rebuilt. Try again when it appears.", Severity.LOOK))
        return outdated

    def _advance(self, done: int, of: int) -> None:
        """Show progress; reports of a dropped job are ignored."""
        if self._making is not None:
            self.side.show_progress(done, of)

    def _start(self, work: Work, done: Callable[..., None], *, must_report: bool = False) -> Job:
        job = Job(work, self, must_report=must_report)
        self._jobs = [one for one in self._jobs if one.is_running()] + [job]
        job.done.connect(done)
        job.failed.connect(lambda fault: self._fail(job, fault))
        job.start()
        return job

    def _show(self, made: MadePaper | None) -> None:
        self._making = None
        self.side.show_progress(0, -1)
        if made is None:
            return
        self.made = made
        self.pages.show_pdf(made.pdf)
        self.side.counts.setText(count_words(made))
        reasons = [(why, "") for why in made.faults]
        left_out = left_out_words((*made.failed, *made.left_out), self.desk.pile.numbers())
        self.side.show_left_out([*reasons, *left_out])
        self._show_printed()

    def _want(self) -> None:
        """Show another paper with its own printer and order."""
        self._show_choice()
        self._again.start()

    def _choose(self, name: str, value: str) -> None:
        """Remember the printer or the order of this paper."""
        for fault in self.desk.do_quietly(choose_paper, self.paper, {name: value}) or ():
            self.desk.happened.emit(Event(fault.sentence, Severity.STOP))
            self.side.queue.setCurrentIndex(-1)  # until another is chosen, or the saved one is shown again
        self._want()

    def _show_choice(self) -> None:
        settings = self.settings()
        self.side.show_choice(settings.choice(self.paper), settings.stock_of(self.paper).words)

    def _tell(self, result: PrintResult, made: MadePaper) -> None:
        self._printing = None
        self.side.print.setEnabled(True)
        if result.taken:
            self.desk.do_quietly(note_printed, pieces_of(self.desk.pile, result.handed), made.paper)
            self.side.from_page.put("")
        end(self.desk.sitting, WorkKind.PRINTING)
        self.desk.happened.emit(Event(result.words, result.mark))
        self._show_printed()

    def _fail(self, job: Job, fault: Exception) -> None:
        """Show why a job failed and unlock making, printing, or listing printers."""
        if job is self._making:
            self._making = None
            self.side.show_progress(0, -1)
        elif job is self._printing:
            self._printing = None
            self.side.print.setEnabled(True)
            end(self.desk.sitting, WorkKind.PRINTING)
        elif job is self._asking:
            self._asking = None
        raise fault

    def _show_queues(self, names: tuple[str, ...]) -> None:
        self._asking = None
        self.side.show_queues(names)
        self._show_choice()

    def _show_printed(self) -> None:
        """Show how many of the pieces on this paper were printed before."""
        before = 0
        if self.made is not None:
            times = printed_at(self.desk.sitting, self.made.paper)
            before = sum(number in times for number in pieces_of(self.desk.pile, self.made.references))
        self.side.printed.setText(f"{before} printed before" if before else "")
        self.side.printed.setVisible(bool(before))
        self.side.void.setEnabled(bool(before))


def build(desk: Desk) -> Screen:
    """Make the screen."""
    return PapersView(desk)
