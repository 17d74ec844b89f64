"""A wrapping layout: widgets from left to right, some kept at the right, continuing on the next line."""

from __future__ import annotations

from PySide6.QtCore import QMargins, QPoint, QRect, QSize, Qt
from PySide6.QtWidgets import QHBoxLayout, QLayout, QLayoutItem, QSizePolicy, QWidget

from desk.ui.kit.plain import PlainLabel

UNLIMITED = (1 << 24) - 1  # Qt's QWIDGETSIZE_MAX


class _Line:
    def __init__(self) -> None:
        self.items: list[QLayoutItem] = []
        self.width = self.height = 0


class FlowLayout(QLayout):
    """Wrapping lines. Spare room goes to what can grow, else before the first widget that is kept at the right."""

    def __init__(self, parent: QWidget | None = None, *, gap: int = 8, margins: QMargins | None = None) -> None:
        super().__init__(parent)
        self._gap = gap
        self._items: list[QLayoutItem] = []
        self._right: set[QWidget] = set()
        self.setContentsMargins(margins or QMargins())

    def add_right(self, widget: QWidget) -> None:
        """Add a widget that is kept at the right."""
        self._right.add(widget)
        self.addWidget(widget)

    def addItem(self, item: QLayoutItem) -> None:
        self._items.append(item)

    def count(self) -> int:
        """Return the number of widgets."""
        return len(self._items)

    def itemAt(self, index: int) -> QLayoutItem | None:
        return self._items[index] if 0 <= index < len(self._items) else None

    def takeAt(self, index: int) -> QLayoutItem | None:
        if not 0 <= index < len(self._items):
            return None
        item = self._items.pop(index)
        self._right.discard(item.widget())
        return item

    def expandingDirections(self) -> Qt.Orientation:
        return Qt.Orientation(0)

    def hasHeightForWidth(self) -> bool:
        return True

    def heightForWidth(self, width: int) -> int:
        edges = self.contentsMargins()
        lines = self._lines(width - edges.left() - edges.right())
        gaps = self._gap // 2 * max(0, len(lines) - 1)
        return sum(line.height for line in lines) + gaps + edges.top() + edges.bottom()

    def sizeHint(self) -> QSize:
        wide = self._lines(1 << 20)
        edges = self.contentsMargins()
        width = max((line.width for line in wide), default=0) + edges.left() + edges.right()
        return QSize(width, self.heightForWidth(1 << 20))

    def minimumSize(self) -> QSize:
        edges = self.contentsMargins()
        least = QSize(0, 0)
        for item in self._seen():
            least = least.expandedTo(item.minimumSize())
        return least.grownBy(edges)

    def setGeometry(self, rect: QRect) -> None:
        super().setGeometry(rect)
        inside = rect.marginsRemoved(self.contentsMargins())
        top = inside.top()
        for line in self._lines(inside.width()):
            self._place(line, inside, top)
            top += line.height + self._gap // 2

    def _seen(self) -> list[QLayoutItem]:
        return [item for item in self._items if not item.isEmpty()]

    def _lines(self, width: int) -> list[_Line]:
        lines = [_Line()]
        for item in self._seen():
            wanted = item.sizeHint()
            gap = self._gap if lines[-1].items else 0
            if lines[-1].items and lines[-1].width + gap + wanted.width() > width:
                lines.append(_Line())
                gap = 0
            line = lines[-1]
            line.items.append(item)
            line.width += gap + wanted.width()
            line.height = max(line.height, wanted.height())
        return lines

    def _place(self, line: _Line, inside: QRect, top: int) -> None:
        spare = max(0, inside.width() - line.width)
        growing = [item for item in line.items if item.expandingDirections() & Qt.Orientation.Horizontal]
        more = spare // len(growing) if growing else 0
        left, rest = inside.left(), 0 if growing else spare
        for item in line.items:
            if rest and item.widget() in self._right:
                left, rest = left + rest, 0
            hint = item.sizeHint()
            width = min(hint.width() + (more if item in growing else 0), inside.width())
            item.setGeometry(QRect(QPoint(left, top + (line.height - hint.height()) // 2), QSize(width, hint.height())))
            left += width + self._gap


def labeled(name: str, field: QWidget, *, grows: bool = False) -> QWidget:
    """Return a field with its label in front; the label's access key goes to the field.

    With a field of limited width the pair is no wider than it needs, so that the label stays beside it.
    """
    pair, label = QWidget(), PlainLabel(name)
    label.setBuddy(field)
    field.setAccessibleName(name.replace("&", ""))
    line = QHBoxLayout(pair)
    line.setContentsMargins(0, 0, 0, 0)
    line.addWidget(label)
    line.addWidget(field)
    if field.maximumWidth() < UNLIMITED:
        pair.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
    if grows:
        pair.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
    return pair
