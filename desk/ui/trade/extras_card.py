"""The extras of a piece, one per line: key, name with the price, and whether it is chosen."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QVBoxLayout, QWidget

from desk.session.bench.extra_choice import ExtraChoice
from desk.ui.kit import type as typeface
from desk.ui.kit.card import Inked
from desk.ui.kit.key_word import KeyWord

EXTRA_KEYS = {  # one extra for each key; the page shows those that the piece can have
    "Ctrl+Shift+C": "certificate-of-mailing",
    "Ctrl+Shift+F": "certificate-firm-sheet",
    "Ctrl+Shift+I": "insurance",
    "Ctrl+Shift+B": "insurance-abroad",
    "Ctrl+Shift+G": "signature",
}


class ExtrasCard(QWidget):
    """Shows the extras a piece can have; pressing one, or its key, emits `turned` with its code."""

    def __init__(self, turned: Callable[[str], None]) -> None:
        super().__init__()
        self.choices: tuple[ExtraChoice, ...] = ()
        self.words = Inked(size=typeface.BODY)
        self.words.setWordWrap(True)
        self.buttons = {
            code: KeyWord(key, code.replace("-", " ").capitalize(), can_hold=True, can_shrink=True)
            for key, code in EXTRA_KEYS.items()
        }
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        column.addWidget(self.words)
        for code, button in self.buttons.items():
            button.clicked.connect(lambda _checked=False, code=code: turned(code))
            column.addWidget(button, 0, Qt.AlignmentFlag.AlignLeft)

    def show_choices(self, choices: Sequence[ExtraChoice], words: str) -> None:
        """Show these extras below the words, such as why there is none; empty words take no room."""
        self.choices = tuple(choices)
        by_code = {choice.code: choice for choice in choices}
        for code, button in self.buttons.items():
            choice = by_code.get(code)
            button.setVisible(choice is not None)
            if choice is not None:
                button.say(choice.words[:1].upper() + choice.words[1:])
                button.setChecked(choice.is_chosen)
        self.words.setText(words)
        self.words.setVisible(bool(words))
