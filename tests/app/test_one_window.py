"""One window per store: a second start wakes the first, whatever way the store is named; other stores are left alone."""

from __future__ import annotations

import subprocess
import sys
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
def test_starting_again_brings_the_open_window_to_the_front(
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


def test_the_socket_name_does_not_depend_on_the_current_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    assert OneWindow(Path("store.sqlite")).name == OneWindow(tmp_path / "store.sqlite").name


def test_the_socket_name_does_not_reveal_the_user_or_the_folder(tmp_path: Path) -> None:
    name = OneWindow(tmp_path / "ada quist" / "store.sqlite").name
    assert name.startswith("tare-and-tag-")
    assert "ada" not in name.removeprefix("tare-and-tag-")
    assert len(name) < 60  # names of sockets are short on some systems


def test_a_second_start_that_disconnects_at_once_does_no_harm(
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


def test_when_two_start_at_the_same_moment_only_one_opens(tmp_path: Path, open_window: list[OneWindow]) -> None:
    """Neither listens yet, so neither can be woken; only the lock distinguishes them."""
    open_window += [OneWindow(tmp_path / "store.sqlite") for _ in range(2)]
    assert [one.wake_other() for one in open_window] == [False, True]


def test_what_was_closed_can_be_opened_again(tmp_path: Path, open_window: list[OneWindow]) -> None:
    open_window += [OneWindow(tmp_path / "store.sqlite") for _ in range(2)]
    first, second = open_window
    assert not first.wake_other()
    first.close()
    assert not second.wake_other()


def test_a_window_opens_even_where_no_lock_file_can_be_created(
    tmp_path: Path, open_window: list[OneWindow], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("TMPDIR", str(tmp_path / "not there"))
    open_window.append(OneWindow(tmp_path / "store.sqlite"))
    assert not open_window[0].wake_other()


def test_a_second_process_does_not_open_another_window(tmp_path: Path, open_window: list[OneWindow]) -> None:
    holds = (
        "import sys; from pathlib import Path; from desk.app.one_window import OneWindow; "
        "one = OneWindow(Path(sys.argv[1])); print(one.wake_other(), flush=True); sys.stdin.read()"
    )
    store = tmp_path / "store.sqlite"
    other = subprocess.Popen(
        [sys.executable, "-c", holds, store], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    )
    assert other.stdout is not None
    assert other.stdout.readline() == "False\n"
    open_window.append(OneWindow(store))
    assert open_window[0].wake_other()
    other.kill()
    other.communicate()
    assert not open_window[0].wake_other()  # the lock of a process that died is free
