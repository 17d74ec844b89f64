"""Form fields: a label, an editor, and below it a sentence for what is wrong.

A field emits `left` when its value differs from the saved one. It never opens anything and never refuses a key; typed
text stays, with its fault, until it is corrected.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from PySide6.QtCore import QEvent, QObject, QRect, QRectF, QSignalBlocker, Qt, Signal
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent, QPen, QWheelEvent
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QHBoxLayout,
    QLineEdit,
    QStyle,
    QStyleOptionButton,
    QVBoxLayout,
    QWidget,
)

from desk.ui.kit import type as typeface
from desk.ui.kit.card import Inked
from desk.ui.kit.message import MarkDot
from desk.ui.kit.palette import sheet_in_force
from desk.ui.kit.plain import PlainLabel

ONE_COLUMN_FROM = 1.5  # at this text size there is room for one column only
MORE = Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.AltModifier | Qt.KeyboardModifier.MetaModifier
ROLE_OF_MARK = {"stop": "stop", "look": "look", "note": "soft_ink", "fine": "fine"}


def outline(widget: QWidget, box: QRect | None = None) -> None:
    """Draw a frame that is visible on paper and card, light and dark (WCAG 1.4.11: 3 to 1); teal with focus."""
    painter, sheet = QPainter(widget), sheet_in_force()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    role, thick = ("teal", 2.0) if widget.hasFocus() else ("soft_ink", 1.0)
    painter.setPen(QPen(sheet.colour(role), thick))
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


class FaultLine(QWidget):
    """A mark and a sentence; hidden when nothing is wrong."""

    def __init__(self) -> None:
        super().__init__()
        self._mark = MarkDot("stop")
        self.label = Inked("", "stop", typeface.SMALL)
        self.label.setWordWrap(True)
        line = QHBoxLayout(self)
        line.setContentsMargins(0, 0, 0, 0)
        line.setSpacing(6)
        line.addWidget(self._mark)
        line.addWidget(self.label, 1)
        self.hide()

    def say(self, mark: str, sentence: str) -> None:
        """Show the sentence with its mark; an empty one hides the line."""
        self._mark.kind = mark or "note"
        self.label.role = ROLE_OF_MARK.get(mark, "soft_ink")
        self.label.setText(sentence)
        self.setVisible(bool(sentence))
        self._mark.update()


class Field(QWidget):
    """The base of all fields: `name` is the record's name for it, `words` the label."""

    left = Signal(str)
    wide = False

    def __init__(self, name: str, words: str) -> None:
        super().__init__()
        self.name, self.words = name, words
        self.kept: Any = None
        self.label = PlainLabel(words)
        self.label.setFont(typeface.font(typeface.SMALL))
        self.fault = FaultLine()
        self.line = QHBoxLayout()
        self.line.setSpacing(8)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 4)
        column.setSpacing(3)
        column.addWidget(self.label)
        column.addLayout(self.line)
        column.addWidget(self.fault)
        column.addStretch(1)

    def value(self) -> Any:
        """Return the value in the field."""
        raise NotImplementedError

    def put(self, value: Any) -> None:
        """Set the value, without a signal."""
        raise NotImplementedError

    def editor(self) -> QWidget:
        """Return the widget that takes the focus."""
        raise NotImplementedError

    def as_kept(self, value: Any) -> Any:
        """Return a saved value in the form of `value`, for comparing."""
        return str("" if value is None else value)

    def show_kept(self, value: Any, *, fresh: bool = False) -> None:
        """Show the saved value; unsaved text stays, unless another record is shown (`fresh`)."""
        value = self.as_kept(value)
        typed = not fresh and self.kept is not None and self.value() != self.kept
        self.kept = value
        if not typed and self.value() != value:
            self.put(value)
        if fresh:
            self.say()

    def settle(self) -> None:
        """Show the saved value as it was understood."""

    def say(self, mark: str = "", sentence: str = "") -> None:
        """Show a fault, also to a screen reader; empty clears it."""
        self.fault.say(mark, sentence)
        self.editor().setAccessibleDescription(sentence)

    def commit(self) -> None:
        """Emit `left` when the value differs from the saved one."""
        if self.value() != self.kept:
            self.left.emit(self.name)

    def _seat(self, editor: QWidget) -> None:
        editor.setAccessibleName(self.words)
        self.label.setBuddy(editor)
        self.line.addWidget(editor, 1)
        self.setFocusProxy(editor)


class LineField(Field):
    """One line of text."""

    def __init__(self, name: str, words: str, *, hint: str = "") -> None:
        super().__init__(name, words)
        self.edit = FramedLine()
        self.edit.setPlaceholderText(hint)
        self.edit.editingFinished.connect(self.commit)
        self._seat(self.edit)

    def value(self) -> str:
        """Return the value in the field."""
        return self.edit.text().strip()

    def put(self, value: Any) -> None:
        """Set the value, without a signal."""
        self.edit.setText(str(value or ""))
        self.edit.setCursorPosition(0)

    def settle(self) -> None:
        """Show the saved text."""
        if self.value() != self.kept:
            self.put(self.kept)

    def editor(self) -> QWidget:
        """Return the widget that takes the focus."""
        return self.edit


class WordsField(LineField):
    """Several phrases separated by commas; the value is a tuple."""

    def value(self) -> Any:
        """Return the value in the field."""
        return tuple(part.strip() for part in self.edit.text().split(",") if part.strip())

    def put(self, value: Any) -> None:
        """Set the value, without a signal."""
        super().put(", ".join(value or ()))

    def as_kept(self, value: Any) -> Any:
        """Return a saved value in the form of `value`."""
        return tuple(value or ())


class YesNoField(Field):
    """A check box."""

    def __init__(self, name: str, words: str) -> None:
        super().__init__(name, words)
        self.label.hide()
        self.box = FramedCheckBox(words)
        self.box.clicked.connect(lambda _checked=False: self.commit())
        self._seat(self.box)

    def value(self) -> bool:
        """Return the value in the field."""
        return self.box.isChecked()

    def put(self, value: Any) -> None:
        """Set the value, without a signal."""
        self.box.setChecked(bool(value))

    def as_kept(self, value: Any) -> Any:
        """Return a saved value in the form of `value`."""
        return bool(value)

    def editor(self) -> QWidget:
        """Return the widget that takes the focus."""
        return self.box


class ChoiceField(Field):
    """One of several; `options` are pairs of value and label."""

    def __init__(self, name: str, words: str, options: Sequence[tuple[str, str]]) -> None:
        super().__init__(name, words)
        self.box = Choices()
        self.box.setMinimumContentsLength(6)
        self.box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        for value, shown in options:
            self.box.addItem(shown, value)
        self.box.currentIndexChanged.connect(lambda _place: self.commit())
        self._seat(self.box)

    def value(self) -> str:
        """Return the value in the field."""
        return str(self.box.currentData() or "")

    def put(self, value: Any) -> None:
        """Set the value, without a signal."""
        with QSignalBlocker(self.box):
            self.box.setCurrentIndex(max(0, self.box.findData(value or "")))

    def offer(self, options: Sequence[tuple[str, str]]) -> None:
        """Replace the options, without a signal; the choice stays if it is still there."""
        chosen = self.value()
        with QSignalBlocker(self.box):
            self.box.clear()
            for value, shown in options:
                self.box.addItem(shown, value)
        self.put(chosen)

    def as_kept(self, value: Any) -> str:
        """Return a saved value in the form of `value`; the first option stands in for an unknown one."""
        kept = str(super().as_kept(value))
        return kept if self.box.findData(kept) >= 0 else str(self.box.itemData(0) or "")

    def editor(self) -> QWidget:
        """Return the widget that takes the focus."""
        return self.box


class ManyField(Field):
    """Any of several, each a check box; the value is the tuple of those checked, options first given first."""

    wide = True

    def __init__(self, name: str, words: str, options: Sequence[tuple[str, str]]) -> None:
        super().__init__(name, words)
        self.boxes: dict[str, FramedCheckBox] = {}
        columns = 2 if typeface.scale() < ONE_COLUMN_FROM else 1
        stacks = [QVBoxLayout() for _ in range(columns)]
        for stack in stacks:
            self.line.addLayout(stack, 1)
        per_column = -(-len(options) // columns)
        for place, (value, shown) in enumerate(options):
            box = FramedCheckBox(shown)
            box.setAccessibleName(f"{words}: {shown}")
            box.clicked.connect(lambda _checked=False: self.commit())
            stacks[place // per_column].addWidget(box)
            self.boxes[value] = box
        for stack in stacks:
            stack.addStretch(1)
        self._unknown: tuple[str, ...] = ()

    def value(self) -> tuple[str, ...]:
        """Return the value in the field."""
        kept = tuple(self.kept or ())
        chosen = {value for value, box in self.boxes.items() if box.isChecked()} | set(self._unknown)
        return (*(value for value in kept if value in chosen), *sorted(chosen - set(kept)))

    def put(self, value: Any) -> None:
        """Set the value, without a signal."""
        wanted = tuple(value or ())
        self._unknown = tuple(one for one in wanted if one not in self.boxes)
        for name, box in self.boxes.items():
            box.setChecked(name in wanted)

    def as_kept(self, value: Any) -> Any:
        """Return a saved value in the form of `value`."""
        return tuple(value or ())

    def editor(self) -> QWidget:
        """Return the widget that takes the focus."""
        return next(iter(self.boxes.values()))
