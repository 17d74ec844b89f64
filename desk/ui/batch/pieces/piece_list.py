"""The list of pieces: filters, the table, the selected piece at its side, and actions for many below."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QKeyEvent, QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QStackedWidget, QVBoxLayout, QWidget

from desk.domain.status import PieceStatus
from desk.session.bench.service_choice import common_choices
from desk.session.history import history_of
from desk.session.pile.bulk_changes import choose_mailer, choose_service, mail_anyway, set_beside, set_size, size_typed
from desk.session.verdict.price_age import age_of
from desk.ui.batch.pieces.bulk_bar import ManyBar
from desk.ui.batch.pieces.filter_bar import FilterBar
from desk.ui.batch.pieces.model import BatchModel, PieceFilter
from desk.ui.batch.pieces.paint import PieceCells
from desk.ui.batch.pieces.row_maker import RowMaker
from desk.ui.batch.pieces.rows import (
    BILLABLE,
    CONTENTS,
    GROSS,
    MAILER,
    PLACE,
    POSTAGE,
    RECIPIENT,
    RULER,
    STATUS,
    VERDICT,
)
from desk.ui.batch.pieces.side_column import SideColumn
from desk.ui.bridge import Desk, DeskChanges
from desk.ui.kit import type as typeface
from desk.ui.kit.empty import EmptyView
from desk.ui.kit.table import PlainTable
from desk.ui.trade.service_refusal import show_if_it_cannot

WIDTHS = (76, 118, 116, 140, 104, 76, 84, 68, 176, 134, 90)  # pixels at 100%; all of them fit the usual window
DROPPED_FIRST = (RULER, MAILER, GROSS, POSTAGE, STATUS, BILLABLE, VERDICT)  # destination and contents always stay
GROWS = (RECIPIENT, PLACE, CONTENTS, MAILER, VERDICT)  # long texts get the spare room
ROOM_FOR_SIDE = 1480  # below this many pixels at 100% the side column is only shown when asked for
ROOM_FOR_BARS = 320  # below this many pixels at 100% the bars fold to one line each to leave room for the table
TYPED_MS = 250  # after the last letter of a search, before earlier days are searched too


class PieceList(QWidget):
    """The list. `opened`: a piece to open on the bench."""

    opened = Signal(int)

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self.desk = desk
        self.model = BatchModel()
        self.bar, self.side, self.many = FilterBar(), SideColumn(), ManyBar()
        self.table = self._build_table()
        self._side_asked: bool | None = None
        self._asking = QTimer(self, interval=TYPED_MS, singleShot=True)
        self.rows = RowMaker(desk, self.model, self)
        self._build_layout()
        self._connect()

    def _build_table(self) -> PlainTable:
        table = PlainTable("Pieces of the batch")
        table.setModel(self.model)
        table.setItemDelegate(PieceCells(table))
        table.setSortingEnabled(True)
        table.sortByColumn(0, Qt.SortOrder.AscendingOrder)
        table.set_widths(WIDTHS, DROPPED_FIRST, GROWS, fits=(GROSS, BILLABLE, POSTAGE, STATUS), yields=(RULER,))
        return table

    def _build_layout(self) -> None:
        nothing = "Nothing found", "No matches."
        self.nothing_found = EmptyView(*nothing, [("Show all", self.show_all)])
        self.middle = QStackedWidget()
        self.middle.addWidget(self.table)
        self.middle.addWidget(self.nothing_found)
        line = QHBoxLayout()
        line.setSpacing(16)
        line.addWidget(self.middle, 1)
        line.addWidget(self.side)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.bar)
        column.addLayout(line, 1)
        column.addWidget(self.many)

    def _connect(self) -> None:
        self.bar.wanted_changed.connect(self._want)
        self._asking.timeout.connect(self._ask_earlier)
        self.bar.entered.connect(self._open_first)
        self.table.typed.connect(self._type)
        self.table.entered_row.connect(self._open_row)
        self.table.selectionModel().selectionChanged.connect(self._selected)
        self.table.room_shared.connect(self._say_selected)
        self.many.mailer_chosen.connect(self._choose_mailer)
        self.many.service_chosen.connect(self._choose_service)
        self.many.services_asked.connect(self._list_services)
        self.many.size_typed.connect(self._say_size)
        self.many.aside_asked.connect(self.toggle_aside)
        self.many.reason_typed.connect(self._reason_typed)
        self.many.past_asked.connect(self.toggle_side)
        self.rows.ready.connect(self._show)

    def refresh(self, changes: DeskChanges) -> None:
        """Show the current batch; the selection stays. Many new rows are made first, a few between two events."""
        self.rows.ask(changes.pieces)

    def _show(self, changed: frozenset[int]) -> None:
        chosen = self.chosen()
        self.model.take(self.desk.pile.verdicts, changed, self.desk.pile.terms.on)
        self.table.fit_first_column(row.cells[0] for row in self.model.shown)
        counts = self.model.counts()
        counts[PieceStatus.HANDED_OVER] += self.desk.pile.unread
        self.bar.show_counts(counts, self.model.codes())
        self.bar.show_date(self.desk.pile.terms.on)
        self.many.show_choices(self.desk.pile.terms)
        self._choose_again(chosen)

    def chosen(self) -> list[int]:
        """Return the ids of the selected pieces, in the order shown.

        The table may still show pieces that are gone while many rows are made.
        """
        pieces = (self.model.shown[row].piece_id for row in self.table.chosen_rows())
        return [piece for piece in pieces if piece in self.desk.pile.verdicts]

    def arrive(self) -> None:
        """Put the focus in the table, or on Show all when it is empty."""
        if self.model.shown:
            self.table.setFocus()
        else:
            self.nothing_found.buttons[0].setFocus()

    def show_those(self, status: PieceStatus | None) -> None:
        """Show only pieces with these statuses, clearing other filters."""
        self.bar.want_only(status)
        self.arrive()

    def show_all(self) -> None:
        """Show all pieces."""
        self.show_those(None)

    def toggle_left(self) -> None:
        """Show what was handed over, or what is still in work."""
        self.show_those(None if self.bar.wanted.status is PieceStatus.HANDED_OVER else PieceStatus.HANDED_OVER)

    def next_status(self) -> None:
        """Show the pieces with the next status."""
        self.bar.want_statuses(self.bar.next_status())

    def sort_here(self) -> None:
        """Sort by the column with the focus; again to reverse."""
        heads, column = self.table.horizontalHeader(), max(0, self.table.currentIndex().column())
        ascending = heads.sortIndicatorOrder() is Qt.SortOrder.AscendingOrder
        down = heads.sortIndicatorSection() == column and ascending
        self.table.sortByColumn(column, Qt.SortOrder.DescendingOrder if down else Qt.SortOrder.AscendingOrder)

    def toggle_side(self) -> None:
        """Show or hide the column beside the table."""
        self._side_asked = self.side.isHidden()
        self._place_side()

    def set_beside(self, status: PieceStatus | None, reason: str = "") -> None:
        """Set the selected pieces aside with a reason; None puts them back."""
        if pieces := self.chosen():
            self.desk.do(set_beside, pieces, status, reason)

    def toggle_aside(self) -> None:
        """Set the selected pieces aside, or put them back when all are aside."""
        verdicts = self.desk.pile.verdicts
        are_aside = all(verdicts[piece].status is PieceStatus.SET_ASIDE for piece in self.chosen())
        self.set_beside(None if are_aside else PieceStatus.SET_ASIDE)

    def _reason_typed(self, reason: str) -> None:
        self.set_beside(PieceStatus.SET_ASIDE, reason)
        self.many.reason_field.hide()
        self.table.setFocus()

    def mail_anyway(self) -> None:
        """Put the selected pieces of canceled orders back in the queue."""
        if pieces := self.chosen():
            self.desk.do(mail_anyway, pieces)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.text().isdigit():
            self._type(event.text())
        else:
            super().keyPressEvent(event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._place_side()
        folded = self.height() < ROOM_FOR_BARS * typeface.scale()
        self.bar.fold(folded)
        self.many.fold(folded)

    def _type(self, text: str) -> None:
        """Start a search by number with a digit typed anywhere."""
        if text.isdigit():
            self.bar.search.setFocus()
            self.bar.search.setText(text)

    def _want(self, wanted: PieceFilter) -> None:
        chosen = self.chosen()
        self.model.show_only(wanted)
        self._choose_again(chosen)
        self._asking.start()

    def _ask_earlier(self) -> None:
        """Have the pieces read that left on earlier days, as far as the filter may show them."""
        if (wanted := self.model.wanted).text:
            self.desk.earlier.read_matching(wanted.text)
        elif wanted.status is PieceStatus.HANDED_OVER:
            self.desk.earlier.read_all()

    def _choose_again(self, pieces: Sequence[int]) -> None:
        """Select the same pieces as before if they are shown; else the first."""
        self.middle.setCurrentWidget(self.table if self.model.shown else self.nothing_found)
        wanted = set(pieces)
        rows = [at for at, row in enumerate(self.model.shown) if row.piece_id in wanted] if wanted else []
        if not rows and self.model.shown:
            rows = [0]
        if rows != self.table.chosen_rows():
            self.table.choose_rows(rows)
        self._selected()

    def _selected(self, *_: object) -> None:
        pieces = self._say_selected()
        if len(pieces) != 1 or self.side.isHidden():
            self.side.show_piece(None, ())
            return
        past = self.desk.do_quietly(history_of, pieces[0]) or ()
        self.side.show_piece(self.desk.pile.verdicts.get(pieces[0]), past)

    def _say_selected(self) -> list[int]:
        """Show how many pieces are selected; return their ids."""
        pieces = self.chosen()
        self.many.show_count(len(pieces), self._remark(pieces))
        return pieces

    def _remark(self, pieces: Sequence[int]) -> str:
        """Return what the table cuts of the only piece selected, and what the small date next to its postage means."""
        verdict = self.desk.pile.verdicts.get(pieces[0]) if len(pieces) == 1 else None
        if verdict is None:
            return ""
        age = age_of(verdict.offer, self.desk.pile.terms.on).words
        texts = [*self.table.cut_texts(self.table.chosen_rows()[0]), f"postage from the {age}" if age else ""]
        words = " · ".join(filter(None, texts))
        return f"{verdict.case.number} – {words}" if words else ""

    def _open_first(self) -> None:
        """Open the piece with exactly the typed number, else the first one shown."""
        known = self.desk.pile.find(self.bar.search.text())
        if known is not None:
            self._open(known)
        elif self.model.shown:
            self._open_row(0)

    def _open_row(self, row: int) -> None:
        if (piece := self.model.shown[row].piece_id) in self.desk.pile.verdicts:  # it may be gone, as in `chosen`
            self._open(piece)

    def _open(self, piece_id: int) -> None:
        self.bar.search.clear()
        self.opened.emit(piece_id)

    def _place_side(self) -> None:
        has_room = self.width() >= ROOM_FOR_SIDE * typeface.scale()
        is_visible = has_room if self._side_asked is None else self._side_asked
        if is_visible == self.side.isHidden():
            self.side.setVisible(is_visible)
            self._selected()

    def _choose_mailer(self, name: str) -> None:
        if pieces := self.chosen():
            self.desk.do(choose_mailer, pieces, name)

    def _choose_service(self, service: str) -> None:
        if pieces := self.chosen():
            self.desk.do(choose_service, pieces, service)
            show_if_it_cannot(self.desk, pieces)

    def _list_services(self) -> None:
        """List the services for the selected pieces, just before the menu opens."""
        pile = self.desk.pile
        choices = common_choices([pile.verdicts[piece] for piece in self.chosen()], pile.terms)
        self.many.show_services([(one.service, one.words) for one in choices])

    def _say_size(self, text: str) -> None:
        """Save a typed size; one that can't be read stays in the field."""
        pieces, size = self.chosen(), self.desk.do_quietly(lambda _sitting: size_typed(text))
        if pieces and size is not None and self.desk.do(set_size, pieces, size) is not None:
            self.many.size_field.hide()
            self.table.setFocus()
