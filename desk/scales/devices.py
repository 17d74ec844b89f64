"""The two kinds of device a reading thread can use: a serial line and a USB scale."""

from __future__ import annotations

from collections.abc import Callable

from desk.scales.drivers.decoders import LineDecoder, ReportDecoder
from desk.scales.drivers.descriptor import common_layout
from desk.scales.drivers.lines import LinePattern
from desk.scales.find import FoundScale, HidPort, find_scales
from desk.scales.port import Port, PortLostError, SerialSettings, Trouble, open_serial
from desk.scales.thread import Device


def serial_device(settings: SerialSettings, pattern: LinePattern, *, seven_bits: bool = False) -> Device:
    """Return a scale on a serial port that sends lines. `seven_bits` clears the high bit of each byte."""
    return Device(
        open=lambda: open_serial(settings),
        decoder=lambda _port: LineDecoder(pattern, seven_bits=seven_bits),
        request=pattern.request,
        asks_every_s=pattern.asks_every_s,
    )


def usb_device(
    serial: str = "",
    find: Callable[[], tuple[FoundScale, ...]] = find_scales,
    opened: Callable[[bytes], Port] = HidPort,
) -> Device:
    """Return the USB scale with that serial text, or else the first one found; searched again at each opening."""

    def opening() -> Port:
        scales = find()
        if not scales:
            raise PortLostError(Trouble.ABSENT)
        chosen = next((scale for scale in scales if serial and scale.serial == serial), scales[0])
        return opened(chosen.path)

    return Device(opening, lambda port: ReportDecoder(getattr(port, "layout", None) or common_layout()))
