"""Sounds: one for good, two for a look, three for a stop; louder is each pattern twice.

Never the only sign of anything, and they can be off.
"""

from __future__ import annotations

from collections import deque

from PySide6.QtCore import QObject, QTimer

from desk.ui.kit.sound import choose_sound, is_sound_on, loudness, sound

BEEPS = {"fine": 1, "note": 1, "look": 2, "stop": 3}
GAP_MS = 220
PAUSE = (False, False)


class Sounds(QObject):
    """Sounds in the pattern of a mark."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._beats: deque[bool] = deque()
        self._timer = QTimer(self, interval=GAP_MS)
        self._timer.timeout.connect(self._again)

    @property
    def are_on(self) -> bool:
        """Whether the person wants to hear them."""
        return is_sound_on()

    def switch(self) -> bool:
        """On if they were off, else off; what they are now."""
        choose_sound(not is_sound_on())
        return is_sound_on()

    def play(self, mark: str) -> None:
        """Let the pattern of a mark be heard."""
        once = [True] * BEEPS[mark]
        self._beats = deque([*once, *PAUSE, *once] if loudness() == "loud" else once)
        self._again()
        self._timer.start()

    def _again(self) -> None:
        if not self._beats:
            self._timer.stop()
        elif self._beats.popleft():
            sound()
