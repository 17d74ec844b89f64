"""The Papers screen: choose a paper, look at its pages, save it or print it."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any

from PySide6.QtCore import Qt, QTimer
from PySide6.QtWidgets import QHBoxLayout, QScrollArea

from desk.session.papers import printing as print_papers
from desk.session.papers.printing import Made, Paper
from desk.session.papers.printing import Told as Became
from desk.ui.actions import Act
from desk.ui.bridge import Desk, Event, Told
from desk.ui.jobs import Job
from desk.ui.kit import type as typeface
from desk.ui.kit.empty import EmptyView
from desk.ui.papers.model import Which, count_words, left_out_words, pieces_of, references_of, wanted_of
from desk.ui.papers.preview import PagesView
from desk.ui.papers.side import PapersSide
from desk.ui.screen import Screen

TITLE, SHORTCUT = "Papers", "Ctrl+4"
SIDE_WIDTH = 330
POSES_S = 20.0


class PapersView(Screen):
    """A paper is made beside the window whenever another one is wanted, or a piece on it has changed."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.side = PapersSide()
        self.pages = PagesView()
        self.made: Made | None = None
        self._making: Job | None = None
        self._printing: Job | None = None
        self._asking: Job | None = None
        self._jobs: list[Job] = []  # those given up too, until their threads have ended
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
        self.nothing = EmptyView("No paper yet", "Take in orders, and their papers are shown here.")
        line.addWidget(self.pages, 1)
        line.addWidget(self.nothing, 1)

    def _connect(self) -> None:
        self.side.wanted_changed.connect(self._again.start)
        self.side.save_asked.connect(self.save)
        self.side.print_asked.connect(self.print_it)
        self.side.void_asked.connect(self.void)
        self.side.cancel_asked.connect(self.cancel)
        self.desk.closing.connect(self.close_all)

    def acts(self) -> Sequence[Act]:
        """The keys of Papers."""
        return (
            Act("Ctrl+S", "Save as PDF", self.save),
            Act("Ctrl+P", "Print", self.print_it),
            Act("PgDown", "Next page of the preview"),
            Act("Escape", "Stop making it", self.cancel),
        )

    @property
    def paper(self) -> Paper:
        """The paper that is wanted."""
        return Paper(self.side.paper.value())

    @property
    def is_busy(self) -> bool:
        """True while a paper is being made or printed."""
        return self._making is not None or self._printing is not None

    def refresh(self, told: Told) -> None:
        """Show what is so now."""
        there = bool(self.desk.pile.verdicts)
        self.nothing.setVisible(not there)
        self.pages.setVisible(there)
        if told.pieces or told.changes.shop or self.made is None:
            self._again.start()
        self._show_printed()

    def arrive(self) -> None:
        """Put the focus where work goes on."""
        self.side.paper.setFocus()
        if self._asking is None:
            self._asking = self._start(lambda _progress, _cancelled: print_papers.queue_names(), self._show_queues)

    def pose(self, name: str) -> None:
        """For a picture: the labels of what is ready, or of every piece, with what was left out; waits for them."""
        self._again.stop()
        self.side.which.put(Which.ALL.value if name == "trouble" else Which.READY.value)
        self.make()
        self._jobs[-1].wait(POSES_S)
        if self._asking is not None:
            self._asking.wait(POSES_S)

    def make(self) -> None:
        """Make the wanted paper anew; one that is still being made is given up."""
        self.cancel()
        pile = self.desk.pile
        only, unknown = references_of(pile, Which(self.side.which.value()), self.side.numbers.value())
        nobody = "No piece has this number: {numbers}".format(numbers=", ".join(unknown))
        self.side.numbers.say("look" if unknown else "", nobody if unknown else "")
        wanted, resources = wanted_of(pile, self.paper, only), self.desk.resources
        self._making = self._start(
            lambda progress, cancelled: print_papers.make_paper(wanted, resources, progress, cancelled), self._show
        )
        self._making.advanced.connect(self._advance)

    def save(self) -> None:
        """Write the PDF into the file named; not one of before while another is being made."""
        if self.made is None or self._is_outdated():
            return
        if not self.made.references:
            self.desk.happened.emit(Event("No piece is on this paper yet: nothing was saved.", "look"))
            return
        try:
            file = print_papers.save_paper(self.made, Path(self.side.file.text()).expanduser())
        except OSError as fault:
            self.desk.happened.emit(Event(print_papers.cannot_write(self.side.file.text(), fault), "stop"))
        else:
            said = "Saved {count} in {file}."
            self.desk.happened.emit(Event(said.format(count=count_words(self.made), file=file)))

    def print_it(self) -> None:
        """Give the paper to the print queue, and tell what became of it."""
        made, queue = self.made, self.side.queue.currentText()
        if made is None or self._printing is not None or self._is_outdated():
            return
        if not queue:
            said = "No print queue on this machine. Save the PDF and print it elsewhere."
            self.desk.happened.emit(Event(said, "look"))
            return
        if made.unread:
            said = "Not printed: the code does not read back on {numbers}."
            self.desk.happened.emit(Event(said.format(numbers=print_papers.in_one_line(made.unread)), "stop"))
            return
        self.side.print.setEnabled(False)
        self._printing = self._start(
            lambda _progress, _cancelled: print_papers.print_paper(made, queue),
            lambda became: self._tell(became, made),
        )

    def void(self) -> None:
        """Void what was printed of the pieces on this paper."""
        if self.made is not None:
            pieces = pieces_of(self.desk.pile, self.made.references)
            voided = self.desk.do(print_papers.void_papers, pieces, self.made.paper)
            if voided == 0:
                self.desk.happened.emit(Event("Nothing was printed of these pieces.", "note"))
            self._show_printed()

    def cancel(self) -> None:
        """Give up the paper that is being made."""
        if self._making is not None:
            self._making.cancel()
            self._making = None
        self.side.show_progress(0, -1)

    def close_all(self) -> None:
        """End what runs, because the store is closed."""
        self._again.stop()
        for job in self._jobs:
            job.cancel()
        for job in self._jobs:
            job.wait()
        self._making = self._printing = self._asking = None
        self.pages.close_pages()

    def _is_outdated(self) -> bool:
        """True, and said, while another paper is being made: the one shown may carry the postage or the pieces of before."""
        outdated = self._making is not None or self._again.isActive()
        if outdated:
            self.desk.happened.emit(Event("The paper is being made anew. Once more when it is shown.", "look"))
        return outdated

    def _advance(self, done: int, of: int) -> None:
        """How far it is; what a job that was given up still says is of no interest."""
        if self._making is not None:
            self.side.show_progress(done, of)

    def _start(self, work: Any, done: Any) -> Job:
        job = Job(work, self)
        self._jobs = [one for one in self._jobs if one.is_running()] + [job]
        job.done.connect(done)
        job.failed.connect(lambda fault: self._fail(job, fault))
        job.start()
        return job

    def _show(self, made: Made | None) -> None:
        self._making = None
        self.side.show_progress(0, -1)
        if made is None:
            return
        self.made = made
        self.pages.show_pdf(made.pdf)
        self.side.counts.setText(count_words(made))
        reasons = left_out_words(made.left_out)
        if made.unread:
            reasons.insert(0, ("The code does not read back:", ", ".join(made.unread)))
        self.side.show_left_out(reasons)
        self._show_printed()

    def _tell(self, became: Became, made: Made) -> None:
        self._printing = None
        self.side.print.setEnabled(True)
        if became.taken:
            self.desk.do_quietly(print_papers.note_printed, pieces_of(self.desk.pile, made.references), made.paper)
        self.desk.happened.emit(Event(became.words, became.mark))
        self._show_printed()

    def _fail(self, job: Job, fault: Exception) -> None:
        """What this job held up goes on: a paper can be made, printed, or the queues asked again."""
        if job is self._making:
            self._making = None
            self.side.show_progress(0, -1)
        elif job is self._printing:
            self._printing = None
            self.side.print.setEnabled(True)
        elif job is self._asking:
            self._asking = None
        raise fault

    def _show_queues(self, names: tuple[str, ...]) -> None:
        self._asking = None
        self.side.show_queues(names)

    def _show_printed(self) -> None:
        """How many of the pieces on this paper were printed before."""
        before = 0
        if self.made is not None:
            printed = print_papers.printed_at(self.desk.sitting, self.made.paper)
            before = sum(number in printed for number in pieces_of(self.desk.pile, self.made.references))
        self.side.printed.setText(f"{before} of them printed before" if before else "")
        self.side.printed.setVisible(bool(before))
        self.side.void.setEnabled(bool(before))


def build(desk: Desk) -> Screen:
    """Make the screen."""
    return PapersView(desk)
