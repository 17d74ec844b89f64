"""A bench with its scale on a scripted USB bus: from report bytes to a recorded weight, on its own clock."""

from __future__ import annotations

from decimal import Decimal

from desk.scales.port import Link, LinkState, PortLostError
from desk.scales.settling import StepRule
from desk.scales.simulated.scale import Player, VirtualScale, read_script
from desk.scales.simulated.speech import USUAL_DESCRIPTOR, say_report
from desk.scales.simulated.usb import UsbScript, scripted_device
from desk.session.pile.packing import Placement
from tests.scales.rehearsal import Rehearsal

STEP = Decimal("0.1")


class UsbStage:
    """Play scripts; `records` are (piece, shown) as stored, `links` the reported states of the connection."""

    def __init__(self, descriptor: bytes = USUAL_DESCRIPTOR) -> None:
        self.now, self.records, self.finished, self.links = 0.0, [], [], []
        self.bus = UsbScript(descriptor)
        self.device = scripted_device(self.bus)
        self.bench = Rehearsal(
            lambda piece, shown, _again: self.records.append((piece, shown)),
            StepRule(STEP, "oz"),
            lifted=self.finished.append,
        )
        voice = lambda word: say_report(word, self.bus.layout)  # noqa: E731
        scale = VirtualScale(steps={"oz": STEP, "g": Decimal(1)}, voice=voice)
        self.player = Player(scale, self._send, lambda: self.now, self._sleep, cable=self)
        self._open()

    def play(self, script: str) -> UsbStage:
        self.player.play(read_script(script))
        return self

    def open_piece(self, piece: int) -> UsbStage:
        self.bench.open(piece, Placement("A7"), self.now)
        return self

    def pull(self) -> None:
        self.bus.pull()
        self._hear()

    def plug(self) -> None:
        self.bus.plug()
        self._open()

    def _sleep(self, seconds: float) -> None:
        self.now += seconds
        self.bench.tick(self.now)

    def _send(self, report: bytes) -> None:
        self.bus.send(report)
        self._hear()

    def _open(self) -> None:
        self.port = self.device.open()
        self.decoder = self.device.decoder(self.port)
        self._tell(LinkState(Link.LIVE))

    def _hear(self) -> None:
        try:
            data = self.port.read(0.001)
        except PortLostError as lost:
            self.port.close()
            self._tell(LinkState(Link.LOST, lost.trouble))
            return
        for reading in self.decoder.feed(self.now, data):
            self.bench.hear((self.now, reading), self.now)

    def _tell(self, state: LinkState) -> None:
        self.links.append(state)
        self.bench.hear(state, self.now)
