"""The card of the postage: the stamps to put on and how far the letter is from one ounce, or how else it is paid."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize
from PySide6.QtGui import QFontMetricsF, QPainter, QPaintEvent
from PySide6.QtWidgets import QBoxLayout, QSizePolicy

from desk.session.bench.bench_view import BenchView
from desk.session.bench.one_ounce import OunceGlance
from desk.ui.bench.figure import FigureBox
from desk.ui.kit import type as typeface
from desk.ui.kit.card import Card, Inked
from desk.ui.kit.mark import ROLE_OF, paint_mark
from desk.ui.kit.palette import sheet_in_force
from desk.ui.trade.stamp import StampPicture, StampRow

MOST_DRAWN, BESIDE = 8, 3  # how many stamps are drawn, and how many beside the words
GLANCE, ROW = 60, 64  # pixels: 10 mm capitals at 96 dots per inch, with room around them
ROW_TIGHT = 44  # pixels high where the middle is low


class StampsCard(Card):
    """Shows the stamps of one piece."""

    def __init__(self) -> None:
        super().__init__("Stamps", "Stamps")
        self.stamps = StampRow()
        self.strong = Inked(size=typeface.STRONG, bold=True)
        self.soft = Inked(role="soft_ink", size=typeface.BODY)
        self.glance = Glance()
        self.low = Inked(role="look", size=typeface.SMALL)
        for label in (self.strong, self.soft, self.low):
            label.setWordWrap(True)
        self.low.hide()
        self._drawn = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        self._drawn.setSpacing(16)
        self._drawn.addWidget(self.stamps)
        self._drawn.addWidget(self.glance, 1)
        self.column.setContentsMargins(24, 8, 24, 8)
        self.column.addLayout(self._drawn)
        for label in (self.strong, self.soft, self.low):
            self.column.addWidget(label)

    def show_low(self, words: str) -> None:
        """Show which kinds of stamps run low; empty: none."""
        self.low.setText(words)
        self.low.setVisible(bool(words))

    def show_piece(self, view: BenchView | None, answer: OunceGlance | None = None) -> None:
        """Show the stamps, or the service of a piece without stamps; hidden until something is decided."""
        self.setVisible(view is not None and bool(view.figure))
        if view is None:
            return
        pictures = [StampPicture(counts_for, words) for counts_for, words in view.stamps[:MOST_DRAWN]]
        self.heading.setText("Stamps" if view.stamp_words else "Postage")
        self.heading.show()
        side = QBoxLayout.Direction.LeftToRight if len(pictures) <= BESIDE else QBoxLayout.Direction.TopToBottom
        self._drawn.setDirection(side)
        self.stamps.setVisible(bool(pictures))
        self.stamps.show_stamps(pictures)
        service = view.service[:1].upper() + view.service[1:]
        self.glance.show_answer(answer)
        costs = answer.costs if answer else ""
        self.strong.setText(". ".join(filter(None, (service, costs))) or "No service can carry it.")
        self.strong.show()
        self.soft.setText(view.stamp_words)
        self.soft.setVisible(bool(view.stamp_words))


class Glance(FigureBox):
    """How far the letter is from one ounce, in letters that can be read from two meters."""

    def __init__(self) -> None:
        super().__init__()
        self.setAccessibleName("Over or under one ounce")
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.answer: OunceGlance | None = None
        self.hide()

    def show_answer(self, answer: OunceGlance | None) -> None:
        """Show the answer; None: the question doesn't apply to this piece."""
        self.answer = answer
        self.setVisible(answer is not None)
        self.setAccessibleDescription(f"{answer.words}. {answer.costs}" if answer else "")
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(400, self.minimumSizeHint().height())

    def minimumSizeHint(self) -> QSize:
        return QSize(200, ROW_TIGHT if self.is_tight else ROW)

    def words_box(self) -> QRectF:
        """Return the box of the words, right of the mark."""
        return QRectF(self.rect()).adjusted(self.height() * 0.6, 0, 0, 0)

    def paintEvent(self, _event: QPaintEvent) -> None:
        if self.answer is None:
            return
        painter, sheet, box = QPainter(self), sheet_in_force(), self.words_box()
        side = self.height() * 0.5
        paint_mark(painter, self.answer.mark, QRectF(2, (self.height() - side) / 2, side, side), sheet)
        font = self.font_for(self.answer.words, GLANCE, box)
        painter.setFont(font)
        painter.setPen(sheet.color(ROLE_OF[self.answer.mark]))
        baseline = box.center().y() + QFontMetricsF(font).capHeight() / 2
        painter.drawText(QPointF(box.left(), baseline), self.answer.words)
