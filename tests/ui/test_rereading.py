"""A large pile is judged again between two events: screens keep working, and learn of it at the end."""

from __future__ import annotations

from datetime import timedelta

import pytest
from pytestqt.qtbot import QtBot

from desk.domain.faults import Refused
from desk.session.pile.following import full_reading, judged_pieces
from desk.session.pile.mailing_date import post_on
from desk.session.pile.pile import Pile
from desk.ui import rereading
from desk.ui.batch.view import BatchView
from desk.ui.bridge import UNREAD, Desk, DeskChanges


@pytest.fixture
def in_parts(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> Desk:
    """The demo, read in parts of ten pieces."""
    monkeypatch.setattr(judged_pieces, "AT_ONCE", 20)
    monkeypatch.setattr(full_reading, "PART", 10)
    return desk


def test_a_step_is_announced_at_once_and_its_prices_at_the_end(in_parts: Desk, qtbot: QtBot) -> None:
    begun: list[DeskChanges] = []
    changed: list[DeskChanges] = []
    in_parts.begun.connect(begun.append)
    in_parts.changed.connect(changed.append)
    view = BatchView(in_parts)
    qtbot.addWidget(view)
    view.show()
    on = in_parts.pile.terms.on + timedelta(days=60)  # in a season with other prices
    in_parts.do(post_on, on)
    assert (in_parts.pile.terms.on, in_parts.pile.counts.on) == (on, on - timedelta(days=60))
    assert (len(begun), changed) == (1, [])
    qtbot.waitUntil(lambda: in_parts.pile.progress is None)
    assert [reported.changes.settings for reported in changed] == [True]
    assert in_parts.pile.verdicts == Pile(in_parts.sitting).verdicts
    assert in_parts.pile.counts.on == on
    assert view.list.model._on == on


def test_a_strip_counts_up_during_the_reading(in_parts: Desk, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(rereading, "SHOWN_AFTER_S", 0)
    words: list[str] = []
    in_parts.states_changed.connect(lambda: words.extend(state.words for state in in_parts.states))
    count = len(in_parts.pile.verdicts)
    in_parts.read_all()
    qtbot.waitUntil(lambda: in_parts.pile.progress is None)
    reported = [one for one in dict.fromkeys(words) if one.startswith("Updating")]
    assert reported[0].startswith(f"Updating {count} pieces: ")
    assert len(reported) > 3
    assert not any(state.words.startswith("Updating") for state in in_parts.states)


def test_an_unreachable_server_stops_the_reading(in_parts: Desk, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_: object) -> None:
        raise Refused("The server is away.")

    in_parts.read_all()
    monkeypatch.setattr(full_reading, "read_stored", refuse)
    qtbot.waitUntil(lambda: UNREAD in in_parts._states)
    assert in_parts.sitting.store.is_unsure
    monkeypatch.undo()
    in_parts.read_all()  # as when it is back
    qtbot.waitUntil(lambda: in_parts.pile.progress is None)
    assert UNREAD not in in_parts._states


def test_it_ends_when_everything_was_read_at_once_meanwhile(
    in_parts: Desk, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    in_parts.read_all()
    assert in_parts.rereading._timer.isActive()
    monkeypatch.setattr(judged_pieces, "AT_ONCE", 1_000)  # as when an import was undone and few are left
    in_parts.read_all()
    assert in_parts.pile.progress is None
    qtbot.waitUntil(lambda: not in_parts.rereading._timer.isActive())
