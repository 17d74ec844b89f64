"""One window per store: a second start wakes the first, whatever way the store is named; other stores are left alone."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtNetwork import QLocalSocket
from pytestqt.qtbot import QtBot

from desk.app.one_window import OneWindow


@pytest.fixture
def open_window() -> Iterator[list[OneWindow]]:
    made: list[OneWindow] = []
    yield made
    for one in made:
        one.close()


def listening(store: Path, opened: list[OneWindow], woken: list[int]) -> OneWindow:
    one = OneWindow(store)
    one.listen(lambda: woken.append(1))
    opened.append(one)
    return one


@pytest.mark.parametrize("times", [1, 3])
def test_each_further_start_wakes_the_open_window(
    qtbot: QtBot, tmp_path: Path, open_window: list[OneWindow], times: int
) -> None:
    woken: list[int] = []
    listening(tmp_path / "store.sqlite", open_window, woken)
    assert [OneWindow(tmp_path / "store.sqlite").wake_other() for _ in range(times)] == [True] * times
    qtbot.waitUntil(lambda: len(woken) == times)


def test_another_store_is_another_window(qtbot: QtBot, tmp_path: Path, open_window: list[OneWindow]) -> None:
    woken: list[int] = []
    listening(tmp_path / "store.sqlite", open_window, woken)
    assert not OneWindow(tmp_path / "other.sqlite").wake_other()
    other: list[int] = []
    listening(tmp_path / "other.sqlite", open_window, other)
    assert OneWindow(tmp_path / "other.sqlite").wake_other()
    qtbot.waitUntil(lambda: other == [1])
    assert woken == []


def test_a_closed_window_is_not_woken(tmp_path: Path, open_window: list[OneWindow]) -> None:
    woken: list[int] = []
    listening(tmp_path / "store.sqlite", open_window, woken).close()
    assert not OneWindow(tmp_path / "store.sqlite").wake_other()
    assert woken == []


def test_the_name_is_the_same_from_wherever_it_is_started(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    assert OneWindow(Path("store.sqlite")).name == OneWindow(tmp_path / "store.sqlite").name


def test_the_name_tells_nothing_of_the_person(tmp_path: Path) -> None:
    name = OneWindow(tmp_path / "ada quist" / "store.sqlite").name
    assert name.startswith("tare-and-tag-")
    assert "ada" not in name.removeprefix("tare-and-tag-")
    assert len(name) < 60  # names of sockets are short on some systems


def test_whoever_wakes_it_and_hangs_up_at_once_is_no_trouble(
    qtbot: QtBot, tmp_path: Path, open_window: list[OneWindow]
) -> None:
    woken: list[int] = []
    one = listening(tmp_path / "store.sqlite", open_window, woken)
    socket = QLocalSocket()
    socket.connectToServer(one.name)
    assert socket.waitForConnected(2000)
    socket.abort()
    assert OneWindow(tmp_path / "store.sqlite").wake_other()
    qtbot.waitUntil(lambda: len(woken) == 2)
