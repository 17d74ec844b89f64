"""The bench says when something is not enough for the packages that wait."""

from __future__ import annotations

import pytest
from pytestqt.qtbot import QtBot

from desk.app.background import low_stock
from desk.app.background.low_stock import STRIP, LowStock
from desk.domain.clock import today
from desk.domain.faults import Refused
from desk.domain.money import Money
from desk.session.money.stock import INSERTS, buy, stock_items
from desk.ui.bridge import Desk, OngoingState
from tests.ui.conftest import *  # noqa: F403


def test_the_strip_appears_after_a_pause_and_opens_the_stock_page(qtbot: QtBot, weighed_desk: Desk) -> None:
    low = LowStock(weighed_desk, pause_ms=20)
    low.count()
    assert STRIP not in weighed_desk._states
    item = next(one for one in stock_items(weighed_desk.pile) if one.name == INSERTS)
    weighed_desk.do(buy, item, 1, Money(5), today(weighed_desk.sitting.clock))
    qtbot.waitUntil(lambda: STRIP in weighed_desk._states)
    state = weighed_desk._states[STRIP]
    assert state.words == "Not enough for the packages here: Inserts. See Costs > Stock."
    assert state.only_on == "Bench"
    with qtbot.waitSignal(weighed_desk.screen_asked) as asked:
        state.ways[0][1]()
    assert asked.args == ["Costs", "Stock"]
    weighed_desk.undo()
    qtbot.waitUntil(lambda: STRIP not in weighed_desk._states)


def test_the_strip_stays_while_the_server_is_unreachable(weighed_desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    low = LowStock(weighed_desk)
    strip = OngoingState("Not enough")
    weighed_desk.state(STRIP, strip)

    def refuse(*_facts: object) -> None:
        raise Refused("The server is away.")

    monkeypatch.setattr(low_stock, "running_out", refuse)
    low.count()
    assert weighed_desk._states[STRIP] is strip
