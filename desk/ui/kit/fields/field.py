"""Form fields: a label, an editor, and below it a sentence for what is wrong.

A field emits `left` when its value differs from the saved one. It never opens anything and never refuses a key; typed
text stays, with its fault, until it is corrected.
"""

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from desk.domain.severity import Severity
from desk.ui.kit import type as typeface
from desk.ui.kit.card import Inked
from desk.ui.kit.mark import ROLE_OF
from desk.ui.kit.message import MarkDot
from desk.ui.kit.plain import PlainLabel

FieldValue = str | bool | tuple[str, ...]  # what a field holds: text, a box, or several words


def text_of(value: object) -> str:
    """Return a field's value that is text; empty for another one."""
    return value if isinstance(value, str) else ""


def texts_in(values: Mapping[str, FieldValue]) -> dict[str, str]:
    """Return the text values of a form."""
    return {name: value for name, value in values.items() if isinstance(value, str)}


def several(value: object) -> tuple[str, ...]:
    """Return a saved value as a tuple of texts; none for nothing."""
    return tuple(map(str, value)) if isinstance(value, list | tuple | set | frozenset) else ()


class FaultLine(QWidget):
    """A mark and a sentence; hidden when nothing is wrong."""

    def __init__(self) -> None:
        super().__init__()
        self._mark = MarkDot(Severity.STOP)
        self.label = Inked("", "stop", typeface.SMALL)
        self.label.setWordWrap(True)
        line = QHBoxLayout(self)
        line.setContentsMargins(0, 0, 0, 0)
        line.setSpacing(6)
        line.addWidget(self._mark)
        line.addWidget(self.label, 1)
        self.hide()

    def say(self, mark: Severity | None, sentence: str) -> None:
        """Show the sentence with its mark; an empty one hides the line."""
        self._mark.kind = mark or Severity.NOTE
        self.label.role = ROLE_OF[mark or Severity.NOTE]
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
        self.kept: FieldValue | None = None
        self.label = PlainLabel(words)
        self.label.setFont(typeface.font(typeface.SMALL))
        self.label.setWordWrap(True)
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

    def value(self) -> FieldValue:
        """Return the value in the field."""
        raise NotImplementedError

    def text(self) -> str:
        """Return the value of a field that holds text; empty for another one."""
        return text_of(self.value())

    def put(self, value: object) -> None:
        """Set the value, without a signal."""
        raise NotImplementedError

    def editor(self) -> QWidget:
        """Return the widget that takes the focus."""
        raise NotImplementedError

    def as_kept(self, value: object) -> FieldValue:
        """Return a saved value in the form of `value`, for comparing."""
        return str("" if value is None else value)

    def show_kept(self, value: object, *, fresh: bool = False) -> None:
        """Show the saved value; unsaved text stays, unless another record is shown (`fresh`)."""
        saved = self.as_kept(value)
        typed = not fresh and self.kept is not None and self.value() != self.kept
        self.kept = saved
        if not typed and self.value() != saved:
            self.put(saved)
        if fresh:
            self.say()

    def settle(self) -> None:
        """Show the saved value as it was understood."""

    def say(self, mark: Severity | None = None, sentence: str = "") -> None:
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
