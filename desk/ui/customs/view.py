"""The Customs screen: pieces going abroad with what is missing, and the declaration of the selected one."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from PySide6.QtCore import QRectF, QSignalBlocker
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QStackedWidget, QStyleOptionViewItem, QVBoxLayout, QWidget

from desk.domain.faults import Refused
from desk.domain.severity import Severity
from desk.session.customs.declarations import AT_FIELD, DeclarationView, customs_views
from desk.session.customs.details import AT_DETAIL
from desk.session.pile.pile import PiecesWhere
from desk.session.verdict.verdict import Verdict
from desk.session.words.figures import counted
from desk.ui.actions import Act
from desk.ui.bridge import Desk, DeskChanges, Event
from desk.ui.common_keys import ALL_VARIANTS, RIGHT, SOURCE_PRODUCT
from desk.ui.customs.editor import DeclarationEditor
from desk.ui.customs.model import MARK, MISSING, CustomsModel
from desk.ui.kit.empty import EmptyView
from desk.ui.kit.mark import ROLE_OF, paint_mark
from desk.ui.kit.table import DISPLAY, PAD, Index, PlainCells, PlainTable
from desk.ui.screen import Jump, Screen

TITLE, SHORTCUT = "Customs", "Ctrl+3"
WIDTHS = (90, 190, 170, 70, 120, 190)
DROPPED, GROWS = (4, 3, 2), (1, 2, MISSING)
IN_FIELDS = AT_FIELD.keys() | AT_DETAIL.keys()  # issues that are fixed in a field here


class MissingCells(PlainCells):
    """Plain cells; what is missing has its mark in front."""

    def room_beside(self, column: int) -> int:
        """Return the pixels of the mark beside the text."""
        return round(self.font.pixelSize() * 0.86) + 6 if column == MISSING else 0

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Paint one cell."""
        mark = index.data(MARK)
        if not mark:
            super().paint(painter, option, index)
            return
        self.paint_ground(painter, option, MISSING)
        side, box = self.font.pixelSize() * 0.86, option.rect
        paint_mark(painter, mark, QRectF(box.left() + PAD, box.center().y() - side / 2, side, side), self.sheet)
        painter.setPen(self.colors[ROLE_OF[mark]])
        painter.setFont(self.font)
        self.paint_text(painter, box.adjusted(round(side) + 6, 0, 0, 0), index.data(DISPLAY))


class CustomsView(Screen):
    """A list above, the editor below; Enter goes to the next missing thing."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.views: Mapping[int, DeclarationView] = {}
        self.incomplete = PiecesWhere(desk.pile, _is_incomplete)
        self.model = CustomsModel()
        self.table = PlainTable("Pieces abroad")
        self.table.setModel(self.model)
        self.table.setItemDelegate(MissingCells(self.table))
        self.table.setSelectionMode(PlainTable.SelectionMode.SingleSelection)
        self.table.set_widths(WIDTHS, DROPPED, GROWS)
        self.editor = DeclarationEditor(desk)
        self.nothing = EmptyView("Nothing is going abroad", "Customs declarations of international orders appear here.")
        self._build()
        self.table.selectionModel().currentRowChanged.connect(lambda _now, _before: self._show_chosen())
        self.table.entered_row.connect(lambda _row: self.editor.focus_first_missing())
        self.editor.passed.connect(self.next_missing)

    def _build(self) -> None:
        page = QWidget()
        column = QVBoxLayout(page)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.table, 1)
        column.addWidget(self.editor, 2)
        self.pages = QStackedWidget()
        self.pages.addWidget(self.nothing)
        self.pages.addWidget(page)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(32, 10, 32, 0)
        whole.addWidget(self.pages)
        self.setTabOrder(self.table, self.editor)

    def acts(self) -> Sequence[Act]:
        """Return the keys of Customs."""
        return (
            Act("Enter", "Next incomplete field or piece"),
            Act("F6", "Next incomplete piece", self.next_missing),
            Act(RIGHT, "Checked, it's right", self.editor.answer),
            Act("F8", "Copy the next field to the clipboard", self.copy_next),
            Act(SOURCE_PRODUCT, "Copy customs details from a product…", self.editor.ask_source),
            Act(ALL_VARIANTS, "Same for all variants of this product", self.editor.same_for_all),
            Act("Escape", "Back to the list", self.leave),
        )

    def copy_next(self) -> None:
        """Copy the next field of the chosen declaration; behind the last one, say so."""
        try:
            if not self.editor.copy_next() and self.editor.piece is not None:
                self.desk.happened.emit(Event("All fields were copied."))
        except Refused as refused:
            self.desk.happened.emit(Event(refused.sentence, Severity.LOOK))

    def leave(self) -> None:
        """End hand-copy mode, else go back to the list."""
        if self.editor.copying.is_on:
            self.editor.copying.end()
        else:
            self.table.setFocus()

    def undo(self) -> None:
        """Step back while a declaration is copied by hand, else undo the last step."""
        if self.editor.copying.is_on:
            self.editor.copying.step_back()
        else:
            super().undo()

    def jumps(self) -> Sequence[Jump]:
        """Return the jump to weighed pieces with an incomplete declaration."""
        count = len(self.incomplete)
        words = counted(count, "declaration is incomplete", "declarations are incomplete")
        return (Jump(words, self.next_missing),) if count else ()

    def refresh(self, changes: DeskChanges) -> None:
        """Show the current declarations."""
        if not (changes.pieces or changes.changes.shop or changes.changes.orders):
            return
        pile = self.desk.pile
        chosen = self._chosen()
        self.views = customs_views(pile.verdicts, pile.terms)
        with QSignalBlocker(self.table.selectionModel()):
            self.model.take(self.views)
            place = self.model.place_of(chosen)
            if self.model.rows:
                self.table.selectRow(0 if place is None else place)
        self.pages.setCurrentIndex(1 if self.model.rows else 0)
        self.table.viewport().update()
        self._show_chosen()

    def arrive(self) -> None:
        """Put the focus where work continues."""
        self.table.setFocus()

    def pose(self, name: str) -> None:
        """For a picture: a complete declaration, or one in which most is missing."""
        most = max(
            self.model.rows,
            key=lambda row: sum(one.mark == Severity.LOOK for one in self.views[row.piece_id].all_missing),
        )
        fine = next((row for row in self.model.rows if not row.is_lacking), most)
        chosen = most if name == "trouble" else fine
        self.table.selectRow(self.model.rows.index(chosen))
        if chosen.is_lacking:
            self.editor.focus_first_missing()

    def next_missing(self) -> None:
        """Select the next incomplete piece and its first incomplete field; say when there is none."""
        place = self.model.next_lacking(max(self.table.currentIndex().row(), -1))
        if place is None:
            self.desk.happened.emit(Event("Every declaration is complete."))
            self.table.setFocus()
            return
        self.table.selectRow(place)
        self.editor.focus_first_missing()

    def _chosen(self) -> int | None:
        row = self.table.currentIndex().row()
        return self.model.rows[row].piece_id if 0 <= row < len(self.model.rows) else None

    def _show_chosen(self) -> None:
        chosen = self._chosen()
        self.editor.show_declaration(chosen, None if chosen is None else self.views.get(chosen))


def _is_incomplete(verdict: Verdict) -> bool:
    return any(issue.code in IN_FIELDS for issue in verdict.customs_open)


def build(desk: Desk) -> Screen:
    """Make the screen."""
    return CustomsView(desk)
