"""A database server that hangs in the middle of a step: the window goes on painting, and the reading stays on the bench."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator
from decimal import Decimal
from itertools import pairwise
from pathlib import Path

import pytest
from PySide6.QtCore import QTimer
from pytestqt.qtbot import QtBot

from desk.app.wiring import Opening, prepare, words
from desk.scales.port import Link, LinkState
from desk.scales.reading import State, shown_reading
from desk.session.importing.import_orders import import_orders, import_shop
from desk.store import store as store_module
from desk.store.engine import NO_ANSWER
from desk.store.server import ServerConnection
from desk.store.tables import pieces
from desk.ui.window import Window
from tests.session import made
from tests.store.conftest import postgres_where as postgres_where  # noqa: PLC0414 - fixtures
from tests.store.conftest import server as server  # noqa: PLC0414 - fixtures
from tests.store.hanging import Hanging

PATIENCE_S = 1.0  # 5 in the program


@pytest.fixture
def server_hangs(postgres_where: str, monkeypatch: pytest.MonkeyPatch) -> Iterator[Hanging]:
    monkeypatch.setattr(ServerConnection, "patience", PATIENCE_S)
    monkeypatch.setattr(ServerConnection, "silent_at", float("-inf"))
    hanging = Hanging(postgres_where)
    yield hanging
    hanging.go_on()


@pytest.fixture
def opening(server_hangs: Hanging, qapp: object, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Opening]:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    monkeypatch.setattr(Opening, "_watch_for_bugs", lambda _opening: None)
    prepare(qapp)
    opening = Opening(Window(words()))
    opening.open(server_hangs.where)
    import_shop(opening.desk.sitting, made.shop())
    import_orders(opening.desk.sitting, [made.order("1"), made.order("2")])
    opening.window.show()
    opening.window.open_screen("Bench")
    yield opening
    server_hangs.go_on()
    opening.close()


def before_the_step(server: Hanging, _patch: pytest.MonkeyPatch) -> None:
    server.hang()


def in_the_middle(server: Hanging, patch: pytest.MonkeyPatch) -> None:
    record = pieces.record

    def hung(*words: object, **options: object) -> None:
        server.hang()
        record(*words, **options)

    patch.setattr(pieces, "record", hung)


def at_the_commit(server: Hanging, patch: pytest.MonkeyPatch) -> None:
    tell = store_module.tell_others

    def hung(conn: object) -> None:
        tell(conn)
        server.hang()

    patch.setattr(store_module, "tell_others", hung)


@pytest.mark.parametrize("hangs", [before_the_step, in_the_middle, at_the_commit])
def test_the_window_stays_responsive_while_the_server_hangs_and_saves_the_reading_later(
    qtbot: QtBot, opening: Opening, server_hangs: Hanging, hangs: Callable[[Hanging, pytest.MonkeyPatch], None]
) -> None:
    desk = opening.desk
    piece = next(iter(desk.pile.verdicts))
    bench = opening.window._screens["Bench"]
    bench.does.opening.open_piece(piece)
    now, messages, ticks = 0.0, [], []
    desk.scale.clock = lambda: now
    desk.happened.connect(lambda event: messages.append(event.words))
    timer = QTimer(interval=20)
    timer.timeout.connect(lambda: ticks.append(time.monotonic()))

    def pan(value: str) -> None:
        nonlocal now
        desk.scale._hear(LinkState(Link.LIVE))
        for _ in range(10):
            now += 0.1
            desk.scale._hear((now, shown_reading(Decimal(value), "oz", State.STABLE, b"")))

    pan("0")
    timer.start()
    with pytest.MonkeyPatch.context() as patch:
        hangs(server_hangs, patch)
        began = time.monotonic()
        pan("0.7")
        took = time.monotonic() - began
    qtbot.wait(60)
    timer.stop()
    assert NO_ANSWER in messages
    assert PATIENCE_S * 0.9 < took < PATIENCE_S + 2.5, took
    assert max(after - before for before, after in pairwise(ticks)) < 0.9  # the aim is 0.35 on a quiet machine
    assert (desk.scale.live.asks, desk.pile.verdicts[piece].case.weighing) == (True, None)
    assert desk.scale.live.says == "Use 0.7 oz for this one? Press Enter, or clear the scale first."
    server_hangs.go_on()

    def saved() -> bool:
        bench.does.weighing.take()
        weighing = desk.pile.verdicts[piece].case.weighing
        return weighing is not None and weighing.shown.value == Decimal("0.7")

    qtbot.waitUntil(saved, timeout=15_000)
    assert desk.steps()[0] == "Weighed 1"
    desk.undo()
    assert desk.steps()[0] == "Orders imported", "the weight was saved once"
