"""Follow the calendar: a window left open over midnight continues with the new date."""

from __future__ import annotations

from PySide6.QtCore import QTimer

from desk.domain.clock import today
from desk.ui.bridge import Desk

LOOK_EVERY_MS = 60_000


def follow_the_day(desk: Desk) -> QTimer:
    """Check the date once a minute while the desk is open; a demo keeps its own day."""
    timer = QTimer(desk)
    if desk.is_demo:
        return timer
    timer.timeout.connect(lambda: desk.turn_to(today(desk.sitting.clock)))
    desk.closing.connect(timer.stop)
    timer.start(LOOK_EVERY_MS)
    return timer
