"""Garbage is collected by the main thread's timer, and by no other thread."""

from __future__ import annotations

import gc
import threading
from collections.abc import Iterator

import pytest
from PySide6.QtCore import QObject
from pytestqt.qtbot import QtBot

from desk.app.background.collecting import EVERY_MS, collect_due, collect_in_main_thread


@pytest.fixture(autouse=True)
def only_new_objects() -> Iterator[None]:
    """Keep the objects of earlier tests out of each collection, which would take seconds."""
    gc.freeze()
    yield
    gc.unfreeze()


class Cycle:
    """An object that only collecting removes. It notes the thread it is removed in."""

    def __init__(self, removed_in: list[int]) -> None:
        self.own, self._removed_in = self, removed_in

    def __del__(self) -> None:
        self._removed_in.append(threading.get_ident())


def make_garbage(removed_in: list[int], kept: list[list[int]]) -> None:
    """Leave one cycle behind, and so many objects that collecting is due."""
    Cycle(removed_in)
    kept.extend([] for _ in range(20 * gc.get_threshold()[0]))


def test_another_thread_makes_garbage_and_the_main_thread_removes_it(qtbot: QtBot) -> None:
    removed_in: list[int] = []
    parent, kept = QObject(), list[list[int]]()
    gc.enable()
    timer = collect_in_main_thread(parent)
    thread = threading.Thread(target=make_garbage, args=(removed_in, kept))
    thread.start()
    thread.join()
    assert removed_in == []
    qtbot.waitUntil(lambda: bool(removed_in), timeout=20 * EVERY_MS)
    assert removed_in == [threading.get_ident()]
    assert timer.parent() is parent


def test_nothing_is_collected_before_it_is_due() -> None:
    gc.collect()
    removed_in: list[int] = []
    Cycle(removed_in)
    collect_due()
    assert removed_in == []
    kept: list[list[int]] = [[] for _ in range(gc.get_threshold()[0] + 1)]
    collect_due()
    assert removed_in == [threading.get_ident()]
    assert kept
