"""The window follows other benches and runs, undoes only its own steps, and goes on painting while another one writes."""

from __future__ import annotations

import sqlite3
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import closing
from itertools import pairwise
from pathlib import Path

import pytest
from PySide6.QtCore import QTimer
from pytestqt.qtbot import QtBot

from desk.app.background.follow_benches import NAP_S, SERVER, SHOWN_AFTER_S, TAKEN, WAITING, OtherBenches
from desk.domain.faults import Refused
from desk.domain.orders.piece import PieceKey
from desk.session.bench.weigh import weigh
from desk.session.importing.import_orders import import_orders
from desk.session.pile.bulk_changes import choose_mailer
from desk.session.pile.following import judged_pieces
from desk.session.sitting import Sitting
from desk.store import engine, following
from desk.store.following import Follower
from desk.store.store import open_store
from desk.ui.bridge import OLD_VIEW, Desk
from tests.session import made
from tests.ui.conftest import *  # noqa: F403

OpenDesk = Callable[[Path], Desk]


@pytest.fixture
def followed(desk: Desk) -> Desk:
    desk.sitting.store.bench = "bench of the window"
    OtherBenches(desk)
    return desk


@pytest.fixture
def other(followed: Desk) -> Sitting:
    """A run on the same data."""
    store = open_store(followed.sitting.store.file or "", followed.sitting.clock, "run 1")
    yield Sitting(store, followed.sitting.clock, followed.sitting.rulebook, followed.sitting.on)
    store.close()


def key(desk: Desk, piece: int) -> PieceKey:
    return desk.pile.verdicts[piece].case.key


def test_weights_recorded_by_a_run_are_shown_within_a_second(qtbot: QtBot, followed: Desk, other: Sitting) -> None:
    began = time.monotonic()
    weigh(other, [(key(followed, 1), made.weighing("0.7"))])
    qtbot.waitUntil(lambda: followed.pile.verdicts[1].case.weighing is not None, timeout=5000)
    assert time.monotonic() - began < 2  # aim 1 s; twice that on a busy machine


def test_new_orders_of_another_bench_are_shown(qtbot: QtBot, followed: Desk, other: Sitting) -> None:
    count = len(followed.pile.verdicts)
    import_orders(other, [made.order("from the other bench")])
    qtbot.waitUntil(lambda: len(followed.pile.verdicts) == count + 1, timeout=5000)


def test_undo_reverses_only_steps_of_this_window(qtbot: QtBot, followed: Desk, other: Sitting) -> None:
    followed.do(choose_mailer, [2], "Padded")
    weigh(other, [(key(followed, 1), made.weighing("0.7"))])
    qtbot.waitUntil(lambda: followed.pile.verdicts[1].case.weighing is not None, timeout=5000)
    followed.undo()
    assert followed.pile.verdicts[2].case.mailer == ""
    assert followed.pile.verdicts[1].case.weighing is not None
    messages: list[str] = []
    followed.happened.connect(lambda event: messages.append(event.words))
    for _ in range(5):
        followed.undo()
    assert followed.pile.verdicts[1].case.weighing is not None


def test_a_piece_that_is_open_at_another_bench_is_marked_as_in_use(
    qtbot: QtBot, followed: Desk, other: Sitting
) -> None:
    there = Follower(other.store, other.clock)
    there.open_piece = 3

    def reported() -> bool:
        there.news()
        return 3 in followed.taken

    qtbot.waitUntil(reported, timeout=8000)
    (strip,) = [state for state in followed.states if "Open at the other bench" in state.words]
    assert (strip.only_on, followed.pile.verdicts[3].case.number in strip.words) == ("Bench", True)
    there.leave()
    there.open_piece = None
    followed.piece_on_bench.emit(1)
    qtbot.waitUntil(lambda: not followed.taken, timeout=8000)
    assert TAKEN


def test_the_window_paints_while_another_bench_writes(qtbot: QtBot, followed: Desk, other: Sitting) -> None:
    holds, seen, ticks = threading.Event(), [], []

    def write() -> None:
        with other.store.writing():
            holds.set()
            time.sleep(0.7)

    writer = threading.Thread(target=write)
    writer.start()
    holds.wait(5)
    followed.states_changed.connect(lambda: seen.append([state.words for state in followed.states]))
    timer = QTimer(interval=20)
    timer.timeout.connect(lambda: ticks.append(1))
    timer.start()
    followed.do(choose_mailer, [2], "Padded")
    timer.stop()
    writer.join()
    assert followed.pile.verdicts[2].case.mailer == "Padded"
    assert ["Waiting for the other bench."] in seen
    assert len(ticks) > 5
    qtbot.waitUntil(lambda: not [state for state in followed.states if "Waiting" in state.words], timeout=3000)
    assert WAITING


@pytest.fixture
def locked(followed: Desk) -> Iterator[None]:
    """The other bench holds the file's lock during the test."""
    with closing(sqlite3.connect(followed.sitting.store.file or "", isolation_level=None)) as raw:
        raw.execute("BEGIN IMMEDIATE")
        yield
        raw.execute("ROLLBACK")


@pytest.mark.usefixtures("locked")
def test_waiting_for_the_database_lock_happens_in_another_thread_and_ends_with_a_sentence(
    qtbot: QtBot, followed: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(engine, "BUSY_SECONDS", 0.6)
    at, messages = [time.monotonic()], []
    timer = QTimer(interval=10)
    timer.timeout.connect(lambda: at.append(time.monotonic()))
    followed.happened.connect(lambda event: messages.append(event.words))
    timer.start()
    followed.do(choose_mailer, [2], "Padded")
    timer.stop()
    gaps = [later - earlier for earlier, later in pairwise(at)]
    assert at[-1] - at[0] > 0.5
    assert max(gaps) < 3 * (SHOWN_AFTER_S + NAP_S)
    assert messages == [engine.BUSY]
    assert followed.pile.verdicts[2].case.mailer == ""


@pytest.mark.usefixtures("locked")
def test_a_weight_that_settles_during_a_wait_is_refused_at_once(
    qtbot: QtBot, followed: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(engine, "BUSY_SECONDS", 0.6)
    messages: list[str] = []
    followed.happened.connect(lambda event: messages.append(event.words))
    QTimer.singleShot(200, lambda: followed.do(choose_mailer, [3], "Padded"))
    began = time.monotonic()
    followed.do(choose_mailer, [2], "Padded")
    assert time.monotonic() - began < 2
    assert messages == ["Waiting for the other bench. Try again in a moment.", engine.BUSY]


def test_an_unreachable_server_is_reported_until_it_is_back(
    qtbot: QtBot, followed: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    with monkeypatch.context() as away:

        def gone(_self: Follower) -> None:
            raise Refused("The server does not answer.")

        away.setattr(following.Follower, "news", gone)
        qtbot.waitUntil(lambda: any("does not answer" in state.words for state in followed.states), timeout=5000)
    qtbot.waitUntil(lambda: not followed.states, timeout=5000)
    assert SERVER


def test_changes_that_could_not_be_read_are_shown_once_they_can_be(
    qtbot: QtBot, followed: Desk, other: Sitting, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A server that answers again and falls silent at the first question leaves nothing old on the screen."""

    def refuses(*_words: object) -> None:
        raise Refused("The server does not answer.")

    with monkeypatch.context() as away:
        away.setattr(judged_pieces, "read_stored", refuses)
        weigh(other, [(key(followed, 1), made.weighing("0.7"))])
        qtbot.waitUntil(lambda: OLD_VIEW in [state.words for state in followed.states], timeout=5000)
        qtbot.wait(500)
        assert followed.pile.verdicts[1].case.weighing is None
    qtbot.waitUntil(lambda: not followed.states, timeout=5000)
    assert followed.pile.verdicts[1].case.weighing is not None


def test_a_closed_window_stops_following(qtbot: QtBot, followed: Desk) -> None:
    followed.closing.emit()
    assert not [one for one in threading.enumerate() if one.name == "other benches"]
