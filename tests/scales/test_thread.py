"""The reading thread and the decoders on replayed bytes, without a device or waiting."""

import errno
import sys
import threading
from decimal import Decimal
from itertools import pairwise
from types import SimpleNamespace

import pytest

from desk.scales.devices import serial_device, usb_device
from desk.scales.drivers.decoders import LineDecoder, ReportDecoder
from desk.scales.drivers.descriptor import common_layout
from desk.scales.drivers.presets import PRESETS
from desk.scales.find import FoundScale
from desk.scales.port import Link, LinkState, PortLostError, SerialSettings, Trouble, open_serial, trouble_of
from desk.scales.thread import Device, ReadingThread

LINE = b"ST,GS,+   1.25,oz\r\n"
STABLE = bytes.fromhex("03040BFF0C00")
OTHER = bytes.fromhex("03040BFF0D00")


class Replay:
    """A port that returns scripted bytes, advances the clock with each read, and is lost at the end."""

    def __init__(self, clock, reads, layout=None):
        self.clock, self.reads, self.closed, self.written = clock, list(reads), 0, []
        if layout:
            self.layout = layout

    def read(self, limit_s):
        if not self.reads:
            raise PortLostError(Trouble.UNPLUGGED)
        passed, data = self.reads.pop(0)
        self.clock.now += passed
        return data

    def write(self, data):
        self.written.append(data)

    def close(self):
        self.closed += 1


class Clock:
    now = 0.0

    def __call__(self):
        return self.now


def run(device, clock, until):
    """Run a thread until its posts satisfy `until`, and return the posts."""
    posts, done = [], threading.Event()

    def post(what):
        posts.append(what)
        if until(posts):
            done.set()

    thread = ReadingThread(device, post, clock)
    thread.start()
    assert done.wait(5), posts
    assert thread.stop()
    return posts


def replayed(reads, pattern="status-prefixed"):
    clock = Clock()
    port = Replay(clock, reads)
    device = serial_device(SerialSettings("unused"), PRESETS[pattern])
    device = Device(lambda: port, device.decoder, device.request, device.asks_every_s)
    return run(device, clock, lambda posts: LinkState(Link.LOST, Trouble.UNPLUGGED) in posts), port


def reported(posts):
    return [
        (round(at, 3), reading.value) for at, reading in (post for post in posts if not isinstance(post, LinkState))
    ]


def test_readings_of_the_first_moment_are_ignored_as_old():
    posts, port = replayed([(0.1, LINE)] * 5)
    assert reported(posts) == [(0.3, Decimal("1.25")), (0.4, Decimal("1.25")), (0.5, Decimal("1.25"))]
    assert port.closed == 1
    assert [post.link for post in posts if isinstance(post, LinkState)][:3] == [Link.OPENING, Link.LIVE, Link.LOST]


def test_at_most_twenty_a_second_and_always_the_newest():
    lines = [(0.01, b"ST,GS,+   %d.00,oz\r\n" % (place % 10)) for place in range(100)]
    posts, _ = replayed(lines)
    got = reported(posts)
    assert len(got) <= 15
    assert all(later - earlier >= 0.049 for (earlier, _), (later, _) in pairwise(got))
    assert {value for _, value in got} > {Decimal("9.00")}


def test_requests_are_sent_at_intervals():
    posts, port = replayed([(0.1, b"")] * 10, "poll-etx")
    assert port.written == [b"W\r"] * 5
    assert reported(posts) == []


@pytest.mark.parametrize(
    ("data", "trouble"), [(b"", Trouble.NOTHING_ARRIVES), (b"\x81\x92\r", Trouble.GARBAGE_ARRIVES)]
)
def test_three_seconds_without_a_readable_line_are_reported(data, trouble):
    posts, _ = replayed([(0.1, data)] * 31 + [(0.1, b"x\r\n" + LINE)] * 2)
    links = [post for post in posts if isinstance(post, LinkState)]
    assert links[1:3] == [LinkState(Link.LIVE, trouble), LinkState(Link.LIVE)]


def test_a_switched_off_pattern_is_reported():
    class Off:
        switched_off = True

        def feed(self, at, data):
            return []

    clock = Clock()
    port = Replay(clock, [(0.1, b"x")] * 3)
    posts = run(Device(lambda: port, lambda _: Off()), clock, lambda posts: len(posts) >= 3)
    assert LinkState(Link.LIVE, Trouble.PATTERN_OFF) in posts


def test_a_missing_device_is_searched_again():
    clock, port = Clock(), None
    opened = []

    def opening():
        opened.append(1)
        if len(opened) == 1:
            raise PortLostError(Trouble.ABSENT)
        return Replay(clock, [(0.4, LINE), (0.1, LINE)])

    device = Device(opening, lambda _: LineDecoder(PRESETS["stable-letter"]))
    posts = run(device, clock, lambda posts: LinkState(Link.LOST, Trouble.UNPLUGGED) in posts)
    assert posts[:3] == [
        LinkState(Link.OPENING),
        LinkState(Link.LOST, Trouble.ABSENT),
        LinkState(Link.LOST, Trouble.UNPLUGGED),
    ]
    assert port is None


def test_pauses_between_attempts_grow_except_for_a_missing_device():
    thread = ReadingThread(Device(lambda: None, lambda _: None), lambda _: None)
    pauses = []
    for _ in range(7):
        pauses.append(thread._pause())
        thread._failures += 1
    assert pauses == [0.5, 1.0, 2.0, 4.0, 8.0, 8.0, 8.0]
    thread._reported = LinkState(Link.LOST, Trouble.ABSENT)
    assert thread._pause() == 1.0
    assert thread.stop()


def test_a_usb_scale_that_reports_only_on_change_is_repeated_in_its_silence():
    decoder = ReportDecoder()
    assert decoder.feed(0.0, b"") == []
    (first,) = decoder.feed(0.1, STABLE)
    assert decoder.feed(0.4, b"") == []
    assert decoder.feed(2.1, b"") == [first]  # two seconds quiet: a scale that reports on change
    assert decoder.feed(2.3, b"") == [first]
    (second,) = decoder.feed(2.4, OTHER)
    assert decoder.feed(2.6, b"") == [second]
    assert second.at == 2.4


def test_a_repeating_usb_scale_is_silent_when_it_stops():
    decoder = ReportDecoder()
    decoder.feed(0.0, STABLE)
    decoder.feed(0.1, STABLE)
    assert decoder.feed(5.0, b"") == []
    assert decoder.feed(5.1, bytes.fromhex("01060B")) == []


def test_a_usb_device_is_read_from_end_to_end():
    clock = Clock()
    port = Replay(clock, [(0.2, STABLE)] * 4, common_layout())
    found = (FoundScale(b"/a", "one", True), FoundScale(b"/b", "two", True))
    paths = []

    def opened(path):
        paths.append(path)
        return port

    device = usb_device("two", lambda: found, opened)
    posts = run(device, clock, lambda posts: LinkState(Link.LOST, Trouble.UNPLUGGED) in posts)
    assert reported(posts)[0] == (0.4, Decimal("1.2"))
    usb_device("gone", lambda: found, opened).open()
    assert (paths[0], paths[-1]) == (b"/b", b"/a")


def test_a_missing_usb_scale_is_reported_as_absent():
    with pytest.raises(PortLostError) as lost:
        usb_device("", lambda: ()).open()
    assert lost.value.trouble is Trouble.ABSENT


@pytest.mark.parametrize(
    ("number", "trouble"),
    [
        (errno.ENOENT, Trouble.ABSENT),
        (errno.EACCES, Trouble.NO_RIGHTS),
        (errno.EAGAIN, Trouble.BUSY),
        (errno.EIO, Trouble.UNPLUGGED),
    ],
)
def test_system_errors_have_their_fault(number, trouble):
    assert trouble_of(OSError(number, "")) is trouble
    assert trouble_of(TypeError()) is Trouble.UNPLUGGED


class Line:
    """A fake for the serial library's port."""

    timeout = 0.1

    def __init__(self, name, **settings):
        self.settings = settings
        if name == "mine":
            raise PermissionError(errno.EACCES, "")

    def reset_input_buffer(self):
        self.left = [b"S", b"T\r"]

    @property
    def in_waiting(self):
        return len(self.left[0]) if self.left else 0

    def read(self, _):
        return self.left.pop(0) if self.left else b""

    def write(self, data):
        raise OSError(errno.EIO, "")

    def close(self):
        raise TypeError


def test_a_serial_port_is_read_through_its_library(monkeypatch):
    monkeypatch.setitem(sys.modules, "serial", SimpleNamespace(Serial=Line))
    port = open_serial(SerialSettings("theirs", 4800, 7, "E"))
    settings = port._serial.settings
    assert [settings[name] for name in ("baudrate", "bytesize", "parity", "exclusive")] == [4800, 7, "E", True]
    assert (port.read(0.25), port.read(0.25), port._serial.timeout) == (b"ST\r", b"", 0.25)
    with pytest.raises(PortLostError) as lost:
        port.write(b"W\r")
    assert lost.value.trouble is Trouble.UNPLUGGED
    port.close()
    with pytest.raises(PortLostError) as refused:
        open_serial(SerialSettings("mine"))
    assert refused.value.trouble is Trouble.NO_RIGHTS
