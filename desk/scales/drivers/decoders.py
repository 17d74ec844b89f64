"""Turn what a port delivers into readings: one decoder for lines, one for USB reports."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import Protocol

from desk.scales.drivers.descriptor import ReportLayout, common_layout
from desk.scales.drivers.framing import Framer
from desk.scales.drivers.hid_report import decode
from desk.scales.drivers.lines import LinePattern, LineReader
from desk.scales.reading import Reading

QUIET_S = 2.0


class Decoder(Protocol):
    """Takes the bytes of one read (empty: nothing arrived in time) and returns their readings."""

    def feed(self, at: float, data: bytes) -> list[Reading]:
        """Return the readings completed by these bytes, with their time."""
        ...

    @property
    def switched_off(self) -> bool:
        """Return True when it refuses everything from now on."""
        ...


class LineDecoder:
    """Lines of a serial scale; a stream must keep to one line length."""

    def __init__(self, pattern: LinePattern, *, seven_bits: bool = False) -> None:
        self._framer = Framer(pattern.ends, joined_midway=not pattern.request, seven_bits=seven_bits)
        self._reader = LineReader(pattern, steady=not pattern.request and not pattern.special)

    @property
    def switched_off(self) -> bool:
        """Return True once the pattern has timed out too often."""
        return self._reader.switched_off

    def feed(self, at: float, data: bytes) -> list[Reading]:
        """Return the readings of the frames that end here, refused ones too."""
        return [self._reader.read(frame).timed(at) for frame in self._framer.feed(at, data)]


@dataclass(slots=True)
class ReportDecoder:
    """Reports of a USB scale. For one that reports only on change, silence repeats its last reading.

    Such a device never sends the same report twice in a row while quiet. Once that is known, its last reading is
    repeated at each read without news. The repeats keep the time of the real report, so that its age can be shown.
    """

    layout: ReportLayout = field(default_factory=common_layout)
    switched_off: bool = False
    _last: Reading | None = None
    _repeats_itself: bool = False
    _only_on_change: bool = False

    def feed(self, at: float, data: bytes) -> list[Reading]:
        """Return the reading of a report, or the last one again; empty for other reports."""
        if not data:
            return self._silence(at)
        reading = decode(data, self.layout)
        if reading is None:
            return []
        if self._last is not None and reading.raw == self._last.raw:
            self._repeats_itself, self._only_on_change = True, False
        self._last = replace(reading, at=at)
        return [self._last]

    def _silence(self, at: float) -> list[Reading]:
        if self._last is None or self._repeats_itself:
            return []
        self._only_on_change = self._only_on_change or at - self._last.at >= QUIET_S
        return [self._last] if self._only_on_change else []
