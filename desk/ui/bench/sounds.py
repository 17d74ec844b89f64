"""Sounds: one for fine, two for a look, three for a stop; louder plays each pattern twice.

Sounds are never the only signal, and can be turned off.
"""

from __future__ import annotations

from collections import deque

from PySide6.QtCore import QObject, QTimer

from desk.domain.severity import Severity
from desk.ui.kit.sound import choose_sound, is_sound_on, loudness, sound

BEEPS = {Severity.FINE: 1, Severity.NOTE: 1, Severity.LOOK: 2, Severity.STOP: 3}
GAP_MS = 220
PAUSE = (False, False)


class Sounds(QObject):
    """Plays the sound pattern of a mark."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._beats: deque[bool] = deque()
        self._timer = QTimer(self, interval=GAP_MS)
        self._timer.timeout.connect(self._again)

    @property
    def are_on(self) -> bool:
        """Whether sounds are on."""
        return is_sound_on()

    def switch(self) -> bool:
        """Turn sounds on or off, and return whether they are on now."""
        choose_sound(not is_sound_on())
        return is_sound_on()

    def play(self, mark: Severity) -> None:
        """Play the pattern of a mark."""
        once = [True] * BEEPS[mark]
        self._beats = deque([*once, *PAUSE, *once] if loudness() == "loud" else once)
        self._again()
        self._timer.start()

    def _again(self) -> None:
        if not self._beats:
            self._timer.stop()
        elif self._beats.popleft():
            sound()
