"""Long work ends in exactly one way, whatever happens to it, and a window that closes waits for none for ever."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable
from typing import Any

import pytest
from PySide6.QtCore import QObject
from pytestqt.qtbot import QtBot
from shiboken6 import delete

from desk.domain.faults import Refused
from desk.ui.jobs import Canceled, Job, Progress

Gate = threading.Event


def ends_of(job: Job) -> list[str]:
    heard: list[str] = []
    job.done.connect(lambda _result: heard.append("done"))
    job.failed.connect(lambda _error: heard.append("failed"))
    job.stopped.connect(lambda: heard.append("stopped"))
    return heard


def fine(_progress: Progress, _canceled: Canceled) -> int:
    return 42


def fails(_progress: Progress, _canceled: Canceled) -> None:
    raise Refused("Not now.")


@pytest.mark.parametrize(("work", "end"), [(fine, "done"), (fails, "failed")])
def test_a_job_ends_exactly_once(qtbot: QtBot, work: Callable[..., Any], end: str) -> None:
    job = Job(work)
    heard = ends_of(job)
    job.start()
    qtbot.waitUntil(lambda: heard == [end])
    assert not job.is_running()


@pytest.mark.parametrize("work", [fine, fails])
def test_a_job_canceled_before_its_start_returns_nothing(qtbot: QtBot, work: Callable[..., Any]) -> None:
    job = Job(work)
    heard = ends_of(job)
    job.cancel()
    job.start()
    qtbot.waitUntil(lambda: heard == ["stopped"])


def test_an_error_after_canceling_is_not_reported(qtbot: QtBot) -> None:
    begun, go_on = Gate(), Gate()

    def work(_progress: Progress, _canceled: Canceled) -> None:
        begun.set()
        assert go_on.wait(5)
        raise ValueError("the file was closed under it")

    job = Job(work)
    heard = ends_of(job)
    job.start()
    assert begun.wait(5)
    job.cancel()
    go_on.set()
    qtbot.waitUntil(lambda: heard == ["stopped"])


def test_a_job_can_see_that_it_was_canceled(qtbot: QtBot) -> None:
    seen: list[bool] = []
    begun, go_on = Gate(), Gate()

    def work(_progress: Progress, canceled: Canceled) -> None:
        seen.append(canceled())
        begun.set()
        assert go_on.wait(5)
        seen.append(canceled())

    job = Job(work)
    job.start()
    assert begun.wait(5)
    assert job.is_running()
    job.cancel()
    go_on.set()
    job.wait()
    assert seen == [False, True]


def test_canceling_twice_stops_once(qtbot: QtBot) -> None:
    job = Job(fine)
    heard = ends_of(job)
    job.cancel()
    job.cancel()
    job.start()
    qtbot.waitUntil(lambda: not job.is_running() and bool(heard))
    assert heard == ["stopped"]


def test_a_refusal_in_a_job_keeps_its_sentence(qtbot: QtBot) -> None:
    job = Job(fails)
    with qtbot.waitSignal(job.failed) as failed:
        job.start()
    assert failed.args[0].sentence == "Not now."


def test_progress_is_reported_in_order(qtbot: QtBot) -> None:
    reported: list[tuple[int, int]] = []

    def work(progress: Progress, _canceled: Canceled) -> None:
        for done in range(5):
            progress(done, 5)

    job = Job(work)
    job.advanced.connect(lambda done, of: reported.append((done, of)))
    with qtbot.waitSignal(job.done):
        job.start()
    assert reported == [(done, 5) for done in range(5)]


def test_waiting_ends_after_its_time_limit() -> None:
    go_on = Gate()
    job = Job(lambda _progress, _canceled: go_on.wait(5))
    job.start()
    job.wait(0.01)
    assert job.is_running()
    go_on.set()
    job.wait()
    assert not job.is_running()


def test_two_jobs_do_not_get_results_of_each_other(qtbot: QtBot) -> None:
    first, second = Job(lambda _progress, _canceled: "first"), Job(lambda _progress, _canceled: "second")
    results: list[object] = []
    first.done.connect(results.append)
    second.done.connect(results.append)
    first.cancel()
    first.start()
    second.start()
    qtbot.waitUntil(lambda: results == ["second"])
    qtbot.waitUntil(lambda: not first.is_running())
    assert results == ["second"]


@pytest.mark.parametrize("fails_then", [False, True])
def test_a_job_whose_screen_is_gone_is_canceled_silently(monkeypatch: pytest.MonkeyPatch, *, fails_then: bool) -> None:
    """A store that is opened and left at once takes its screens away while their threads still run."""
    errors: list[threading.ExceptHookArgs] = []
    monkeypatch.setattr(threading, "excepthook", errors.append)
    begun, go_on = Gate(), Gate()
    seen: list[bool] = []

    def work(progress: Progress, canceled: Canceled) -> None:
        begun.set()
        assert go_on.wait(5)
        progress(1, 2)
        seen.append(canceled())
        if fails_then:
            raise ValueError("the store was closed under it")

    screen = QObject()
    job = Job(work, screen)
    thread = job._thread
    job.start()
    assert begun.wait(5)
    delete(screen)
    go_on.set()
    thread.join(5)
    assert (seen, errors, thread.is_alive()) == ([True], [], False)


def test_a_job_with_an_outside_effect_reports_before_the_store_closes() -> None:
    """A paper that was printed is recorded as printed, also when the window is closed while it prints."""
    begun = Gate()

    def prints(_progress: Progress, _canceled: Canceled) -> int:
        begun.set()
        time.sleep(0.05)
        return 42

    job, other = Job(prints, must_report=True), Job(prints)
    heard, results = [ends_of(job), ends_of(other)], list[object]()
    job.done.connect(results.append)
    for one in (job, other):
        one.start()
    assert begun.wait(5)
    for one in (job, other):
        one.end()
    assert results == [42]
    assert heard == [["done"], []]


def test_a_result_that_was_reported_at_the_end_is_not_reported_twice(qtbot: QtBot) -> None:
    job = Job(fine, must_report=True)
    heard = ends_of(job)
    job.start()
    job.end()
    job.end()
    qtbot.wait(20)  # the queued report comes now
    assert heard == ["done"]
