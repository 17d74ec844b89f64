"""The command finder: type what you want, see its key, press Enter to do it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from PySide6.QtCore import QEvent, QObject, QRect, Qt, Signal
from PySide6.QtGui import QKeyEvent, QKeySequence, QPainter, QPaintEvent
from PySide6.QtWidgets import QLineEdit, QListWidget, QListWidgetItem, QVBoxLayout, QWidget

from desk.ui.kit import type as typeface
from desk.ui.kit.card import Inked
from desk.ui.kit.palette import sheet_in_force

WIDE, HIGH, EDGE = 560, 420, 12  # pixels at 100%
MOVES = (Qt.Key.Key_Up, Qt.Key.Key_Down, Qt.Key.Key_PageUp, Qt.Key.Key_PageDown)
OWN_KEYS = frozenset({*MOVES, Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Escape})


@dataclass(frozen=True, slots=True)
class Command:
    """A command: its words, its screen (empty: every screen), its keys, and its function."""

    words: str
    screen: str
    keys: str
    do: Callable[[], None]

    @property
    def native_keys(self) -> str:
        """Return the keys as the system writes them."""
        native = QKeySequence.SequenceFormat.NativeText
        return " or ".join(QKeySequence(keys).toString(native) for keys in self.keys.split())

    def matches(self, text: str) -> bool:
        """Return whether every word of the text begins a word of the command, its screen or its keys."""
        own = f"{self.words} {self.screen} {self.keys}".casefold().replace("(", " ").split()
        return all(any(word.startswith(part) for word in own) for part in text.casefold().split())


class CommandFinder(QWidget):
    """A line and a list over the open screen. `left`: closed by Escape; `chosen`: a command was chosen."""

    left = Signal()
    chosen = Signal(object)  # Command

    def __init__(self, over: QWidget) -> None:
        super().__init__(over.parentWidget())
        self._over = over
        self._commands: tuple[Command, ...] = ()
        self.shown: tuple[Command, ...] = ()
        self.setAccessibleName("Command finder")
        self.line = QLineEdit()
        self.line.setAccessibleName("What do you want to do?")
        self.line.setPlaceholderText("What do you want to do?")
        self.line.setFont(typeface.font(typeface.STRONG))
        self.list = QListWidget()
        self.list.setAccessibleName("Commands")
        self.list.setFont(typeface.font(typeface.BODY))
        self.list.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.nothing = Inked("No command matches. Try another word.", "soft_ink")
        column = QVBoxLayout(self)
        column.setContentsMargins(EDGE, EDGE, EDGE, EDGE)
        for widget in (self.line, self.list, self.nothing):
            column.addWidget(widget)
        self.line.textChanged.connect(lambda _text: self._filter())
        self.list.itemClicked.connect(lambda item: self._choose(self.list.row(item)))
        self.line.installEventFilter(self)
        over.installEventFilter(self)
        self.hide()

    def open(self, commands: Sequence[Command]) -> None:
        """Show the finder with these commands and put the focus in its line."""
        self._commands = tuple(commands)
        self.line.clear()
        self._filter()
        self._place()
        self.show()
        self.raise_()
        self.line.setFocus()

    def _filter(self) -> None:
        text = self.line.text().strip().casefold()
        fitting = (one for one in self._commands if one.matches(text))
        self.shown = tuple(sorted(fitting, key=lambda one: one.words.casefold() != text))  # its whole name first
        self.list.clear()
        for command in self.shown:
            screen = f"{command.screen}: " if command.screen else ""
            keys = f"   ({command.native_keys})" if command.keys else ""
            self.list.addItem(QListWidgetItem(f"{screen}{command.words}{keys}"))
        self.list.setCurrentRow(0)
        self.list.setVisible(bool(self.shown))
        self.nothing.setVisible(not self.shown)

    def _choose(self, row: int) -> None:
        if 0 <= row < len(self.shown):
            self.chosen.emit(self.shown[row])

    def _place(self) -> None:
        room, scale = self._over.geometry(), typeface.scale()
        wide, high = min(round(WIDE * scale), room.width() - 2 * EDGE), min(round(HIGH * scale), room.height() - EDGE)
        self.setGeometry(QRect(room.center().x() - wide // 2, room.top(), wide, high))

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if watched is self._over and event.type() is QEvent.Type.Resize and self.isVisible():
            self._place()
        is_override = event.type() is QEvent.Type.ShortcutOverride
        if watched is self.line and is_override and isinstance(event, QKeyEvent) and event.key() in OWN_KEYS:
            event.accept()  # before the screen's own Escape or Enter
            return True
        if watched is self.line and isinstance(event, QKeyEvent) and event.type() is QEvent.Type.KeyPress:
            if event.key() == Qt.Key.Key_Escape:
                self.left.emit()
                return True
            if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
                self._choose(self.list.currentRow())
                return True
            if event.key() in MOVES:
                self.list.keyPressEvent(event)
                return True
        return super().eventFilter(watched, event)

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter, sheet = QPainter(self), sheet_in_force()
        painter.fillRect(self.rect(), sheet.color("card"))
        painter.setPen(sheet.color("soft_ink"))
        painter.drawRect(self.rect().adjusted(0, 0, -1, -1))
