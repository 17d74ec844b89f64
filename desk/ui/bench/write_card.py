"""The card with what to write on it, to whom it goes, what it is in and how it feels, with the keys for that."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout

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
        super().__init__("Write on it", "Write on it")
        self.figure = FigureBox()
        self.to = Inked(role="soft_ink", size=typeface.BODY)
        self.to.setWordWrap(True)
        self.recorded = Inked(role="fine", size=typeface.BODY, bold=True)
        self.column.addWidget(self.figure, 1)
        line = QHBoxLayout()
        line.addWidget(self.to, 1)
        line.addWidget(self.recorded)
        self.column.addLayout(line)
        self.column.addLayout(self._build_keys())

    def _build_keys(self) -> FlowLayout:
        words = {
            "slot": "through the slot",
            "half": "to 1/2 in",
            "three quarters": "to 3/4 in",
            "thicker": "thicker",
        }
        self.mailer = KeyWord("M", "mailer", can_shrink=True)
        self.feels = {name: KeyWord(FEELS[name], said, can_hold=True) for name, said in words.items()}
        self.stiff = KeyWord("B", "stiff", can_hold=True)
        self.uneven = KeyWord("U", "uneven", can_hold=True)
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
        """Show what to write on it, where it goes, and when it was recorded."""
        self.figure.show_figure(figure)
        self.to.setText(to)
        self.recorded.setText(recorded)

    def show_placement(self, placement: Placement | None, *, stiff: bool) -> None:
        """Show what it is in and how it feels; None: no piece is open. `stiff` also says what mailer or goods bring."""
        words = (self.mailer, *self.feels.values(), self.stiff, self.uneven)
        for word in words:
            word.setVisible(placement is not None)
        if placement is None:
            return
        named = placement.mailer or "choose a mailer"
        self.mailer.say(f"{named} ({placement.why})" if placement.why and placement.mailer else named)
        for name, word in self.feels.items():
            word.setChecked(placement.thickness == name)
        self.stiff.setChecked(stiff)
        self.uneven.setChecked(bool(placement.uneven))
