"""Guard against a Qt binding that loses references.

PySide6 6.12.0 on Python 3.11 releases one reference to None at nearly every call that returns nothing. After some
thousand calls the process aborts, and a passing test suite does not show it. From Python 3.12 on None is immortal.
"""

from __future__ import annotations

import sys

import pytest
from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QLabel

CALLS, NOISE = 1000, 50


class Bell(QObject):
    """An object with a signal."""

    rung = Signal(bool)


@pytest.fixture
def label(qtbot) -> QLabel:
    label = QLabel("before")
    qtbot.addWidget(label)
    return label


def lost(value: object, act) -> int:
    """Return how many references to the value a thousand calls add or remove."""
    act()
    before = sys.getrefcount(value)
    for _ in range(CALLS):
        act()
    return abs(sys.getrefcount(value) - before)


def test_setting_a_text_keeps_every_reference_to_none(label):
    assert lost(None, lambda: label.setText("x")) < NOISE


def test_showing_and_updating_keep_every_reference_to_none(label):
    assert lost(None, label.update) < NOISE
    assert lost(None, lambda: label.resize(20, 20)) < NOISE


def test_emitting_a_signal_keeps_every_reference_to_true(qapp):
    bell, heard = Bell(), []
    bell.rung.connect(lambda ringing: heard.append(1 if ringing else 0))

    assert lost(True, lambda: bell.rung.emit(True)) < NOISE
    assert sum(heard) == CALLS + 1


def test_the_check_notices_a_lost_reference():
    kept: list[object] = []

    assert lost(None, lambda: kept.append(None)) >= CALLS or sys.version_info >= (3, 12)
