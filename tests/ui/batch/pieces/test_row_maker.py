"""Rows of a large list are made a few at a time, and shown once all are made."""

from __future__ import annotations

from datetime import timedelta

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from desk.domain.status import PieceStatus
from desk.session.pile.bulk_changes import set_beside
from desk.session.pile.mailing_date import post_on
from desk.store.tables import packages
from desk.ui.batch.pieces import row_maker
from desk.ui.batch.pieces.rows import row_of
from desk.ui.batch.view import BatchView
from desk.ui.bridge import Desk

pytestmark = pytest.mark.screen(BatchView, size=(1216, 640))


@pytest.fixture
def few_at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(row_maker, "AT_ONCE", 10)
    monkeypatch.setattr(row_maker, "PART", 7)


@pytest.mark.usefixtures("few_at_once")
def test_many_new_rows_appear_together_with_changes_made_meanwhile(view: BatchView, desk: Desk, qtbot: QtBot) -> None:
    qtbot.waitUntil(lambda: not view.list.rows.is_busy)
    before, model = list(view.list.model.shown), view.list.model
    desk.do(post_on, desk.pile.terms.on + timedelta(days=60))
    view.list.rows.make_some()
    assert model.shown == before
    assert view.list.rows._due
    changed = before[0].piece_id  # its row is made already, and is outdated now
    desk.do(set_beside, [changed], PieceStatus.SET_ASIDE)
    qtbot.waitUntil(lambda: not view.list.rows.is_busy)
    on = desk.pile.terms.on
    assert model._rows == {number: row_of(number, verdict, on) for number, verdict in desk.pile.verdicts.items()}
    assert model._rows[changed].status is PieceStatus.SET_ASIDE


@pytest.mark.usefixtures("few_at_once")
def test_pieces_that_are_gone_are_not_selected_while_rows_are_made(view: BatchView, desk: Desk, qtbot: QtBot) -> None:
    qtbot.waitUntil(lambda: not view.list.rows.is_busy)
    qtbot.keyClick(view.list.table, Qt.Key.Key_A, Qt.KeyboardModifier.ControlModifier)
    opened: list[int] = []
    view.list.opened.connect(opened.append)
    gone = view.list.chosen()[0]
    desk.do(post_on, desk.pile.terms.on + timedelta(days=60))
    assert view.list.rows.is_busy
    with desk.sitting.store.act("Piece removed") as tx:
        packages.remove(tx, [gone])
    desk.sitting.announce(desk.sitting.store.last_changes)
    assert gone not in desk.pile.verdicts
    assert view.list.model.shown[0].piece_id == gone  # still shown
    assert gone not in view.list.chosen()
    assert view.list.chosen()
    view.list._list_services()
    view.list.toggle_aside()
    view.list._open_row(0)
    assert opened == []


def test_few_new_rows_are_shown_at_once(view: BatchView, desk: Desk) -> None:
    first = view.list.model.shown[0].piece_id
    desk.do(set_beside, [first], PieceStatus.SET_ASIDE)
    assert view.list.model._rows[first].status is PieceStatus.SET_ASIDE
    assert not view.list.rows.is_busy
