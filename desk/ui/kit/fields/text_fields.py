"""Fields to type into: one line of text, or several words with commas."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget

from desk.ui.kit.fields.field import Field, several
from desk.ui.kit.fields.framed import FramedLine


class EditField(Field):
    """A field with a line to type into."""

    def __init__(self, name: str, words: str, *, hint: str = "") -> None:
        super().__init__(name, words)
        self.edit = FramedLine()
        self.edit.setPlaceholderText(hint)
        self.edit.editingFinished.connect(self.commit)
        self._seat(self.edit)

    def put(self, value: object) -> None:
        """Set the value, without a signal."""
        self.edit.setText(str(value or ""))
        self.edit.setCursorPosition(0)

    def settle(self) -> None:
        """Show what was saved of what was typed."""
        if self.value() != self.kept:
            self.put(self.kept)

    def editor(self) -> QWidget:
        """Return the widget that takes the focus."""
        return self.edit


class LineField(EditField):
    """One line of text."""

    def value(self) -> str:
        """Return the text in the field."""
        return self.edit.text().strip()


class WordsField(EditField):
    """Several phrases separated by commas; the value is a tuple."""

    def value(self) -> tuple[str, ...]:
        """Return the phrases in the field."""
        return tuple(part.strip() for part in self.edit.text().split(",") if part.strip())

    def put(self, value: object) -> None:
        """Set the value, without a signal."""
        super().put(", ".join(several(value)))

    def as_kept(self, value: object) -> tuple[str, ...]:
        """Return a saved value in the form of `value`."""
        return several(value)
