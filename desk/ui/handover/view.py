"""The Hand-over screen: what goes where, paid how, with sums; and its sheet as a PDF."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from PySide6.QtWidgets import QFileDialog, QLabel, QPushButton, QStackedWidget, QVBoxLayout, QWidget

from desk.session.print_papers import Made, Paper, Wanted, make_paper
from desk.ui.actions import Act
from desk.ui.bridge import Desk, Event, Told
from desk.ui.handover.model import FIGURES, HEADS, hand_over_list
from desk.ui.jobs import Cancelled, Job, Progress
from desk.ui.kit import type as typeface
from desk.ui.kit.empty import EmptyView
from desk.ui.kit.rows import TextRows
from desk.ui.kit.table import PlainTable
from desk.ui.kit.wrapping import FlowLayout
from desk.ui.screen import Screen

TITLE, SHORTCUT = "Hand-over", "Ctrl+5"
WIDTHS = (110, 260, 260, 110, 110, 110)  # pixels at 100 %


class HandOverView(Screen):
    """The list of what is ready to go."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._job: Job | None = None
        self.model = TextRows(HEADS, FIGURES)
        self.table = PlainTable(self.tr("What is handed over, by the way it goes"))
        self.table.setModel(self.model)
        self.table.set_widths(WIDTHS)
        self.table.horizontalHeader().setStretchLastSection(True)
        self.nothing = EmptyView(
            self.tr("Nothing is ready to be handed over"),
            self.tr("Pieces come here when they are weighed and in order."),
        )
        self.pages = QStackedWidget()
        self.pages.addWidget(self.table)
        self.pages.addWidget(self.nothing)
        column = QVBoxLayout(self)
        column.setContentsMargins(32, 10, 32, 0)
        column.addWidget(self.pages, 1)
        column.addWidget(self._build_foot())
        desk.closing.connect(self._end_job)

    def _build_foot(self) -> QWidget:
        foot = QWidget()
        self.total, self.notes, self.save = QLabel(), QLabel(), QPushButton(self.tr("&Save the sheet as PDF …"))
        self.total.setFont(typeface.font(typeface.STRONG, bold=True))
        self.save.setAccessibleName(self.tr("Save the sheet as PDF"))
        self.save.clicked.connect(self.ask_where)
        line = FlowLayout(foot, gap=16)
        line.addWidget(self.total)
        line.addWidget(self.notes)
        line.add_right(self.save)
        return foot

    def acts(self) -> Sequence[Act]:
        """The keys of the hand-over."""
        return (Act("Ctrl+S", self.tr("Save the sheet as PDF"), self.ask_where),)

    def refresh(self, told: Told) -> None:  # noqa: ARG002 - sums change with any piece
        """Show the pile as it is now."""
        found = hand_over_list(self.desk.pile)
        self.table.clearSpans()
        self.model.show_rows(found.rows)
        for row in found.headings:
            self.table.setSpan(row, 0, 1, len(HEADS))
        self.pages.setCurrentWidget(self.table if found.rows else self.nothing)
        self.total.setText(found.total)
        self.notes.setText(" ".join(found.notes))
        self.save.setEnabled(bool(found.rows))

    def arrive(self) -> None:
        """Go on in the list, if there is one."""
        (self.table if self.model.rows else self).setFocus()

    def ask_where(self) -> None:
        """Ask for the file, then make the sheet beside the window."""
        if self._job is not None or not self.model.rows:
            return
        name, _ = QFileDialog.getSaveFileName(self, self.tr("Save the sheet as PDF"), "hand-over.pdf", "PDF (*.pdf)")
        if name:
            self.save_to(Path(name))

    def save_to(self, file: Path) -> None:
        """Make the sheet and write it to a file."""
        wanted, resources = Wanted(Paper.HAND_OVER, self.desk.pile.batch(), self.desk.pile.terms), self.desk.resources

        def work(progress: Progress, cancelled: Cancelled) -> Made | None:
            return make_paper(wanted, resources, progress, cancelled)

        self._job = Job(work, self)
        self._job.done.connect(lambda made: self._write(file, made))
        self._job.failed.connect(self._fail)
        self._job.start()

    def _write(self, file: Path, made: Made | None) -> None:
        self._job = None
        try:
            if made is not None:
                file.write_bytes(made.pdf)
        except OSError as error:
            self.desk.happened.emit(Event(f"{file.name}: {error.strerror}", "stop"))
            return
        self.desk.happened.emit(Event(self.tr("Saved: {file}").format(file=file)))

    def _fail(self, error: Exception) -> None:
        self._job = None
        raise error

    def _end_job(self) -> None:
        if self._job is not None:
            self._job.cancel()
            self._job.wait()


def build(desk: Desk) -> Screen:
    """Make the screen."""
    return HandOverView(desk)
