"""Finding the bit for motion; the trials are invented, in both meanings found in descriptions."""

import pytest

from desk.scales.drivers.lines import LineReader
from desk.scales.drivers.presets import PRESETS
from desk.scales.drivers.status_bits import Trials, learned

POLL = PRESETS["poll-etx"]


def weight(status):
    return b"\n 001.25OZ\r\nS" + status + b"\r"


def only(status):
    return b"\nS" + status + b"\r"


USUAL = Trials([weight(b"20")] * 6, [only(b"10")] * 4 + [weight(b"00")] * 2, [weight(b"00")] * 6)
TURNED = Trials([weight(b"10")] * 6, [only(b"00")] * 6, [weight(b"10")] * 6)


@pytest.mark.parametrize(("trials", "moving", "still"), [(USUAL, b"10", b"00"), (TURNED, b"00", b"10")])
def test_either_meaning_of_a_bit_is_learned(trials, moving, still):
    pattern = learned(POLL, trials)
    assert pattern.flag_is_sure
    states = [LineReader(pattern).read(weight(status)).state.value for status in (moving, still, b"02")]
    assert states == ["moving", "stable", "over"]


@pytest.mark.parametrize(
    "trials",
    [
        Trials(USUAL.empty[:4], USUAL.hand, USUAL.still),  # too few
        Trials(USUAL.empty, USUAL.still, USUAL.still),  # the hand changed nothing
        Trials(USUAL.empty, [only(b"50")] * 6, USUAL.still),  # two bits at once
        Trials([b"rubbish"] * 6, USUAL.hand, USUAL.still),
    ],
)
def test_an_unclear_bit_is_not_learned(trials):
    assert learned(POLL, trials) is None
