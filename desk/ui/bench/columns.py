"""The columns of the bench: what comes next and was last at the left, why and what it costs at the right."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QHBoxLayout, QScrollArea, QVBoxLayout, QWidget

from desk.domain.finding import Code
from desk.session.bench.bench_view import BenchView, Cost
from desk.session.verdict.stamp_request import REQUESTED
from desk.ui.bench.lists import RowList
from desk.ui.kit import type as typeface
from desk.ui.kit.card import Hairline, Heading, Inked
from desk.ui.kit.key_word import KeyWord
from desk.ui.kit.why_column import Fact, WhyColumn
from desk.ui.kit.wrapping import FlowLayout
from desk.ui.trade.cost_lines import CostLines


class PieceColumn(QWidget):
    """Next and last."""

    def __init__(self) -> None:
        super().__init__()
        self.next = RowList("Next to weigh")
        self.last = RowList("Weighed last")
        self.nothing_next = Inked("Everything is weighed.", "soft_ink")
        self.nothing_next.setWordWrap(True)
        self.find_word = KeyWord("F", "find")
        self.go_next = KeyWord("N", "next")
        self.take_back = KeyWord("Z", "take back")
        self.step = Inked(role="soft_ink", size=typeface.BODY)
        self.step.setWordWrap(True)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        head = QHBoxLayout()
        head.addWidget(Heading("Next"))
        head.addStretch(1)
        head.addWidget(self.find_word)
        head.addWidget(self.go_next)
        column.addLayout(head)
        column.addWidget(self.nothing_next)
        column.addWidget(self.next)
        column.addSpacing(20)
        self._last_head = Heading("Last")
        column.addWidget(self._last_head)
        column.addWidget(self.last)
        column.addWidget(self.take_back)
        column.addWidget(self.step)
        column.addStretch(1)

    def show_state(self, *, has_orders: bool, step: str = "") -> None:
        """Show or hide what depends on the lists being empty. `step` is what would be taken back next."""
        nothing = "No orders yet. The Batch screen takes a file in."
        self.nothing_next.setText("Everything is weighed." if has_orders else nothing)
        self.nothing_next.setVisible(not self.next.rows)
        self._last_head.setVisible(bool(self.last.rows))
        self.step.setText(step)
        self.take_back.setAccessibleName(f"Take back: {step}")
        for widget in (self.take_back, self.step):
            widget.setVisible(bool(step))


class WhyAndCosts(QWidget):
    """Why it is so, what it costs, and the keys that are shown nowhere else."""

    def __init__(self) -> None:
        super().__init__()
        self.why = WhyColumn("Why")
        self.seen = KeyWord("Y", "seen, it is right")
        self.by_stamp = KeyWord("R", "by stamp, as asked")
        self.not_by_stamp = KeyWord("D", "not by stamp")
        self.costs = CostLines("Costs")
        self.aside = KeyWord("A", "set aside")
        self.goes_on = KeyWord("G", "go on by itself", can_hold=True)
        self.sounds = KeyWord("O", "sounds", can_hold=True)
        self._heads = (Heading("Why"), Heading("Costs"))
        self._line = Hairline()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        asked = (self.by_stamp, self.not_by_stamp)
        for widget in (self._heads[0], self.why, self.seen, *asked, self._line, self._heads[1], self.costs):
            column.addWidget(widget)
        column.addStretch(1)
        keys = FlowLayout(gap=6)
        for word in (self.aside, self.goes_on, self.sounds):
            keys.addWidget(word)
        column.addLayout(keys)

    def show_piece(self, view: BenchView | None) -> None:
        """Show the facts and the money of a piece; None: no piece is open."""
        facts = view.why if view else ()
        self.why.show_facts([Fact(why.mark, why.head, why.sentence, why.way_out, why.source) for why in facts])
        self.costs.show_lines([(_cost_words(cost), cost.amount, cost.strong) for cost in view.costs] if view else [])
        self.seen.setVisible(view is not None and any(code != Code.NO_WEIGHT for code in view.looks))
        for word in (self.by_stamp, self.not_by_stamp):
            word.setVisible(view is not None and REQUESTED in view.looks)
        for widget in (*self._heads, self._line, self.aside):
            widget.setVisible(view is not None)


def _cost_words(cost: Cost) -> str:
    """The words of a line, with the date of a price that is past its list's last day."""
    return f"{cost.words}, {cost.beside}" if cost.beside else cost.words


def scrolled(inside: QWidget, name: str) -> QScrollArea:
    """A widget that scrolls downwards when there is no room, without a frame."""
    area = QScrollArea()
    area.setWidget(inside)
    area.setWidgetResizable(True)
    area.setFrameShape(QFrame.Shape.NoFrame)
    area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    area.setAccessibleName(name)
    area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    return area
