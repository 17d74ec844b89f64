"""The line of the virtual scale: put the next piece on, lift it, or autoplay."""

from __future__ import annotations

from PySide6.QtCore import QTimer, Signal
from PySide6.QtWidgets import QWidget

from desk.ui.kit import type as typeface
from desk.ui.kit.card import Inked
from desk.ui.kit.key_word import KeyWord
from desk.ui.kit.wrapping import FlowLayout

LOOK_MS = 800  # how long each figure stays during autoplay


class VirtualStrip(QWidget):
    """The line, marked as virtual. `put_asked` and `lift_asked` come from keys, clicks and autoplay."""

    put_asked = Signal()
    lift_asked = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.setAccessibleName("Virtual scale")
        self.put = KeyWord("P", "put the next piece on")
        self.lift = KeyWord("L", "lift it off")
        self.play = KeyWord("J", "autoplay", can_hold=True)
        self._pause = QTimer(self, singleShot=True, interval=LOOK_MS)
        self._pause.timeout.connect(self.lift_asked)
        line = FlowLayout(self, gap=6)
        line.addWidget(Inked("Virtual scale", "look", typeface.BODY, bold=True))
        for word, slot in ((self.put, self.put_asked), (self.lift, self.lift_asked), (self.play, self.toggle)):
            line.addWidget(word)
            word.clicked.connect(slot)

    @property
    def plays(self) -> bool:
        """True during autoplay."""
        return self.play.isChecked()

    def toggle(self) -> None:
        """Start or stop autoplay."""
        self.play.setChecked(not self.plays)
        self.play.say("stop autoplay" if self.plays else "autoplay")
        if self.plays:
            self.put_asked.emit()
        else:
            self._pause.stop()

    def recorded(self) -> None:
        """During autoplay, lift the piece shortly after its weight is recorded."""
        if self.plays:
            self._pause.start()

    def nothing_left(self) -> None:
        """Stop autoplay: every piece was weighed."""
        if self.plays:
            self.toggle()
