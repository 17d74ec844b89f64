"""A model of a bench scale and of the hands that use it. Assumptions, not measurements: for comparing rules, not for promises.

Assumed: the load cell is a lightly damped mass (4 to 9 Hz, damping 0.12 to 0.4), the scale averages 0.15 to 0.45 s, its
noise is 0.2 step, its zero follows at most half a step per second (OIML R 76-1), and its stable flag means "the last
0.4 s within one step". Weights are log-normal around 5 oz. The mix of placements is `MIX`.
"""

from __future__ import annotations

import math
import random
import statistics
from collections import deque
from collections.abc import Iterator
from dataclasses import dataclass, field
from decimal import Decimal

from desk.scales.following import Following, Say
from desk.scales.pan import CaptureKind, PanWasEmpty, SettledWeight
from desk.scales.reading import Reading, State, shown_reading
from desk.scales.settling import Settling, StepRule

TICK = 0.005
FLAG_S = 0.4
MIX = {
    "clean": 0.40,
    "bounce": 0.14,
    "hand": 0.15,
    "two pieces": 0.05,
    "swap": 0.08,
    "shaking": 0.07,
    "put back": 0.06,
    "touch": 0.05,
}
WRONG_STEPS = Decimal("1.5")


@dataclass(frozen=True, slots=True)
class Setup:
    """A scale: step, unit, readings per second, and whether it sends a stable flag."""

    step: Decimal = Decimal("0.1")
    unit: str = "oz"
    rate: int = 10
    flag: bool = True

    @property
    def factor(self) -> float:
        return 28.349523125 if self.unit == "g" else 1.0


class Cell:
    """The physics: from force to the displayed value."""

    def __init__(self, setup: Setup, chance: random.Random) -> None:
        self.setup, self.chance = setup, chance
        self.pull = 2 * math.pi * chance.uniform(4, 9)
        self.damping = chance.uniform(0.12, 0.4)
        self.held: deque[float] = deque(maxlen=round(chance.uniform(0.15, 0.45) / TICK))
        self.shown: deque[Decimal] = deque(maxlen=round(FLAG_S * setup.rate) + 1)
        self.place = self.speed = self.zero = 0.0

    def tick(self, force: float) -> None:
        self.speed += TICK * (self.pull**2 * (force - self.place) - 2 * self.damping * self.pull * self.speed)
        self.place += TICK * self.speed
        self.held.append(self.place)

    def reading(self) -> Reading:
        step = float(self.setup.step)
        self.zero += self.chance.gauss(0, 0.002 * step)
        now = sum(self.held) / len(self.held) - self.zero + self.chance.gauss(0, 0.2 * step)
        if abs(now) < 2 * step:
            self.zero += max(-0.5, min(0.5, now / step)) * step / self.setup.rate
        value = round(now / step) * self.setup.step
        self.shown.append(value)
        return shown_reading(value, self.setup.unit, self._state(), b"")

    def _state(self) -> State:
        if not self.setup.flag:
            return State.NOT_TOLD
        full = len(self.shown) == self.shown.maxlen
        return State.STABLE if full and max(self.shown) - min(self.shown) <= self.setup.step else State.MOVING


@dataclass(slots=True)
class Placement:
    """One item: its true weight, what is done with it, and the force on the pan since it began."""

    kind: str
    true: float
    rests: float
    chance: random.Random
    gap: float = 0.0
    press: float = 0.0
    press_s: float = 0.0
    tremor: float = 0.0
    tremor_hz: float = 1.0

    @classmethod
    def random(cls, chance: random.Random, factor: float) -> Placement:
        kind = chance.choices(list(MIX), list(MIX.values()))[0]
        true = min(64.0, max(0.35, chance.lognormvariate(math.log(5), 0.8))) * factor
        one = cls(kind, true, chance.uniform(1.8, 5), chance, gap=chance.uniform(0.7, 3))
        if kind in ("hand", "touch"):
            one.press = chance.uniform(0.3, 6) * factor * (1 if kind == "touch" else chance.choice((1, -0.1)))
            one.press_s = chance.uniform(0.3, 2.5)
            one.tremor = chance.uniform(0.02, 0.07)
            one.tremor_hz = chance.uniform(0.7, 3)
        if kind == "swap":
            one.gap = 0.0
        return one

    @property
    def lasts(self) -> float:
        return self.lead + self.rests + (self.press_s if self.kind == "hand" else 0) + self.back

    @property
    def lead(self) -> float:
        return self.press_s + 0.8 if self.kind == "touch" else 0.0

    @property
    def back(self) -> float:
        return 3.0 if self.kind == "put back" else 0.0

    def force(self, since: float) -> float:
        """Return the force at a time since the placement began."""
        swing = math.sqrt(2) * self.tremor * math.sin(2 * math.pi * self.tremor_hz * since)
        hand = self.press * (1 + swing) if since < self.press_s else 0.0
        if self.kind == "touch":
            return hand if since < self.lead else self.true
        if self.kind == "hand":
            return self.true + hand
        if self.kind == "two pieces":
            return self.true * (0.6 if since < 0.9 else 1.0)
        if self.kind == "shaking":
            return self.true + math.sin(2 * math.pi * 3.1 * since) * 0.004 * self.true * math.exp(-since / 2)
        if self.kind == "bounce":
            return self.true * (1 + 2.5 * math.exp(-since / 0.06))
        away = self.kind == "put back" and self.rests < since < self.rests + 1.0
        return 0.0 if away else self.true


@dataclass(slots=True)
class Tally:
    """The results of the placements."""

    items: int = 0
    silent_wrong: int = 0
    missed: int = 0
    held: int = 0
    first_wrong: int = 0
    touches: int = 0
    touches_taken: int = 0
    second: int = 0  # items taken a second time as another item, without the mark "same"
    delays: list[float] = field(default_factory=list)
    by_kind: dict[str, int] = field(default_factory=dict)

    @property
    def median(self) -> float:
        return statistics.median(self.delays)

    def __add__(self, other: Tally) -> Tally:
        counts = ("items", "silent_wrong", "missed", "held", "first_wrong", "touches", "touches_taken", "second")
        both = {name: getattr(self, name) + getattr(other, name) for name in counts}
        return Tally(**both, delays=self.delays + other.delays)

    def line(self) -> str:
        """Return the results as one line."""
        share = 100 / max(1, self.items)
        late = statistics.quantiles(self.delays, n=20)[-1]
        return (
            f"{self.items} items: silently wrong {self.silent_wrong * share:.2f}%, missed {self.missed * share:.2f}%, "
            f"asked {self.held * share:.1f}%, another weight shown first {self.first_wrong * share:.1f}%, "
            f"taken twice unmarked {self.second * share:.3f}%, "
            f"hand on empty pan taken {self.touches_taken} of {self.touches}, "
            f"settled after {self.median:.2f} / {late:.2f} s (median / 95%)"
        )


def placements(setup: Setup, count: int, seed: int) -> Iterator[tuple[int, Placement, float, Reading]]:
    """Yield number, placement, time and reading, item after item, on one scale."""
    chance = random.Random(seed)
    cell = Cell(setup, chance)
    ticks = round(1 / setup.rate / TICK)
    step = 0
    for number in range(count):
        one = Placement.random(chance, setup.factor)
        if number == 0:
            one.gap = 2.0
        gap_ticks, all_ticks = round(one.gap / TICK), round((one.gap + one.lasts) / TICK)
        for within in range(all_ticks):
            cell.tick(0.0 if within < gap_ticks else one.force((within - gap_ticks) * TICK))
            step += 1
            if step % ticks == 0:
                yield number, one, step * TICK, cell.reading()


def follow_and_hold(setup: Setup, count: int, seed: int) -> Tally:
    """The program's own rule: a piece is opened for each item, just as the previous item is removed or swapped."""
    tally = Tally()
    desk = Following(Settling(StepRule(setup.step, setup.unit, setup.flag)))
    current: _Item | None = None
    for number, one, now, reading in placements(setup, count, seed):
        if current is None or current.number != number:
            if current:
                current.settle(tally, setup)
            current = _Item(number, one, now + one.gap + one.lead)
            current.take(desk.open(number), now)
        current.watch(now, reading, setup)
        current.take(desk.feed(now, reading), now)
    if current:
        current.settle(tally, setup)
    return tally


@dataclass(slots=True)
class _Item:
    number: int
    placement: Placement
    begun: float
    value: Decimal | None = None
    first: Decimal | None = None
    still: float = 0.0  # when the display came within a step of the true weight for good
    asked: bool = False
    touched: bool = False
    firsts: int = 0
    delay: float | None = None

    def watch(self, now: float, reading: Reading, setup: Setup) -> None:
        if abs(reading.value - Decimal(self.placement.true)) > setup.step:
            self.still = now

    def take(self, outcomes, now: float) -> None:
        for outcome in outcomes:
            if outcome.say is Say.ASK:
                self.asked = True
            elif outcome.piece == self.number:
                self.value, self.asked = outcome.settled.value, False
                if now < self.begun:
                    self.touched = True
                    continue
                self.firsts += outcome.settled.how is CaptureKind.FIRST and not outcome.settled.same
                if self.first is None:
                    self.first, self.delay = self.value, now - self.still

    def settle(self, tally: Tally, setup: Setup) -> None:
        tally.items += 1
        true = Decimal(self.placement.true)
        if self.placement.kind == "touch":
            tally.touches += 1
            tally.touches_taken += self.touched
        tally.second += self.firsts > 1
        if self.asked:
            tally.held += 1
            return
        if self.value is None:
            tally.missed += 1
            tally.by_kind[f"missed {self.placement.kind}"] = tally.by_kind.get(f"missed {self.placement.kind}", 0) + 1
            return
        if abs(self.value - true) > WRONG_STEPS * setup.step:
            tally.silent_wrong += 1
            tally.by_kind[self.placement.kind] = tally.by_kind.get(self.placement.kind, 0) + 1
        if self.first is not None and abs(self.first - true) > WRONG_STEPS * setup.step:
            tally.first_wrong += 1
        if self.delay is not None and self.placement.kind == "clean":
            tally.delays.append(self.delay)


def first_stable_flag(setup: Setup, count: int, seed: int) -> Tally:
    """A simple rule for comparison: it takes the first reading flagged stable after an empty pan."""
    tally = Tally()
    armed, current, item = False, -1, None
    for number, one, now, reading in placements(setup, count, seed):
        if number != current:
            if item:
                item.settle(tally, setup)
            current, item = number, _Item(number, one, now + one.gap + one.lead)
        item.watch(now, reading, setup)
        if abs(reading.value) <= 2 * setup.step:
            armed = True
        elif armed and reading.state is State.STABLE:
            armed = False
            item.value = item.value if item.value is not None else reading.value
            if item.first is None:
                item.first, item.delay = reading.value, now - item.still
    item.settle(tally, setup)
    return tally


def events_of(readings, rule: StepRule | None = None):
    """Return the events of a list of (time, reading), and the machine afterward."""
    machine = Settling(rule)
    return [event for now, reading in readings for event in machine.feed(now, reading)], machine


def hows(events) -> list[str]:
    """Return the events as short words."""
    return [event.how.value if isinstance(event, SettledWeight) else type(event).__name__.lower() for event in events]


__all__ = [
    "CaptureKind",
    "PanWasEmpty",
    "Setup",
    "Tally",
    "events_of",
    "first_stable_flag",
    "follow_and_hold",
    "hows",
    "placements",
]
