"""Finding out what the status bits of a scale mean: three short trials, and what they say, in words.

Descriptions of these bits contradict each other (see `desk.scales.drivers.presets`), so no one is believed unseen.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from desk.scales.drivers.lines import Bit, LinePattern
from desk.scales.drivers.status_bits import Trials, moving_bit, statuses

FRAMES = 8  # of each trial; common practice, no source
ASKS = {
    "empty": "Clear the scale.",
    "hand": "Press on the scale with your hand and keep moving.",
    "still": "Put something on and wait until it settles.",
}
DISPUTED = "Status bits mean different things on different scales. Until you find out, equal readings decide."
NONE_FITS = "No single bit shows when it moves. Equal readings still decide. Try again if a trial went wrong."
PLACES = ("first", "second", "third")


@dataclass(slots=True)
class StatusTrial:
    """The frames heard in each trial, one trial after the other. `listens` while a trial is on."""

    pattern: LinePattern
    frames: dict[str, list[bytes]] = field(default_factory=lambda: {name: [] for name in ASKS})
    listens: bool = False

    @property
    def step(self) -> str:
        """The trial that is not done yet; empty when all are."""
        return next((name for name, heard in self.frames.items() if len(heard) < FRAMES), "")

    @property
    def found(self) -> Bit | None:
        """The bit that says moving, once all trials are done; None when it cannot be told."""
        return None if self.step else moving_bit(self.pattern, Trials(**self.frames))

    def begin(self) -> None:
        """What was asked for is so now."""
        self.listens = bool(self.step)

    def hear(self, frame: bytes) -> bool:
        """A frame came; True when it ended a trial. Without a status, or between trials, it says nothing."""
        if not self.listens or not statuses(self.pattern, [frame]):
            return False
        heard = self.frames[self.step]
        heard.append(frame)
        self.listens = len(heard) < FRAMES
        return not self.listens

    def words(self) -> str:
        """What a person has to do now, or what came of it."""
        if self.step:
            done = len(self.frames[self.step])
            return f"Keep it so: {done} of {FRAMES} heard." if self.listens else ASKS[self.step]
        found = self.found
        return NONE_FITS if found is None else f"{self.heard()} {bit_words(found)}"

    def heard(self) -> str:
        """The status texts of each trial as they came."""
        shown = {name: dict.fromkeys(statuses(self.pattern, frames)) for name, frames in self.frames.items()}
        texts = {name: " ".join(found) for name, found in shown.items()}
        return f"Empty: {texts['empty']}, under your hand: {texts['hand']}, at rest: {texts['still']}."


def bit_words(bit: Bit) -> str:
    """A bit and its sense in words."""
    return f"So bit {bit.bit} of the {PLACES[bit.place]} status byte says moving when it is {int(bit.when)}."
