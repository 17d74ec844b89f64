"""Editors with a visible frame: a text field, a check box, a drop-down list."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, QRect, QRectF, Qt
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent, QPen, QWheelEvent
from PySide6.QtWidgets import QCheckBox, QComboBox, QLineEdit, QStyle, QStyleOptionButton, QWidget

from desk.ui.kit.palette import sheet_in_force

MORE = Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.AltModifier | Qt.KeyboardModifier.MetaModifier


def outline(widget: QWidget, box: QRect | None = None) -> None:
    """Draw a frame that is visible on paper and card, light and dark (WCAG 1.4.11: 3 to 1); teal with focus."""
    painter, sheet = QPainter(widget), sheet_in_force()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    role, thick = ("teal", 2.0) if widget.hasFocus() else ("soft_ink", 1.0)
    painter.setPen(QPen(sheet.color(role), thick))
    inside = thick / 2  # keep the line on whole pixels: spread over two it would be too pale
    painter.drawRoundedRect(QRectF(box or widget.rect()).adjusted(inside, inside, -inside, -inside), 3, 3)
    painter.end()


class FramedLine(QLineEdit):
    """A text field with a visible frame."""

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        outline(self)


class FramedCheckBox(QCheckBox):
    """A check box with a visible frame."""

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        option = QStyleOptionButton()
        self.initStyleOption(option)
        outline(self, self.style().subElementRect(QStyle.SubElement.SE_CheckBoxIndicator, option, self))


class Choices(QComboBox):
    """A drop-down list with a visible frame. It does not change when the page is scrolled over it.

    Letters search in it, and while it is open it keeps every key from the screen.
    """

    def event(self, event: QEvent) -> bool:
        """Keep typed letters from the keys of the screen."""
        return self._keeps(event) or super().event(event)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        self._keeps(event)  # pass it on: the open list uses Enter and Escape itself
        return super().eventFilter(watched, event)

    def showPopup(self) -> None:
        self.view().installEventFilter(self)
        super().showPopup()

    def _keeps(self, event: QEvent) -> bool:
        if event.type() is not QEvent.Type.ShortcutOverride or not isinstance(event, QKeyEvent):
            return False
        if not (self.view().isVisible() or (event.text().isalpha() and not event.modifiers() & MORE)):
            return False
        event.accept()
        return True

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.text().isdigit():
            event.ignore()  # a digit finds a piece, wherever the focus is
        else:
            super().keyPressEvent(event)

    def wheelEvent(self, event: QWheelEvent) -> None:
        event.ignore()

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        outline(self)
