"""A bench on the demo, with readings played to it by a clock of the test, or with the virtual scale in its process."""

from __future__ import annotations

from decimal import Decimal

import pytest
from PySide6.QtCore import Qt

from desk.app.scale import attach_scale
from desk.scales.port import Link, LinkState
from desk.scales.reading import State, shown_reading
from desk.ui.actions import Act, add_acts
from desk.ui.bench.view import BenchScreen
from desk.ui.scale_bridge import ScaleBridge

SPEED = 10.0  # how much faster than life the virtual scale is


class Played:
    """A bench whose readings come from the test."""

    def __init__(self, qtbot, desk):
        self.now, self.qtbot, self.desk = 0.0, qtbot, desk
        desk.scale = ScaleBridge(desk, lambda: self.now)
        self.screen = BenchScreen(desk)
        self.screen.add_keys()
        add_acts(self.screen, [Act("Z", "Undo", self.screen.undo)])  # a key of the window, which is not there
        qtbot.addWidget(self.screen)
        self.screen.resize(1280, 720)
        self.screen.show()
        self.screen.activateWindow()
        with qtbot.waitActive(self.screen):
            pass
        self.screen.arrive()

    def pan(self, value, seconds=1.0, unit="oz"):
        """Show a weight on the pan for that long."""
        self.desk.scale._hear(LinkState(Link.LIVE))
        for _ in range(round(seconds * 10)):
            self.desk.scale._hear((self.now, shown_reading(Decimal(value), unit, State.STABLE, b"")))
            self.now += 0.1

    def press(self, keys):
        """Press single keys on the screen, or in the field that has the focus."""
        for key in keys:
            self.qtbot.keyClicks(self.screen.focusWidget() or self.screen, key)

    def enter(self):
        self.qtbot.keyClick(self.screen.focusWidget() or self.screen, Qt.Key.Key_Return)

    def escape(self):
        self.qtbot.keyClick(self.screen.focusWidget() or self.screen, Qt.Key.Key_Escape)

    def open(self, number):
        self.press(number)
        self.enter()

    def case(self, number):
        return self.desk.pile.verdicts[self.desk.pile.find(number)].case


@pytest.fixture
def bench(qtbot, desk):
    return Played(qtbot, desk)


@pytest.fixture
def virtual_desk(desk):
    """The demo with the virtual scale in a process of its own, faster than life."""
    desk.is_demo = True
    attach_scale(desk, SPEED)
    return desk
