"""A large table is read in the background while the window stays responsive; canceled, it stores nothing."""

from __future__ import annotations

import gc
from collections.abc import Callable
from pathlib import Path
from time import perf_counter, thread_time

import pytest
from PySide6.QtCore import Qt, QTimer
from pytestqt.qtbot import QtBot

from desk.session.importing.mappings import saved_mappings
from desk.ui.batch.view import BatchView
from desk.ui.bridge import Desk
from tests.ui.batch.importing.test_import_panel import HEAD
from tests.ui.batch.test_view import messages, show

MANY = 30_000
MOST_WORK_S = 0.2  # of processor for the window's thread between two ticks; reading this table takes it ten times that
PRODUCTS = "sku,name,unit_weight,weight_unit\n"


@pytest.fixture(scope="module")
def big(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """An order list of very many orders; its order numbers are in a column whose header is only similar."""
    file = tmp_path_factory.mktemp("big") / "fair.csv"
    rows = (f"{n},Ada Quist {n},{n} Quire St,Bath,ME,04530,US,Letterpress card,1\n" for n in range(MANY))
    file.write_text(HEAD + "".join(rows), encoding="utf-8")
    return file


class Ticks:
    """A timer that ticks every 5 ms: the longest time between two ticks, and the most the thread worked between two.

    What else the machine does makes the time longer, not the work.
    """

    def __init__(self) -> None:
        self.longest = self.most_work = 0.0
        self._begun = self._last = perf_counter()
        self._worked = thread_time()
        self._timer = QTimer(interval=5, timerType=Qt.TimerType.PreciseTimer)
        self._timer.timeout.connect(self._tick)
        self._timer.start()

    def _tick(self) -> None:
        now, worked = perf_counter(), thread_time()
        self.longest, self._last = max(self.longest, now - self._last), now
        self.most_work, self._worked = max(self.most_work, worked - self._worked), worked

    @property
    def answered(self) -> bool:
        """The window's thread did little at a time, and no wait was most of the whole."""
        return self.most_work < MOST_WORK_S and self.longest < max(0.25, (self._last - self._begun) / 2)


def far(view: BatchView) -> list[tuple[int, int]]:
    reported: list[tuple[int, int]] = []
    view.importing.reader.advanced.connect(lambda done, of: reported.append((done, of)))
    return reported


def test_the_window_stays_responsive_while_a_large_table_is_read(qtbot: QtBot, empty_desk: Desk, big: Path) -> None:
    view = show(qtbot, empty_desk)
    reported, ticks = far(view), Ticks()
    view.look_into(big)
    assert view.importing.is_busy
    assert view.importing._bar.isVisible()
    qtbot.waitUntil(lambda: view.importing.outcome is not None, timeout=60_000)
    assert view.importing.outcome.new == MANY
    assert ticks.answered
    assert {of for _, of in reported} == {1000}
    assert max(done for done, _ in reported) == 1000
    assert len({done for done, _ in reported}) > 10
    assert not view.importing._bar.isVisible()
    view.importing.leave()


@pytest.mark.parametrize("stage", ["look", "read"])
def test_an_import_canceled_midway_stores_nothing(qtbot: QtBot, empty_desk: Desk, big: Path, stage: str) -> None:
    gc.collect()
    gc.enable()  # reading turns it off, and has to turn it on again
    view = show(qtbot, empty_desk)
    events, reported, before = messages(empty_desk), far(view), empty_desk.sitting.store.revision
    ticks = Ticks()
    view.look_into(big)
    if stage == "read":
        qtbot.waitUntil(lambda: view.importing.preview is not None, timeout=60_000)
        reported.clear()
    qtbot.waitUntil(lambda: any(100 < done < 1000 for done, _ in reported), timeout=60_000)
    job = view.importing.reader._job
    qtbot.keyClick(view, Qt.Key.Key_Escape)
    assert not view.importing.isVisible()
    assert events[-1].words == "Stopped. Nothing was imported."
    qtbot.waitUntil(lambda: not job.is_running(), timeout=2_000)  # the thread ends soon, not at the end of the file
    qtbot.wait(50)
    assert ticks.most_work < MOST_WORK_S
    assert empty_desk.sitting.store.revision == before
    assert saved_mappings(empty_desk.sitting) == ()
    assert (view.importing.outcome, view.importing.preview, view.importing.reader._found) == (None, None, None)
    assert len(empty_desk.pile.verdicts) == 0
    assert gc.isenabled()


def test_a_long_product_list_is_compared_in_the_background(qtbot: QtBot, empty_desk: Desk, tmp_path: Path) -> None:
    file = tmp_path / "products.csv"
    file.write_text(PRODUCTS + "".join(f"P-{n},Pot {n},120,g\n" for n in range(3000)), encoding="utf-8")
    view = show(qtbot, empty_desk)
    ticks = Ticks()
    view.look_into(file)
    qtbot.waitUntil(lambda: view.importing.outcome is not None, timeout=60_000)
    assert (view.importing.outcome.new, ticks.answered) == (3000, True)


def test_a_window_that_closes_waits_for_the_thread(
    qtbot: QtBot, empty_desk: Desk, big: Path, open_desk: Callable[[Path], Desk]
) -> None:
    view = show(qtbot, empty_desk)
    view.look_into(big)
    qtbot.waitUntil(lambda: view.importing.preview is not None, timeout=60_000)
    job = view.importing.reader._job
    empty_desk.closing.emit()
    assert not job.is_running()
