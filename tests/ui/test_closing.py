"""A window with a print under way stays open and alive until it has ended; without one it closes at once."""

from __future__ import annotations

import threading
from collections.abc import Callable

import pytest
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from desk.ui.closing import WAITS, Closing
from desk.ui.jobs import Canceled, Job, Progress


class Held(QWidget):
    """A window that is held open."""

    def __init__(self) -> None:
        super().__init__()
        self.told: list[str] = []
        Closing(self, self.told.append)


@pytest.fixture
def window(qtbot: QtBot) -> Held:
    made = Held()
    qtbot.addWidget(made)
    made.show()
    return made


def started(window: QWidget, gate: threading.Event, *, must_report: bool, fails: bool = False) -> Job:
    def work(_progress: Progress, _canceled: Canceled) -> None:
        assert gate.wait(5)
        if fails:
            raise ValueError("The printer is gone.")

    job = Job(work, window, must_report=must_report)
    job.start()
    return job


def test_a_window_without_work_closes_at_once(window: Held) -> None:
    assert window.close()
    assert window.told == []


def test_work_without_an_outside_effect_does_not_keep_the_window_open(window: Held) -> None:
    gate = threading.Event()
    job = started(window, gate, must_report=False)
    assert window.close()
    gate.set()
    job.wait()


@pytest.mark.parametrize("fails", [False, True])
def test_a_print_ends_before_the_window_closes(qtbot: QtBot, window: Held, fails: bool) -> None:
    gate = threading.Event()
    job = started(window, gate, must_report=True, fails=fails)
    heard: list[bool] = []
    report: Callable[[object], None] = lambda _result: heard.append(window.isVisible())  # noqa: E731
    job.done.connect(report)
    job.failed.connect(report)
    assert not window.close()
    assert window.isVisible()
    assert window.told == [WAITS]
    gate.set()
    qtbot.waitUntil(lambda: not window.isVisible())
    assert heard == [True]  # its result was shown while the window was open


def test_a_second_try_closes_at_once(window: Held) -> None:
    gate = threading.Event()
    job = started(window, gate, must_report=True)
    assert not window.close()
    assert window.close()
    gate.set()
    job.wait()


class Lingering(Job):
    """A job whose thread goes on for a moment after its result was reported."""

    rest = threading.Event()

    def _run(self) -> None:
        super()._run()
        assert self.rest.wait(5)


def test_a_window_closes_once_printing_was_reported(qtbot: QtBot, window: Held) -> None:
    job = Lingering(lambda _progress, _canceled: None, window, must_report=True)
    with qtbot.waitSignal(job.done):
        job.start()
    assert window.close()
    job.rest.set()
    job.wait()
