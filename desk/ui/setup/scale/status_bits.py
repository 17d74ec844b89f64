"""The card for a scale's status bits: their meaning, found by three trials, trusted or forgotten."""

from __future__ import annotations

from PySide6.QtCore import Slot
from PySide6.QtGui import QHideEvent
from PySide6.QtWidgets import QPushButton, QSizePolicy

from desk.session.scale.choice import ScaleChoice, bits_are_disputed, pattern_of, trust_bit, trusted_bit
from desk.session.scale.status_trial import DISPUTED, StatusTrial, bit_words
from desk.ui.bridge import Desk
from desk.ui.kit import type as typeface
from desk.ui.kit.card import Card, Inked
from desk.ui.kit.wrapping import FlowLayout
from desk.ui.scale_bridge import ScaleBridge


class BitsCard(Card):
    """Only for scales whose bits are disputed; none is trusted until you say so."""

    def __init__(self, desk: Desk, usual: ScaleChoice) -> None:
        super().__init__("Status bits", "Status bits")
        self._desk, self._usual = desk, usual
        self._choice = usual
        self._trial: StatusTrial | None = None
        self.words = Inked(role="soft_ink", size=typeface.SMALL)
        self.words.setWordWrap(True)
        self.begin = _button("Find out")
        self.so = _button("Done")
        self.trust = _button("Trust it")
        self.forget = _button("Forget it")
        self.column.addWidget(self.words)
        line = FlowLayout(gap=8)
        for button, slot in (
            (self.so, self._go_on),
            (self.trust, self._trust),
            (self.begin, self._begin),
            (self.forget, self._forget),
        ):
            line.addWidget(button)
            button.clicked.connect(slot)
        self.column.addLayout(line)
        if isinstance(desk.scale, ScaleBridge):
            desk.scale.line_read.connect(self._hear)

    def show_choice(self, choice: ScaleChoice) -> None:
        """Show what is known about this scale's bits; another scale ends a trial."""
        if choice != self._choice:
            self._choice, self._trial = choice, None
        self.setVisible(bits_are_disputed(choice))
        self._show()

    def hideEvent(self, event: QHideEvent) -> None:
        """Forget an unfinished trial."""
        self._trial = None
        self._show()
        super().hideEvent(event)

    @Slot(object)
    def _hear(self, line: bytes) -> None:
        if self._trial is not None and self._trial.listens:
            self._trial.hear(line)
            self._show()

    def _begin(self) -> None:
        self._trial = StatusTrial(pattern_of(self._choice))
        self._show()

    def _go_on(self) -> None:
        if self._trial is not None:
            self._trial.begin()
            self._show()

    def _trust(self) -> None:
        bit = self._trial.found if self._trial else None
        if bit is not None:
            self._desk.do(trust_bit, bit, self._usual)

    def _forget(self) -> None:
        self._desk.do(trust_bit, None, self._usual)

    def _show(self) -> None:
        trial, trusted = self._trial, trusted_bit(self._choice)
        if trial is not None:
            self.words.setText(trial.words())
        elif trusted is not None:
            self.words.setText(f"Trusted: {bit_words(trusted)}")
        else:
            self.words.setText(DISPUTED)
        self.so.setVisible(trial is not None and bool(trial.step) and not trial.listens)
        self.trust.setVisible(trial is not None and trial.found is not None)
        self.begin.setVisible(trial is None or not trial.step)
        self.begin.setText("Try again" if trial is not None or trusted else "Find out")
        self.begin.setAccessibleName(self.begin.text())
        self.forget.setVisible(trial is None and trusted is not None)


def _button(words: str) -> QPushButton:
    button = QPushButton(words)
    button.setAccessibleName(words)
    button.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
    return button
