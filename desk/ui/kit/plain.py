"""Text from outside stays plain: labels and tooltips never interpret markup in it.

Qt takes a text with a tag in it for rich text, and then opens the files and pictures it names. So every label is a
`PlainLabel` and every tooltip goes through `plain_tip`; a test walks all widgets with markup in every field.
"""

from __future__ import annotations

from html import escape

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QListWidgetItem, QWidget


class PlainLabel(QLabel):
    """A label that shows its text exactly as written."""

    def __init__(self, words: str = "", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setText(words)


def plain_tip(words: str) -> str:
    """Return a text for a tooltip, which has no plain format, with any markup escaped."""
    if "<" not in words and "&" not in words:
        return words
    return f'<span style="white-space: pre-wrap">{escape(words)}</span>'


def set_tip(widget: QWidget | QListWidgetItem, words: str) -> None:
    """Set a tooltip that shows the text exactly as written."""
    widget.setToolTip(plain_tip(words))
