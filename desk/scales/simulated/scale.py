"""A virtual scale: its own process, sending any of the built-in formats on a real pseudo-terminal.

`python -m desk.scales.simulated.scale --pty-link PATH --script FILE` makes PATH a link to the terminal and plays the
script, one step per line, with `#` for comments:

    wait SECONDS              let time pass                  lift                 take everything off
    place WEIGHT              put something on, with bounce  swap WEIGHT          another piece, pan never empty
    hand WEIGHT SECONDS       a hand presses, trembling      over SECONDS         more than the scale can weigh
    silence SECONDS           send nothing                   junk BYTES           garbage before the next line
    split BYTES               send lines in pieces this long unit oz|g            press the unit key
    pull SECONDS              unplug for that long           unplug               unplug and end

Weights are in the unit shown. When the script ends, the last state continues for `--stay` seconds. With `--by-hand`,
steps are then read from standard input until it ends, and the scale keeps sending in between. `--speed 8` makes its own
time run eight times as fast. `--preset NAME` chooses the format; a polled format only answers requests.
"""

from __future__ import annotations

import argparse
import math
import os
import random
import sys
import threading
import time
from collections import deque
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from pathlib import Path
from queue import Empty, SimpleQueue
from typing import Protocol

from desk.scales.drivers.presets import PRESETS
from desk.scales.simulated.speech import DisplayedValue, say

BOUNCE_HZ, BOUNCE_DECAY_S = 6.0, 0.12
STABLE_S = 0.4
PIECE_PAUSE_S = 0.012
STEPS = {"oz": Decimal("0.05"), "g": Decimal(1)}
WORDS = {
    "wait": 1,
    "place": 1,
    "lift": 0,
    "swap": 1,
    "hand": 2,
    "over": 1,
    "silence": 1,
    "junk": 1,
    "split": 1,
    "unit": 1,
    "pull": 1,
    "unplug": 0,
}


class Cable(Protocol):
    """What connects a scale."""

    def pull(self) -> None:
        """Unplug it."""
        ...

    def plug(self) -> None:
        """Plug it in again."""
        ...


class ScriptError(ValueError):
    """An invalid line of a script."""


def read_script(text: str) -> tuple[tuple[str, ...], ...]:
    """Return the steps of a script. Raises ScriptError with the line number."""
    steps = []
    for number, line in enumerate(text.splitlines(), 1):
        words = tuple(line.split("#")[0].split())
        if not words:
            continue
        if WORDS.get(words[0]) != len(words) - 1 or not _fits(words):
            raise ScriptError(f"line {number}: {line.strip()!r} is not a step")
        steps.append(words)
    return tuple(steps)


def _fits(words: tuple[str, ...]) -> bool:
    if words[0] == "unit":
        return words[1] in STEPS
    try:
        return all(math.isfinite(float(word)) for word in words[1:])
    except ValueError:
        return False


@dataclass(slots=True)
class VirtualScale:
    """What is on the pan and what the display shows, by a given clock. `voice` formats it, or else the preset."""

    rate: float = 10.0
    seed: int = 1
    unit: str = "oz"
    preset: str = "status-prefixed"
    steps: dict[str, Decimal] = field(default_factory=lambda: dict(STEPS))
    load: float = 0.0
    before: float = 0.0
    changed: float = 0.0
    hand: float = 0.0
    over: bool = False
    voice: Callable[[DisplayedValue], bytes] | None = None
    _shown: deque[Decimal] = field(default_factory=deque)
    _chance: random.Random = field(default_factory=random.Random)

    def __post_init__(self) -> None:
        self._chance.seed(self.seed)
        self._shown = deque(maxlen=max(2, round(self.rate * STABLE_S)))

    def put(self, load: float, now: float) -> None:
        """Change what is on the pan."""
        self.before, self.load, self.changed = self.load, load, now

    def turn_to(self, unit: str) -> None:
        """Press the unit key."""
        self.unit = unit
        self._shown.clear()

    def line(self, now: float) -> bytes:
        """Return the line the scale sends at `now`."""
        if self.over:
            return self._say(DisplayedValue(Decimal(0), self.unit, over=True))
        step = self.steps[self.unit]
        shown = round(self._force(now) / float(step)) * step
        self._shown.append(shown)
        full = len(self._shown) == self._shown.maxlen
        at_rest = full and max(self._shown) - min(self._shown) <= step
        return self._say(DisplayedValue(shown, self.unit, at_rest))

    @property
    def question(self) -> bytes:
        """Return the request it answers; empty when it sends without one."""
        return PRESETS[self.preset].request if self.voice is None else b""

    def _say(self, word: DisplayedValue) -> bytes:
        return say(self.preset, word) if self.voice is None else self.voice(word)

    def _force(self, now: float) -> float:
        since = now - self.changed
        ring = math.exp(-since / BOUNCE_DECAY_S) * math.cos(2 * math.pi * BOUNCE_HZ * since) if since >= 0 else 1.0
        tremor = self._chance.gauss(0, 0.05) * self.hand
        return self.load + (self.before - self.load) * ring + self.hand + tremor


class Terminal:
    """The scale's end of a pseudo-terminal, and a link to the other end."""

    def __init__(self, link: Path) -> None:
        self._link = link
        self.plug()

    def plug(self) -> None:
        """Create the terminal and the link."""
        import tty  # not on Windows, where only the virtual USB scale runs

        self._own, self._other = os.openpty()
        tty.setraw(self._own)
        tty.setraw(self._other)
        os.set_blocking(self._own, False)
        self._link.unlink(missing_ok=True)
        self._link.symlink_to(os.ttyname(self._other))

    def send(self, data: bytes) -> None:
        """Send bytes; unread ones are lost, as on a wire."""
        try:
            os.write(self._own, data)
        except BlockingIOError:
            return

    def asked(self) -> bytes:
        """Return what the other end has sent since the last call."""
        try:
            return os.read(self._own, 256)
        except (BlockingIOError, OSError):
            return b""

    def pull(self) -> None:
        """Remove the link and the terminal."""
        self._link.unlink(missing_ok=True)
        os.close(self._other)
        os.close(self._own)


class Player:
    """Plays a script on a scale and a terminal. `clock` and `sleep` are passed in."""

    def __init__(
        self,
        scale: VirtualScale,
        send: Callable[[bytes], None],
        clock: Callable[[], float] = time.monotonic,
        sleep: Callable[[float], None] = time.sleep,
        asked: Callable[[], bytes] = bytes,
        cable: Cable | None = None,
    ) -> None:
        self._asked, self._question, self._cable = asked, scale.question, cable
        self._heard = b""
        self._scale, self._send, self._clock, self._sleep = scale, send, clock, sleep
        self._pieces = 0
        self._junk = 0
        self._chance = random.Random(scale.seed)  # noqa: S311 - a scale's noise is no secret

    def play(self, steps: Sequence[tuple[str, ...]]) -> bool:
        """Play the steps. Return False when they ended with `unplug`."""
        for word, *rest in steps:
            if word == "unplug":
                return False
            self._step(word, rest)
        return True

    def obey(self, lines: Iterable[str]) -> None:
        """Play steps that arrive line by line, and send in between; invalid lines are ignored."""
        queued: SimpleQueue[str | None] = SimpleQueue()
        threading.Thread(target=_pass_on, args=(lines, queued), name="by hand", daemon=True).start()
        while True:
            try:
                line = queued.get_nowait()
            except Empty:
                self.talk(1 / self._scale.rate)
                continue
            if line is None or not self._obey(line):
                return

    def _obey(self, line: str) -> bool:
        try:
            return self.play(read_script(line))
        except ScriptError:
            return True

    def talk(self, seconds: float) -> None:
        """Send lines for that many seconds."""
        for _ in range(round(seconds * self._scale.rate)):
            line = self._scale.line(self._clock())
            if self._may_talk():
                self._line(line)
            self._sleep(1 / self._scale.rate)

    def _may_talk(self) -> bool:
        """Return whether to send: always, or only when the request arrived; several at once get one answer."""
        if not self._question:
            return True
        self._heard += self._asked()
        was_asked = self._question in self._heard
        if was_asked:
            self._heard = b""
        return was_asked

    def _step(self, word: str, rest: list[str]) -> None:
        if word == "unit":
            self._scale.turn_to(rest[0])
        elif word in ("place", "swap", "lift"):
            self._scale.put(float(rest[0]) if rest else 0.0, self._clock())
        elif word == "hand":
            self._scale.hand = float(rest[0])
            self.talk(float(rest[1]))
            self._scale.hand = 0.0
        elif word == "over":
            self._scale.over = True
            self.talk(float(rest[0]))
            self._scale.over = False
        else:
            self._wire(word, float(rest[0]))

    def _wire(self, word: str, amount: float) -> None:
        if word == "silence":
            self._sleep(amount)
        elif word == "pull":
            self._out_for(amount)
        elif word == "wait":
            self.talk(amount)
        elif word == "junk":
            self._junk = int(amount)
        else:
            self._pieces = int(amount)

    def _out_for(self, seconds: float) -> None:
        if self._cable is not None:
            self._cable.pull()
        self._sleep(seconds)
        if self._cable is not None:
            self._cable.plug()

    def _line(self, line: bytes) -> None:
        data = bytes(self._chance.randrange(33, 127) for _ in range(self._junk)) + line
        self._junk = 0
        size = self._pieces or len(data)
        for place in range(0, len(data), size):
            self._send(data[place : place + size])
            if self._pieces:
                self._sleep(PIECE_PAUSE_S)


def _pass_on(lines: Iterable[str], queued: SimpleQueue[str | None]) -> None:
    for line in lines:
        queued.put(line)
    queued.put(None)


def _player(chosen: argparse.Namespace, terminal: Terminal) -> Player:
    scale = VirtualScale(chosen.rate, chosen.seed, preset=chosen.preset, steps=STEPS | {"oz": chosen.step})
    speed: float = chosen.speed
    clock, sleep = (lambda: time.monotonic() * speed), (lambda seconds: time.sleep(seconds / speed))
    return Player(scale, terminal.send, clock, sleep, terminal.asked, terminal)


def main(arguments: Sequence[str] | None = None) -> int:
    """Run a virtual scale. Return 0 when its script has ended, 1 with a sentence when the script cannot be read."""
    parser = argparse.ArgumentParser(prog="virtual", description="A virtual scale on a pseudo-terminal.")
    parser.add_argument("--pty-link", type=Path, required=True)
    parser.add_argument("--script", type=Path)
    parser.add_argument("--by-hand", action="store_true")
    parser.add_argument("--preset", choices=tuple(PRESETS), default="status-prefixed")
    parser.add_argument("--rate", type=float, default=10.0)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--stay", type=float, default=0.0)
    parser.add_argument("--speed", type=float, default=1.0)
    parser.add_argument("--step", type=Decimal, default=STEPS["oz"])  # in ounces
    chosen = parser.parse_args(arguments)
    try:
        steps = read_script(chosen.script.read_text(encoding="utf-8") if chosen.script else "")
    except (OSError, ScriptError) as error:
        parser.exit(1, f"The script cannot be played: {error}\n")
    terminal = Terminal(chosen.pty_link)
    try:
        player = _player(chosen, terminal)
        if player.play(steps):
            player.talk(chosen.stay)
            if chosen.by_hand:
                player.obey(sys.stdin)
    except KeyboardInterrupt:
        return 0
    finally:
        terminal.pull()
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
