"""HS codes that may fit a line: hints to choose from, never filled in unseen."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QPushButton, QVBoxLayout, QWidget

from desk.session.customs.product_goods import HsChoice
from desk.ui.customs.enter import ENTER
from desk.ui.kit import type as typeface
from desk.ui.kit.card import Inked
from desk.ui.kit.fields.choice_fields import ONE_COLUMN_FROM
from desk.ui.kit.plain import set_tip

MOST_CHARACTERS, MOST_CHARACTERS_LARGE = 60, 30


class HsHints(QWidget):
    """Suggested HS codes as buttons, below the caution that they are hints. Hidden when there are none.

    Down in the field of the code goes to the first one, the arrows from one to the next and back, Enter takes it.
    """

    chosen = Signal(str)

    def __init__(self, field: QWidget) -> None:
        super().__init__()
        self._field = field
        field.installEventFilter(self)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 4)
        self.buttons: list[QPushButton] = []
        self.shown: tuple[HsChoice, ...] = ()
        self._caution = Inked(
            "Codes that may fit (\u2193 to choose). These are suggestions, not rulings. Customs decides.",
            "soft_ink",
            typeface.SMALL,
        )
        self._caution.setWordWrap(True)
        self._column.addWidget(self._caution)
        self.hide()

    def show_choices(self, choices: Sequence[HsChoice]) -> None:
        """Show these codes."""
        self.setVisible(bool(choices))
        if tuple(choices) == self.shown:
            return
        self.shown = tuple(choices)
        for button in self.buttons:
            button.hide()
            button.deleteLater()
        self.buttons = [self._button(choice) for choice in choices]
        for button in self.buttons:
            self._column.addWidget(button)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if not isinstance(event, QKeyEvent) or event.type() is not QEvent.Type.KeyPress:
            return super().eventFilter(watched, event)
        return self._pressed(watched, event.key()) or super().eventFilter(watched, event)

    def _pressed(self, part: QObject, key: int) -> bool:
        """Do what a key does in the field or on a code; return False for a key that does nothing there."""
        at = next((place for place, button in enumerate(self.buttons) if button is part), -1)  # -1: in the field
        if key in ENTER and at >= 0:
            self.buttons[at].click()
        elif key == Qt.Key.Key_Down and self.isVisible() and at + 1 < len(self.buttons):
            self.buttons[at + 1].setFocus()
        elif key == Qt.Key.Key_Up and at >= 0:
            (self.buttons[at - 1] if at else self._field).setFocus()
        else:
            return False
        return True

    def _button(self, choice: HsChoice) -> QPushButton:
        most = MOST_CHARACTERS if typeface.scale() < ONE_COLUMN_FROM else MOST_CHARACTERS_LARGE
        why = "matched: {words}".format(words=", ".join(choice.matched))
        words = f"{choice.code}  {choice.words}"
        button = QPushButton(f"{_cut(words, most)}   ({why})".replace("&", "&&"))
        button.setStyleSheet("text-align: left; padding: 4px 10px;")
        whole = "; ".join(part for part in (words, choice.heading, choice.note, why, choice.source) if part)
        set_tip(button, whole)
        button.setAccessibleName(f"Code that may fit: {whole}")
        button.installEventFilter(self)
        button.clicked.connect(lambda _checked=False: self.chosen.emit(choice.code))
        return button


def _cut(words: str, most: int) -> str:
    return words if len(words) <= most else words[: most - 1] + "\u2026"
