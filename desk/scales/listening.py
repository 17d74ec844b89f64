"""Listen to a device: pass its bytes on as they arrive, or try every known request on a serial line."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from itertools import cycle

from desk.scales.drivers.presets import PRESETS
from desk.scales.port import Port, SerialSettings, open_serial
from desk.scales.reading import Reading
from desk.scales.thread import Device

ASKS_EVERY_S = 0.7  # an answer takes up to 0.3 s, from memory, so it arrives before the next request
QUESTIONS = tuple(dict.fromkeys(pattern.request for pattern in PRESETS.values() if pattern.request))
Hear = Callable[[bytes], None]


class TappedPort:
    """A port that reports what it reads. With `questions` each write sends the next question instead."""

    def __init__(self, port: Port, hear: Hear, questions: Iterator[bytes] | None = None) -> None:
        self._port, self._hear, self._questions = port, hear, questions
        self.layout = getattr(port, "layout", None)  # a USB scale's own layout

    def read(self, limit_s: float) -> bytes:
        """Return what has arrived, after reporting it."""
        data = self._port.read(limit_s)
        if data:
            self._hear(data)
        return data

    def write(self, data: bytes) -> None:
        """Send bytes, or the next request."""
        self._port.write(data if self._questions is None else next(self._questions))

    def close(self) -> None:
        """Close the port."""
        self._port.close()


class RawDecoder:
    """A decoder that reads nothing, while a person looks at the bytes."""

    switched_off = False

    def feed(self, _at: float, _data: bytes) -> list[Reading]:
        """Return no readings."""
        return []


def tapped(device: Device, hear: Hear) -> Device:
    """Return the same device, but `hear` also gets its bytes, in the reading thread."""
    return replace(device, open=lambda: TappedPort(device.open(), hear))


def listening_device(
    settings: SerialSettings, hear: Hear, opened: Callable[[SerialSettings], Port] = open_serial
) -> Device:
    """Return a serial line to listen to that sends every known request in turn: a polled scale answers only its own."""
    return Device(
        open=lambda: TappedPort(opened(settings), hear, cycle(QUESTIONS)),
        decoder=lambda _port: RawDecoder(),
        request=QUESTIONS[0],
        asks_every_s=ASKS_EVERY_S,
    )
