"""The scale of a sitting, as set up: a real one, or a virtual one read in the same way.

A virtual scale on a serial port is a separate process on a pseudo-terminal; one on USB runs in a thread.

The scale restarts when another one is chosen, or when an act or undo changes its settings.
"""

from __future__ import annotations

import time

from desk.app.virtual_scale import VirtualScaleProcess
from desk.domain.faults import Refused
from desk.domain.severity import Severity
from desk.scales.devices import serial_device, usb_device
from desk.scales.listening import listening_device, tapped
from desk.scales.port import Link, LinkState
from desk.scales.simulated.usb import VirtualUsb
from desk.scales.thread import Device, ReadingThread
from desk.session.scale.choice import (
    ScaleChoice,
    ScaleKind,
    has_terminals,
    pattern_of,
    scale_choice,
    serial_settings,
    talk_of,
    usual_scale,
)
from desk.session.scale.virtual_pan import VirtualPan, demo_weights
from desk.ui.bridge import Desk, DeskChanges, OngoingState
from desk.ui.scale_bridge import ScaleBridge


def device_of(choice: ScaleChoice) -> Device | None:
    """Return the device of a chosen scale; None for no scale and for a virtual one, which is started first."""
    if choice.kind is ScaleKind.USB:
        return usb_device(choice.usb)
    return serial_device(serial_settings(choice), pattern_of(choice)) if choice.kind is ScaleKind.SERIAL else None


class ScaleSource:
    """The reading thread of the chosen scale, and the process of a virtual one."""

    def __init__(self, desk: Desk, bridge: ScaleBridge, speed: float = 1.0) -> None:
        self._desk, self._bridge, self._speed = desk, bridge, speed
        self._default = usual_scale(is_demo=desk.is_demo)
        self._choice = scale_choice(desk.sitting, self._default)
        self._listens = False
        self._thread: ReadingThread | None = None
        self._virtual: VirtualScaleProcess | VirtualUsb | None = None
        self._start()
        desk.changed.connect(self._follow)

    def listen(self, on: bool) -> None:
        """Only listen to the port and pass on raw bytes, or read weights again."""
        if on != self._listens:
            self._listens = on
            self._stop_reading()
            self._start_reading()

    def close(self) -> None:
        """Stop the thread, then the process."""
        self._stop_reading()
        if self._virtual is not None:
            self._virtual.close()
            self._virtual = None
        self._bridge.pan = None

    def _follow(self, changes: DeskChanges) -> None:
        if not (changes.changes.settings or changes.changes.shop):
            return
        try:
            choice = scale_choice(self._desk.sitting, self._default)
        except Refused:  # everything is announced again once it can be read
            self._desk.read_later()
            return
        if _reached(choice) != _reached(self._choice):
            self.close()
            self._choice = choice
            self._start()
        self._choice = choice
        self._bridge.settle_by(self._choice)

    def _start(self) -> None:
        self._virtual = self._make_virtual()
        if self._virtual is not None:
            self._bridge.clock = lambda: time.monotonic() * self._speed
            is_demo = self._desk.is_demo
            weights = demo_weights(self._desk.resources / "demo", self._desk.pile.terms.shop) if is_demo else {}
            self._bridge.pan = VirtualPan(weights, self._virtual.send, invents=not is_demo)
        state = OngoingState("Virtual scale: it is not real, and its weights are invented.", Severity.NOTE)
        self._desk.state("virtual scale", state if self._virtual is not None and not self._desk.is_demo else None)
        self._bridge.settle_by(self._choice)
        self._start_reading()

    def _make_virtual(self) -> VirtualScaleProcess | VirtualUsb | None:
        if self._choice.kind is ScaleKind.VIRTUAL_USB:
            return VirtualUsb(self._speed)
        is_one = self._choice.kind is ScaleKind.VIRTUAL and has_terminals()
        return VirtualScaleProcess(self._speed, talk_of(self._choice)) if is_one else None

    def _start_reading(self) -> None:
        device = self._virtual.device() if self._virtual else device_of(self._choice)
        if device is None:
            return
        post = self._bridge.post
        if self._listens:
            post = self._post_lost
            serial = self._choice.kind is ScaleKind.SERIAL
            hear = self._bridge.post_raw
            device = listening_device(serial_settings(self._choice), hear) if serial else tapped(device, hear)
        self._thread = ReadingThread(device, post, self._bridge.clock)
        self._thread.start()

    def _stop_reading(self) -> None:
        if self._thread is not None:
            self._thread.stop()
            self._thread = None

    def _post_lost(self, news: object) -> None:
        """Pass on only a lost port while you listen to raw bytes."""
        if isinstance(news, LinkState) and news.link is Link.LOST:
            self._bridge.post(news)


def attach_scale(desk: Desk, speed: float = 1.0) -> None:
    """Connect a desk to its scale: the chosen one, in the demo a virtual one by default, else none."""
    desk.scale = bridge = ScaleBridge(desk)
    bridge.source = source = ScaleSource(desk, bridge, speed)
    desk.closing.connect(source.close)


def _reached(choice: ScaleChoice) -> tuple[object, ...]:
    """Return the part of a choice that needs the scale reopened; a tray does not."""
    own = (choice.own_expression, choice.own_request, choice.own_ends, choice.own_states)
    return (choice.kind, choice.port, choice.preset, choice.speed, choice.bits, choice.usb, choice.moving, *own)
