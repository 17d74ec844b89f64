"""Where paid differs from estimated: groups by service, zone and list, and below them the pieces of the selected one."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QStackedWidget, QVBoxLayout, QWidget

from desk.session.money.paid_differences import DifferenceGroup, PaidPiece, causes_in_words, is_about_zones
from desk.session.setup.price_list_words import ZONE_CHART
from desk.session.words.figures import amount_words, counted, short_day
from desk.session.words.services import service_words
from desk.ui.bridge import Desk
from desk.ui.costs.parts import add_button, plain_table
from desk.ui.kit.card import Heading
from desk.ui.kit.rows import TextRows
from desk.ui.kit.wrapping import FlowLayout

GROUPS = ("Service", "Zone", "Price list", "Packages", "Difference", "Likely reason")
GROUP_WIDTHS = (220, 60, 130, 90, 110, 260)  # pixels at 100%
PIECE_WIDTHS = (130, 130, 110, 110, 110, 260)
HEADING = "Where paid differs from estimated"
PIECES = ("Package", "Mailed", "Estimated", "Paid", "Difference", "Likely reason")


class DifferenceGroups(QWidget):
    """The groups; Enter shows the packages of one, Enter there opens a package on the bench, Escape goes back."""

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self.desk = desk
        self.found: Sequence[DifferenceGroup] = ()
        self.groups, self.pieces = TextRows(GROUPS, (3, 4)), TextRows(PIECES, (2, 3, 4))
        self.group_table = plain_table("Where paid differs from estimated", self.groups, GROUP_WIDTHS)
        self.group_table.set_widths(GROUP_WIDTHS, dropped_first=(2, 1), grows=(0, 5))
        self.piece_table = plain_table("Packages of this group", self.pieces, PIECE_WIDTHS)
        self.piece_table.set_widths(PIECE_WIDTHS, dropped_first=(1,), grows=(0, 5))
        self.heading = Heading(HEADING)
        self.group_table.selectionModel().currentRowChanged.connect(lambda *_: self._name_cause())
        self.group_table.entered_row.connect(lambda _row: self.show_pieces())
        self.piece_table.entered_row.connect(self._open_piece)
        self.stack = QStackedWidget()
        for table in (self.group_table, self.piece_table):
            self.stack.addWidget(table)
        bar = QWidget()
        line = FlowLayout(bar)
        self.show_button = add_button("Show its pac&kages", self.show_pieces, line)
        self.back_button = add_button("&Back to the groups", self.back, line)
        self.fix = add_button("Open the &price list", self.open_cause, line)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        for part in (self.heading, self.stack, bar):
            column.addWidget(part, 1 if part is self.stack else 0)
        self.back_button.hide()

    def show_groups(self, groups: Sequence[DifferenceGroup]) -> None:
        """Show these groups; the row stays selected. The packages of one stay open unless the groups changed."""
        row = max(self.group_table.currentIndex().row(), 0)
        is_same, self.found = list(groups) == list(self.found), groups
        self.groups.show_rows([_group_cells(group) for group in groups])
        self.group_table.selectRow(min(row, len(groups) - 1))
        self.setVisible(bool(groups))
        if not is_same:
            self._turn(self.group_table)
        self._name_cause()

    def show_pieces(self) -> None:
        """Show the packages of the selected group."""
        if (group := self._chosen()) is not None:
            numbers = self.desk.pile.numbers()
            self.pieces.show_rows([_piece_cells(piece, numbers) for piece in group.pieces])
            self.piece_table.selectRow(0)
            self._turn(self.piece_table)
            self.heading.setText(f"{counted(len(group.pieces), 'package')}, {service_words(group.service)}")
            self.piece_table.setFocus()

    def back(self) -> None:
        """Show the groups again."""
        self._turn(self.group_table)
        self.group_table.setFocus()

    def open_cause(self) -> None:
        """Open the page where the likely reason of the selected group can be checked."""
        if (group := self._chosen()) is not None:
            part = ZONE_CHART if is_about_zones(group) else f"{group.service} {group.list_name}"
            self.desk.screen_asked.emit("Setup", f"Price lists/{part}")

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape and self.stack.currentWidget() is self.piece_table:
            self.back()
        else:
            super().keyPressEvent(event)

    def _turn(self, table: QWidget) -> None:
        self.stack.setCurrentWidget(table)
        self.heading.setText(HEADING)
        self.show_button.setVisible(table is self.group_table)
        self.back_button.setVisible(table is self.piece_table)

    def _chosen(self) -> DifferenceGroup | None:
        row = self.group_table.currentIndex().row()
        return self.found[row] if 0 <= row < len(self.found) else None

    def _name_cause(self) -> None:
        """Name the page that the button opens: the zone chart where the zone is the likely reason."""
        if (group := self._chosen()) is not None:
            page = ZONE_CHART if is_about_zones(group) else "price list"
            self.fix.setText(f"Open the &{page}")
            self.fix.setAccessibleName(f"Open the {page}")

    def _open_piece(self, row: int) -> None:
        piece = self.desk.pile.find(self.pieces.rows[row][0])
        if piece is not None:
            self.desk.piece_opened.emit(piece)


def _group_cells(group: DifferenceGroup) -> tuple[str, ...]:
    difference = amount_words(group.difference)
    service = service_words(group.service)
    first_day = short_day(date.fromisoformat(group.list_name))
    return service, group.zone, first_day, str(len(group.pieces)), difference, causes_in_words(group.causes)


def _piece_cells(piece: PaidPiece, numbers: Mapping[str, str]) -> tuple[str, ...]:
    amounts = (piece.estimated, piece.paid, piece.difference)
    number = numbers.get(piece.reference, piece.reference)
    return (number, short_day(piece.mailed_on), *map(amount_words, amounts), causes_in_words(piece.causes))
