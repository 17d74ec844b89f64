"""Listening in: bytes are reported as they arrive, requests are sent in turn, and a tapped device reads as before."""

from desk.scales.devices import serial_device
from desk.scales.drivers.presets import PRESETS
from desk.scales.listening import QUESTIONS, RawDecoder, TappedPort, listening_device, tapped
from desk.scales.port import PortLostError, SerialSettings, Trouble
from desk.scales.thread import Device


class FakePort:
    def __init__(self, *reads):
        self.reads, self.written, self.closed = list(reads), [], 0

    def read(self, limit_s):
        if not self.reads:
            raise PortLostError(Trouble.UNPLUGGED)
        return self.reads.pop(0)

    def write(self, data):
        self.written.append(data)

    def close(self):
        self.closed += 1


def test_every_request_of_a_built_in_protocol_is_sent_once_per_round():
    assert sorted(QUESTIONS) == sorted({pattern.request for pattern in PRESETS.values()} - {b""})


def test_readings_are_passed_on_and_silence_is_not():
    port, heard = FakePort(b"ab", b"", b"c"), []
    tap = TappedPort(port, heard.append)
    assert [tap.read(0.1) for _ in range(3)] == [b"ab", b"", b"c"]
    assert heard == [b"ab", b"c"]


def test_a_tapped_device_sends_its_own_request_and_closes():
    port = FakePort(b"x")
    device = tapped(Device(lambda: port, lambda _port: RawDecoder(), b"W\r"), print)
    tap = device.open()
    tap.write(device.request)
    tap.close()
    assert (port.written, port.closed) == ([b"W\r"], 1)


def test_a_tapped_port_keeps_the_layout_of_a_usb_scale():
    port = FakePort()
    port.layout = "its own"
    assert TappedPort(port, print).layout == "its own"


def test_a_listener_sends_requests_in_turn_and_decodes_nothing():
    port = FakePort(b"S S  1.0 g\r\n")
    device = listening_device(SerialSettings("x"), [].append, lambda _settings: port)
    tap = device.open()
    for _ in range(len(QUESTIONS) + 1):
        tap.write(device.request)
    assert port.written == [*QUESTIONS, QUESTIONS[0]]
    assert device.decoder(tap).feed(0.0, b"S S  1.0 g\r\n") == []


def test_a_real_device_can_be_tapped():
    device = tapped(serial_device(SerialSettings("x"), PRESETS["status-prefixed"]), print)
    assert [reading.value is not None for reading in device.decoder(None).feed(0.0, b"\r\nST,GS,+   1.25,oz\r\n")] == [
        True
    ]
