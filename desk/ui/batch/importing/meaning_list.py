"""The list of column types. It opens over the column's header and closes after a choice."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QEvent, QObject, QRect, QSignalBlocker, QTimer, Signal
from PySide6.QtWidgets import QWidget

from desk.session.words.fields import field_words
from desk.ui.kit import type as typeface
from desk.ui.kit.fields.framed import Choices

NARROWEST = 260  # pixels at 100%: the longest field, and the column it is read from


class MeaningList(Choices):
    """The list. `chosen`: a field, or empty to skip the column; `closed`: whenever it closes."""

    chosen = Signal(str)
    closed = Signal()

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._room = parent
        self.hide()
        self.activated.connect(lambda place: self.chosen.emit(str(self.itemData(place) or "")))

    def offer(self, header: str, fields: Sequence[tuple[str, str]], chosen: str) -> None:
        """Offer these: a field, and the header of the column now read as it."""
        self.setAccessibleName(f"Type of column {header}")
        with QSignalBlocker(self):
            self.clear()
            self.addItem("Skip this column", "")
            for name, held in fields:
                now = "" if not held or held == header else f"  ({held})"
                self.addItem(field_words(name) + now, name)
            self.setCurrentIndex(max(0, self.findData(chosen)))

    def open_at(self, head: QRect, typed: str) -> None:
        """Open over a column's header, at the first entry that begins with the typed text."""
        width = max(head.width(), round(NARROWEST * typeface.scale()))
        left = max(0, min(head.left(), self._room.width() - width))
        self.setGeometry(left, head.top(), width, head.height())
        self.show()
        self.setFocus()
        self.showPopup()
        self.view().keyboardSearch("")  # forgets what was typed into the list before
        self.view().keyboardSearch(typed)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() is QEvent.Type.Hide:
            QTimer.singleShot(0, self._close)  # after `activated`, which may come later
        return super().eventFilter(watched, event)

    def _close(self) -> None:
        if self.isVisible():
            self.hide()
            self.closed.emit()
