"""Listening in: a device whose bytes are also told as they come, and one that only listens and asks every known question."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from itertools import cycle

from desk.scales.drivers.presets import PRESETS
from desk.scales.port import Port, SerialSettings, open_serial
from desk.scales.reading import Reading
from desk.scales.thread import Device

ASKS_EVERY_S = 0.7  # an answer comes within 0.3 s, from memory; there is time for it before the next question
QUESTIONS = tuple(dict.fromkeys(pattern.request for pattern in PRESETS.values() if pattern.request))
Hear = Callable[[bytes], None]


class TappedPort:
    """A port that tells what it reads. With `questions` each write sends the next of them instead."""

    def __init__(self, port: Port, hear: Hear, questions: Iterator[bytes] | None = None) -> None:
        self._port, self._hear, self._questions = port, hear, questions
        self.layout = getattr(port, "layout", None)  # a USB scale's own

    def read(self, limit_s: float) -> bytes:
        """What has come; told before it is given."""
        data = self._port.read(limit_s)
        if data:
            self._hear(data)
        return data

    def write(self, data: bytes) -> None:
        """Send bytes, or the next question."""
        self._port.write(data if self._questions is None else next(self._questions))

    def close(self) -> None:
        """Close the port."""
        self._port.close()


class RawDecoder:
    """A decoder that reads nothing: a person looks at the bytes."""

    switched_off = False

    def feed(self, _at: float, _data: bytes) -> list[Reading]:
        """No readings."""
        return []


def tapped(device: Device, hear: Hear) -> Device:
    """The same device; `hear` is told its bytes too, in the reading thread."""
    return replace(device, open=lambda: TappedPort(device.open(), hear))


def listening_device(
    settings: SerialSettings, hear: Hear, opened: Callable[[SerialSettings], Port] = open_serial
) -> Device:
    """A serial line to listen to, asked each known question in turn: a scale that must be asked answers only its own."""
    return Device(
        open=lambda: TappedPort(opened(settings), hear, cycle(QUESTIONS)),
        decoder=lambda _port: RawDecoder(),
        request=QUESTIONS[0],
        asks_every_s=ASKS_EVERY_S,
    )
