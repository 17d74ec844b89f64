"""A card: a hairline around it, six-pixel corners, and a heading."""

from __future__ import annotations

from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QVBoxLayout, QWidget

from desk.ui.kit import type as typeface
from desk.ui.kit.palette import sheet_in_force
from desk.ui.kit.plain import PlainLabel


class Card(QWidget):
    """A surface that groups widgets; `column` is its layout."""

    def __init__(self, name: str, heading: str = "") -> None:
        super().__init__()
        self.setAccessibleName(name)
        self.column = QVBoxLayout(self)
        self.column.setContentsMargins(24, 12, 24, 12)
        self.column.setSpacing(4)
        self.heading = Heading(heading)
        self.heading.setVisible(bool(heading))
        if heading:
            self.column.addWidget(self.heading)

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter, sheet = QPainter(self), sheet_in_force()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(sheet.color("hairline"), 1.5))
        painter.setBrush(sheet.color("card"))
        painter.drawRoundedRect(QRectF(self.rect()).adjusted(1, 1, -1, -1), 6, 6)


class Inked(PlainLabel):
    """A line of text in one of the palette's colors, following light and dark."""

    def __init__(self, words: str = "", role: str = "ink", size: int = typeface.BODY, *, bold: bool = False) -> None:
        super().__init__(words)
        self.role = role
        self.setFont(typeface.font(size, bold=bold))

    def paintEvent(self, event: QPaintEvent) -> None:
        wanted = sheet_in_force().color(self.role)
        palette = self.palette()
        if palette.color(self.foregroundRole()) != wanted:
            palette.setColor(self.foregroundRole(), wanted)
            self.setPalette(palette)
        super().paintEvent(event)


class Hairline(QWidget):
    """A line across, for decoration."""

    def __init__(self) -> None:
        super().__init__()
        self.setFixedHeight(25)

    def paintEvent(self, _event: QPaintEvent) -> None:
        QPainter(self).fillRect(0, 12, self.width(), 1, sheet_in_force().color("hairline"))


class Heading(Inked):
    """A heading in spaced small capitals, in soft ink."""

    def __init__(self, words: str) -> None:
        super().__init__(words, "soft_ink")
        self.setFont(typeface.heading_font())
