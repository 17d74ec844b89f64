"""One reading thread for one device: it opens, reads with a short limit, reports, and reopens.

It reports to one plain callable, called in this thread; the receiver moves it to its own thread.
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
IGNORED_AT_START_S = 0.3  # the first report after opening is often the previous weighing
SILENT_S = 3.0
NEWEST_EVERY_S = 0.05  # at most 20 readings a second are reported, always the newest
LOOKED_FOR_EVERY_S = 1.0
JOIN_S = 1.0


@dataclass(frozen=True, slots=True)
class Device:
    """How to reach a scale: open it, make a new decoder for the port, and what to request how often (empty: never)."""

    open: Callable[[], Port]
    decoder: Callable[[Port], Decoder]
    request: bytes = b""
    asks_every_s: float = 0.2


class ReadingThread:
    """Reads a device until `stop`. `post` receives each `Reading` as `(time, reading)`, and each `LinkState`.

    The time is when it was received; the reading's own `at` is when the scale sent it.
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
        self._reported: LinkState | None = None
        self._thread = threading.Thread(target=self._run, name="scale", daemon=True)

    def start(self) -> None:
        """Start the thread."""
        self._thread.start()

    def stop(self) -> bool:
        """Stop and wait up to a second. Return True when the thread has ended."""
        self._stopped.set()
        if self._thread.is_alive():
            self._thread.join(JOIN_S)
        return not self._thread.is_alive()

    def _run(self) -> None:
        while not self._stopped.is_set():
            self._once()
            self._stopped.wait(self._pause())
            self._failures += 1
        self._report(LinkState(Link.CLOSED))

    def _pause(self) -> float:
        """Return the pause before reopening, in seconds: it grows, but an absent device is tried every second."""
        pause = REOPEN_PAUSES_S[min(self._failures, len(REOPEN_PAUSES_S) - 1)]
        absent = self._reported is not None and self._reported.trouble is Trouble.ABSENT
        return min(pause, LOOKED_FOR_EVERY_S) if absent else pause

    def _once(self) -> None:
        if self._reported is None or self._reported.link is not Link.LOST:
            self._report(LinkState(Link.OPENING))
        try:
            port = self._device.open()
        except PortLostError as lost:
            self._report(LinkState(Link.LOST, lost.trouble))
            return
        try:
            self._listen(port)
        except PortLostError as lost:
            self._report(LinkState(Link.LOST, lost.trouble))
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
                self._report(LinkState(Link.LIVE, ear.trouble))
            if newest:
                self._post(newest)

    def _report(self, state: LinkState) -> None:
        if state != self._reported:
            self._reported = state
            self._post(state)


class _Ear:
    """What was received since the port was opened: the newest unreported reading, and when one was last valid."""

    def __init__(self, decoder: Decoder, opened: float) -> None:
        self._decoder = decoder
        self._opened = self._sense = opened
        self._noise = False
        self._pending: Reading | None = None
        self._reported_at = float("-inf")
        self.trouble = Trouble.NONE

    def hear(self, at: float, data: bytes) -> tuple[float, Reading] | None:
        """Process the bytes of one read. Return the reading to report now, if any."""
        readings = self._decoder.feed(at, data)
        sensible = [reading for reading in readings if reading.state is not State.REFUSED]
        self._judge(at, heard=bool(data), sense=bool(sensible))
        if at - self._opened < IGNORED_AT_START_S:
            return None
        if sensible:
            self._pending = sensible[-1]
        if self._pending is None or at - self._reported_at < NEWEST_EVERY_S:
            return None
        newest, self._pending, self._reported_at = self._pending, None, at
        return (at, newest)

    def _judge(self, at: float, *, heard: bool, sense: bool) -> None:
        if sense:
            self._sense, self._noise, self.trouble = at, False, Trouble.NONE
            return
        self._noise = self._noise or heard
        if self._decoder.switched_off:
            self.trouble = Trouble.PATTERN_OFF
        elif at - self._sense >= SILENT_S:
            self.trouble = Trouble.GARBAGE_ARRIVES if self._noise else Trouble.NOTHING_ARRIVES
