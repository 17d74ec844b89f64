"""What each piece of the batch cost and what the buyer paid for it, with sums."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QPushButton, QStackedWidget, QVBoxLayout, QWidget

from desk.session.bench.piece_page import size_hints
from desk.session.money.cost_list import CostRow, cost_list
from desk.session.words.figures import amount_words, counted
from desk.ui.bridge import Desk
from desk.ui.kit import type as typeface
from desk.ui.kit.empty import EmptyView
from desk.ui.kit.plain import PlainLabel, set_tip
from desk.ui.kit.rows import TextRows
from desk.ui.kit.table import PlainTable

HEADS = ("Number", "Recipient", "Shipping paid", "Refund", "Estimated postage", "Materials", "Margin", "")
MOST_HINTS = 6
LOW = 330  # below this many pixels at 100% the table has the room
FIGURES, POSTAGE, REMARK = (2, 3, 4, 5, 6), 4, 7
WIDTHS = (88, 240, 100, 88, 142, 100, 96, 120)  # pixels at 100%


class PilePage(QWidget):
    """The table of costs, and the sums below it."""

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self.desk = desk
        self._losing = self._hints_shown = False
        self._sums = self._brief = ""  # those of the batch: all of them, and in one line
        self.model = TextRows(HEADS, FIGURES, remarked=POSTAGE)
        self.table = PlainTable("What each piece cost")
        self.table.setModel(self.model)
        self.table.set_widths(WIDTHS, dropped_first=(1, 3, 5, 2), grows=(1,), fits=(POSTAGE, REMARK))
        self.nothing = EmptyView("No costs yet", "Pieces appear here when they are weighed and priced.")
        self.pages = QStackedWidget()
        self.pages.addWidget(self.table)
        self.pages.addWidget(self.nothing)
        self.foot = PlainLabel()
        self.foot.setWordWrap(True)
        self.foot.setFont(typeface.font(typeface.BODY, bold=True))
        self.table.entered_row.connect(self._open_row)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.pages, 1)
        column.addWidget(self.foot)
        self.hints = PlainLabel()
        self.hints.setWordWrap(True)
        self.hints_button = QPushButton("&Mailer sizes that would save")
        self.hints_button.setAccessibleName(self.hints_button.text().replace("&", ""))
        self.hints_button.clicked.connect(lambda _checked=False: self.toggle_hints())
        column.addWidget(self.hints)
        column.addWidget(self.hints_button, 0, Qt.AlignmentFlag.AlignLeft)

    def refresh(self) -> None:
        """Show the current batch."""
        costs = cost_list(self.desk.pile)
        rows = [row for row in costs.rows if row.loses or not self._losing]
        ages = {at: (row.age.short, row.age.words) for at, row in enumerate(rows) if row.age.short}
        self.model.show_rows([self._cells(row) for row in rows], ages)
        self.pages.setCurrentWidget(self.table if costs.rows else self.nothing)
        sums = costs.sums
        self._brief = "{pieces}: margin {margin}, estimated postage {postage}".format(
            pieces=counted(len(costs.rows), "piece"),
            margin=amount_words(sums.margin),
            postage=amount_words(sums.postage),
        )
        words = (
            "{pieces}: shipping paid {charged}, refunds {refund}{asked}, estimated postage {postage}{over}, "
            "materials {materials}, margin {margin}."
        ).format(
            pieces=counted(len(costs.rows), "piece"),
            charged=amount_words(sums.charged),
            refund=amount_words(sums.refund),
            asked=f" ({amount_words(costs.asked)} requested)" if costs.asked else "",
            postage=amount_words(sums.postage),
            over=f" (and {amount_words(sums.overpaid)} overpaid with stamps)" if sums.overpaid else "",
            materials=amount_words(sums.materials),
            margin=amount_words(sums.margin),
        )
        still = f"{costs.open} more have no postage yet." if costs.open else ""
        self._sums = " ".join(filter(None, (words, costs.ages, still))) if costs.rows else ""
        self.hints.setVisible(self._hints_shown)
        self.hints.setText(self._hint_words() if self._hints_shown else "")
        self._fold()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fold()

    def _fold(self) -> None:
        """Hide the button where the table needs the room, and shorten the sums; the key still works."""
        is_low = self.height() < LOW * typeface.scale()
        self.hints_button.setVisible(bool(self.model.rows) and not is_low)
        self.foot.setText(self._brief if is_low and self._sums else self._sums)
        set_tip(self.foot, self._sums)

    def arrive(self) -> None:
        """Put the focus in the table, if it has rows."""
        (self.table if self.model.rows else self).setFocus()

    def toggle_losing(self) -> None:
        """Show only the pieces that lose money, or all again."""
        self._losing = not self._losing
        self.refresh()

    def toggle_hints(self) -> None:
        """Show or hide what other mailer sizes would save; computed only when asked."""
        self._hints_shown = not self._hints_shown
        self.refresh()

    def _open_row(self, row: int) -> None:
        piece = self.desk.pile.find(self.model.rows[row][0])
        if piece is not None:
            self.desk.piece_opened.emit(piece)

    def _hint_words(self) -> str:
        hints = size_hints(self.desk.pile.batch(), self.desk.pile.terms)
        if not hints:
            return "No other mailer size would save anything on this batch."
        line = "{mailer}: {words} would save {saves} on {pieces} of these pieces"
        lines = [
            line.format(
                mailer=hint.mailer or "No mailer",
                words=hint.words,
                saves=amount_words(hint.saves),
                pieces=hint.pieces,
            )
            for hint in hints[:MOST_HINTS]
        ]
        return "\n".join(["For your next mailer order", *lines])

    def _cells(self, row: CostRow) -> tuple[str, ...]:
        money = row.money
        amounts = (money.charged, money.refund, money.postage, money.materials, money.margin)
        remark = "loss" if row.loses else ""
        return (row.number, row.recipient, *map(amount_words, amounts), remark)
