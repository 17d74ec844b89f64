"""The card with what to write on the package, its recipient, its mailer and feel, with their keys."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QWidget

from desk.session.pile.packing import Placement
from desk.ui.bench.figure import Figure, FigureBox
from desk.ui.kit import type as typeface
from desk.ui.kit.card import Card, Inked
from desk.ui.kit.key_word import KeyWord
from desk.ui.kit.wrapping import FlowLayout

FEELS = {"slot": "S", "half": "H", "three quarters": "Q", "thicker": "K"}


class WriteCard(Card):
    """Shows the figure; each key word can be pressed as well."""

    mailer_asked = Signal()
    thickness_said = Signal(str)
    stiff_said = Signal()
    uneven_said = Signal()

    def __init__(self) -> None:
        super().__init__("Write on the package", "Write on the package")
        self.column.setContentsMargins(24, 8, 24, 8)
        self.figure = FigureBox()
        self.to = Inked(role="soft_ink", size=typeface.BODY)
        self.to.setWordWrap(True)
        self.recorded = Inked(role="fine", size=typeface.BODY, bold=True)
        self.column.addWidget(self.figure, 1)
        line = QHBoxLayout()
        line.addWidget(self.to, 1)
        line.addWidget(self.recorded)
        self.column.addLayout(line)
        self.keys = QWidget()
        self.keys.setLayout(self._build_keys())
        self.column.addWidget(self.keys)

    def _build_keys(self) -> FlowLayout:
        words = {
            "slot": 'fits the 1/4" slot',
            "half": 'up to 1/2"',
            "three quarters": 'up to 3/4"',
            "thicker": "thicker",
        }
        self.mailer = KeyWord("M", "mailer", can_shrink=True)
        self.feels = {name: KeyWord(FEELS[name], label, can_hold=True) for name, label in words.items()}
        self.stiff = KeyWord("B", "rigid", can_hold=True)
        self.uneven = KeyWord("U", "lumpy", can_hold=True)
        line = FlowLayout(gap=6)
        for word in (self.mailer, *self.feels.values(), self.stiff, self.uneven):
            line.addWidget(word)
        self.mailer.clicked.connect(self.mailer_asked)
        self.stiff.clicked.connect(self.stiff_said)
        self.uneven.clicked.connect(self.uneven_said)
        for name, word in self.feels.items():
            word.clicked.connect(lambda _checked=False, name=name: self.thickness_said.emit(name))
        return line

    def show_piece(self, figure: Figure, to: str, recorded: str) -> None:
        """Show what to write on the package, where it goes, and when its weight was recorded."""
        self.figure.show_figure(figure)
        self.to.setText(to)
        self.recorded.setText(recorded)

    def show_placement(self, placement: Placement | None, *, stiff: bool) -> None:
        """Show the mailer and feel; None: no piece is open. `stiff` includes what the mailer or the goods cause."""
        words = (self.mailer, *self.feels.values(), self.stiff, self.uneven)
        for word in words:
            word.setVisible(placement is not None)
        if placement is None:
            return
        self.mailer.say(mailer_words(placement))
        for name, word in self.feels.items():
            word.setChecked(placement.thickness == name)
        self.stiff.setChecked(stiff)
        self.uneven.setChecked(bool(placement.uneven))


def mailer_words(placement: Placement) -> str:
    """Return the mailer with its origin: `Guess: A7 envelope`, `A7 envelope (as 1043)`."""
    if not placement.mailer:
        return "choose a mailer"
    if placement.guessed:
        return f"Guess: {placement.mailer}"
    return f"{placement.mailer} ({placement.why})" if placement.why else placement.mailer
