"""The card of the scale: its display, its state as a word and a shape, its step, and the ruler."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QSizePolicy

from desk.domain.severity import Severity
from desk.session.bench.bench_view import RulerView
from desk.session.scale.at_the_scale import Live
from desk.ui.kit import type as typeface
from desk.ui.kit.card import Card, Inked
from desk.ui.kit.key_word import KeyWord
from desk.ui.kit.mark import ROLE_OF
from desk.ui.kit.message import MarkDot
from desk.ui.kit.wrapping import FlowLayout
from desk.ui.trade.ruler import Pennant, RulerPicture
from desk.ui.trade.ruler_widget import RulerWidget


class ScaleCard(Card):
    """`take_asked`: the button that confirms the weight was pressed."""

    take_asked = Signal()

    def __init__(self) -> None:
        super().__init__("The scale")
        self.column.setContentsMargins(24, 8, 24, 8)
        self.weight = Inked(size=typeface.LIVE, bold=True)
        self.mark = MarkDot(Severity.NOTE)
        self.state = Inked(size=typeface.STRONG, bold=True)
        self.step = Inked(role="soft_ink", size=typeface.SMALL)
        self.says = Inked(size=typeface.BODY, bold=True)
        self.says.setWordWrap(True)
        self.take = QPushButton("Use this weight (Enter)")
        self.take.setAccessibleName("Use this weight")
        self.take.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self.take.clicked.connect(self.take_asked)
        self.type_word = KeyWord("T", "type a weight")
        self.alike_word = KeyWord("E", "", can_shrink=True)
        self.ruler = RulerWidget("Ounce ruler")
        self.asks = False  # whether a weight waits for Enter
        self._build()

    def _build(self) -> None:
        line = FlowLayout(gap=10)
        for widget in (self.weight, self.mark, self.state):
            line.addWidget(widget)
        line.add_right(self.type_word)
        line.addWidget(self.step)
        asking = QHBoxLayout()
        asking.addWidget(self.says, 1)
        asking.addWidget(self.take)
        self.column.addLayout(line)
        self.column.addLayout(asking)
        self.column.addWidget(self.ruler, 1)
        self.column.addWidget(self.alike_word)

    @property
    def said(self) -> tuple[str, bool]:
        """What the scale asks or says now, which takes room."""
        return self.says.text(), self.asks

    def show_live(self, live: Live) -> None:
        """Show what the scale shows."""
        self.weight.setText(live.words)
        self.weight.setVisible(bool(live.words))
        self.mark.kind = live.mark
        self.mark.update()
        self.state.role = ROLE_OF[live.mark]
        self.state.setText(live.state)
        self.step.setText(f"step {live.step}" if live.step else "")
        self.says.setText(live.says)
        self.says.setVisible(bool(live.says) and not live.is_faulty)  # the strip shows the fault
        self.asks = live.asks
        self.take.setVisible(live.asks)

    def show_ruler(self, ruler: RulerView | None) -> None:
        """Show weight, band of doubt and price steps; None: an empty ruler."""
        self.ruler.show_picture(picture_of(ruler) if ruler else RulerPicture())


def picture_of(ruler: RulerView) -> RulerPicture:
    """Return the ruler of a piece as a picture."""
    pennants = tuple(Pennant(float(step.up_to_oz), step.price) for step in ruler.steps)
    applies = Pennant(float(ruler.applies.up_to_oz), ruler.applies.price) if ruler.applies else None
    ends = float(ruler.low_oz), float(ruler.high_oz)
    edge = "" if ruler.doubt is None else ROLE_OF[ruler.doubt]
    return RulerPicture(float(ruler.weight_oz), *ends, pennants, edge, applies)
