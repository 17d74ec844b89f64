"""Find out what a scale's status bits mean, with three short trials.

Descriptions of these bits contradict each other (see `desk.scales.drivers.presets`), so none is trusted untested.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from desk.scales.drivers.lines import Bit, LinePattern
from desk.scales.drivers.status_bits import Trials, moving_bit, statuses

FRAMES = 8  # per trial; common practice, no source
ASKS = {
    "empty": "Clear the scale.",
    "hand": "Press on the scale with your hand and keep moving.",
    "still": "Put something on and wait until it settles.",
}
DISPUTED = "Status bits mean different things on different scales. Until you test yours, equal readings decide."
NONE_FITS = "No single bit shows when it moves. Equal readings still decide. Try again if a trial went wrong."
PLACES = ("first", "second", "third")


@dataclass(slots=True)
class StatusTrial:
    """The frames received in each trial. `listens` while a trial is running."""

    pattern: LinePattern
    frames: dict[str, list[bytes]] = field(default_factory=lambda: {name: [] for name in ASKS})
    listens: bool = False

    @property
    def step(self) -> str:
        """The current trial; empty when all are done."""
        return next((name for name, frames in self.frames.items() if len(frames) < FRAMES), "")

    @property
    def found(self) -> Bit | None:
        """The bit that means moving, once all trials are done; None when no single bit does."""
        return None if self.step else moving_bit(self.pattern, Trials(**self.frames))

    def begin(self) -> None:
        """Start the current trial."""
        self.listens = bool(self.step)

    def hear(self, frame: bytes) -> bool:
        """Add a frame and return True when it ends a trial. One without a status, or between trials, is ignored."""
        if not self.listens or not statuses(self.pattern, [frame]):
            return False
        frames = self.frames[self.step]
        frames.append(frame)
        self.listens = len(frames) < FRAMES
        return not self.listens

    def words(self) -> str:
        """Return what to do now, or the result."""
        if self.step:
            done = len(self.frames[self.step])
            return f"Hold it: {done} of {FRAMES} received." if self.listens else ASKS[self.step]
        bit = self.found
        return NONE_FITS if bit is None else f"{self.heard()} {bit_words(bit)}"

    def heard(self) -> str:
        """Return the status texts received in each trial."""
        shown = {name: dict.fromkeys(statuses(self.pattern, frames)) for name, frames in self.frames.items()}
        texts = {name: " ".join(found) for name, found in shown.items()}
        return f"Empty: {texts['empty']}, under your hand: {texts['hand']}, at rest: {texts['still']}."


def bit_words(bit: Bit) -> str:
    """Return a bit and its sense in words."""
    return f"Bit {bit.bit} of the {PLACES[bit.place]} status byte means moving when it is {int(bit.when)}."
