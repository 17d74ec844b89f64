"""Cut a stream of bytes into whole frames. An incomplete frame is dropped, never repaired.

The limits (96 bytes, 0.5 s of silence) are this project's own rules.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum

STX, ETX, LF, CR = 0x02, 0x03, 0x0A, 0x0D
LONGEST = 96
LONGEST_HOLE_S = 0.5


class Ends(StrEnum):
    """What ends a frame: any of CR, LF and ETX, or ETX alone."""

    LINE = "line"
    ETX = "etx"


@dataclass(slots=True)
class Framer:
    """Cuts bytes into frames. `joined_midway` drops the first piece, because a port may open mid-line."""

    ends: Ends
    joined_midway: bool = False
    seven_bits: bool = False
    _piece: bytearray = field(default_factory=bytearray)
    _dropping: bool = False
    _last: float | None = None

    def __post_init__(self) -> None:
        self._dropping = self.joined_midway

    def feed(self, at: float, data: bytes) -> list[bytes]:
        """Return the frames that end within these bytes, which arrived at `at` (monotonic seconds)."""
        if self._last is not None and at - self._last > LONGEST_HOLE_S:
            self._piece.clear()
        self._last = at if data else self._last
        frames = []
        for byte in data:
            frame = self._byte(byte & 0x7F if self.seven_bits else byte)
            if frame is not None:
                frames.append(frame)
        return frames

    def _byte(self, byte: int) -> bytes | None:
        if byte == STX:
            self._start()
        elif byte == ETX or (self.ends is Ends.LINE and byte in (CR, LF)):
            return self._end()
        elif not self._dropping:
            self._piece.append(byte)
            self._dropping = len(self._piece) > LONGEST
        return None

    def _start(self) -> None:
        self._piece.clear()
        self._dropping = False

    def _end(self) -> bytes | None:
        frame = None if self._dropping else bytes(self._piece)
        self._start()
        return frame if frame and frame.strip() else None
