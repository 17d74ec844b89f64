"""The list of keys, made from the tables of acts. It covers the side of the open screen until closed."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QEvent, QObject, QRect, QSize, Qt, Signal
from PySide6.QtGui import QFocusEvent, QFont, QFontMetrics, QKeyEvent, QKeySequence, QPainter, QPaintEvent
from PySide6.QtWidgets import QFrame, QGridLayout, QHBoxLayout, QLabel, QScrollArea, QVBoxLayout, QWidget

from desk.ui.actions import Act
from desk.ui.kit import type as typeface
from desk.ui.kit.palette import sheet_in_force
from desk.ui.kit.plain import PlainLabel

MOST_COLUMNS, GAP, EDGE = 3, 28, 20
LONG = 250  # pixels at 100%: words longer than this wrap
SCROLLS = (Qt.Key.Key_Up, Qt.Key.Key_Down, Qt.Key.Key_PageUp, Qt.Key.Key_PageDown, Qt.Key.Key_Home, Qt.Key.Key_End)
Group = tuple[str, Sequence[Act]]


class KeyList(QWidget):
    """Keys and what they do, in groups. `left`: closed by Escape; other keys that don't scroll are `handed_on`."""

    left = Signal()
    handed_on = Signal(object)  # the key event, for the screen below

    def __init__(self, over: QWidget) -> None:
        super().__init__(over.parentWidget())
        self._over = over
        self.setAccessibleName("Keys")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self._groups: list[tuple[str, tuple[Act, ...]]] = []
        self._blocks: list[QWidget] = []
        self._foot = _label("Esc or ? to close", _font())
        self._foot.setForegroundRole(self._foot.foregroundRole().PlaceholderText)
        self._area = self._build_area()
        column = QVBoxLayout(self)
        column.setContentsMargins(EDGE, 12, 4, 12)
        column.addWidget(self._area, 1)
        column.addWidget(self._foot)
        over.installEventFilter(self)

    def _build_area(self) -> QScrollArea:
        area = QScrollArea()
        area.setWidgetResizable(True)
        area.setFrameShape(QFrame.Shape.NoFrame)
        area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        area.viewport().setAutoFillBackground(False)
        return area

    def show_acts(self, groups: Sequence[Group]) -> None:
        """Show the acts of each group."""
        self._groups = [(heading, tuple(acts)) for heading, acts in groups]
        self._blocks = [_block(heading, acts) for heading, acts in self._groups]
        self.place()

    def shown(self) -> list[tuple[str, tuple[Act, ...]]]:
        """Return the groups shown, with their acts."""
        return list(self._groups)

    def place(self) -> None:
        """Place the list at the right of the screen, in as few columns as fit its height; the rest scrolls."""
        room = self._over.geometry()
        bar = self._area.verticalScrollBar().sizeHint().width()
        high = room.height() - self._rest()
        wide = [block.sizeHint().width() for block in self._blocks]
        for count in range(1, MOST_COLUMNS + 1):
            columns = in_columns([block.sizeHint().height() for block in self._blocks], count)
            need = QSize(_width(wide, columns), max((high_of(self._blocks, column) for column in columns), default=0))
            if count == 1 or need.width() <= room.width() - EDGE - 4 - bar:
                chosen, wanted = columns, need
            if need.height() <= high:
                break
        self._lay(chosen)
        size = QSize(wanted.width() + EDGE + 4 + bar, wanted.height() + self._rest()).boundedTo(room.size())
        self.setGeometry(QRect(room.right() + 1 - size.width(), room.top(), size.width(), size.height()))

    def _lay(self, columns: Sequence[Sequence[int]]) -> None:
        body = QWidget()
        line = QHBoxLayout(body)
        line.setContentsMargins(0, 0, 0, 0)
        line.setSpacing(GAP)
        for places in columns:
            column = QVBoxLayout()
            column.setSpacing(0)
            for place in places:
                column.addWidget(self._blocks[place])
            column.addStretch(1)
            line.addLayout(column)
        line.addStretch(1)
        self._area.setWidget(body)  # delete the old column, from which the blocks were moved
        body.setAutoFillBackground(False)

    def _rest(self) -> int:
        """Return the height of everything except the columns."""
        return 24 + 6 + self._foot.sizeHint().height()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() in (QEvent.Type.Resize, QEvent.Type.Move) and not self.isHidden():
            self.place()
        return super().eventFilter(watched, event)

    def event(self, event: QEvent) -> bool:
        """Keep plain keys from the acts of the screen below: they close the list first."""
        if event.type() is QEvent.Type.ShortcutOverride and isinstance(event, QKeyEvent) and _is_plain(event):
            event.accept()
            return True
        return super().event(event)

    def focusNextPrevChild(self, _forward: bool) -> bool:
        """Keep the focus: nothing inside takes it, and nothing below should."""
        return True

    def focusOutEvent(self, event: QFocusEvent) -> None:
        if event.reason() is Qt.FocusReason.MouseFocusReason:
            self.hide()
        super().focusOutEvent(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.left.emit()
        elif event.key() in SCROLLS:
            self._area.keyPressEvent(event)
        elif event.text():
            self.handed_on.emit(event)
        else:
            super().keyPressEvent(event)

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter, sheet = QPainter(self), sheet_in_force()
        painter.fillRect(self.rect(), sheet.color("card"))
        painter.setPen(sheet.color("soft_ink"))
        painter.drawRect(self.rect().adjusted(0, 0, -1, -1))


def _is_plain(event: QKeyEvent) -> bool:
    """Return whether a key types something and is not the one that closes the list."""
    return event.text() not in ("", "?") and not event.modifiers() & Qt.KeyboardModifier.ControlModifier


def in_columns(highs: Sequence[int], count: int) -> list[list[int]]:
    """Return the blocks of each column, in order, in at most `count` columns with the tallest as low as possible."""
    sums = {sum(highs[first:last]) for first in range(len(highs)) for last in range(first + 1, len(highs) + 1)}
    for limit in sorted(sums):
        columns: list[list[int]] = [[]]
        for place, high in enumerate(highs):
            if columns[-1] and sum(highs[each] for each in columns[-1]) + high > limit:
                columns.append([])
            columns[-1].append(place)
        if len(columns) <= count and max(highs) <= limit:
            return columns
    return []


def high_of(blocks: Sequence[QWidget], places: Sequence[int]) -> int:
    """Return the height of a column of blocks."""
    return sum(blocks[place].sizeHint().height() for place in places)


def _width(wide: Sequence[int], columns: Sequence[Sequence[int]]) -> int:
    return sum(max(wide[place] for place in places) + GAP for places in columns)


def _block(heading: str, acts: Sequence[Act]) -> QWidget:
    block = QWidget()
    grid = QGridLayout(block)
    grid.setContentsMargins(0, 0, 0, 14)
    grid.setHorizontalSpacing(12)
    grid.setVerticalSpacing(4)
    grid.addWidget(_label(heading, typeface.heading_font()), 0, 0, 1, 2)
    for row, act in enumerate(acts, 1):
        keys = " / ".join(_native(part) for part in act.keys.split()) if act.do else act.keys
        for place, label in enumerate((_label(keys, _font(bold=True)), _label(act.words, _font()))):
            grid.addWidget(label, row, place, Qt.AlignmentFlag.AlignTop)
    grid.setColumnStretch(1, 1)
    return block


def _font(*, bold: bool = False) -> QFont:
    return typeface.font(typeface.BODY, bold=bold)


def _label(words: str, font: QFont) -> QLabel:
    label = PlainLabel(words)
    label.setFont(font)
    most = round(LONG * typeface.scale())
    if QFontMetrics(font).horizontalAdvance(words) > most:
        label.setWordWrap(True)
        label.setFixedWidth(most)
    return label


def _native(keys: str) -> str:
    return QKeySequence(keys).toString(QKeySequence.SequenceFormat.NativeText)
