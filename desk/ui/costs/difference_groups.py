"""Where paid differs from estimated: groups by service, zone and list, and below them the pieces of the selected one."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from PySide6.QtWidgets import QVBoxLayout, QWidget

from desk.session.money.paid_differences import DifferenceGroup, PaidPiece, is_about_zones
from desk.session.words.figures import amount_words, counted, short_day
from desk.session.words.services import service_words
from desk.ui.bridge import Desk
from desk.ui.costs.parts import add_button, plain_table
from desk.ui.kit.card import Heading
from desk.ui.kit.rows import TextRows
from desk.ui.kit.wrapping import FlowLayout

GROUPS = ("Service", "Zone", "Price list", "Packages", "Difference", "Likely reason")
ZONES = "zone chart"
PIECES = ("Package", "Mailed", "Estimated", "Paid", "Difference")


class DifferenceGroups(QWidget):
    """The groups; Enter goes to the pieces of one, and there opens a piece on the bench."""

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self.desk = desk
        self.found: Sequence[DifferenceGroup] = ()
        self.groups, self.pieces = TextRows(GROUPS, (3, 4)), TextRows(PIECES, (2, 3, 4))
        self.group_table = plain_table("Where paid differs from estimated", self.groups, (220, 60, 120, 90, 110, 260))
        self.piece_table = plain_table("Packages of this group", self.pieces, (130, 130, 110, 110, 110))
        self.piece_heading = Heading("Packages of this group")
        self.group_table.selectionModel().currentRowChanged.connect(lambda *_: self._show_pieces())
        self.group_table.entered_row.connect(lambda _row: self.piece_table.setFocus())
        self.piece_table.entered_row.connect(self._open_piece)
        bar = QWidget()
        self.fix = add_button("Open the &price list", self.open_cause, FlowLayout(bar))
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        heading = Heading("Where paid differs from estimated")
        for part in (heading, self.group_table, bar, self.piece_heading, self.piece_table):
            column.addWidget(part, 1 if part in (self.group_table, self.piece_table) else 0)

    def show_groups(self, found: Sequence[DifferenceGroup]) -> None:
        """Show these groups; the row stays selected."""
        row = max(self.group_table.currentIndex().row(), 0)
        self.found = found
        self.groups.show_rows([_group_cells(group) for group in found])
        self.group_table.selectRow(min(row, len(found) - 1))
        self.setVisible(bool(found))
        self._show_pieces()

    def open_cause(self) -> None:
        """Open the page where the likely reason of the selected group can be checked."""
        if (group := self._chosen()) is not None:
            part = ZONES if is_about_zones(group) else f"{group.service} {group.list_name}"
            self.desk.screen_asked.emit("Setup", f"Price lists/{part}")

    def _chosen(self) -> DifferenceGroup | None:
        row = self.group_table.currentIndex().row()
        return self.found[row] if 0 <= row < len(self.found) else None

    def _show_pieces(self) -> None:
        group, numbers = self._chosen(), self.desk.pile.numbers()
        self.pieces.show_rows([_piece_cells(piece, numbers) for piece in group.pieces] if group else [])
        if group is not None:
            self.piece_heading.setText(f"{counted(len(group.pieces), 'package')} of this group")
            page = ZONES if is_about_zones(group) else "price list"
            self.fix.setText(f"Open the &{page}")
            self.fix.setAccessibleName(f"Open the {page}")

    def _open_piece(self, row: int) -> None:
        piece = self.desk.pile.find(self.pieces.rows[row][0])
        if piece is not None:
            self.desk.piece_opened.emit(piece)


def _group_cells(group: DifferenceGroup) -> tuple[str, ...]:
    difference = amount_words(group.difference)
    service = service_words(group.service)
    return service, group.zone, group.list_name, str(len(group.pieces)), difference, group.reason.value


def _piece_cells(piece: PaidPiece, numbers: Mapping[str, str]) -> tuple[str, ...]:
    amounts = (piece.estimated, piece.paid, piece.difference)
    number = numbers.get(piece.reference, piece.reference)
    return (number, short_day(piece.mailed_on), *map(amount_words, amounts))
