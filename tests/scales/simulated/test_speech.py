"""Frames of the virtual scale are read back by the protocol that wrote them."""

from decimal import Decimal

import pytest

from desk.scales.drivers.presets import PRESETS, read_lines
from desk.scales.simulated.speech import SPEECH, DisplayedValue, say

STREAMS = [name for name in SPEECH if name != "poll-etx-lb-oz"]


def heard(preset, word):
    (reading,) = read_lines(preset, say(preset, word))
    return reading


def test_every_protocol_can_be_sent():
    assert list(SPEECH) == list(PRESETS)


@pytest.mark.parametrize("preset", SPEECH)
@pytest.mark.parametrize("value", ["0.0", "4.2", "15.9", "35.5", "160.0"])
@pytest.mark.parametrize("at_rest", [True, False])
def test_a_plain_report_is_read(preset, value, at_rest):
    got = heard(preset, DisplayedValue(Decimal(value), "oz", at_rest))
    assert (got.value, got.unit, str(got.state)) == (Decimal(value), "oz", "stable" if at_rest else "moving")


@pytest.mark.parametrize("preset", STREAMS)
def test_grams_are_read(preset):
    got = heard(preset, DisplayedValue(Decimal(119), "g"))
    assert (got.value, got.unit) == (Decimal(119), "g")


@pytest.mark.parametrize("preset", SPEECH)
def test_an_overload_has_no_number(preset):
    got = heard(preset, DisplayedValue(Decimal(999), "oz", over=True))
    assert (got.value, str(got.state)) == (None, "over")


@pytest.mark.parametrize("preset", SPEECH)
def test_a_reading_below_zero_is_never_a_weight(preset):
    got = heard(preset, DisplayedValue(Decimal("-1.5"), "oz"))
    assert got.value == Decimal("-1.5") or (got.value is None and str(got.state) == "under")
