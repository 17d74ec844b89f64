"""Warming up runs once, in the background, as soon as there are pieces."""

from __future__ import annotations

import pytest
from pytestqt.qtbot import QtBot

from desk.app.background import warm_up as warm
from desk.app.background.warm_up import WarmUp
from desk.domain.orders.order import Order
from desk.domain.shop.shop import Shop
from desk.session.importing.import_orders import import_orders, import_shop
from desk.ui.bridge import Desk
from tests.ui.conftest import (  # noqa: F401 - fixtures
    demo,
    demo_store,
    desk,
    empty_desk,
    looks_the_same,
    open_desk,
    rulebook,
)


@pytest.fixture
def warmed(monkeypatch: pytest.MonkeyPatch) -> list[object]:
    found: list[object] = []
    monkeypatch.setattr(warm, "warm_up", found.append)
    return found


def test_warming_up_begins_at_once_if_there_are_pieces(qtbot: QtBot, desk: Desk, warmed: list[object]) -> None:  # noqa: F811
    WarmUp(desk)
    qtbot.waitUntil(lambda: warmed == [desk.sitting])


def test_warming_up_waits_for_the_first_orders_and_runs_once(
    qtbot: QtBot,
    empty_desk: Desk,  # noqa: F811
    demo: tuple[Shop, tuple[Order, ...]],  # noqa: F811
    warmed: list[object],
) -> None:
    WarmUp(empty_desk)
    import_shop(empty_desk.sitting, demo[0])
    assert warmed == []
    for count in (3, 6):
        import_orders(empty_desk.sitting, demo[1][:count])
    qtbot.waitUntil(lambda: bool(warmed))
    empty_desk.closing.emit()
    assert warmed == [empty_desk.sitting]


def test_warming_up_ends_before_the_store_is_closed(qtbot: QtBot, desk: Desk) -> None:  # noqa: F811
    beside = WarmUp(desk)
    desk.closing.emit()
    assert beside._job is not None
    assert not beside._job.is_running()
