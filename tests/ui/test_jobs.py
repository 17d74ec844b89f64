from __future__ import annotations

import threading
import weakref

import pytest
from pytestqt.qtbot import QtBot

from desk.ui.jobs import Canceled, Job, Progress


def test_the_result_comes_back_in_the_main_thread(qtbot: QtBot) -> None:
    threads: list[str] = []

    def work(progress: Progress, _canceled: Canceled) -> int:
        threads.append(threading.current_thread().name)
        progress(1, 2)
        return 42

    job = Job(work)
    reported: list[tuple[int, int]] = []
    job.advanced.connect(lambda done, of: reported.append((done, of)))
    job.done.connect(lambda _result: threads.append(threading.current_thread().name))
    with qtbot.waitSignal(job.done) as ended:
        job.start()
    job.wait()
    assert ended.args == [42]
    assert reported == [(1, 2)]
    assert threads == ["job", "MainThread"]
    assert not job.is_running()


def test_a_finished_job_releases_its_objects(qtbot: QtBot) -> None:
    """A screen makes a job for each paper, and they live as long as the screen does."""

    class Pile:
        pass

    pile = Pile()
    seen = weakref.ref(pile)
    job = Job(lambda _progress, _canceled, pile=pile: None)  # type: ignore[misc]
    with qtbot.waitSignal(job.done):
        job.start()
    job.wait()
    del pile
    assert seen() is None


def test_an_error_in_a_job_is_reported(qtbot: QtBot) -> None:
    def work(_progress: Progress, _canceled: Canceled) -> None:
        raise ValueError("no")

    job = Job(work)
    with qtbot.waitSignal(job.failed) as ended:
        job.start()
    assert isinstance(ended.args[0], ValueError)


def test_canceled_work_returns_nothing(qtbot: QtBot) -> None:
    begun = threading.Event()

    def work(_progress: Progress, canceled: Canceled) -> str:
        begun.set()
        while not canceled():
            pass
        return "too late"

    job = Job(work)
    done: list[object] = []
    job.done.connect(done.append)
    with qtbot.waitSignal(job.stopped):
        job.start()
        assert begun.wait(5)
        job.cancel()
    assert done == []


def test_waiting_for_a_job_that_never_started_returns() -> None:
    job = Job(lambda _progress, _canceled: None)
    job.wait()
    assert not job.is_running()


def test_a_result_is_held_back_while_a_step_waits_for_the_store(qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> None:
    waits = True
    monkeypatch.setattr(Job, "in_a_step", lambda: waits)
    reported: list[object] = []
    job = Job(lambda _progress, _canceled: 7)
    job.done.connect(reported.append)
    job.start()
    qtbot.wait(150)
    assert reported == []
    waits = False
    qtbot.waitUntil(lambda: reported == [7], timeout=2000)
