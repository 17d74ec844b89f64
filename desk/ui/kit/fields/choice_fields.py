"""Fields with choices: yes or no, one of several, any of several."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QSignalBlocker, QSize
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QComboBox, QGridLayout, QWidget

from desk.ui.kit import type as typeface
from desk.ui.kit.fields.field import Field, several
from desk.ui.kit.fields.framed import Choices, FramedCheckBox

ONE_COLUMN_FROM = 1.5  # at this text size there is room for one column only


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

    def put(self, value: object) -> None:
        """Set the value, without a signal."""
        self.box.setChecked(bool(value))

    def as_kept(self, value: object) -> bool:
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
        for value, label in options:
            self.box.addItem(label, value)
        self.box.currentIndexChanged.connect(lambda _place: self.commit())
        self._seat(self.box)

    def value(self) -> str:
        """Return the value in the field."""
        return str(self.box.currentData() or "")

    def put(self, value: object) -> None:
        """Set the value, without a signal."""
        with QSignalBlocker(self.box):
            self.box.setCurrentIndex(max(0, self.box.findData(value or "")))

    def offer(self, options: Sequence[tuple[str, str]]) -> None:
        """Replace the options, without a signal; the choice stays if it is still there."""
        chosen = self.value()
        with QSignalBlocker(self.box):
            self.box.clear()
            for value, label in options:
                self.box.addItem(label, value)
        self.put(chosen)

    def as_kept(self, value: object) -> str:
        """Return a saved value in the form of `value`; the first option stands in for an unknown one."""
        text = str(super().as_kept(value))
        return text if self.box.findData(text) >= 0 else str(self.box.itemData(0) or "")

    def editor(self) -> QWidget:
        """Return the widget that takes the focus."""
        return self.box


class _TwoColumns(QWidget):
    """Widgets in two columns of equal width, read from top to bottom; in one where two are too wide."""

    def __init__(self, parts: Sequence[QWidget]) -> None:
        super().__init__()
        self._parts, self._columns = parts, 0
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._arrange(1 if typeface.scale() >= ONE_COLUMN_FROM else 2)

    def minimumSizeHint(self) -> QSize:
        return QSize(self._widest(), super().minimumSizeHint().height())

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        both = 2 * self._widest() + self._grid.horizontalSpacing()
        self._arrange(1 if typeface.scale() >= ONE_COLUMN_FROM or self.width() < both else 2)

    def _widest(self) -> int:
        return max((part.sizeHint().width() for part in self._parts), default=0)

    def _arrange(self, columns: int) -> None:
        if columns == self._columns:
            return
        self._columns = columns
        rows = -(-len(self._parts) // columns)
        for at, part in enumerate(self._parts):
            self._grid.addWidget(part, at % rows, at // rows)
        for column in range(2):
            self._grid.setColumnStretch(column, int(column < columns))
        self.updateGeometry()


class ManyField(Field):
    """Any of several, each a check box; the value is the tuple of those checked, options first given first."""

    wide = True

    def __init__(self, name: str, words: str, options: Sequence[tuple[str, str]]) -> None:
        super().__init__(name, words)
        self.boxes: dict[str, FramedCheckBox] = {}
        for value, label in options:
            box = FramedCheckBox(label)
            box.setAccessibleName(f"{words}: {label}")
            box.clicked.connect(lambda _checked=False: self.commit())
            self.boxes[value] = box
        self.line.addWidget(_TwoColumns(list(self.boxes.values())), 1)
        self._unknown: tuple[str, ...] = ()

    def value(self) -> tuple[str, ...]:
        """Return the value in the field."""
        saved = several(self.kept)
        chosen = {value for value, box in self.boxes.items() if box.isChecked()} | set(self._unknown)
        return (*(value for value in saved if value in chosen), *sorted(chosen - set(saved)))

    def put(self, value: object) -> None:
        """Set the value, without a signal."""
        wanted = several(value)
        self._unknown = tuple(one for one in wanted if one not in self.boxes)
        for name, box in self.boxes.items():
            box.setChecked(name in wanted)

    def as_kept(self, value: object) -> tuple[str, ...]:
        """Return a saved value in the form of `value`."""
        return several(value)

    def editor(self) -> QWidget:
        """Return the widget that takes the focus."""
        return next(iter(self.boxes.values()))
