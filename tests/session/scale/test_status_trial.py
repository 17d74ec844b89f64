"""Three trials detect the bit that means moving; it is used only once accepted, and can be forgotten again."""

import pytest

from desk.domain.shop.shop import Policy
from desk.scales.drivers.lines import Bit, LineReader
from desk.scales.drivers.presets import PRESETS
from desk.scales.reading import State
from desk.session.scale.choice import (
    bits_are_disputed,
    pattern_of,
    save_scale,
    scale_choice,
    settling_rule,
    trust_bit,
    trusted_bit,
)
from desk.session.scale.status_trial import ASKS, DISPUTED, FRAMES, NONE_FITS, StatusTrial, bit_words
from desk.session.undo import undo

POLL = PRESETS["poll-etx"]
SERIAL = {"kind": "serial", "port": "/dev/ttyUSB0", "preset": "poll-etx"}
TURNED = Bit(0, 0, State.MOVING, when=False)


def weight(status):
    return b"\n 001.25OZ\r\nS" + status + b"\r"


def played(*statuses):
    """A trial in which each step heard only that status."""
    trial = StatusTrial(POLL)
    for status in statuses:
        trial.begin()
        for _ in range(FRAMES):
            trial.hear(weight(status))
    return trial


def test_each_step_says_what_to_do_and_listens_only_when_started():
    trial = StatusTrial(POLL)
    for name, ask in ASKS.items():
        assert (trial.step, trial.words()) == (name, ask)
        assert trial.hear(weight(b"00")) is False
        assert trial.frames[name] == []
        trial.begin()
        ended = [trial.hear(weight(b"00")) for _ in range(FRAMES)]
        assert ended == [False] * (FRAMES - 1) + [True]
    assert (trial.step, trial.listens) == ("", False)
    trial.begin()
    assert trial.listens is False


def test_a_line_without_a_status_is_not_counted():
    trial = StatusTrial(POLL)
    trial.begin()
    for frame in (b"rubbish", b"", b"\n 001.25OZ\r\n", weight(b"00")):
        trial.hear(frame)
    assert trial.words() == f"Hold it: 1 of {FRAMES} received."


# The two senses that descriptions of this family give: bit 0 set is moving (from memory), or at rest (a manual).
@pytest.mark.parametrize(
    ("rest", "moving", "when"), [(b"00", b"10", True), (b"10", b"00", False), (b"20", b"30", True)]
)
def test_either_bit_value_is_detected_and_described(rest, moving, when):
    trial = played(rest, moving, rest)
    assert trial.found == Bit(0, 0, State.MOVING, when=when)
    assert trial.words() == (
        f"Empty: {rest.decode()}, under your hand: {moving.decode()}, at rest: {rest.decode()}. "
        f"Bit 0 of the first status byte means moving when it is {int(when)}."
    )


@pytest.mark.parametrize("statuses", [(b"00", b"00", b"00"), (b"00", b"50", b"00"), (b"00", b"10", b"10")])
def test_an_unclear_result_says_so(statuses):
    trial = played(*statuses)
    assert (trial.found, trial.words()) == (None, NONE_FITS)


def test_no_bit_is_found_before_every_step_was_tried():
    assert played(b"00", b"10").found is None


def test_a_found_bit_is_accepted_in_one_step_and_forgotten_in_another(sitting):
    save_scale(sitting, SERIAL)
    assert trusted_bit(scale_choice(sitting)) is None
    assert settling_rule(Policy(), scale_choice(sitting)).trusts_flag is False
    trust_bit(sitting, TURNED)
    chosen = scale_choice(sitting)
    assert trusted_bit(chosen) == TURNED
    assert settling_rule(Policy(), chosen).trusts_flag is True
    states = [str(LineReader(pattern_of(chosen)).read(weight(status)).state) for status in (b"00", b"10")]
    assert states == ["moving", "stable"]
    trust_bit(sitting, None)
    assert trusted_bit(scale_choice(sitting)) is None
    assert undo(sitting) == "Status bit forgotten"
    assert trusted_bit(scale_choice(sitting)) == TURNED


def test_another_protocol_has_other_bits(sitting):
    save_scale(sitting, SERIAL)
    trust_bit(sitting, TURNED)
    save_scale(sitting, SERIAL | {"preset": "poll-etx-lb-oz"})
    assert trusted_bit(scale_choice(sitting)) is None
    assert pattern_of(scale_choice(sitting)) == PRESETS["poll-etx-lb-oz"]
    save_scale(sitting, SERIAL)
    assert trusted_bit(scale_choice(sitting)) == TURNED


@pytest.mark.parametrize(
    ("choice", "disputed"),
    [
        (SERIAL, True),
        (SERIAL | {"preset": "poll-etx-lb-oz"}, True),
        (SERIAL | {"preset": "status-prefixed"}, False),
        ({"kind": "usb", "preset": "poll-etx"}, False),
    ],
)
def test_only_some_protocols_have_disputed_bits(sitting, choice, disputed):
    save_scale(sitting, choice)
    assert bits_are_disputed(scale_choice(sitting)) is disputed


def test_a_bit_is_described_in_words():
    assert bit_words(Bit(2, 3, State.MOVING)) == "Bit 3 of the third status byte means moving when it is 1."
    assert "equal readings" in DISPUTED
