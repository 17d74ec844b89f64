"""Rounds of unplugging with a capture pending: the cable is pulled while a weight settles, and plugged in again.

Each round is another piece with another weight on a real pseudo-terminal, read by the thread like any scale. Each round
must record exactly one weight.
"""

from __future__ import annotations

import threading
import time
from decimal import Decimal
from pathlib import Path
from unittest.mock import patch

from desk.scales.devices import serial_device
from desk.scales.drivers.presets import PRESETS
from desk.scales.port import REOPEN_PAUSES_S, SerialSettings
from desk.scales.settling import StepRule
from desk.scales.simulated.scale import Player, Terminal, VirtualScale, read_script
from desk.scales.thread import Device, ReadingThread
from desk.session.pile.packing import Placement
from tests.scales.rehearsal import Rehearsal

SPEED = 5.0  # of every clock here, so that a hundred rounds take minutes


class Wire:
    """A cable that can be pulled, passing bytes to the current terminal."""

    def __init__(self, link: Path) -> None:
        self.link, self.terminal = link, Terminal(link)

    def send(self, data: bytes) -> None:
        if self.terminal is not None:
            self.terminal.send(data)

    def pull(self) -> None:
        self.terminal.pull()
        self.terminal = None

    def plug(self) -> None:
        self.terminal = Terminal(self.link)


def rounds_of(folder: Path, count: int) -> list[tuple[int, list[Decimal]]]:
    """Yield piece and recorded weights of each round, over a pseudo-terminal."""
    wire = Wire(folder / "scale")
    return rounds_over(serial_device(SerialSettings(str(wire.link)), PRESETS["status-prefixed"]), wire, count)


def rounds_over(device: Device, cable, count: int, voice=None, speed: float = SPEED) -> list[tuple[int, list[Decimal]]]:
    """Yield the same over any device that can be sent to, pulled and plugged; `voice` makes its frames."""
    recorded: dict[int, list[Decimal]] = {number: [] for number in range(count)}
    lock, clock = threading.Lock(), (lambda: time.monotonic() * speed)
    bench = Rehearsal(lambda piece, shown, _again: recorded[piece].append(shown.value), StepRule(Decimal("0.1"), "oz"))

    def post(news: object) -> None:
        with lock:
            bench.hear(news, clock())

    thread = ReadingThread(device, post, clock)
    scale = VirtualScale(rate=10, steps={"oz": Decimal("0.1"), "g": Decimal(1)}, voice=voice)
    player = Player(scale, cable.send, clock, lambda seconds: time.sleep(seconds / speed))
    faster = {"REOPEN_PAUSES_S": tuple(pause / speed for pause in REOPEN_PAUSES_S), "LOOKED_FOR_EVERY_S": 1 / speed}
    with patch.multiple("desk.scales.thread", **faster):
        thread.start()
        try:
            for number in range(count):
                player.play(read_script("lift\nwait 1.5\n"))
                with lock:
                    bench.open(number, Placement("A7"), clock())
                player.play(read_script(f"place {number / 10 + 2}\nwait {0.2 + 0.05 * (number % 7)}\n"))
                cable.pull()
                player.play(read_script(f"wait {1 + number % 3}\n"))
                cable.plug()
                _until_heard(bench, lock, player)
                player.play(read_script("wait 2.5\n"))
        finally:
            assert thread.stop()
            cable.pull()
    return list(recorded.items())


def _until_heard(bench: Rehearsal, lock: threading.Lock, player: Player) -> None:
    """Send until the thread has opened the port again."""
    deadline = time.monotonic() + 2 * REOPEN_PAUSES_S[-1]
    while time.monotonic() < deadline:
        player.play(read_script("wait 0.5\n"))
        with lock:
            if bench.live.words:
                return
    raise AssertionError("the scale was not heard again")
