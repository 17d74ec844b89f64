"""One reading thread for one device: it opens, reads with a short limit, tells, and opens again.

What it tells goes to one plain callable, called in this thread; whoever shows it brings it to his own.
"""

from __future__ import annotations

import threading
import time
from collections.abc import Callable
from dataclasses import dataclass

from desk.scales.drivers.decoders import Decoder
from desk.scales.port import REOPEN_PAUSES_S, Link, LinkState, Port, PortLostError, Trouble
from desk.scales.reading import Reading, State

READ_LIMIT_S = 0.1
IGNORED_AT_START_S = 0.3  # the first report after opening is often the weighing before
SILENT_S = 3.0
NEWEST_EVERY_S = 0.05  # at most 20 readings a second are told, always the newest
LOOKED_FOR_EVERY_S = 1.0
JOIN_S = 1.0


@dataclass(frozen=True, slots=True)
class Device:
    """How a scale is reached: opening it, a fresh decoder for the open port, and what to ask how often (empty: it talks by itself)."""

    open: Callable[[], Port]
    decoder: Callable[[Port], Decoder]
    request: bytes = b""
    asks_every_s: float = 0.2


class ReadingThread:
    """Reads a device until `stop`. `post` gets each `Reading` as `(time, reading)` and each `LinkState` alone.

    The time is when it was heard; the reading's own `at` is when the scale said it.
    """

    def __init__(
        self,
        device: Device,
        post: Callable[[tuple[float, Reading] | LinkState], None],
        clock: Callable[[], float] = time.monotonic,
    ) -> None:
        self._device, self._post, self._clock = device, post, clock
        self._stopped = threading.Event()
        self._failures = 0
        self._told: LinkState | None = None
        self._thread = threading.Thread(target=self._run, name="scale", daemon=True)

    def start(self) -> None:
        """Begin."""
        self._thread.start()

    def stop(self) -> bool:
        """End and wait for it, up to a second; True when the thread has ended."""
        self._stopped.set()
        if self._thread.is_alive():
            self._thread.join(JOIN_S)
        return not self._thread.is_alive()

    def _run(self) -> None:
        while not self._stopped.is_set():
            self._once()
            self._stopped.wait(self._pause())
            self._failures += 1
        self._tell(LinkState(Link.CLOSED))

    def _pause(self) -> float:
        """Growing, but a device that is not there is looked for each second."""
        pause = REOPEN_PAUSES_S[min(self._failures, len(REOPEN_PAUSES_S) - 1)]
        absent = self._told is not None and self._told.trouble is Trouble.ABSENT
        return min(pause, LOOKED_FOR_EVERY_S) if absent else pause

    def _once(self) -> None:
        if self._told is None or self._told.link is not Link.LOST:
            self._tell(LinkState(Link.OPENING))
        try:
            port = self._device.open()
        except PortLostError as lost:
            self._tell(LinkState(Link.LOST, lost.trouble))
            return
        try:
            self._listen(port)
        except PortLostError as lost:
            self._tell(LinkState(Link.LOST, lost.trouble))
        finally:
            port.close()

    def _listen(self, port: Port) -> None:
        ear = _Ear(self._device.decoder(port), self._clock())
        asked = float("-inf")
        while not self._stopped.is_set():
            now = self._clock()
            if self._device.request and now - asked >= self._device.asks_every_s:
                port.write(self._device.request)
                asked = now
            data = port.read(READ_LIMIT_S)
            newest = ear.hear(self._clock(), data)
            if newest:
                self._failures = 0
            if newest or ear.trouble:
                self._tell(LinkState(Link.LIVE, ear.trouble))
            if newest:
                self._post(newest)

    def _tell(self, state: LinkState) -> None:
        if state != self._told:
            self._told = state
            self._post(state)


class _Ear:
    """What was heard since the port was opened: the newest reading not yet told, and when the last made sense."""

    def __init__(self, decoder: Decoder, opened: float) -> None:
        self._decoder = decoder
        self._opened = self._sense = opened
        self._noise = False
        self._pending: Reading | None = None
        self._told_at = float("-inf")
        self.trouble = Trouble.NONE

    def hear(self, at: float, data: bytes) -> tuple[float, Reading] | None:
        """Take the bytes of one read; the reading to tell now, if any."""
        readings = self._decoder.feed(at, data)
        sensible = [reading for reading in readings if reading.state is not State.REFUSED]
        self._judge(at, heard=bool(data), sense=bool(sensible))
        if at - self._opened < IGNORED_AT_START_S:
            return None
        if sensible:
            self._pending = sensible[-1]
        if self._pending is None or at - self._told_at < NEWEST_EVERY_S:
            return None
        told, self._pending, self._told_at = self._pending, None, at
        return (at, told)

    def _judge(self, at: float, *, heard: bool, sense: bool) -> None:
        if sense:
            self._sense, self._noise, self.trouble = at, False, Trouble.NONE
            return
        self._noise = self._noise or heard
        if self._decoder.switched_off:
            self.trouble = Trouble.PATTERN_OFF
        elif at - self._sense >= SILENT_S:
            self.trouble = Trouble.RUBBISH_ARRIVES if self._noise else Trouble.NOTHING_ARRIVES
