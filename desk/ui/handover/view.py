"""The Hand-over screen: what goes where, how it is paid, sums, and the sheet as a PDF."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

from PySide6.QtWidgets import QFileDialog, QPushButton, QStackedWidget, QVBoxLayout, QWidget

from desk.session.papers.hand_over import groups_of, hand_pieces_over, stamp_all, to_stamp
from desk.session.papers.kinds import Paper
from desk.session.papers.making import Made, Wanted, make_paper
from desk.session.papers.paper_settings import paper_settings
from desk.session.papers.postage_list import save_postage_list
from desk.session.papers.saving import cannot_write, save_paper
from desk.session.papers.stamps_on import pile_stamps, put_stamps_on, take_stamps_off
from desk.session.words.counts import pieces_in_words
from desk.ui.actions import Act
from desk.ui.bridge import Desk, Event, Told
from desk.ui.handover.labels_page import LabelsPage
from desk.ui.handover.model import FIGURES, HEADS, POSTAGE, hand_over_list
from desk.ui.handover.stamps_line import StampsLine
from desk.ui.jobs import Cancelled, Job, Progress
from desk.ui.kit import type as typeface
from desk.ui.kit.empty import EmptyView
from desk.ui.kit.form import Scrolled
from desk.ui.kit.plain import PlainLabel
from desk.ui.kit.rows import TextRows
from desk.ui.kit.table import PlainTable
from desk.ui.kit.wrapping import FlowLayout
from desk.ui.screen import Screen

TITLE, SHORTCUT = "Hand-over", "Ctrl+5"
WIDTHS = (110, 260, 240, 110, 132, 110)  # pixels at 100 %


class HandOverView(Screen):
    """The list of what is ready to go."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._job: Job | None = None
        self._pieces: list[tuple[int, ...]] = []  # of each row; a heading has those of its group
        self.model = TextRows(HEADS, FIGURES, remarked=POSTAGE)
        self.table = PlainTable("What is handed over, grouped by how it goes")
        self.table.setModel(self.model)
        self.table.set_widths(WIDTHS)
        self.table.horizontalHeader().setStretchLastSection(True)
        self.nothing = EmptyView(
            "Nothing is ready to be handed over",
            "Pieces appear here when they are weighed and ready.",
        )
        self.pages = QStackedWidget()
        self.pages.addWidget(self.table)
        self.pages.addWidget(self.nothing)
        self.labels = LabelsPage(desk)
        self._labels_page = Scrolled("Bought labels", self.labels)
        self.pages.addWidget(self._labels_page)
        self.labels.done.connect(self.leave_labels)
        column = QVBoxLayout(self)
        column.setContentsMargins(32, 10, 32, 0)
        self.stamps = StampsLine()
        column.addWidget(self.stamps)
        column.addWidget(self.pages, 1)
        column.addWidget(self._build_foot())
        desk.closing.connect(self._end_job)

    def _build_foot(self) -> QWidget:
        foot = QWidget()
        self.total, self.save = PlainLabel(), QPushButton("&Save as PDF…")
        self.total.setFont(typeface.font(typeface.STRONG, bold=True))
        self.save.setAccessibleName("Save the sheet as PDF")
        self.save.clicked.connect(self.ask_where)
        line = FlowLayout(foot, gap=16)
        line.addWidget(self.total)
        self.stamped = self._button("S&tamped", self.stamp_chosen)
        self.all_stamped = self._button("Mark &all stamped", self.stamp_everything)
        self.handed = self._button("&Handed over", self.hand_over_chosen)
        self.list = self._button("Save &postage list…", self.ask_where_list)
        self.bought = self._button("&Bought labels", self.open_labels)
        for button in (self.stamped, self.all_stamped, self.handed, self.list, self.bought, self.save):
            line.add_right(button)
        return foot

    def _button(self, words: str, slot: Callable[[], None]) -> QPushButton:
        button = QPushButton(words)
        button.setAccessibleName(words.replace("&", ""))
        button.clicked.connect(lambda _checked=False: slot())
        return button

    def open_labels(self) -> None:
        """Show the page of bought labels."""
        self.labels.refresh()
        self.pages.setCurrentWidget(self._labels_page)
        self.labels.open.setFocus()

    def leave_labels(self) -> None:
        """Show the list again."""
        self.pages.setCurrentWidget(self.table if self.model.rows else self.nothing)
        self.arrive()

    def chosen(self) -> list[int]:
        """Return the pieces of the selected rows; a heading means its whole group."""
        return list(dict.fromkeys(piece for row in self.table.chosen_rows() for piece in self._pieces[row]))

    def stamp_chosen(self) -> None:
        """Mark the selected pieces as stamped."""
        waiting = set(to_stamp(self.desk.pile))
        if pieces := [piece for piece in self.chosen() if piece in waiting]:
            self.desk.do(put_stamps_on, self.desk.pile, pieces)
        else:
            self.desk.happened.emit(Event("Nothing selected is waiting for stamps.", "look"))

    def unstamp_chosen(self) -> None:
        """Mark the selected pieces as not stamped; their stamps are back on hand."""
        verdicts = self.desk.pile.verdicts
        if pieces := [piece for piece in self.chosen() if verdicts[piece].case.postage_on]:
            self.desk.do(take_stamps_off, self.desk.pile, pieces)
        else:
            self.desk.happened.emit(Event("Nothing selected has its stamps on.", "look"))

    def stamp_everything(self) -> None:
        """Mark all ready pieces as stamped."""
        self.desk.do(stamp_all, self.desk.pile)

    def hand_over_chosen(self) -> None:
        """Hand over the selected pieces."""
        self.desk.do(hand_pieces_over, self.desk.pile, self.chosen())

    def acts(self) -> Sequence[Act]:
        """Return the keys of Hand-over."""
        return (
            Act("S", "Mark the selection as stamped", self.stamp_chosen),
            Act("L", "Mark all stamped", self.stamp_everything),
            Act("O", "Mark the selection as not stamped", self.unstamp_chosen),
            Act("H", "Hand over the selection, or the group of a heading", self.hand_over_chosen),
            Act("P", "Save the list of postage to buy as CSV", self.ask_where_list),
            Act("B", "Bought labels: import, match, scan", self.open_labels),
            Act("Ctrl+S", "Save the sheet as PDF", self.ask_where),
        )

    def refresh(self, told: Told) -> None:  # noqa: ARG002 - sums change with any piece
        """Show the current batch."""
        found = hand_over_list(self.desk.pile)
        self.table.clearSpans()
        notes = [(note, *("" for _ in HEADS[1:])) for note in found.notes if found.rows]
        self.model.show_rows((*found.rows, *notes), found.ages)
        self._pieces = [ids for _, group in groups_of(self.desk.pile) for ids in (group, *((one,) for one in group))]
        self._pieces += [() for _ in notes]
        totals = pile_stamps(self.desk.pile.batch())
        self.stamps.show_totals(totals)
        for button in (self.stamped, self.all_stamped):
            button.setEnabled(bool(totals))
        self.handed.setEnabled(bool(found.rows))
        for row in (*found.headings, *range(len(found.rows), len(self._pieces))):
            self.table.setSpan(row, 0, 1, len(HEADS))
        if self.pages.currentWidget() is self._labels_page:
            self.labels.refresh()
        else:
            self.pages.setCurrentWidget(self.table if found.rows else self.nothing)
        self.total.setText(found.total)
        self.save.setEnabled(bool(found.rows))

    def arrive(self) -> None:
        """Put the focus in the list, if there is one."""
        (self.table if self.model.rows else self).setFocus()

    def ask_where(self) -> None:
        """Ask for the file, then make the sheet in the background."""
        if self._job is not None or not self.model.rows:
            return
        name, _ = QFileDialog.getSaveFileName(self, "Save the sheet as PDF", "hand-over.pdf", "PDF (*.pdf)")
        if name:
            self.save_to(Path(name))

    def ask_where_list(self) -> None:
        """Ask for the file of the postage list."""
        name, _ = QFileDialog.getSaveFileName(self, "Save the postage list", "postage-list.csv", "CSV (*.csv)")
        if name:
            self.save_list(Path(name))

    def save_list(self, file: Path) -> None:
        """Save the list of postage to buy online."""
        pile = self.desk.pile
        try:
            count = save_postage_list(pile.batch(), pile.terms, file)
        except OSError as fault:
            self.desk.happened.emit(Event(cannot_write(file, fault), "stop"))
        else:
            self.desk.happened.emit(Event(f"Saved {pieces_in_words(count)}: {file}"))

    def save_to(self, file: Path) -> None:
        """Make the sheet and write it to a file."""
        pile, resources = self.desk.pile, self.desk.resources
        wanted = Wanted(Paper.HAND_OVER, pile.batch(), pile.terms, None, paper_settings(self.desk.sitting))

        def work(progress: Progress, cancelled: Cancelled) -> Made | None:
            return make_paper(wanted, resources, progress, cancelled)

        self._job = Job(work, self)
        self._job.done.connect(lambda made: self._write(file, made))
        self._job.failed.connect(self._fail)
        self._job.start()

    def _write(self, file: Path, made: Made | None) -> None:
        self._job = None
        if made is None:
            return
        try:
            save_paper(made, file)
        except OSError as fault:
            self.desk.happened.emit(Event(cannot_write(file, fault), "stop"))
        else:
            self.desk.happened.emit(Event(f"Saved: {file}"))

    def _fail(self, error: Exception) -> None:
        self._job = None
        raise error

    def _end_job(self) -> None:
        self.labels.end_jobs()
        if self._job is not None:
            self._job.cancel()
            self._job.wait()


def build(desk: Desk) -> Screen:
    """Make the screen."""
    return HandOverView(desk)
