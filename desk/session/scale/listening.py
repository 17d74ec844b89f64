"""Listen to a serial scale: the raw bytes, and the format that fits them."""

from __future__ import annotations

from dataclasses import dataclass

from desk.scales.drivers.presets import PRESETS, read_lines
from desk.scales.reading import Reading, State

KEPT_BYTES = 4000
ENOUGH = 3  # readings; common practice, no source
MOST_REFUSED = 4  # one frame in so many may be bad: damaged, or cut where listening began
HIGH_SHARE = 0.25  # share of bytes above 127: seven bits with even parity give about half


@dataclass(frozen=True, slots=True)
class Proposal:
    """A format that fits: how many frames it reads out of how many, the last weight, and whether 7 bits."""

    preset: str
    read: int
    of: int
    weight: str
    seven_bits: bool = False


@dataclass(slots=True)
class Listening:
    """The bytes received lately."""

    data: bytes = b""

    def hear(self, data: bytes) -> None:
        """Add received bytes."""
        self.data = (self.data + data)[-KEPT_BYTES:]

    def text(self, lines: int = 10) -> str:
        """Return the last lines received; unprintable bytes are shown as numbers."""
        shown = self.data.replace(b"\r\n", b"\n").replace(b"\r", b"\n").replace(b"\x03", b"<03>\n")
        return "\n".join("".join(map(_printed, line)) for line in shown.split(b"\n")[-lines:])

    def proposals(self) -> tuple[Proposal, ...]:
        """Return the formats that fit, best first."""
        return proposals(self.data)


def proposals(data: bytes) -> tuple[Proposal, ...]:
    """Return the formats that fit these bytes, best first; empty when there are too few."""
    whole = _from_first_end(data)
    high = sum(byte > 127 for byte in whole)
    seven_bits = high > HIGH_SHARE * len(whole)
    fits = [fit for name in PRESETS if (fit := _fit(name, whole, seven_bits)) is not None]
    return tuple(sorted(fits, key=lambda fit: (-fit.read / fit.of, -fit.read)))


def _fit(name: str, data: bytes, seven_bits: bool) -> Proposal | None:
    readings = read_lines(name, data, seven_bits)
    sensible = [reading for reading in readings if reading.state is not State.REFUSED]
    weights = [reading for reading in sensible if reading.grams is not None]
    if len(sensible) < ENOUGH or not weights or len(sensible) * MOST_REFUSED < len(readings) * (MOST_REFUSED - 1):
        return None
    return Proposal(name, len(sensible), len(readings), _weight(weights[-1]), seven_bits)


def _weight(reading: Reading) -> str:
    return f"{reading.value} {reading.unit}"


def _from_first_end(data: bytes) -> bytes:
    """Return the bytes without the first, partial frame."""
    ends = [place for end in (0x0A, 0x0D, 0x03, 0x8D, 0x83) if (place := data.find(bytes([end]))) >= 0]
    return data[min(ends) + 1 :] if ends else b""


def _printed(byte: int) -> str:
    return chr(byte) if 32 <= byte < 127 else f"<{byte:02X}>"
