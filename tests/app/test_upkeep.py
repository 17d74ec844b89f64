"""What the window does by itself: copies on start and by the hour, old addresses forgotten, settings that cannot be read."""

from __future__ import annotations

from datetime import timedelta

from pytestqt.qtbot import QtBot

from desk.app.background.upkeep import UNREAD, Keeping
from desk.session.setup.copies import copies_here
from desk.store.tables import settings
from desk.store.tables.hand_overs import hand_over
from desk.ui.bridge import Desk
from tests.ui.conftest import *  # noqa: F403


def kept(qtbot: QtBot, desk: Desk) -> Keeping:
    made = Keeping(desk, first_ms=0)
    qtbot.waitUntil(lambda: made._copied >= 0 and made._job is None, timeout=10_000)
    return made


def test_a_copy_on_start_and_another_only_when_something_was_done(qtbot: QtBot, desk: Desk) -> None:
    keeping = kept(qtbot, desk)
    assert len(copies_here(desk.sitting)) == 1
    keeping.copy()
    assert keeping._job is None
    with desk.sitting.store.act("Hand over") as tx:
        hand_over(tx, [1])
    desk.sitting.clock._now += timedelta(hours=1)  # type: ignore[attr-defined]
    keeping.copy()
    qtbot.waitUntil(lambda: keeping._job is None, timeout=10_000)
    assert len(copies_here(desk.sitting)) == 2


def test_a_copy_that_fails_is_on_a_strip_until_one_is_made(qtbot: QtBot, desk: Desk) -> None:
    assert desk.sitting.store.file is not None
    folder = desk.sitting.store.file.parent / "copies"
    folder.write_text("a file in the way")
    keeping = Keeping(desk, first_ms=0)
    qtbot.waitUntil(lambda: any("could not be backed up" in state.words for state in desk.states), timeout=10_000)
    folder.unlink()
    keeping.copy()
    qtbot.waitUntil(lambda: not desk.states, timeout=10_000)


def test_old_addresses_are_forgotten_on_start(qtbot: QtBot, desk: Desk) -> None:
    with desk.sitting.store.act("Hand over") as tx:
        hand_over(tx, list(desk.pile.verdicts))
    desk.sitting.clock._now += timedelta(days=91)  # type: ignore[attr-defined]
    kept(qtbot, desk)
    assert {one.case.order.address.address1 for one in desk.pile.verdicts.values()} == {""}


def test_a_setting_that_cannot_be_read_is_on_a_strip(qtbot: QtBot, desk: Desk) -> None:
    with desk.sitting.store.act("set") as tx:
        settings.write(tx, "privacy", [1, 2])
    kept(qtbot, desk)
    assert any("Can't read these settings" in state.words and "privacy" in state.words for state in desk.states)
    assert UNREAD
