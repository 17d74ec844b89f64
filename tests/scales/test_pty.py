"""A real port end to end: the virtual scale in its own process on a pseudo-terminal, pyserial on this side."""

import os
import subprocess
import sys
import threading
import time
import tty
from decimal import Decimal

import pytest

from desk.scales.devices import serial_device
from desk.scales.drivers.presets import PRESETS
from desk.scales.following import Following
from desk.scales.port import Link, LinkState, PortLostError, SerialSettings, Trouble, open_serial
from desk.scales.settling import Settling, StepRule
from desk.scales.thread import ReadingThread
from tests.scales.replug import rounds_of

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="no pseudo-terminals there")
RATE = 20  # lines a second


class Ear:
    """Collects the posts of a thread."""

    def __init__(self):
        self.posts, self.changed = [], threading.Condition()

    def __call__(self, post):
        with self.changed:
            self.posts.append(post)
            self.changed.notify_all()

    def until(self, wanted, limit=10.0):
        """Wait until the posts so far satisfy the condition; fail after the time limit."""
        with self.changed:
            assert self.changed.wait_for(lambda: wanted(self.posts), limit), self.posts[-5:]

    def link(self, link, trouble=Trouble.NONE):
        self.until(lambda posts: LinkState(link, trouble) in posts)

    @property
    def links(self):
        return [post for post in self.posts if isinstance(post, LinkState)]

    @property
    def readings(self):
        return [post for post in self.posts if not isinstance(post, LinkState)]


@pytest.fixture
def scale(tmp_path):
    """Start a virtual scale with a script and yield its link. It is ended by its own process id."""
    running = []

    def start(script, stay=20.0, preset="status-prefixed"):
        link, file = tmp_path / "scale", tmp_path / "script"
        file.write_text(script)
        command = [sys.executable, "-m", "desk.scales.simulated.scale", "--pty-link", link, "--script", file]
        process = subprocess.Popen([*map(str, command), "--rate", str(RATE), "--stay", str(stay), "--preset", preset])
        running.append(process)
        deadline = time.monotonic() + 10
        while not link.exists() and time.monotonic() < deadline:
            time.sleep(0.01)
        return link

    yield start
    for process in running:
        process.terminate()
        process.wait(5)


@pytest.fixture
def listen():
    """Listen to a link with a preset; all threads are stopped at the end."""
    threads = []

    def start(link, preset="status-prefixed"):
        ear = Ear()
        thread = ReadingThread(serial_device(SerialSettings(str(link)), PRESETS[preset]), ear)
        threads.append(thread)
        thread.start()
        ear.thread = thread
        return ear

    yield start
    for thread in threads:
        assert thread.stop()


def values(ear):
    return [reading.value for _, reading in ear.readings]


def test_a_weighing_goes_from_the_pan_to_the_piece(scale, listen):
    ear = listen(scale("wait 1.0\nplace 4.2\nwait 2\nlift\n"))
    ear.until(lambda posts: Decimal("4.20") in values(ear) and values(ear)[-1] == 0)
    desk = Following(Settling(StepRule(Decimal("0.05"), "oz")))
    desk.open(1)
    got = [outcome for at, reading in ear.readings for outcome in desk.feed(at, reading)]
    assert [(one.say, one.settled.value) for one in got] == [("take", Decimal("4.20"))]
    assert ear.links[:2] == [LinkState(Link.OPENING), LinkState(Link.LIVE)]


def test_split_lines_are_read_correctly(scale, listen):
    ear = listen(scale("split 3\nplace 4.2\nwait 1.5\n"))
    ear.until(lambda posts: values(ear).count(Decimal("4.20")) >= 5)
    assert all(reading.state in ("stable", "moving") for _, reading in ear.readings)


def test_a_line_after_junk_is_refused(scale, listen):
    ear = listen(scale("place 4.2\nwait 1\n" + "junk 6\nwait 0.1\n" * 10))
    ear.until(lambda posts: len(values(ear)) > 12 and set(values(ear)[-6:]) == {Decimal("4.20")})
    assert max(values(ear)) < 5  # the bounce may show, a digit of junk never


def test_silence_is_reported_until_the_next_line(scale, listen):
    ear = listen(scale("wait 0.6\nsilence 4\n"))
    ear.link(Link.LIVE, Trouble.NOTHING_ARRIVES)
    assert ear.links[-1].trouble is Trouble.NOTHING_ARRIVES
    ear.until(lambda posts: posts.count(LinkState(Link.LIVE)) == 2)


def test_the_wrong_protocol_is_reported_as_garbage(scale, listen):
    ear = listen(scale("wait 5\n"), preset="value-unit-mark")
    ear.link(Link.LIVE, Trouble.GARBAGE_ARRIVES)
    assert ear.readings == []


def test_a_scale_that_is_plugged_in_again_is_read_again(scale, listen):
    link = scale("place 4.2\nwait 1.5\nunplug\n")
    ear = listen(link)
    ear.link(Link.LOST, Trouble.UNPLUGGED)
    scale("place 3.1\n")
    ear.until(lambda posts: posts and not isinstance(posts[-1], LinkState) and posts[-1][1].value == Decimal("3.10"))


def test_overload_and_the_unit_key_are_reported(scale, listen):
    ear = listen(scale("place 4.2\nwait 0.8\nover 0.5\nunit g\n"))
    ear.until(lambda posts: any(reading.unit == "g" for _, reading in ear.readings))
    over = next(reading for _, reading in ear.readings if reading.state == "over")
    assert (over.value, over.grams) == (None, None)


def test_a_port_in_use_by_another_program_is_reported(scale):
    link = str(scale("wait 1\n"))
    port = open_serial(SerialSettings(link))
    with pytest.raises(PortLostError) as second:
        open_serial(SerialSettings(link))
    port.close()
    assert second.value.trouble is Trouble.BUSY
    open_serial(SerialSettings(link)).close()


def test_a_missing_port_is_reported(listen, tmp_path):
    ear = listen(tmp_path / "none")
    ear.link(Link.LOST, Trouble.ABSENT)
    assert Link.LIVE not in {post.link for post in ear.links}


def test_stopping_is_quick_and_reports_closed(scale, listen):
    ear = listen(scale("wait 1\n"))
    ear.until(lambda posts: bool(ear.readings))
    begun = time.monotonic()
    assert ear.thread.stop()
    assert time.monotonic() - begun < 1.0
    assert ear.posts[-1] == LinkState(Link.CLOSED)


class Answering:
    """A scale that sends only on request, at the other end of a pseudo-terminal."""

    def __init__(self, answers, late_s=0.0):
        self.late_s, self.closing = late_s, threading.Event()
        self.own, self.other = os.openpty()
        tty.setraw(self.own)
        tty.setraw(self.other)
        self.name, self.answers, self.asked = os.ttyname(self.other), answers, []
        self.thread = threading.Thread(target=self.run, daemon=True)
        self.thread.start()

    def run(self):
        for answer in self.answers:
            try:
                self.asked.append(os.read(self.own, 16))
            except OSError:  # the other end is closed
                return
            if self.closing.wait(self.late_s):
                return  # a late answer would go to whatever is opened next
            try:
                os.write(self.own, answer)
            except OSError:
                return

    def close(self):
        self.closing.set()
        os.close(self.other)
        self.thread.join(2)
        assert not self.thread.is_alive()
        os.close(self.own)


@pytest.mark.parametrize(
    ("preset", "request_bytes", "answer", "value"),
    [
        ("poll-etx", b"W\r", b"\n 001.25OZ\r\nS00\r\x03", "1.25"),
        ("stable-letter", b"SI\r\n", b"S S     100.00 g\r\n", "100.00"),
        ("fixed-fields", b"\nW\r", b"\n 1G       5.025lb \r", "5.025"),
    ],
)
def test_a_scale_that_sends_only_on_request_is_read(listen, preset, request_bytes, answer, value):
    scale = Answering([answer] * 5)
    ear = listen(scale.name, preset)
    ear.until(lambda posts: Decimal(value) in values(ear))
    assert ear.thread.stop()
    scale.close()
    assert set(scale.asked) == {request_bytes}


@pytest.mark.parametrize("preset", PRESETS)
def test_the_virtual_scale_uses_every_protocol(scale, listen, preset):
    ear = listen(scale("place 4.2\n", preset=preset), preset)
    ear.until(lambda posts: bool(ear.readings) and values(ear)[-1] == Decimal("4.2"))
    assert {reading.unit for _, reading in ear.readings} == {"oz"}


def test_a_late_answer_is_used_with_its_time_of_arrival(listen):
    """Answers 1.5 s late to requests every 0.2 s: it is asked again meanwhile, and the late answer still counts."""
    scale = Answering([b"S S     100.00 g\r\n"] * 3, late_s=1.5)
    began = time.monotonic()
    ear = listen(scale.name, "stable-letter")
    ear.until(lambda posts: Decimal("100.00") in values(ear))
    assert ear.thread.stop()
    scale.close()
    assert ear.readings[0][0] - began >= 1.5


def test_the_wrong_speed_is_reported_as_garbage_and_the_right_one_is_read_at_once(listen):
    noise = bytes(0x80 | (37 * place) % 127 for place in range(40)) + b"\r\n"
    scale = Answering([noise] * 20 + [b"S S     100.00 g\r\n"] * 4)
    ear = listen(scale.name, "stable-letter")
    ear.link(Link.LIVE, Trouble.GARBAGE_ARRIVES)
    ear.until(lambda posts: Decimal("100.00") in values(ear), limit=20)
    assert ear.posts.index(LinkState(Link.LIVE, Trouble.GARBAGE_ARRIVES)) < ear.posts.index(ear.readings[0])
    assert set(values(ear)) == {Decimal("100.00")}
    assert ear.thread.stop()
    scale.close()


def test_ten_unplugs_with_a_capture_pending_lose_and_duplicate_nothing(tmp_path):
    rounds = rounds_of(tmp_path, 10)
    assert rounds == [(number, [Decimal(number) / 10 + 2]) for number in range(10)]
