"""What the window does automatically: hourly backups, deleting old addresses, reporting settings it cannot read."""

from __future__ import annotations

from collections.abc import Callable
from datetime import timedelta

import pytest
from PySide6.QtCore import QSettings
from pytestqt.qtbot import QtBot

from desk.app.background.upkeep import Keeping
from desk.session.pile.earlier import ids_that_left
from desk.session.setup.copies import copies_here
from desk.store.tables import settings
from desk.store.tables.hand_overs import hand_over
from desk.ui.bench import advance
from desk.ui.bridge import Desk
from desk.ui.kit import scheme, sound
from desk.ui.kit import type as typeface
from desk.ui.kit.kept_choice import unread_choices
from tests.ui.conftest import *  # noqa: F403


def kept(qtbot: QtBot, desk: Desk) -> Keeping:
    made = Keeping(desk, first_ms=0)
    qtbot.waitUntil(lambda: made._copied >= 0 and made._job is None, timeout=10_000)
    return made


def test_a_backup_is_made_at_the_start_and_later_only_after_a_step(qtbot: QtBot, desk: Desk) -> None:
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


def test_a_failed_backup_is_on_a_strip_until_one_succeeds(qtbot: QtBot, desk: Desk) -> None:
    assert desk.sitting.store.file is not None
    folder = desk.sitting.store.file.parent / "copies"
    folder.write_text("a file in the way")
    keeping = Keeping(desk, first_ms=0)
    qtbot.waitUntil(lambda: any("could not be backed up" in state.words for state in desk.states), timeout=10_000)
    folder.unlink()
    keeping.copy()
    qtbot.waitUntil(lambda: not desk.states, timeout=10_000)


def test_old_addresses_are_deleted_at_the_start(qtbot: QtBot, desk: Desk) -> None:
    with desk.sitting.store.act("Hand over") as tx:
        hand_over(tx, list(desk.pile.verdicts))
    desk.sitting.clock._now += timedelta(days=91)  # type: ignore[attr-defined]
    kept(qtbot, desk)
    desk.pile.bring(ids_that_left(desk.sitting))
    assert {one.case.order.address.address1 for one in desk.pile.verdicts.values()} == {""}


def test_a_setting_that_cannot_be_read_is_on_a_strip(qtbot: QtBot, desk: Desk) -> None:
    with desk.sitting.store.act("set") as tx:
        settings.write(tx, "privacy", [1, 2])
    kept(qtbot, desk)
    assert any("Can't read these settings" in state.words and "privacy" in state.words for state in desk.states)


@pytest.mark.parametrize(
    ("key", "words", "usual"),
    [
        ("look/scheme", "theme", lambda: scheme.chosen_scheme() == "system"),
        ("look/sound", "sound", lambda: sound.loudness() == "on"),
        ("look/type", "text size", lambda: typeface.chosen_size() == "100"),
        ("bench/advance", "advance automatically", lambda: not advance.advances()),
    ],
)
def test_an_unreadable_setting_of_this_computer_is_on_a_strip_and_in_the_log(
    qtbot: QtBot, desk: Desk, caplog: pytest.LogCaptureFixture, key: str, words: str, usual: Callable[[], bool]
) -> None:
    before = QSettings().value(key)
    QSettings().setValue(key, "sepia")
    try:
        assert usual()
        kept(qtbot, desk)
        assert [state.words for state in desk.states] == [
            f"Can't read these settings, so the usual ones are used: {words}. Set them again in Setup."
        ]
        assert [line.message for line in caplog.records if key in line.message] == [
            f"the choice '{key}' cannot be read; the usual one is used"
        ]
    finally:
        QSettings().remove(key) if before is None else QSettings().setValue(key, before)
    assert usual() or before is not None
    assert unread_choices() == ()
