"""The Hand-over screen: what goes where today, how it is paid, sums, earlier days, and their sheets."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from pathlib import Path

from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QStackedWidget, QVBoxLayout, QWidget

from desk.domain.severity import Severity
from desk.session.papers.hand_over import (
    CAN_GO,
    groups_of,
    hand_everything_over,
    hand_pieces_over,
    stamp_all,
    staying_words,
    to_stamp,
)
from desk.session.papers.stamps_on import pile_stamps, put_stamps_on, take_stamps_off
from desk.session.pile.days_that_left import DayThatLeft, days_that_left
from desk.session.words.figures import pieces_in_words
from desk.ui import common_keys as keys
from desk.ui.actions import Act
from desk.ui.bridge import Desk, DeskChanges, Event
from desk.ui.handover.day_bar import DayBar
from desk.ui.handover.labels_page import LabelsPage
from desk.ui.handover.list_files import ask_where_firm_sheet, ask_where_list
from desk.ui.handover.model import FIGURES, HEADS, POSTAGE, hand_over_list
from desk.ui.handover.sheet_work import SheetWork
from desk.ui.handover.stamps_line import StampsLine
from desk.ui.kit import type as typeface
from desk.ui.kit.empty import EmptyView
from desk.ui.kit.files import file_to_save
from desk.ui.kit.form import Scrolled
from desk.ui.kit.named_button import named_button
from desk.ui.kit.plain import PlainLabel
from desk.ui.kit.rows import TextRows
from desk.ui.kit.table import PlainTable
from desk.ui.kit.wrapping import FlowLayout
from desk.ui.screen import Screen

TITLE, SHORTCUT = "Hand-over", "Ctrl+5"
WIDTHS = (110, 230, 200, 90, 142, 180)  # pixels at 100%
DROPPED_FIRST, GROWS = (3, 2, 5), (1, 2)
LOW = 420  # below this many pixels at 100% the table has the room, and what has a key folds


class HandOverView(Screen):
    """The list of what is ready to go, or of what left on a day."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._pieces: list[tuple[int, ...]] = []  # of each row; a heading has those of its group
        self.model = TextRows(HEADS, FIGURES, remarked=POSTAGE)
        self.table = PlainTable("What is handed over, grouped by how it goes")
        self.table.setModel(self.model)
        self.table.set_widths(WIDTHS, DROPPED_FIRST, GROWS, fits=(POSTAGE,))
        self.nothing = EmptyView(
            "Nothing is ready to be handed over",
            "Pieces appear here when they are weighed and ready.",
        )
        self.labels = LabelsPage(desk)
        self._labels_page = Scrolled("Bought labels", self.labels)
        self.days, self.stamps, self.sheet = DayBar(), StampsLine(), SheetWork(desk, self)
        self._build()
        self.table.entered_row.connect(self.open_row)
        self.days.chosen.connect(self._show_day)
        self.labels.done.connect(self.leave_labels)
        desk.closing.connect(self.labels.end_jobs)

    def _build(self) -> None:
        self.pages = QStackedWidget()
        for page in (self.table, self.nothing, self._labels_page):
            self.pages.addWidget(page)
        self.foot = self._build_foot()
        column = QVBoxLayout(self)
        column.setContentsMargins(32, 10, 32, 0)
        column.addWidget(self.days)
        column.addWidget(self.stamps)
        column.addWidget(self.pages, 1)
        column.addWidget(self.foot)

    def _build_foot(self) -> QWidget:
        foot = QWidget()
        self.total = PlainLabel()
        self.total.setFont(typeface.font(typeface.STRONG, bold=True))
        line = FlowLayout(foot, gap=12)
        line.addWidget(self.total)
        self.stamped = named_button("S&tamped", self.stamp_chosen)
        self.all_stamped = named_button("Mark &all stamped", self.stamp_everything)
        self.handed = named_button("&Hand over", self.hand_over_chosen)
        self.everything = named_button("Hand over &everything", self.hand_over_everything)
        self.list = named_button("Save &postage list…", partial(ask_where_list, self.desk, self))
        self.bought = named_button("&Bought labels", self.open_labels)
        self.save = named_button("&Save as PDF…", self.ask_where)
        self.save.setAccessibleName("Save the sheet as PDF")
        self._of_ready = (self.stamped, self.all_stamped, self.handed, self.everything, self.list, self.bought)
        for button in (*self._of_ready, self.save):
            line.add_right(button)
        return foot

    @property
    def is_at_labels(self) -> bool:
        """True while the page of bought labels is in front."""
        return self.pages.currentWidget() is self._labels_page

    def open_labels(self) -> None:
        """Show the page of bought labels."""
        self.labels.refresh()
        self.pages.setCurrentWidget(self._labels_page)
        self._fold()
        self.labels.open.setFocus()

    def leave_labels(self) -> None:
        """Show the list again."""
        self.pages.setCurrentWidget(self.table if self.model.rows else self.nothing)
        self._fold()
        self.arrive()

    def scan_to_match(self) -> None:
        """Put the focus in the field for scans."""
        if not self.is_at_labels:
            self.open_labels()
        self.labels.scan.edit.setFocus()

    def chosen(self) -> list[int]:
        """Return the pieces of the selected rows; a heading means its whole group. None while the list is hidden."""
        if self.pages.currentWidget() is not self.table:
            return []
        return list(dict.fromkeys(piece for row in self.table.chosen_rows() for piece in self._pieces[row]))

    def open_row(self, row: int) -> None:
        """Open the piece of a row on the bench."""
        if len(self._pieces[row]) == 1 and self.model.rows[row][1]:
            self.desk.piece_opened.emit(self._pieces[row][0])

    def stamp_chosen(self) -> None:
        """Mark the selected pieces as stamped."""
        waiting = set(to_stamp(self.desk.pile))
        if pieces := [piece for piece in self.chosen() if piece in waiting]:
            self.desk.do(put_stamps_on, self.desk.pile, pieces)
        else:
            self.desk.happened.emit(Event("Nothing selected is waiting for stamps.", Severity.LOOK))

    def unstamp_chosen(self) -> None:
        """Mark the selected pieces as not stamped; their stamps are back on hand."""
        verdicts = self.desk.pile.verdicts
        if pieces := [piece for piece in self.chosen() if verdicts[piece].case.postage_on]:
            self.desk.do(take_stamps_off, self.desk.pile, pieces)
        else:
            self.desk.happened.emit(Event("Nothing selected has its postage on.", Severity.LOOK))

    def stamp_everything(self) -> None:
        """Mark all ready pieces as stamped."""
        self.desk.do(stamp_all, self.desk.pile)

    def hand_over_chosen(self) -> None:
        """Mark the selected pieces as handed over."""
        if self.days.day is None:
            self.desk.do(hand_pieces_over, self.desk.pile, self.chosen())
        else:
            self.desk.happened.emit(Event("These have already left. Ctrl+Z undoes the last hand-over.", Severity.NOTE))

    def hand_over_everything(self) -> None:
        """Mark everything ready as handed over, with its stamps on, and name what stays."""
        done = self.desk.do_quietly(hand_everything_over, self.desk.pile)
        if done is not None:
            staying = staying_words(done)
            words = f"Everything ready handed over: {pieces_in_words(done.count)}.{staying}"
            self.desk.happened.emit(Event(words, Severity.LOOK if staying else Severity.FINE, undo=True))

    def acts(self) -> Sequence[Act]:
        """Return the keys of Hand-over."""
        return (
            Act("Enter", "Open on the bench"),
            Act(keys.STAMPED, "Mark the selection as stamped", self.stamp_chosen),
            Act(keys.ALL_STAMPED, "Mark all stamped", self.stamp_everything),
            Act(keys.UNSTAMPED, "Mark the selection as not stamped", self.unstamp_chosen),
            Act(keys.HAND_OVER, "Hand over the selection, or the group of a heading", self.hand_over_chosen),
            Act(keys.HAND_ALL_OVER, "Hand over everything ready", self.hand_over_everything),
            Act(keys.LEFT, "Show earlier days, or the current batch", self.days.toggle),
            Act(keys.EARLIER, "Earlier day", lambda: self.days.step(1)),
            Act(keys.LATER, "Later day", lambda: self.days.step(-1)),
            Act(keys.POSTAGE_LIST, "Save the list of postage to buy as CSV", partial(ask_where_list, self.desk, self)),
            Act(
                keys.FIRM_SHEET,
                "Save the data of a firm sheet for untracked letters as CSV",
                partial(ask_where_firm_sheet, self.desk, self),
            ),
            Act(keys.LABELS, "Bought labels: import, match, scan", self.open_labels),
            Act(keys.MATCH, "Scan to match: slip, then label", self.scan_to_match),
            Act(keys.SAVE, "Save the sheet as PDF", self.save_it),
            Act(keys.PRINT, "Print the sheet", self.print_it),
            Act("Escape", "Back to the list", self.back),
        )

    def keys_in_front(self) -> Sequence[Act]:
        """Return the keys of the open page."""
        return self.labels.acts() if self.is_at_labels else self.acts()

    def back(self) -> None:
        """Leave the bought labels, or an earlier day."""
        if self.is_at_labels:
            self.leave_labels()
        elif self.days.day is not None:
            self.days.toggle()

    def refresh(self, changes: DeskChanges) -> None:  # noqa: ARG002 - sums change with any piece
        """Show the current batch."""
        status = self.desk.pile.counts.status
        self.days.show_days(sum(status[one] for one in CAN_GO), self.desk.do_quietly(days_that_left) or ())
        totals = pile_stamps(self.desk.pile.batch())
        self.stamps.show_totals(totals)
        for button in (self.stamped, self.all_stamped):
            button.setEnabled(bool(totals))
        self._show_list()
        if self.is_at_labels:
            self.labels.refresh()

    def _show_day(self) -> None:
        """Show what left on the chosen day, reading it first."""
        self._show_list()
        if self.days.day is not None:
            self.desk.earlier.read(self.days.day.pieces)

    def _show_list(self) -> None:
        """Show what is ready now, or what left on the chosen day."""
        day = self.days.day
        shown_list = hand_over_list(self.desk.pile, day)
        self.table.clearSpans()
        notes = [(note, *("" for _ in HEADS[1:])) for note in shown_list.notes]
        self.model.show_rows((*shown_list.rows, *notes) if shown_list.rows else (), shown_list.ages)
        groups = groups_of(self.desk.pile, day)
        self._pieces = [ids for _, group in groups for ids in (group, *((one,) for one in group))]
        self._pieces += [() for _ in notes]
        for row in (*shown_list.headings, *range(len(shown_list.rows), len(self.model.rows))):
            self.table.setSpan(row, 0, 1, len(HEADS))
        for button in (self.handed, self.everything):
            button.setEnabled(bool(shown_list.rows))
        self.save.setEnabled(bool(shown_list.rows))
        self.nothing.say(" ".join(shown_list.notes) if day is None else "")
        if not self.is_at_labels:
            self.pages.setCurrentWidget(self.table if shown_list.rows else self.nothing)
        self.total.setText(self._total_words(shown_list.total, day))
        self._fold()

    def _total_words(self, total: str, day: DayThatLeft | None) -> str:
        return total if day is None else f"Handed over: {total}"

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fold()

    def _fold(self) -> None:
        """Hide what another page or an earlier day doesn't use, and in a low window what has a key."""
        at_labels = self.is_at_labels
        is_low = self.height() < LOW * typeface.scale()
        self.foot.setVisible(not at_labels)
        self.stamps.fold(hidden=at_labels or self.days.day is not None, low=is_low)
        for button in self._of_ready:
            stays = button in (self.everything, self.bought) or not is_low
            button.setVisible(stays and self.days.day is None)
        self.days.setVisible(self.days.has_days and not at_labels)

    def arrive(self) -> None:
        """Put the focus in the list, if there is one."""
        (self.table if self.model.rows else self).setFocus()

    def ask_where(self) -> None:
        """Ask for the file, then make the sheet in the background."""
        if self.sheet.is_busy or not self.model.rows:
            return
        day = self.days.day
        offered = f"hand-over-{day.day.isoformat()}.pdf" if day else "hand-over.pdf"
        if (file := file_to_save(self, "Save the sheet as PDF", offered, "PDF (*.pdf)")) is not None:
            self.save_to(file)

    def save_it(self) -> None:
        """Save what is shown: the sheet, or the accepted labels."""
        if self.is_at_labels:
            self.labels.ask_where()
        else:
            self.ask_where()

    def save_to(self, file: Path) -> None:
        """Make the sheet that is shown and write it to a file."""
        self.sheet.save(file, self.days.day)

    def print_it(self) -> None:
        """Print what is shown: the sheet, or the accepted labels."""
        if self.is_at_labels:
            self.labels.ask_printing()
        elif not self.sheet.is_busy and self.model.rows:
            self.sheet.print_it(self.days.day)


def build(desk: Desk) -> Screen:
    """Make the screen."""
    return HandOverView(desk)
