"""The Batch screen: every piece and its status; find by number; change many at once; import order files."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import partial
from pathlib import Path

from PySide6.QtCore import QMimeData
from PySide6.QtGui import QDragEnterEvent, QDropEvent, QGuiApplication
from PySide6.QtWidgets import QStackedWidget, QVBoxLayout, QWidget

from desk.domain.severity import Severity
from desk.domain.status import PieceStatus
from desk.session.importing.import_table import Pasted, Source
from desk.session.papers.save_tables import save_tables
from desk.session.words.figures import number_in_words, pieces_in_words
from desk.session.words.statuses import status_counted
from desk.ui.actions import Act
from desk.ui.batch.before_weighing import BeforeWeighingPage
from desk.ui.batch.importing.import_keys import import_keys
from desk.ui.batch.importing.import_panel import ImportOrdersPanel
from desk.ui.batch.mailing_date import choose_mailing_date, show_short
from desk.ui.batch.pieces.piece_list import PieceList
from desk.ui.bridge import Desk, DeskChanges, Event
from desk.ui.common_keys import (
    ANYWAY,
    ASIDE,
    EDIT,
    FIND,
    HISTORY,
    LEFT,
    MAILER,
    PAGE,
    REASON,
    SAVE,
    SERVICE,
    SIZE,
)
from desk.ui.kit.empty import EmptyView
from desk.ui.kit.files import file_to_open, folder_to_save_in
from desk.ui.screen import Jump, Screen
from desk.ui.trade.piece_sheet import PieceSheet

TITLE, SHORTCUT = "Batch", "Ctrl+1"
FILES = "Tables (*.csv *.tsv *.txt *.xlsx *.ods)"


class BatchView(Screen):
    """Five pages: empty, the list of pieces, an import, one piece, and what to sort out before weighing."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.setAcceptDrops(True)
        self._asked_on = ""
        self.list = PieceList(desk)
        self.importing = ImportOrdersPanel(desk)
        self.ahead = BeforeWeighingPage(desk)
        self.piece = PieceSheet(desk)
        self.nothing_yet = EmptyView("No orders yet", "Drop a file of orders here, or choose one.", self._first_ways())
        self.pages = QStackedWidget()
        for page in (self.nothing_yet, self.list, self.importing, self.piece, self.ahead):
            self.pages.addWidget(page)
        column = QVBoxLayout(self)
        column.setContentsMargins(32, 10, 32, 0)
        column.addWidget(self.pages)
        self._connect()

    def _first_ways(self) -> Sequence[tuple[str, Callable[[], None]]]:
        by_file = ("Import orders…", self.ask_for_file)
        return [by_file] if self.desk.is_demo else [by_file, ("Try the demo", self._ask_for_demo)]

    def _connect(self) -> None:
        self.list.opened.connect(self.desk.piece_opened)
        self.list.bar.date_changed.connect(partial(choose_mailing_date, self.desk))
        self.list.bar.import_asked.connect(self.ask_for_file)
        self.importing.ended.connect(self._leave_table)
        self.desk.table_brought.connect(self._look_into_list)
        self.ahead.ended.connect(self._show_pieces)
        self.ahead.opened.connect(self.desk.piece_opened)
        self.piece.left.connect(self._show_pieces)

    def acts(self) -> Sequence[Act]:
        """Return the keys of Batch."""
        pieces = self.list
        return (
            Act("0 – 9", "Find by number"),
            Act("Enter", "Open on the bench"),
            Act(FIND, "Find", self._in_list(pieces.bar.search.setFocus)),
            Act("W", "Next status", self._in_list(pieces.next_status)),
            Act("Alt+Down", "Sort by this column", self._in_list(pieces.sort_here)),
            Act(MAILER, "Mailer", self._in_list(pieces.many.offer_mailers)),
            Act(SERVICE, "Service", self._in_list(pieces.many.offer_services)),
            Act(SIZE, "Size: length, width, thickness", self._in_list(pieces.many.ask_size)),
            Act(ASIDE, "Set aside, or put back", self._in_list(pieces.toggle_aside)),
            Act(REASON, "Set aside with a reason", self._in_list(pieces.many.ask_reason)),
            Act(ANYWAY, "Mail canceled orders anyway", self._in_list(pieces.mail_anyway)),
            Act(HISTORY, "History", self.show_history),
            Act(PAGE, "Details of this piece", self.open_piece_page),
            Act("Ctrl+B", "Sort out before weighing", self.look_ahead),
            Act("Ctrl+O", "Import orders", self.ask_for_file),
            Act("Ctrl+V", "Import the table on the clipboard", self.paste),
            Act(LEFT, "Show earlier days, or the current batch", self._in_list(pieces.toggle_left)),
            Act(SAVE, "Save tables", self.ask_where_to_save),
            Act("Escape", "Show all", self.back),
        )

    def keys_in_front(self) -> Sequence[Act]:
        """Return the keys of the open page: the list, the piece, the import, or before weighing."""
        page = self.pages.currentWidget()
        if page is self.piece:
            return self.piece.acts()
        if page is self.ahead:
            return self.ahead.acts()
        if page is self.importing:
            return import_keys(self.importing)
        return self.acts()

    def acts_to_come(self) -> Sequence[Act]:
        """Return the keys of the pages inside: they work while their page is in front."""
        edit = Act(EDIT, "Correct the order", self.piece.toggle_form)
        of_piece = [(self.piece, act) for act in (edit, *self.piece.acts_in_front())]
        of_ahead = [(self.ahead, act) for act in self.ahead.acts() if act.keys != "Escape"]
        return [replace(act, do=self._while(page, act.do)) for page, act in (*of_piece, *of_ahead) if act.do]

    def _while(self, page: QWidget, do: Callable[[], None]) -> Callable[[], None]:
        """Return the act of a key that belongs to one page."""

        def guarded() -> None:
            if self.pages.currentWidget() is page:
                do()

        return guarded

    def _in_list(self, do: Callable[[], None]) -> Callable[[], None]:
        """Return the act of a key of the list; an open piece page is closed first."""

        def guarded() -> None:
            if self.pages.currentWidget() is self.piece:
                self._show_pieces()
            if self.pages.currentWidget() is self.list:
                do()

        return guarded

    def show_history(self) -> None:
        """Show what happened to the selected piece, on the page in front."""
        if self.pages.currentWidget() is self.piece:
            self.piece.show_history()
        elif self.pages.currentWidget() is self.list:
            self.list.toggle_side()

    def look_ahead(self) -> None:
        """Show what to sort out before weighing."""
        if not self.importing.is_busy:
            self.ahead.refresh()
            self.pages.setCurrentWidget(self.ahead)
            self.ahead.arrive()

    def jumps(self) -> Sequence[Jump]:
        """Return the jumps: pieces to weigh, pieces that need a check, things to sort out first."""
        counts = self.desk.pile.counts.status
        to_weigh, to_check = counts[PieceStatus.TO_WEIGH], counts[PieceStatus.NEEDS_A_LOOK]
        jumps = []
        if things := self.ahead.count():
            jumps.append(Jump(f"{number_in_words(things)} to sort out first", self.look_ahead))
        if to_weigh:
            jumps.append(Jump(f"{number_in_words(to_weigh)} to weigh", partial(self.show_those, PieceStatus.TO_WEIGH)))
        if to_check:
            words = status_counted(to_check, PieceStatus.NEEDS_A_LOOK)
            jumps.append(Jump(words, partial(self.show_those, PieceStatus.NEEDS_A_LOOK)))
        return jumps

    def refresh(self, changes: DeskChanges) -> None:
        """Show the current batch, on the page that fits."""
        self.list.refresh(changes)
        show_short(self.desk)
        if self.pages.currentWidget() is self.piece:
            self.piece.refresh()
        elif self.pages.currentWidget() is self.ahead:
            self.ahead.refresh()
        elif self.pages.currentWidget() is not self.importing:
            self._place_page()

    def arrive(self) -> None:
        """Put the focus in the list, the import, or the button to import orders."""
        page = self.pages.currentWidget()
        if page is self.nothing_yet:
            self.nothing_yet.buttons[0].setFocus()
        elif page is self.piece:
            self.piece.setFocus()
        else:
            (page if isinstance(page, ImportOrdersPanel | BeforeWeighingPage) else self.list).arrive()

    def pose(self, name: str) -> None:
        """For a picture: the pieces that need a check, with the first one selected."""
        if name == "trouble":
            self.show_those(PieceStatus.NEEDS_A_LOOK)
            self.list.toggle_side()

    def show_those(self, status: PieceStatus) -> None:
        """Show only the pieces with that status."""
        if self.pages.currentWidget() is self.ahead:
            self._place_page()
        if self.pages.currentWidget() is self.list:
            self.list.show_those(status)

    def open_piece_page(self) -> None:
        """Show all details of the first selected piece."""
        if self.pages.currentWidget() is self.piece:
            self._show_pieces()
            return
        chosen = self.list.chosen()
        if chosen and self.pages.currentWidget() is self.list:
            self.pages.setCurrentWidget(self.piece)
            self.piece.show_piece(chosen[0])

    def back(self) -> None:
        """Leave the page in front, else show all pieces."""
        if self.pages.currentWidget() is self.importing:
            self.importing.leave()
        elif self.pages.currentWidget() in (self.ahead, self.piece):
            self._show_pieces()
        else:
            self.list.show_all()

    def ask_for_file(self) -> None:
        """Ask for a file of orders and preview it."""
        if (file := file_to_open(self, "Import orders", FILES)) is not None:
            self.look_into(file)

    def ask_where_to_save(self) -> None:
        """Ask for a folder and save the tables of the batch there, including the postage list."""
        if not self.desk.pile.verdicts:
            self.desk.happened.emit(Event("There is nothing to save yet. Import orders first.", Severity.NOTE))
        elif folder := folder_to_save_in(self, "Save tables"):
            self.save_tables(folder)

    def save_tables(self, folder: Path) -> None:
        """Save the tables of the batch in a folder, and say how many packages from earlier days are not in them."""
        batch, terms, unread = self.desk.pile.batch(), self.desk.pile.terms, self.desk.pile.unread
        if names := self.desk.do_quietly(lambda _sitting: save_tables(batch, terms, folder)):
            words = f"Saved {len(names)} tables of {pieces_in_words(len(batch.verdicts))} in {folder}."
            left = f" {number_in_words(unread)} that left earlier are not included." if unread else ""
            self.desk.happened.emit(Event(words + left))

    def paste(self) -> None:
        """Preview a table on the clipboard, or the file that was copied there."""
        held = QGuiApplication.clipboard().mimeData()
        files = _files_of(held)
        if files:
            self.look_into(files[0])
        elif _is_table(held.text()):
            self.look_into(Pasted(held.text()))
        else:
            self.desk.happened.emit(Event("There is no table on the clipboard. Copy one and try again.", Severity.NOTE))

    def look_into(self, source: Source, kind: str = "") -> None:
        """Preview a table; `kind` is its kind, where known."""
        self._asked_on = ""
        self.pages.setCurrentWidget(self.importing)
        self.importing.look_into(source, kind)
        self.importing.arrive()

    def _look_into_list(self, source: Source, kind: str, page: str) -> None:
        """Preview a list chosen on a page of Setup, and return to that page afterward."""
        self.desk.screen_asked.emit(TITLE, "")
        self.look_into(source, kind)
        self._asked_on = page

    def _leave_table(self) -> None:
        page, self._asked_on = self._asked_on, ""
        self._show_pieces()
        if page:
            self.desk.screen_asked.emit("Setup", page)

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        if _files_of(event.mimeData()):
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        if files := _files_of(event.mimeData()):
            event.acceptProposedAction()
            self.look_into(files[0])

    def _show_pieces(self) -> None:
        self._place_page()
        self.arrive()

    def _place_page(self) -> None:
        page: QWidget = self.nothing_yet if self.desk.pile.is_empty else self.list
        self.pages.setCurrentWidget(page)

    def _ask_for_demo(self) -> None:
        self.desk.store_asked.emit(True)


def _files_of(held: QMimeData) -> list[Path]:
    return [Path(url.toLocalFile()) for url in held.urls() if url.isLocalFile()]


def _is_table(text: str) -> bool:
    """Return whether it has more than one line; a copied word is no table."""
    return len(text.strip().splitlines()) > 1


def build(desk: Desk) -> Screen:
    """Make the screen."""
    return BatchView(desk)
