from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path

from pytestqt.qtbot import QtBot

from desk.app.background.day import follow_the_day
from desk.app.sitting import open_demo, open_own
from desk.ui.bridge import Desk


@dataclass
class SetClock:
    """A clock that shows the time it is set to."""

    at: datetime

    def now(self) -> datetime:
        return self.at

    def monotonic(self) -> float:
        return 0.0


def at_noon_after(desk: Desk, days: int) -> SetClock:
    noon = datetime.now(UTC).astimezone().replace(hour=12)
    return SetClock((noon + timedelta(days=days)).astimezone(UTC))


def test_a_window_left_open_past_midnight_continues_with_the_new_day(qtbot: QtBot, tmp_path: Path) -> None:
    desk = open_own(tmp_path / "store.sqlite")
    before = desk.sitting.on
    timer = follow_the_day(desk)
    desk.sitting.clock = at_noon_after(desk, 1)
    timer.setInterval(1)
    qtbot.waitUntil(lambda: desk.pile.terms.on == before + timedelta(days=1))
    desk.closing.emit()
    assert not timer.isActive()
    desk.sitting.store.close()


def test_the_demo_keeps_its_date(qtbot: QtBot) -> None:
    desk = open_demo()
    assert not follow_the_day(desk).isActive()
    desk.sitting.store.close()
