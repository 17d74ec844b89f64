"""Listening: bytes are shown as they arrive, and the protocol that fits is suggested."""

import pytest

from desk.session.scale.listening import KEPT_BYTES, Listening, proposals

TALKS = {
    "status-prefixed": b"ST,GS,+   1.25,oz\r\n",
    "poll-etx": b"\n 001.25OZ\r\nS00\r\x03",
    "poll-etx-lb-oz": b"\n  2LB  3.5OZ\r\nS00\r\x03",
    "stable-letter": b"S S     100.00 g\r\n",
    "value-unit-mark": b"    192.21 g    ?\r\n    192.20 g\r\n",
    "fixed-fields": b"\n 1G       5.025lb \r",
}


def even(data):
    """Return the bytes that a port set to 8 bits receives from 7 bits with even parity."""
    return bytes(byte | 0x80 if byte.bit_count() % 2 else byte for byte in data)


@pytest.mark.parametrize("name", TALKS)
def test_the_protocol_of_the_scale_is_suggested_first(name):
    got = proposals(b"5 junk\r\n" + TALKS[name] * 8)
    assert got[0].preset == name
    assert got[0].read >= 7
    assert not got[0].seven_bits


@pytest.mark.parametrize("name", ["status-prefixed", "stable-letter"])
def test_seven_bits_with_even_parity_are_detected(name):
    got = proposals(even(TALKS[name] * 8))
    assert (got[0].preset, got[0].seven_bits) == (name, True)


def test_the_last_weight_is_reported():
    assert proposals(TALKS["status-prefixed"] * 5)[0].weight == "1.25 oz"


@pytest.mark.parametrize("data", [b"", b"ST,GS,+   1.25,oz\r\n" * 2, bytes(range(256)) * 8, b"hello\r\n" * 50])
def test_too_little_data_or_noise_gives_no_suggestion(data):
    assert proposals(data) == ()


def test_a_half_unreadable_protocol_is_not_suggested():
    assert proposals((TALKS["status-prefixed"] + b"what\r\n") * 10) == ()


def test_an_occasional_damaged_line_is_tolerated():
    got = proposals(b"\r\n" + TALKS["status-prefixed"] * 5 + b"ST,G#\r\n" + TALKS["status-prefixed"] * 5)
    assert (got[0].preset, got[0].read, got[0].of) == ("status-prefixed", 10, 11)


def test_an_unprintable_byte_is_shown_as_a_number():
    listening = Listening()
    listening.hear(b"ST\x80\r\nA\x02\x03")
    assert listening.text() == "ST<80>\nA<02><03>\n"


def test_only_the_latest_bytes_are_kept():
    listening = Listening()
    for _ in range(300):
        listening.hear(TALKS["status-prefixed"])
    assert len(listening.data) == KEPT_BYTES
    assert listening.proposals()[0].preset == "status-prefixed"
    assert len(listening.text(4).split("\n")) == 4


@pytest.mark.parametrize(("damaged", "is_proposed"), [(3, True), (4, False)])
def test_one_line_in_four_may_be_damaged(damaged, is_proposed):
    """Three of twelve is one in four; four of thirteen is more."""
    got = proposals(b"\r\n" + TALKS["status-prefixed"] * 9 + b"ST,G#\r\n" * damaged)
    assert bool(got) is is_proposed


@pytest.mark.parametrize(("high", "seven"), [(b"\x7f", False), (b"\x80", True)])
def test_only_bytes_above_127_have_the_eighth_bit_set(high, seven):
    line = TALKS["stable-letter"]
    filler = b"\n" + line * 4
    noise = high * (len(line) * 4 // 2) + b"\r\n"
    read = proposals(filler + noise)
    assert [found.seven_bits for found in read] == [seven]


@pytest.mark.parametrize(
    ("byte", "words"), [(0x1F, "<1F>"), (0x20, " "), (0x21, "!"), (0x7E, "~"), (0x7F, "<7F>"), (0x80, "<80>")]
)
def test_only_printable_characters_are_shown_unchanged(byte, words):
    listening = Listening()
    listening.hear(bytes([byte]))
    assert listening.text() == words


def test_a_line_end_at_the_very_start_ends_the_partial_line():
    assert proposals(b"\n" + TALKS["stable-letter"] * 3)[0].of == 3


@pytest.mark.parametrize("end", [0x0A, 0x0D, 0x03, 0x8D, 0x83])
def test_each_line_end_ends_the_partial_line(end):
    assert proposals(b"part" + bytes([end]) + TALKS["stable-letter"] * 3)[0].of == 3
