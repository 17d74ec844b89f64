"""The stamps to set out before stamping: each kind drawn, how many are needed, how many will be left."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import zip_longest

from PySide6.QtCore import QRectF, QSize
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from desk.domain.severity import Severity
from desk.session.papers.stamps_on import StampTotal
from desk.ui.kit import type as typeface
from desk.ui.kit.card import Inked
from desk.ui.kit.mark import paint_mark
from desk.ui.kit.palette import sheet_in_force
from desk.ui.kit.plain import set_tip
from desk.ui.kit.wrapping import FlowLayout
from desk.ui.trade.stamp import StampPicture, StampRow

DRAWN = 26  # the side of a drawn stamp, in pixels at 100%


class StampsLine(QWidget):
    """One token per kind, in lines that wrap; a kind that runs low has the mark of a look."""

    def __init__(self) -> None:
        super().__init__()
        self._tokens: list[Token] = []  # kept for the next pile: those that are too many are hidden
        self._count = 0
        self._is_low = False
        self._in_short = Inked()
        self._in_short.setWordWrap(True)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self._in_short)
        tokens = QWidget()
        self._line = FlowLayout(tokens, gap=16)
        column.addWidget(tokens)

    def show_totals(self, totals: Sequence[StampTotal]) -> None:
        """Show these kinds, in this order; hidden when there are none."""
        while len(self._tokens) < len(totals):
            self._tokens.append(Token())
            self._line.addWidget(self._tokens[-1])
        for token, total in zip_longest(self._tokens, totals):
            token.setVisible(total is not None)
            if total is not None:
                token.show_total(total)
        kinds = "; ".join(total.words for total in totals)
        self.setAccessibleName(f"Stamps needed: {kinds}." if totals else "")
        self._in_short.setText(f"Stamps: {'; '.join(map(_short_words, totals))}")
        self._count = len(totals)
        self.fold(hidden=False, low=self._is_low)
        self.updateGeometry()

    def fold(self, *, hidden: bool, low: bool) -> None:
        """Hide it, or where there is little height show the kinds in words."""
        self._is_low = low
        self._in_short.setVisible(low)
        for token in self._tokens[: self._count]:
            token.setVisible(not low)
        self.setVisible(bool(self._count) and not hidden)


def _short_words(total: StampTotal) -> str:
    """Return the stamps of one kind, with what is left only where it runs low."""
    return f"{total.kinds} ({total.left} left)" if total.runs_low else total.kinds


class Token(QWidget):
    """One kind: a drawn stamp, how many the batch needs, and how many will be left."""

    def __init__(self) -> None:
        super().__init__()
        self._drawn, self._low = StampRow(side=DRAWN), _Low()
        self._takes, self._left = Inked(size=typeface.STRONG, bold=True), Inked()
        line = QHBoxLayout(self)
        line.setContentsMargins(0, 0, 0, 0)
        line.setSpacing(6)
        for part in (self._drawn, self._takes, self._low, self._left):
            line.addWidget(part)

    def show_total(self, total: StampTotal) -> None:
        """Show another kind."""
        self.setAccessibleName(total.words)
        set_tip(self, total.words)
        self._drawn.show_stamps([StampPicture(total.counts_for, "")])
        self._takes.setText(total.kinds)
        self._left.setText(f"{total.left} left")
        self._left.role = "look" if total.runs_low else "soft_ink"
        self._low.setVisible(total.runs_low)


class _Low(QWidget):
    """The mark of a kind that runs low."""

    def __init__(self) -> None:
        super().__init__()
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)

    def sizeHint(self) -> QSize:
        side = round(14 * typeface.scale())
        return QSize(side, side)

    def paintEvent(self, _event: QPaintEvent) -> None:
        paint_mark(QPainter(self), Severity.LOOK, QRectF(self.rect()), sheet_in_force())
