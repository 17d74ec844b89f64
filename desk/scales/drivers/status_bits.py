"""Find which status bit means "moving", and in which sense, by three short trials during setup.

Descriptions of these bits contradict each other, so we test them: an empty pan, a hand on it, a thing at rest. The
right bit is equal in both rests and mostly the opposite under the hand.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from desk.scales.drivers.lines import Bit, LinePattern, groups_of
from desk.scales.reading import State

ENOUGH_FRAMES = 5  # in each trial; common practice, no source
MOST_BYTES, USED_BITS = 3, 4  # the upper four bits of a status byte are fixed


@dataclass(frozen=True, slots=True)
class Trials:
    """The frames received with an empty pan, with a hand on it, and with a thing at rest."""

    empty: Sequence[bytes]
    hand: Sequence[bytes]
    still: Sequence[bytes]


def moving_bit(pattern: LinePattern, trials: Trials) -> Bit | None:
    """Return the bit that means moving, by the trials; None when no bit, or more than one, fits."""
    samples = [statuses(pattern, frames) for frames in (trials.empty, trials.hand, trials.still)]
    if any(len(trial) < ENOUGH_FRAMES for trial in samples):
        return None
    fitting = [
        Bit(place, bit, State.MOVING, when=when)
        for place in range(MOST_BYTES)
        for bit in range(USED_BITS)
        for when in (True, False)
        if _fits(Bit(place, bit, State.MOVING, when), samples)
    ]
    return fitting[0] if len(fitting) == 1 else None


def trusting(pattern: LinePattern, moving: Bit) -> LinePattern:
    """Return the pattern with that bit for moving, marked as reliable."""
    others = tuple(bit for bit in pattern.bits if bit.state is not State.MOVING)
    return replace(pattern, bits=(*others, moving), flag_is_sure=True)


def learned(pattern: LinePattern, trials: Trials) -> LinePattern | None:
    """Return the pattern with its moving bit from the trials, marked as reliable; None when none or several fit."""
    bit = moving_bit(pattern, trials)
    return None if bit is None else trusting(pattern, bit)


def statuses(pattern: LinePattern, frames: Sequence[bytes]) -> list[str]:
    """Return the status texts of frames; frames without one, or that do not match, are skipped."""
    parts = (groups_of(pattern, frame) or {} for frame in frames)
    return [part["status"] for part in parts if "status" in part]


def _fits(bit: Bit, samples: list[list[str]]) -> bool:
    empty, hand, still = samples
    quiet = all(bit.is_in(status) is (not bit.when) for status in (*empty, *still))
    moving = sum(bit.is_in(status) is bit.when for status in hand)
    return quiet and moving * 2 > len(hand)
