"""Which scale is used: saved as one act, refused field by field, and made into a device and a rule."""

from dataclasses import replace
from decimal import Decimal

import pytest

from desk.app.scale import device_of
from desk.domain.shop.shop import Policy
from desk.domain.weight import Shown, WeightUnit
from desk.scales.drivers.framing import Ends
from desk.scales.drivers.lines import read_frames
from desk.scales.port import SerialSettings
from desk.scales.tray import Tray
from desk.session.scale.choice import (
    NONE,
    OWN,
    VIRTUAL,
    ScaleChoice,
    ScaleKind,
    keep_tray,
    pattern_of,
    save_scale,
    scale_choice,
    serial_settings,
    settling_rule,
    tray_of,
)
from desk.session.undo import undo

SERIAL = {"kind": "serial", "port": "/dev/ttyUSB0", "preset": "poll-etx", "speed": "2400", "bits": "7E1"}
OWN_TALK = {
    **SERIAL,
    "preset": OWN,
    "own_expression": r"(?P<status>A|B) *(?P<value>\d+\.\d) *(?P<unit>oz)",
    "own_request": r"P\r",
    "own_states": "A stable, B moving",
}


def test_the_default_applies_until_one_is_chosen(sitting):
    assert scale_choice(sitting) == NONE
    assert scale_choice(sitting, VIRTUAL).kind == "virtual"


def test_a_choice_is_one_act_and_can_be_undone(sitting):
    reported = []
    sitting.listeners.append(reported.append)
    assert save_scale(sitting, SERIAL) == ()
    assert scale_choice(sitting) == ScaleChoice(ScaleKind.SERIAL, "/dev/ttyUSB0", "poll-etx", 2400, "7E1")
    assert [changes.settings for changes in reported] == [True]
    assert undo(sitting) == "Scale settings saved"
    assert scale_choice(sitting) == NONE


def test_the_same_choice_again_makes_no_step(sitting):
    save_scale(sitting, SERIAL)
    reported = []
    sitting.listeners.append(reported.append)
    assert save_scale(sitting, SERIAL) == ()
    assert reported == []


@pytest.mark.parametrize(
    ("field", "value"),
    [("kind", "steam"), ("port", ""), ("preset", "x"), ("speed", "9601"), ("speed", "fast"), ("bits", "9N1")],
)
def test_an_invalid_value_is_reported_at_its_field_and_not_saved(sitting, field, value):
    faults = save_scale(sitting, SERIAL | {field: value})
    assert [fault.field for fault in faults] == [field]
    assert scale_choice(sitting) == NONE


@pytest.mark.parametrize(
    ("field", "value", "words"),
    [
        ("own_expression", "(?P<weight>1)", "names no value"),
        ("own_expression", r"(?P<value>(?:1|11|\d+)+)[A-F]", "takes too long"),
        ("own_ends", "dot", "line or etx"),
        ("own_states", "ST quiet", "pairs such as"),
    ],
)
def test_a_custom_pattern_is_checked_before_it_is_saved(sitting, field, value, words):
    (fault,) = save_scale(sitting, OWN_TALK | {field: value})
    assert fault.field == field
    assert words in fault.sentence


def test_a_custom_pattern_reads_lines(sitting):
    assert save_scale(sitting, OWN_TALK) == ()
    pattern = pattern_of(scale_choice(sitting))
    assert (pattern.request, pattern.ends) == (b"P\r", Ends.LINE)
    got = read_frames(pattern, b"A 4.2 oz\r\nB 4.3 oz\r\nC 1.0 oz\r\n")
    assert [(reading.value, str(reading.state)) for reading in got] == [
        (Decimal("4.2"), "stable"),
        (Decimal("4.3"), "moving"),
        (None, "refused"),
    ]


def test_the_serial_line_is_set_as_chosen():
    chosen = ScaleChoice(ScaleKind.SERIAL, "COM3", speed=2400, bits="7E1")
    assert serial_settings(chosen) == SerialSettings("COM3", 2400, 7, "E", 1)


def test_each_kind_of_scale_has_its_device():
    assert device_of(NONE) is None
    assert device_of(VIRTUAL) is None
    assert device_of(ScaleChoice(ScaleKind.USB)).request == b""
    assert device_of(ScaleChoice(ScaleKind.SERIAL, "COM3", "stable-letter")).request == b"SI\r\n"


@pytest.mark.parametrize(
    ("chosen", "trusts"),
    [
        (ScaleChoice(ScaleKind.USB, preset="poll-etx"), True),
        (ScaleChoice(ScaleKind.VIRTUAL_USB, preset="poll-etx"), True),
        (ScaleChoice(ScaleKind.VIRTUAL, preset="poll-etx"), False),
        (ScaleChoice(ScaleKind.VIRTUAL, preset=OWN), True),
        (ScaleChoice(ScaleKind.SERIAL, "x", "status-prefixed"), True),
        (ScaleChoice(ScaleKind.SERIAL, "x", "poll-etx"), False),
        (ScaleChoice(ScaleKind.SERIAL, "x", "poll-etx-lb-oz"), False),
    ],
)
def test_disputed_status_bits_do_not_settle_a_weight(chosen, trusts):
    rule = settling_rule(Policy(scale_division=Decimal("0.1"), scale_unit=WeightUnit.OUNCE), chosen)
    assert (rule.division, rule.unit, rule.trusts_flag) == (Decimal("0.1"), "oz", trusts)


def test_a_tray_is_weighed_and_removed(sitting):
    keep_tray(sitting, Shown(Decimal("3.2"), WeightUnit.OUNCE, Decimal("0.1")))
    assert tray_of(scale_choice(sitting)) == Tray(Decimal("3.2"), "oz")
    keep_tray(sitting, None)
    assert tray_of(scale_choice(sitting)) is None
    undo(sitting)
    assert tray_of(scale_choice(sitting)) == Tray(Decimal("3.2"), "oz")


def test_a_tray_survives_other_settings(sitting):
    keep_tray(sitting, Shown(Decimal("3.2"), WeightUnit.OUNCE, Decimal("0.1")))
    save_scale(sitting, SERIAL)
    assert scale_choice(sitting).tray == Decimal("3.2")
    assert replace(scale_choice(sitting), tray=None, tray_unit="").port == "/dev/ttyUSB0"
