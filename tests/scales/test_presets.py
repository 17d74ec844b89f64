"""The built-in protocols: each is found by its name, and reads its own lines and no other's."""

import pytest

from desk.domain.faults import Refused
from desk.scales.drivers.presets import PRESETS, preset, read_lines
from desk.scales.reading import Capture

LINES = {
    "status-prefixed": b"ST,GS,+   1.20,oz\r\n",
    "poll-etx": b"\n  1.20 oz\r\nS00\r\x03",
    "stable-letter": b"S S     1.20 oz\r\n",
    "value-unit-mark": b"  1.20 oz\r\n",
    "fixed-fields": b"\n 1G       1.20oz \r",
}


@pytest.mark.parametrize("name", PRESETS)
def test_a_preset_is_found_by_its_name(name):
    assert preset(name).name == name


@pytest.mark.parametrize("name", ["", "none", "Poll-Etx"])
def test_an_unknown_name_is_reported_with_the_known_ones(name):
    for ask in (preset, lambda name: read_lines(name, b"")):
        with pytest.raises(Refused) as raised:
            ask(name)
        assert raised.value.sentence == (
            f"No data format is called {name!r}. Known formats: status-prefixed, poll-etx, poll-etx-lb-oz, "
            "stable-letter, value-unit-mark, fixed-fields, framed-words."
        )


@pytest.mark.parametrize("name", [name for name in LINES if name != "poll-etx"])
def test_each_protocol_reads_its_own_line(name):
    readings = [reading for reading in read_lines(name, LINES[name]) if reading.value is not None]
    assert [(str(reading.value), reading.unit) for reading in readings] == [("1.20", "oz")]


@pytest.mark.parametrize("name", [name for name in PRESETS if name not in ("value-unit-mark", "poll-etx")])
def test_a_line_of_another_format_gives_no_weight(name):
    """Except the plainest, which accepts any line with a number and a unit."""
    for other, line in LINES.items():
        if other != name:
            assert Capture.YES not in {reading.may_capture for reading in read_lines(name, line)}, other


@pytest.mark.parametrize("name", PRESETS)
def test_no_protocol_has_a_time_of_zero(name):
    assert read_lines(name, b"") == ()
