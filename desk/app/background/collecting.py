"""Collect garbage in the main thread only.

Python collects in whatever thread happens to allocate. A widget destroyed in another thread leaves its timers behind,
and the next one to fire crashes the program (seen with papers made in a job's thread).
"""

from __future__ import annotations

import gc

from PySide6.QtCore import QObject, QTimer

EVERY_MS = 500


def collect_in_main_thread(parent: QObject) -> QTimer:
    """Turn Python's own collecting off, and collect what is due from a timer of the calling thread."""
    gc.disable()
    timer = QTimer(parent)
    timer.timeout.connect(collect_due)
    timer.start(EVERY_MS)
    return timer


def collect_due() -> None:
    """Collect the oldest generation that has reached Python's own threshold."""
    counts = zip(gc.get_count(), gc.get_threshold(), strict=True)
    due = [age for age, (count, threshold) in enumerate(counts) if 0 < threshold < count]
    if due:
        gc.collect(due[-1])
