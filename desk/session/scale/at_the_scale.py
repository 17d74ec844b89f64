"""Follow the scale: record settled weights for the open piece and publish what the bench shows.

It has no thread and no clock: the caller passes in `(time, Reading)` and `LinkState`, in the sitting's thread.
`desk.scales.following` decides which piece a weight belongs to.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from decimal import Decimal

from desk.domain.faults import Fault
from desk.domain.finding import Severity
from desk.domain.weight import Shown, WeightUnit
from desk.scales.following import Following, Say, ScaleOutcome
from desk.scales.pan import CaptureKind, Pan, SettledWeight
from desk.scales.port import Link, LinkState
from desk.scales.reading import Reading
from desk.scales.settling import Settling, StepRule
from desk.scales.tray import Tray, without_tray
from desk.scales.units import DESK_UNITS
from desk.session.bench.weigh import record_weight
from desk.session.pile.packing import Placement
from desk.session.sitting import Sitting
from desk.session.words.figures import measure
from desk.session.words.scale import NO_SCALE, fault_words, state_words, trouble_words, unit_words

TELL_EVERY_S = 0.1  # at most ten times a second
OLD_S = 10  # a reading this old is shown with its age, in such steps
HELD_BACK_S = 1.0  # a fault must last this long before its strip is shown, so that it does not flicker


@dataclass(frozen=True, slots=True)
class Live:
    """The scale's display now; never saved. `says` is what you need to know; with `asks`, Enter uses the weight.

    `state` is the word on the screen; ask `pan` or `is_connected` instead of comparing it. `fault` is the sentence for
    the strip, set after something has been wrong for a second; `is_faulty`: `says` is already that sentence.
    """

    words: str = ""
    state: str = "no scale"
    mark: Severity = Severity.NOTE
    step: str = ""
    says: str = NO_SCALE
    asks: bool = False
    shown: Shown | None = None
    fault: str = ""
    is_faulty: bool = False
    pan: Pan | None = None  # None while nothing is read
    is_connected: bool = False

    @property
    def is_settled(self) -> bool:
        """Whether the displayed weight has settled without any doubt."""
        return self.mark is Severity.FINE

    @property
    def may_be_loaded(self) -> bool:
        """Whether something is on the scale, or might be."""
        return self.is_connected and self.pan not in (Pan.EMPTY, Pan.OFF_ZERO, Pan.NO_SIGNAL)


@dataclass(frozen=True, slots=True)
class WeightKept:
    """A piece's weight has been saved."""

    piece: int


@dataclass(frozen=True, slots=True)
class WeightRefused:
    """A piece's weight was not saved, and why."""

    piece: int
    sentence: str


@dataclass(frozen=True, slots=True)
class PieceLifted:
    """A piece whose weight was recorded has left the scale."""

    piece: int


ScaleNews = Live | WeightKept | WeightRefused | PieceLifted


class AtTheScale:
    """The open piece, how it is packed, and the state of the scale. News goes to `tell`."""

    def __init__(self, sitting: Sitting, tell: Callable[[ScaleNews], None], rule: StepRule | None = None) -> None:
        self._sitting, self._tell = sitting, tell
        self._following = Following(Settling(rule))
        self._link: LinkState | None = None
        self._reading: Reading | None = None
        self._announced: tuple[Live, float] | None = None
        self._faulty: tuple[str, float] = ("", 0.0)  # what is wrong, and since when
        self.tray: Tray | None = None
        self._done: int | None = None  # recorded since it was opened, and still on the scale
        self._has_saved = False  # a weight of the open piece, since it was opened
        self._saved: Shown | None = None  # that weight, or what the store has had since
        self._is_saving = False
        self.placement = Placement()
        self.live = Live()

    @property
    def piece(self) -> int | None:
        """The open piece, or None."""
        return self._following.piece

    @property
    def holds_recorded(self) -> bool:
        """True while the open piece is on the scale and its weight is recorded."""
        return self._done is not None

    @property
    def pan(self) -> Pan:
        """The state of the pan."""
        return self._following.settling.pan

    def settle_by(self, rule: StepRule, tray: Tray | None = None) -> None:
        """Use another scale, or the same one set up again: its step, whether its flag is trusted, and its tray."""
        self._following.settling.rule, self.tray = rule, tray

    def hear(self, post: tuple[float, Reading] | LinkState, now: float) -> None:
        """Process a message from the reading thread; `now` is the time by its clock."""
        if isinstance(post, LinkState):
            self._link = post
            self._reading = self._reading if post.link is Link.LIVE else None
        else:
            at, reading = post
            self._reading = without_tray(reading, self.tray)
            self._decide(self._following.feed(at, self._reading))
            self._look_for_lift()
        self._show(now)

    def tick(self, now: float) -> None:
        """Let time pass: detect silence and publish what was held back."""
        self._following.settling.tick(now)
        self._show(now)

    def open(
        self, piece: int, placement: Placement, now: float, *, in_list: bool = False, expects_same: bool = False
    ) -> None:
        """Open a piece: it gets a waiting weight, and what settles from now on.

        `in_list`: the program opened it, you didn't name it. Then a weight equal to the last one asks first, unless the
        contents are equal too (`expects_same`).
        """
        self.placement = placement
        if piece != self.piece:
            self._done, self._has_saved = None, False
        self._decide(self._following.open(piece, in_list=in_list, expects_same=expects_same))
        self._show(now)

    def close(self, now: float) -> None:
        """Close the open piece; a weight waiting for a number is dropped."""
        self._following.close()
        self._following.waiting = None
        self._done, self._has_saved = None, False
        self._show(now)

    def follow(self, stored: Shown | None, now: float) -> None:
        """Follow the open piece's weight in the store; None: it has none.

        When it is no longer the one saved here (undone, say), the item must be weighed again, and an equal weight is
        recorded like any other. An item still on the scale is not recorded again without asking.
        """
        if self._is_saving or not self._has_saved or stored == self._saved:
            return
        self._saved = stored
        if self._following.follow(stored):
            self._done = self.piece if self._following.owns_pan else None
            self._show(now)

    def record(self, piece: int, shown: Shown, *, again: bool = True) -> bool:
        """Save a weight for a piece and announce it; return False if it was refused.

        Without `again` it is the same item, settled once more.
        """
        self._is_saving = True
        try:
            self._save(piece, shown, again=again)
        except Fault as fault:
            self._tell(WeightRefused(piece, fault.sentence))
            return False
        finally:
            self._is_saving = False
        if piece == self.piece:
            self._has_saved, self._saved = True, shown
        self._tell(WeightKept(piece))
        return True

    def _save(self, piece: int, shown: Shown, *, again: bool) -> None:
        record_weight(self._sitting, piece, shown, self.placement, again=again)

    def take(self, now: float) -> bool:
        """Use the weight the bench is asking about; return False if it is not asking."""
        outcomes = self._following.take(now)
        self._decide(outcomes)
        self._show(now)
        return bool(outcomes)

    def holds_back(self) -> bool:
        """Return True when there is news that was held back."""
        return self._announced is not None and self.live != self._announced[0]

    def _decide(self, outcomes: tuple[ScaleOutcome, ...]) -> None:
        for outcome in outcomes:
            shown = outcome.settled.shown()
            if outcome.say in (Say.TAKE, Say.REPLACE) and outcome.piece is not None and shown is not None:
                if self.record(outcome.piece, shown, again=outcome.settled.how is not CaptureKind.CORRECTED):
                    self._done = outcome.piece
                else:
                    self._ask_again(outcome.piece, outcome.settled)

    def _ask_again(self, piece: int, settled: SettledWeight) -> None:
        """Ask again after a failed save while the item is on the scale; otherwise wait for its number."""
        self._done = None
        self._following.close()
        if self._following.settling.taken is None:
            self._following.waiting = settled
        else:
            self._following.open(piece)
            self._following.asked = settled

    def _look_for_lift(self) -> None:
        if self._done is not None and self._following.settling.armed:
            done, self._done = self._done, None
            self._tell(PieceLifted(done))

    def _show(self, now: float) -> None:
        self.live = self._with_fault(self._now_shown(now), now)
        if self._announced is None or (self.holds_back() and now - self._announced[1] >= TELL_EVERY_S):
            self._announced = (self.live, now)
            self._tell(self.live)

    def _with_fault(self, live: Live, now: float) -> Live:
        """Return the display with its fault on the strip once it has lasted a second."""
        if live.fault != self._faulty[0]:
            self._faulty = (live.fault, now)
        return live if now - self._faulty[1] >= HELD_BACK_S else replace(live, fault="")

    def _now_shown(self, now: float) -> Live:
        trouble = trouble_words(self._link)
        if self._link is None or trouble == NO_SCALE:
            return Live()
        if trouble:
            return Live("", "no scale", Severity.LOOK, says=trouble, fault=trouble, is_faulty=True)
        return self._reads(self._reading, now) if self._reading else Live("", "waiting", says="", is_connected=True)

    def _reads(self, reading: Reading, now: float) -> Live:
        state, mark = state_words(self.pan, reading, has_tray=self.tray is not None)
        says, asks = self._question()
        settling = self._following.settling
        fault = fault_words(self.pan, now - settling.since, reading, has_tray=self.tray is not None)
        number = reading.value if self.pan is not Pan.NO_SIGNAL else None
        step = settling.step_of(reading)
        return Live(
            words=measure(f"{number} {unit_words(reading.unit)}") if number is not None and reading.unit else "",
            state="asks" if asks else state,
            mark=Severity.LOOK if asks or (fault and mark is not Severity.STOP) else mark,
            step=self._step_words(step, reading, now),
            says=fault if fault and not asks else says,
            asks=asks,
            shown=_as_shown(reading, step, settling.offset) if number is not None else None,
            fault=fault,
            is_faulty=bool(fault) and not asks,
            pan=self.pan,
            is_connected=True,
        )

    def _step_words(self, step: Decimal, reading: Reading, now: float) -> str:
        """Return the step and the tray in words, and the age of a reading the scale sent only once."""
        if not reading.unit or reading.unit not in DESK_UNITS:
            return ""
        tray = f", less tray {self.tray.words()}" if self.tray else ""
        age = int(now - reading.at) // OLD_S * OLD_S if reading.at else 0
        return measure(f"{step} {reading.unit}{tray}{f', {age} s ago' if age else ''}")

    def _question(self) -> tuple[str, bool]:
        asked, waiting = self._following.asked, self._following.waiting
        if asked is not None and asked.shown() is None:
            return ("", False)  # the fault about its unit is shown
        if asked is not None and asked.how is CaptureKind.FIRST and asked.same:
            return ("Same weight as the last piece. Press Enter to use it, or put the next piece on.", True)
        if asked is not None and self._reading is not None and self._reading.net:
            return (
                f"{_words(asked)} is a net weight. Press Enter to use it anyway, or clear the scale and press tare.",
                True,
            )
        if asked is not None and asked is waiting:
            return (
                f"Use {_words(asked)}, weighed before, for this one? Press Enter, or put this one on.",
                True,
            )
        if asked is not None and self.pan is not Pan.NO_SIGNAL:
            return (f"Use {_words(asked)} for this one? Press Enter, or clear the scale first.", True)
        if waiting is not None:
            return (f"{_words(waiting)} is waiting for an order number.", False)
        return ("", False)


def _words(settled: SettledWeight) -> str:
    return measure(f"{settled.value} {settled.unit}")


def _as_shown(reading: Reading, step: Decimal, offset: Decimal) -> Shown | None:
    if reading.value is None or reading.value <= 0 or reading.unit not in DESK_UNITS:
        return None
    return Shown(reading.value, WeightUnit(reading.unit), step, offset=offset)
