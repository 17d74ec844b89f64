"""The Batch screen: every piece and where it stands; find by number; many at once; take order files in."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date
from functools import partial
from pathlib import Path

from PySide6.QtCore import QMimeData
from PySide6.QtGui import QDragEnterEvent, QDropEvent, QGuiApplication
from PySide6.QtWidgets import QFileDialog, QStackedWidget, QVBoxLayout, QWidget

from desk.domain.stands import Stand
from desk.session.importing.import_table import Pasted, Source
from desk.session.pile.mailing_date import post_on, short_now, short_on
from desk.ui.actions import Act
from desk.ui.batch.before_weighing import AheadPage
from desk.ui.batch.importing.import_panel import BringPanel
from desk.ui.batch.pieces.piece_list import PieceList
from desk.ui.bridge import Desk, Event, State, Told
from desk.ui.kit.empty import EmptyView
from desk.ui.screen import Jump, Screen
from desk.ui.trade.piece_sheet import OPENING_KEY, PieceSheet

TITLE, SHORTCUT = "Batch", "Ctrl+1"
FILES = "Tables (*.csv *.tsv *.txt *.xlsx *.ods)"


class BatchView(Screen):
    """Four pages: nothing yet, the list of pieces, a file that is brought, and all about one piece."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.setAcceptDrops(True)
        self._asked_on = ""
        self.list = PieceList(desk)
        self.bring = BringPanel(desk)
        self.ahead = AheadPage(desk)
        self.piece = PieceSheet(desk)
        self.nothing_yet = EmptyView("No orders yet", "Drop a file of orders here, or choose one.", self._first_ways())
        self.pages = QStackedWidget()
        for page in (self.nothing_yet, self.list, self.bring, self.piece, self.ahead):
            self.pages.addWidget(page)
        column = QVBoxLayout(self)
        column.setContentsMargins(32, 10, 32, 0)
        column.addWidget(self.pages)
        self._connect()

    def _first_ways(self) -> Sequence[tuple[str, Callable[[], None]]]:
        bring = ("Take in orders …", self.ask_for_file)
        return [bring] if self.desk.is_demo else [bring, ("Look at the demo", self._ask_for_demo)]

    def _connect(self) -> None:
        self.list.opened.connect(self.desk.piece_opened)
        self.list.bar.date_changed.connect(self.post_on)
        self.list.bar.bring_asked.connect(self.ask_for_file)
        self.bring.ended.connect(self._leave_table)
        self.desk.table_brought.connect(self._look_into_list)
        self.ahead.ended.connect(self._show_pieces)
        self.ahead.opened.connect(self.desk.piece_opened)
        self.piece.left.connect(self._show_pieces)

    def acts(self) -> Sequence[Act]:
        """The keys of the batch."""
        pieces = self.list
        return (
            Act("0 – 9", "Find by number"),
            Act("Enter", "Open on the bench"),
            Act("F Ctrl+F", "Find", pieces.bar.search.setFocus),
            Act("W", "Next place they stand", self._in_list(pieces.next_stand)),
            Act("S", "Sort by this column", self._in_list(pieces.sort_here)),
            Act("M", "Mailer of those chosen", self._in_list(pieces.many.offer_mailers)),
            Act("V", "Service of those chosen", self._in_list(pieces.many.offer_services)),
            Act("Z", "Size of those chosen", self._in_list(pieces.many.ask_size)),
            Act("A", "Set aside", self.set_aside),
            Act("B", "Back on the line", self._in_list(partial(pieces.set_beside, None))),
            Act("Y", "Mail canceled orders anyway", self._in_list(pieces.mail_anyway)),
            Act("H", "What happened to it", self._in_list(pieces.toggle_side)),
            Act(OPENING_KEY, "All about the chosen piece", self.open_piece_page),
            Act("G", "Before weighing", self.look_ahead),
            Act("Ctrl+O", "Take in orders", self.ask_for_file),
            Act("Ctrl+V", "Take in the table on the clipboard", self.paste),
            Act("Escape", "Every piece again", self.back),
        )

    def _in_list(self, do: Callable[[], None]) -> Callable[[], None]:
        """A key of the list does nothing while the list is not seen."""

        def guarded() -> None:
            if self.pages.currentWidget() is self.list:
                do()

        return guarded

    def set_aside(self) -> None:
        """Set the chosen pieces aside; in a table that is brought, accept every change."""
        if self.pages.currentWidget() is self.bring:
            self.bring.lines.accept_all()
        elif self.pages.currentWidget() is self.list:
            self.list.set_beside(Stand.SET_ASIDE)

    def look_ahead(self) -> None:
        """Show what is to be settled before weighing."""
        if not self.bring.is_busy:
            self.ahead.refresh()
            self.pages.setCurrentWidget(self.ahead)
            self.ahead.arrive()

    def jumps(self) -> Sequence[Jump]:
        """What is to be weighed and what needs a look."""
        counts = self.desk.pile.counts.stands
        looks = counts[Stand.NEEDS_A_LOOK]
        said = {
            Stand.TO_WEIGH: "{count} to weigh",
            Stand.NEEDS_A_LOOK: "1 needs a look" if looks == 1 else "{count} need a look",
        }
        jumps = [
            Jump(words.format(count=counts[stand]), partial(self.show_those, stand))
            for stand, words in said.items()
            if counts[stand]
        ]
        if things := self.ahead.count():
            jumps.insert(0, Jump(f"{things} to settle before", self.look_ahead))
        return jumps

    def refresh(self, told: Told) -> None:
        """Show the pile as it is now, on the page that fits."""
        self.list.refresh(told)
        self._show_short()
        if self.pages.currentWidget() is self.piece:
            self.piece.refresh()
        elif self.pages.currentWidget() is self.ahead:
            self.ahead.refresh()
        elif self.pages.currentWidget() is not self.bring:
            self._place_page()

    def arrive(self) -> None:
        """Go on in the list, in the file that is brought, or with what fills the batch."""
        page = self.pages.currentWidget()
        if page is self.nothing_yet:
            self.nothing_yet.buttons[0].setFocus()
        elif page is self.piece:
            self.piece.setFocus()
        else:
            (page if isinstance(page, BringPanel | AheadPage) else self.list).arrive()

    def pose(self, name: str) -> None:
        """In trouble: what needs a look, and what is to be known of the first."""
        if name == "trouble":
            self.show_those(Stand.NEEDS_A_LOOK)
            self.list.toggle_side()

    def show_those(self, stands: Stand) -> None:
        """Show only the pieces that stand there."""
        if self.pages.currentWidget() is self.ahead:
            self._place_page()
        if self.pages.currentWidget() is self.list:
            self.list.show_those(stands)

    def open_piece_page(self) -> None:
        """Everything about the first of the chosen pieces."""
        chosen = self.list.chosen()
        if chosen and self.pages.currentWidget() is self.list:
            self.pages.setCurrentWidget(self.piece)
            self.piece.show_piece(chosen[0])

    def back(self) -> None:
        """Leave the file that is brought, or else show every piece again."""
        if self.pages.currentWidget() is self.bring:
            self.bring.leave()
        elif self.pages.currentWidget() is self.ahead:
            self._show_pieces()
        else:
            self.list.show_all()

    def ask_for_file(self) -> None:
        """Let the person choose a file of orders, and look into it."""
        name, _ = QFileDialog.getOpenFileName(self, "Take in orders", "", FILES)
        if name:
            self.look_into(Path(name))

    def paste(self) -> None:
        """Look into a table from the clipboard, as into a file; files on it are looked into themselves."""
        held = QGuiApplication.clipboard().mimeData()
        files = _files_of(held)
        if files:
            self.look_into(files[0])
        elif _is_table(held.text()):
            self.look_into(Pasted(held.text()))
        else:
            self.desk.happened.emit(Event("There is no table on the clipboard.", "note"))

    def look_into(self, source: Source, kind: str = "") -> None:
        """Show the first rows of a table that is brought; `kind` is what it holds, where that was said."""
        self._asked_on = ""
        self.pages.setCurrentWidget(self.bring)
        self.bring.look_into(source, kind)
        self.bring.arrive()

    def _look_into_list(self, source: Source, kind: str, page: str) -> None:
        """A list that was asked for on a page of Setup is looked into here, and then that page is opened again."""
        self.desk.screen_asked.emit(TITLE, "")
        self.look_into(source, kind)
        self._asked_on = page

    def _leave_table(self) -> None:
        page, self._asked_on = self._asked_on, ""
        self._show_pieces()
        if page:
            self.desk.screen_asked.emit("Setup", page)

    def post_on(self, on: date) -> None:
        """Price everything for another day, and say what is short of postage then."""
        pile, sitting = self.desk.pile, self.desk.sitting
        if on == pile.terms.on:
            return
        before = short_now(sitting, pile.verdicts.values())
        short = short_on(pile.verdicts.values(), pile.terms, on, before)
        self.desk.do_quietly(post_on, on, short)
        if not short:
            said = "Priced for {day}. Nothing that has its postage on is short."
            self.desk.happened.emit(Event(said.format(day=on.isoformat()), undo=True))

    def _show_short(self) -> None:
        """What is short of postage by the day chosen stands on a strip until it is gone, or another day is chosen."""
        short = short_now(self.desk.sitting, self.desk.pile.verdicts.values())
        pieces = ", ".join(f"{one.piece.reference} ({one.by.text()})" for one in short)
        words = f"Short of postage on this date: {pieces}"
        self.desk.state("short", State(words, "look") if short else None)

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
        page: QWidget = self.list if len(self.list.model) else self.nothing_yet
        self.pages.setCurrentWidget(page)

    def _ask_for_demo(self) -> None:
        self.desk.store_asked.emit(True)


def _files_of(held: QMimeData) -> list[Path]:
    return [Path(url.toLocalFile()) for url in held.urls() if url.isLocalFile()]


def _is_table(text: str) -> bool:
    """More than one line is a table, whatever stands between its columns; a copied word is none."""
    return len(text.strip().splitlines()) > 1


def build(desk: Desk) -> Screen:
    """Make the screen."""
    return BatchView(desk)
