"""The page of one piece: contents, address, reasons, every service with its price or why not, history.

A screen stacks it inside itself. Escape, or the key that opened it, goes back.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QVBoxLayout, QWidget

from desk.domain.clock import today
from desk.session.bench.bench_view import PackageView, bench_view
from desk.session.bench.extra_choice import choose_extra, extra_choices, insurance_words
from desk.session.bench.piece_page import PiecePage, piece_page
from desk.session.history import PieceStep, history_of
from desk.session.money.losses import loss_rate
from desk.session.pile.together import take_apart
from desk.session.verdict.verdict import Verdict
from desk.session.words.figures import moment_in_words
from desk.ui.actions import Act
from desk.ui.bridge import Desk
from desk.ui.common_keys import APART, EDIT, HISTORY, PAGE
from desk.ui.kit import type as typeface
from desk.ui.kit.card import Heading, Inked
from desk.ui.kit.fields.choice_fields import ONE_COLUMN_FROM
from desk.ui.kit.form import Scrolled
from desk.ui.kit.key_word import KeyWord
from desk.ui.kit.why_column import Fact, WhyColumn
from desk.ui.kit.wrapping import FlowLayout
from desk.ui.trade.cost_lines import CostLines
from desk.ui.trade.extras_card import EXTRA_KEYS, ExtrasCard
from desk.ui.trade.order_form import OrderForm

SCROLLS = (Qt.Key.Key_Up, Qt.Key.Key_Down, Qt.Key.Key_PageUp, Qt.Key.Key_PageDown, Qt.Key.Key_Home, Qt.Key.Key_End)


class PieceSheet(QWidget):
    """The page. `left`: it should be closed. The screen's own keys close it and do their act."""

    left = Signal()

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._desk = desk
        self.piece: int | None = None
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName("Details")
        self.head, self.to = Inked(size=typeface.HEAD, bold=True), Inked(role="soft_ink", size=typeface.BODY)
        self.edit = KeyWord("Ctrl+E", "correct the order", can_hold=True)
        self.edit.clicked.connect(self.toggle_form)
        self.order_form = OrderForm(desk)
        self.order_form.left.connect(self._close_form)
        self.back = KeyWord("Esc", "back")
        self.back.clicked.connect(self.left)
        self.apart = KeyWord(APART, "split")
        self.apart.clicked.connect(self.take_apart)
        self.why = WhyColumn("Why")
        self.package, self.address = Lines(), Lines()
        self.services, self.near, self.past = Lines(), Lines(), Lines()
        self.costs = CostLines("Costs")
        self.extras = ExtrasCard(self.toggle_extra)
        self._past_head = Heading("History")
        top = QHBoxLayout()
        self.to.setWordWrap(True)
        top.addWidget(self.head)
        top.addWidget(self.to, 1)
        keys = FlowLayout(gap=6)
        for word in (self.edit, self.apart, self.back):
            keys.addWidget(word)
        top.addLayout(keys, 1)
        self.scrolled = Scrolled(self.accessibleName(), self.order_form, self._columns())
        self.scrolled.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addLayout(top)
        column.addWidget(self.scrolled, 1)

    def _columns(self) -> QWidget:
        """Place contents, reasons and history at the left, services at the right; in large type all in one column."""
        body, sides = QWidget(), (QVBoxLayout(), QVBoxLayout())
        parts = (
            (Heading("Services, cheapest first (V: choose)"), self.services, 1),
            (Heading("Other options"), self.near, 1),
            (Heading("Extras"), self.extras, 1),
            (Heading("Costs"), self.costs, 1),
            (Heading("In the package"), self.package, 0),
            (Heading("Address"), self.address, 0),
            (Heading("Why"), self.why, 0),
            (self._past_head, self.past, 0),
        )
        for heading, widget, at in parts:
            sides[at].addWidget(heading)
            sides[at].addWidget(widget)
            sides[at].addSpacing(16)
        line = QVBoxLayout(body) if typeface.scale() >= ONE_COLUMN_FROM else QHBoxLayout(body)
        line.setContentsMargins(0, 8, 0, 0)
        line.setSpacing(40)
        for side in reversed(sides):
            side.setSpacing(4)  # else it would be that of the line around it
            side.addStretch(1)
            line.addLayout(side, 1)
        return body

    def show_piece(self, piece: int) -> None:
        """Show that piece and take the keys."""
        self.piece = piece
        self._close_form()
        self.refresh()
        self.scrolled.verticalScrollBar().setValue(0)
        self.setFocus()

    def toggle_form(self) -> None:
        """Open the fields that correct the order, or close them."""
        if self.piece is None or self.edit.isChecked():
            self._close_form()
            return
        self.edit.setChecked(True)
        self.order_form.open(self.piece)
        self.scrolled.verticalScrollBar().setValue(0)

    def _close_form(self) -> None:
        self.edit.setChecked(False)
        self.order_form.close_form()
        self.setFocus()

    def show_history(self) -> None:
        """Scroll to the history."""
        if self.piece is not None:
            self.scrolled.ensureWidgetVisible(self.past)

    def acts(self) -> Sequence[Act]:
        """Return the keys of the page, for the list of keys."""
        return (
            Act("Escape", "Back", self.left.emit),
            Act(PAGE, "Back to where you were", self.left.emit),
            Act(EDIT, "Correct the order", self.toggle_form),
            Act(HISTORY, "History", self.show_history),
            *self.acts_in_front(),
            Act("↑ ↓", "Scroll"),
        )

    def acts_in_front(self) -> Sequence[Act]:
        """Return the keys used only while the page is in front; its screen makes them work."""
        extras = (
            Act(keys, f"Add or remove {code.replace('-', ' ')}", partial(self.toggle_extra, code))
            for keys, code in EXTRA_KEYS.items()
        )
        return (Act(APART, "Split orders sent together", self.take_apart), *extras)

    def refresh(self) -> None:
        """Show the current piece; the page closes when the piece is gone."""
        if self.piece is None:
            return
        verdict, terms = self._desk.pile.verdicts.get(self.piece), self._desk.pile.terms
        if verdict is None:
            self.piece = None
            self.left.emit()
            return
        hoped = self._desk.pile.expected(self.piece)
        view, page = bench_view(verdict, terms, hoped), piece_page(verdict, terms)
        self.head.setText(" – ".join(filter(None, (view.number, view.figure))))
        self.to.setText(f"{view.to}, {view.status}")
        self._show_packed(verdict.case.packed_with, is_paid=verdict.case.is_paid)
        facts = [Fact(why.mark, why.head, why.sentence, why.way_out, why.source) for why in view.why]
        self.why.show_facts(facts)
        self.order_form.refresh()
        self._show_package(view.package)
        self.services.show_lines(self._service_lines(page))
        self._show_extras(verdict)
        self.costs.show_lines([cost.line for cost in view.costs])
        near = [line for line in (page.near, *page.smaller, *page.other_ways) if line]
        is_weighed = verdict.case.weighing is not None
        none = "No lighter or smaller package would cost less." if is_weighed else "Weigh it to see other options."
        self.near.show_lines([(line, "", False) for line in near or [none]])
        self.past.show_lines(self._past_lines(self._desk.do_quietly(history_of, self.piece) or ()))

    def _show_package(self, package: PackageView) -> None:
        lines = [(line.words, "", line.quantity > 1) for line in package.lines]
        if package.note:
            asks = "asks for stamps" if package.asks_for_stamps else ""
            lines.append((f"Note: {package.note}", asks, package.asks_for_stamps))
        if package.expected:
            lines.append((f"Should weigh about {package.expected}", "", False))
        self.package.show_lines(lines)
        self.address.show_lines([(line, "", False) for line in package.address])

    def _show_extras(self, verdict: Verdict) -> None:
        choices = extra_choices(verdict, self._desk.pile.terms)
        why_none = (
            "" if choices else "Weigh it to see its extras." if verdict.offer is None else "None for this service."
        )
        rate = loss_rate(self._desk.sitting, today(self._desk.sitting.clock))
        worth = insurance_words(verdict, self._desk.pile.terms, rate)
        self.extras.show_choices(
            choices, "Its postage is on." if verdict.case.is_paid and choices else why_none or worth
        )

    def toggle_extra(self, code: str) -> None:
        """Add that extra to the piece, or remove it; nothing where the piece can't have it."""
        choice = next((one for one in self.extras.choices if one.code == code), None)
        if choice is not None and self.piece is not None:
            self._desk.do(choose_extra, self.piece, code, wanted=not choice.is_chosen)

    def _show_packed(self, packed_with: Sequence[str], *, is_paid: bool) -> None:
        """Show which orders are sent together; they can be split while nothing is paid."""
        self.apart.setVisible(bool(packed_with) and not is_paid)
        if packed_with:
            others = f"sent with {', '.join(packed_with)}"
            self.to.setText(f"{self.to.text()}, {others}")

    def take_apart(self) -> None:
        """Split the orders sent together."""
        if self.piece is not None and not self.apart.isHidden():
            self._desk.do(take_apart, self.piece)

    def _service_lines(self, page: PiecePage) -> list[tuple[str, str, bool]]:
        """Return the offers with their prices, then the other services with why not."""
        if not page.offers and not page.left_out:
            return [("Weigh it to see its services.", "", False)]
        offers = []
        for offer in page.offers:
            chosen = "used" if offer.is_chosen else ""
            words = ", ".join(filter(None, (offer.service, f"{offer.billable}, {offer.row}", offer.beside, chosen)))
            offers.append((words, offer.price, offer.is_chosen))
        out = [(f"{out.service}: {out.why}", "can't carry it", False) for out in page.left_out]
        return offers + out

    def _past_lines(self, past: Sequence[PieceStep]) -> list[tuple[str, str, bool]]:
        patterns = {"undo": "Undone: {step}", "redo": "Redone: {step}"}
        return [
            (patterns.get(step.kind, "{step}").format(step=step.name), moment_in_words(step.at), False) for step in past
        ]

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.left.emit()
        elif event.text().isdigit():
            self.left.emit()
            event.ignore()  # bare digits always find a piece
        elif event.key() in SCROLLS:
            self.scrolled.keyPressEvent(event)
        else:
            super().keyPressEvent(event)


class Lines(QWidget):
    """Lines of words with a remark or an amount at the right; they take no focus."""

    def __init__(self) -> None:
        super().__init__()
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setVerticalSpacing(6)
        self._grid.setColumnStretch(0, 1)
        self.lines: tuple[tuple[str, str, bool], ...] = ()

    def show_lines(self, lines: Sequence[tuple[str, str, bool]]) -> None:
        """Show these lines: words, text at the right, strong."""
        self.lines = tuple(lines)
        while (item := self._grid.takeAt(0)) is not None:
            if (widget := item.widget()) is not None:
                widget.hide()
                widget.deleteLater()
        for row, (words, beside, strong) in enumerate(lines):
            left = Inked(words, size=typeface.BODY, bold=strong)
            left.setWordWrap(True)
            self._grid.addWidget(left, row, 0)
            right = Inked(beside, "ink" if strong else "soft_ink", typeface.BODY, bold=strong)
            self._grid.addWidget(right, row, 1, Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignTop)
