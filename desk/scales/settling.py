"""Decide when a weight is settled, and when it is another item: one state machine over times and readings.

It has no clock and no thread: call `feed` with a reading, `tick` when nothing came. Times are monotonic seconds.
Sources: a weight must stay within one division before it is printed or stored, NIST Handbook 44, Scales, S.2.5, and
OIML R 76-1, 4.4.2 (both from memory). The windows, bands and limits are this project's own, chosen on a model of
placements (`tests/scales/bench_model.py`).
"""

from __future__ import annotations

from collections import Counter, deque
from dataclasses import dataclass, replace
from decimal import Decimal

from desk.domain.weight import last_place
from desk.scales.pan import CaptureKind, Event, Pan, PanWasEmpty, SettledWeight, UnitChanged, UnsettledOffer
from desk.scales.reading import Reading, State
from desk.scales.units import DESK_UNITS

WINDOW_TOLD_S, READINGS_TOLD = 0.4, 3  # when the scale reports that it is stable
WINDOW_UNTOLD_S, READINGS_UNTOLD = 1.0, 5
EMPTY_STEPS, SMALLEST_STEPS = 2, 3
EMPTY_S, EMPTY_READINGS = 0.25, 2
LIFTED_SHARE = Decimal("0.1")
BELOW_S, SILENT_S, HOLE_S, OFFER_S, OFFER_LOOKS_BACK_S = 1.0, 2.0, 0.7, 6.0, 1.0
CORRECTION_S = 2.0
PATH_STEPS, PATH_SHARE = 3, Decimal("0.02")
SAME_SHARE = Decimal("0.003")
SLACK_S = 1e-6  # times are floats: 0.4 s in tenths must count as 0.4 s

TROUBLE = {
    State.OVER: Pan.OVER_LIMIT,
    State.OVER_LIMIT: Pan.OVER_LIMIT,
    State.NEEDS_ZERO: Pan.NEEDS_ZERO,
    State.NEEDS_CALIBRATION: Pan.NEEDS_ZERO,
    State.ZERO_ERROR: Pan.NEEDS_ZERO,
    State.FAULT: Pan.SCALE_FAULT,
    State.ERROR: Pan.SCALE_FAULT,
}


@dataclass(frozen=True, slots=True)
class StepRule:
    """The resolution printed on the scale, its unit, and whether its stable flag was checked and may be trusted."""

    division: Decimal | None = None
    unit: str | None = None
    trusts_flag: bool = True


class Settling:
    """The machine. `pan` is its state since `since`; `armed` means that the pan was empty: the next weight is new."""

    def __init__(self, rule: StepRule | None = None) -> None:
        self.rule = rule or StepRule()
        self.pan = Pan.NO_SIGNAL
        self.since = 0.0
        self.armed = False
        self.taken: SettledWeight | None = None  # the weight of the item on the pan
        self.asked: SettledWeight | None = None  # a settled weight that may be another item
        self._last: SettledWeight | None = None  # the last captured weight, kept after the item was lifted
        self._window: deque[tuple[float, Reading, Decimal]] = deque()
        self._recent: deque[tuple[float, Decimal]] = deque()
        self._empty: list[tuple[float, Decimal]] = []
        self._path = (Decimal(0), Decimal(0))
        self._offset = Decimal(0)
        self._below: float | None = None
        self._heard: float | None = None
        self._restless: float | None = None
        self._unit: str | None = None

    def feed(self, now: float, reading: Reading) -> tuple[Event, ...]:
        """Process a reading at `now`. Return the resulting events."""
        if reading.state in (State.REFUSED, State.UNKNOWN):
            return self.tick(now)
        self._hear(now)
        if reading.state in TROUBLE:
            self._unsettle()
            self._below = None
            self._go(TROUBLE[reading.state], now)
            return ()
        if reading.state is State.UNDER:
            return self._negative(now)
        if reading.value is None or reading.grams is None or reading.unit is None:
            return self._wordless(now, reading)
        changed = self._unit_change(reading.unit, now)
        return changed + self._numbered(now, reading, reading.value)

    def tick(self, now: float) -> tuple[Event, ...]:
        """Note that time has passed without a reading."""
        if self._heard is not None and now - self._heard >= SILENT_S - SLACK_S:
            self._unsettle()
            self._go(Pan.NO_SIGNAL, now)
        return ()

    def accept(self, now: float) -> SettledWeight | None:
        """Accept the weight asked about. Return it, or None when nothing was asked."""
        asked = self.asked
        if asked is not None:
            self._take(replace(asked, at=now))
            self._go(Pan.CAPTURED, now)
        return asked

    def step_of(self, reading: Reading) -> Decimal:
        """Return the scale's resolution in the reading's unit; the smallest digit shown when none is set."""
        if self.rule.division and self.rule.unit == reading.unit:
            return self.rule.division
        return last_place(reading.value) if reading.value is not None else Decimal(1)

    @property
    def offset(self) -> Decimal:
        """Return what the pan showed when last seen empty."""
        return self._offset

    def _hear(self, now: float) -> None:
        if self._heard is not None and now - self._heard > HOLE_S:
            self._window.clear()
            self._recent.clear()
            self._empty.clear()
        self._heard = now

    def _go(self, pan: Pan, now: float) -> None:
        if pan is not self.pan:
            self.pan, self.since = pan, now

    def _unsettle(self) -> None:
        self._window.clear()
        self._recent.clear()
        self._empty.clear()
        self._restless = None

    def _unit_change(self, unit: str, now: float) -> tuple[Event, ...]:
        before, self._unit = self._unit, unit
        if before is None or before == unit:
            return ()
        self._unsettle()
        self.armed, self.taken, self.asked, self._last, self._offset = False, None, None, None, Decimal(0)
        return (UnitChanged(unit, now),)

    def _wordless(self, now: float, reading: Reading) -> tuple[Event, ...]:
        """Handle a reading without a number: moving matters, anything else is ignored."""
        if reading.state is State.MOVING:
            self._window.clear()
            self._go(Pan.LOAD_CHANGING, now)
        return ()

    def _numbered(self, now: float, reading: Reading, value: Decimal) -> tuple[Event, ...]:
        step = self.step_of(reading)
        self._path = (min(self._path[0], value), max(self._path[1], value))
        if value < -EMPTY_STEPS * step:
            return self._negative(now)
        self._below = None
        lifted = self._lift(now, value)
        if value <= EMPTY_STEPS * step:
            return lifted + self._light(now, value)
        self._empty.clear()
        return lifted + self._loaded(now, reading, value, step)

    def _negative(self, now: float) -> tuple[Event, ...]:
        """Handle a long negative reading: the scale was zeroed with a load, so the next weight would be wrong."""
        self._unsettle()
        self._below = now if self._below is None else self._below
        if now - self._below >= BELOW_S - SLACK_S:
            self.armed, self.taken, self.asked = False, None, None
            self._go(Pan.BELOW_ZERO, now)
        return ()

    def _lift(self, now: float, value: Decimal) -> tuple[Event, ...]:
        if self.taken is None or value > self.taken.value * LIFTED_SHARE:
            return ()
        self._window.clear()
        self._go(Pan.LOAD_CHANGING, now)
        return self._arm(now)

    def _light(self, now: float, value: Decimal) -> tuple[Event, ...]:
        self._window.clear()
        self._recent.clear()
        self._restless = None
        self._empty.append((now, value))
        if len(self._empty) < EMPTY_READINGS or now - self._empty[0][0] < EMPTY_S - SLACK_S:
            return ()
        del self._empty[1:-1]
        self._offset = value
        self._go(Pan.OFF_ZERO if value else Pan.EMPTY, now)
        return self._arm(now) if self.asked or not self.armed else ()

    def _arm(self, now: float) -> tuple[Event, ...]:
        self.armed, self.taken, self.asked = True, None, None
        return (PanWasEmpty(now),)

    def _loaded(self, now: float, reading: Reading, value: Decimal, step: Decimal) -> tuple[Event, ...]:
        self._recent.append((now, value))
        while now - self._recent[0][0] > OFFER_LOOKS_BACK_S:
            self._recent.popleft()
        moving = reading.state is State.MOVING and self.rule.trusts_flag
        if moving or reading.state is State.ZERO:
            self._window.clear()
        else:
            self._widen(now, reading, value, step)
        if self._full(now) and value >= SMALLEST_STEPS * step:
            return self._settled(now, step)
        return self._waiting(now, reading, value, step)

    def _widen(self, now: float, reading: Reading, value: Decimal, step: Decimal) -> None:
        self._window.append((now, reading, value))
        while self._spread() > step:
            self._window.popleft()

    def _spread(self) -> Decimal:
        values = [value for _, _, value in self._window]
        return max(values) - min(values)

    def _full(self, now: float) -> bool:
        if not self._window:
            return False
        is_reported = self.rule.trusts_flag and all(reading.state is State.STABLE for _, reading, _ in self._window)
        lasts, readings = (WINDOW_TOLD_S, READINGS_TOLD) if is_reported else (WINDOW_UNTOLD_S, READINGS_UNTOLD)
        full = len(self._window) >= readings and now - self._window[0][0] >= lasts - SLACK_S
        while full and len(self._window) > readings and now - self._window[1][0] >= lasts - SLACK_S:
            self._window.popleft()  # readings older than the window no longer count
        return full

    def _waiting(self, now: float, reading: Reading, value: Decimal, step: Decimal) -> tuple[Event, ...]:
        if self.taken and abs(value - self.taken.value) <= step:
            return ()
        self._restless = now if self._restless is None else self._restless
        self._go(Pan.LOAD_SETTLING if len(self._window) > 1 else Pan.LOAD_CHANGING, now)
        if now - self._restless < OFFER_S or not self._recent:
            return ()
        self._restless = now
        heaviest = max(recent for _, recent in self._recent)
        self.asked = SettledWeight(heaviest, str(reading.unit), step, CaptureKind.OFFERED, now, offset=self._offset)
        return (UnsettledOffer(self.asked, now),)

    def _settled(self, now: float, step: Decimal) -> tuple[Event, ...]:
        self._restless = None
        settled = self._measured(now, step)
        if self.armed:
            return self._capture(replace(settled, same=_same(settled, self._last)))
        if _same(settled, self.taken):
            return self._beside(settled) if self._moved_on(settled) else self._again(settled)
        if self._may_correct(settled):
            return self._capture(replace(settled, how=CaptureKind.CORRECTED))
        known = self.asked is not None and self.asked.how is CaptureKind.SWAPPED and _same(settled, self.asked)
        self._go(Pan.SWAPPED_UNSEEN, now)
        if known:
            return ()
        self.asked = replace(settled, how=CaptureKind.SWAPPED)
        return (self.asked,)

    def _measured(self, now: float, step: Decimal) -> SettledWeight:
        """Return the reading shown most often in the window; the heavier on a tie."""
        counts = Counter(value for _, _, value in self._window)
        value = max(counts, key=lambda shown: (counts[shown], shown))
        asks = any(reading.net or reading.unit not in DESK_UNITS for _, reading, _ in self._window)
        unit = str(self._window[-1][1].unit)
        return SettledWeight(
            value, unit, step, CaptureKind.FIRST, now, min(counts), max(counts), asks=asks, offset=self._offset
        )

    def _capture(self, settled: SettledWeight) -> tuple[SettledWeight]:
        self._take(settled)
        self._go(Pan.CAPTURED, settled.at)
        return (settled,)

    def _take(self, settled: SettledWeight) -> None:
        self.armed, self.asked = False, None
        self.taken = self._last = settled
        self._path = (settled.value, settled.value)

    def _again(self, settled: SettledWeight) -> tuple[Event, ...]:
        came_back = self.pan is not Pan.CAPTURED
        self.asked = None
        self._go(Pan.CAPTURED, settled.at)
        return (replace(settled, how=CaptureKind.AGAIN),) if came_back else ()

    def _beside(self, settled: SettledWeight) -> tuple[Event, ...]:
        """Return the corrected weight one step away; the time for corrections still counts from the first capture."""
        before = self.taken
        corrected = self._capture(replace(settled, how=CaptureKind.CORRECTED))
        if before is not None:
            self.taken = self._last = replace(corrected[0], at=before.at)
        return corrected

    def _moved_on(self, settled: SettledWeight) -> bool:
        """Return True when the display soon settles near the captured weight and leaves it: a hand let go."""
        if self.taken is None or settled.at - self.taken.at > CORRECTION_S + SLACK_S:
            return False
        low, high = settled.low or settled.value, settled.high or settled.value
        return not low <= self.taken.value <= high

    def _may_correct(self, settled: SettledWeight) -> bool:
        """Return True for a hand let go or something added: soon, and the display stayed between the two."""
        if self.taken is None or settled.at - self.taken.at > CORRECTION_S + SLACK_S:
            return False
        low, high = sorted((self.taken.value, settled.value))
        margin = PATH_STEPS * settled.division + PATH_SHARE * high
        above = (high - low) / 2 if settled.value > self.taken.value else Decimal(0)
        return self._path[0] >= low - margin and self._path[1] <= high + margin + above


def _same(settled: SettledWeight, before: SettledWeight | None) -> bool:
    if before is None or before.unit != settled.unit:
        return False
    return abs(settled.value - before.value) <= max(settled.division, SAME_SHARE * before.value)
