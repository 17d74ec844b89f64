"""From bytes of a port to readings: complete lines, and a USB scale repeated through its silence."""

from decimal import Decimal

import pytest

from desk.scales.drivers.decoders import QUIET_S, LineDecoder, ReportDecoder
from desk.scales.drivers.presets import PRESETS
from desk.scales.reading import State

OUNCES, MORE = bytes.fromhex("03040BFF0C00"), bytes.fromhex("03040BFF0D00")


def values(readings):
    return [reading.value for reading in readings]


def test_reading_may_start_in_the_middle_of_a_line():
    decoder = LineDecoder(PRESETS["status-prefixed"])
    assert decoder.feed(0.0, b"9.9 oz\r\nST,GS,+   1.2,oz\r\nST,GS,+ ") != []
    assert values(decoder.feed(0.1, b"  1.3,oz\r\n")) == [Decimal("1.3")]
    assert not decoder.switched_off


def test_each_reading_has_the_time_its_line_ended():
    decoder = LineDecoder(PRESETS["status-prefixed"])
    decoder.feed(0.0, b"\r\nST,GS,+   1")
    (reading,) = decoder.feed(0.2, b".2,oz\r\n")
    assert reading.at == 0.2


def test_the_first_answer_to_a_request_is_complete():
    (reading,) = LineDecoder(PRESETS["stable-letter"]).feed(0.0, b"S S     1.20 oz\r\n")
    assert (reading.value, reading.state) == (Decimal("1.20"), State.STABLE)


def test_a_line_that_fits_no_format_is_a_refused_reading():
    decoder = LineDecoder(PRESETS["stable-letter"])
    assert [reading.state for reading in decoder.feed(0.0, b"hello\r\n")] == [State.REFUSED]


def test_seven_bit_data_is_read_from_eight_bit_bytes():
    odd = bytes(byte | 0x80 for byte in b"S S     1.20 oz\r\n")
    assert values(LineDecoder(PRESETS["stable-letter"], seven_bits=True).feed(0.0, odd)) == [Decimal("1.20")]


def test_a_report_is_a_reading_with_its_time():
    (reading,) = ReportDecoder().feed(3.0, OUNCES)
    assert (reading.value, reading.unit, reading.at) == (Decimal("1.2"), "oz", 3.0)


@pytest.mark.parametrize("report", [b"", b"\x04" + OUNCES[1:], OUNCES[:3]])
def test_a_report_of_another_kind_gives_no_reading(report):
    assert ReportDecoder().feed(0.0, report) == []


def test_a_reading_of_an_on_change_scale_is_repeated_after_a_pause():
    decoder = ReportDecoder()
    decoder.feed(0.0, OUNCES)
    assert decoder.feed(QUIET_S - 0.01, b"") == []
    (again,) = decoder.feed(QUIET_S, b"")
    assert (again.value, again.at) == (Decimal("1.2"), 0.0)  # its age can be seen
    assert values(decoder.feed(QUIET_S + 0.1, b"")) == [Decimal("1.2")]
    assert values(decoder.feed(QUIET_S + 0.2, MORE)) == [Decimal("1.3")]
    assert values(decoder.feed(QUIET_S + 0.3, b"")) == [Decimal("1.3")]


def test_a_repeating_scale_is_silent_when_it_stops():
    decoder = ReportDecoder()
    for at in (0.0, 0.1):
        decoder.feed(at, OUNCES)
    assert decoder.feed(10.0, b"") == []


def test_readings_of_a_scale_that_starts_to_repeat_are_no_longer_repeated():
    decoder = ReportDecoder()
    decoder.feed(0.0, OUNCES)
    assert decoder.feed(QUIET_S, b"")
    decoder.feed(QUIET_S + 0.1, OUNCES)
    assert decoder.feed(QUIET_S * 5, b"") == []


def test_without_a_reading_there_is_nothing_to_repeat():
    assert ReportDecoder().feed(100.0, b"") == []
