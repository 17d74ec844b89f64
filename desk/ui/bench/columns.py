"""The side columns of the bench: next and last pieces at the left; contents, reasons and costs at the right."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QScrollArea, QVBoxLayout, QWidget

from desk.domain.finding import Code
from desk.session.bench.bench_view import BenchView
from desk.session.verdict.stamp_request import REQUESTED
from desk.ui.bench.lists import RowList
from desk.ui.bench.package_card import PackageCard
from desk.ui.common_keys import RIGHT
from desk.ui.kit import type as typeface
from desk.ui.kit.card import Hairline, Heading, Inked
from desk.ui.kit.key_word import KeyWord
from desk.ui.kit.why_column import Fact, WhyColumn
from desk.ui.kit.wrapping import FlowLayout
from desk.ui.trade.cost_lines import CostLines

FEW_NEXT, FEW_LAST = 1, 1  # rows where the lists share a column with the reasons
LOW, LOW_NEXT, LOW_LAST = 600, 5, 4  # a height in pixels at 100%, and the rows below it


class PieceColumn(QWidget):
    """The next pieces, the last ones, and what Undo would take back."""

    def __init__(self) -> None:
        super().__init__()
        self.next = RowList("Next to weigh")
        self.last = RowList("Weighed last")
        self.nothing_next = Inked("Everything is weighed.", "soft_ink")
        self.nothing_next.setWordWrap(True)
        self.find_word = KeyWord("F", "find")
        self.go_next = KeyWord("N", "next")
        self.take_back = KeyWord("Z", "undo")
        self.step = Inked(role="soft_ink", size=typeface.BODY)
        self.step.setWordWrap(True)
        self._next_head, self._last_head = Heading("Next"), Heading("Last")
        self._has_last = False
        self._is_short = False
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        head = QHBoxLayout()
        head.addWidget(self._next_head)
        head.addStretch(1)
        head.addWidget(self.find_word)
        head.addWidget(self.go_next)
        self._column.addLayout(head)
        for widget in (self.nothing_next, self.next, self._last_head, self.last, self.take_back, self.step):
            self._column.addWidget(widget)
        self._column.addStretch(1)

    def shorten(self, short: bool, height: int) -> None:
        """Show only the nearest rows where the column shares its room (`short`) or is low."""
        self._is_short = short
        is_low = height < LOW * typeface.scale()
        self.next.show_most(FEW_NEXT if short else LOW_NEXT if is_low else None)
        self.last.show_most(FEW_LAST if short else LOW_LAST if is_low else None)
        self._column.setSpacing(0 if short else 6)
        self._last_head.setContentsMargins(0, 0 if short else 20, 0, 0)
        self._last_head.setVisible(self._has_last and not short)

    def show_state(self, *, has_orders: bool, step: str = "") -> None:
        """Show or hide what depends on the lists being empty. `step` is the next undo step."""
        nothing = "No orders yet. Import orders on the Batch screen."
        self.nothing_next.setText("Everything is weighed." if has_orders else nothing)
        self.nothing_next.setVisible(not self.next.rows)
        self._has_last = bool(self.last.rows)
        self._last_head.setVisible(self._has_last and not self._is_short)
        self.step.setText(step)
        self.take_back.setAccessibleName(f"Undo: {step}")
        for widget in (self.take_back, self.step):
            widget.setVisible(bool(step))


class WhyAndCosts(QWidget):
    """Contents, reasons and costs, and the keys shown nowhere else."""

    def __init__(self) -> None:
        super().__init__()
        self.package = PackageCard()
        self.why = WhyColumn("Why")
        self.seen = KeyWord(RIGHT, "checked, it's right")
        self.packing = KeyWord("Shift+Y", "extra packing")
        self.by_stamp = KeyWord("R", "use stamps and refund")
        self.not_by_stamp = KeyWord("D", "don't use stamps")
        self.costs = CostLines("Costs")
        self.aside = KeyWord("A", "set aside")
        self.goes_on = KeyWord("G", "advance automatically", can_hold=True)
        self.sounds = KeyWord("O", "sounds", can_hold=True)
        self._heads = (Heading("Why"), Heading("Costs"))
        self._line = Hairline()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        asked = FlowLayout(gap=6)
        for word in (self.seen, self.packing, self.by_stamp, self.not_by_stamp):
            asked.addWidget(word)
        column.addWidget(self.package)
        column.addSpacing(8)
        column.addWidget(self._heads[0])
        column.addLayout(asked)
        for widget in (self.why, self._line, self._heads[1], self.costs):
            column.addWidget(widget)
        column.addStretch(1)

    def key_words(self) -> FlowLayout:
        """Return the line with the keys that always work, below the scrolling part."""
        keys = FlowLayout(gap=6)
        for word in (self.aside, self.goes_on, self.sounds):
            keys.addWidget(word)
        return keys

    def show_piece(self, view: BenchView | None, *, is_aside: bool = False) -> None:
        """Show the contents, reasons and costs of a piece; None: no piece is open."""
        facts = view.why if view else ()
        self.package.show_package(view.package if view else None)
        self.why.show_facts([Fact(why.mark, why.head, why.sentence, why.way_out, why.source) for why in facts])
        self.costs.show_lines([cost.line for cost in view.costs] if view else [])
        looks = set(view.looks) - {Code.NO_WEIGHT, REQUESTED} if view else set()
        self.seen.setVisible(bool(looks))
        self.packing.setVisible(Code.HEAVIER_THAN_CONTENTS in looks)
        for word in (self.by_stamp, self.not_by_stamp):
            word.setVisible(view is not None and REQUESTED in view.looks)
        self.aside.say("put back" if is_aside else "set aside")
        for widget in (*self._heads, self._line, self.aside):
            widget.setVisible(view is not None)


class ScrolledPart(QScrollArea):
    """An area that reports when its room changes."""

    resized = Signal()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.resized.emit()


def scrolled(inside: QWidget, name: str) -> ScrolledPart:
    """Return a frameless area that scrolls a widget vertically where there is no room."""
    area = ScrolledPart()
    area.setWidget(inside)
    area.setWidgetResizable(True)
    area.setFrameShape(QFrame.Shape.NoFrame)
    area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    area.setAccessibleName(name)
    area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    return area
