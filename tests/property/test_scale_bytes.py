"""Any bytes at any decoder: nothing is raised, and no weight comes out that did not go in."""

from __future__ import annotations

from collections import Counter
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from desk.scales.drivers.decoders import LineDecoder, ReportDecoder
from desk.scales.drivers.descriptor import ReportLayout, common_layout, layout_of
from desk.scales.drivers.framing import CR, ETX, LF, LONGEST, STX, Ends, Framer
from desk.scales.drivers.hid_report import WITH_NUMBER, decode
from desk.scales.drivers.lines import LineReader, read_frames
from desk.scales.drivers.presets import PRESETS
from desk.scales.drivers.status_bits import Trials, learned
from desk.scales.reading import Capture, Reading, State
from desk.scales.simulated.speech import USUAL_DESCRIPTOR, DisplayedValue, say, say_report
from desk.scales.units import GRAMS
from desk.session.scale.listening import Listening

every_preset = pytest.mark.parametrize("preset", PRESETS)
words = st.builds(
    DisplayedValue,
    st.decimals("0", "160", places=1),
    st.just("oz"),
    at_rest=st.booleans(),
)
noise = st.binary(max_size=160)
# Bytes that usually look like lines: characters of numbers, units, states and frames.
line_like = st.lists(
    st.sampled_from([b"ST", b"US", b"S", b",", b"GS", b"+", b"-", b" ", b"1", b"25", b".", b"oz", b"LB", b"g", b"?"])
    | st.sampled_from([b"\r", b"\n", b"\x02", b"\x03", b"^^^", b"--", b"E3", b"\x30\x31", b"\xb1"]),
    max_size=24,
).map(b"".join)
pieces = st.lists(noise | line_like, max_size=8)
gaps = st.floats(0, 3)


def is_sound(reading: Reading) -> None:
    """What every reading keeps, whoever made it."""
    number = reading.value is not None and reading.unit in GRAMS
    assert (reading.grams is not None) is number
    if reading.may_capture is not Capture.NO:
        assert reading.grams is not None
        assert reading.grams > 0
        assert reading.state in (State.STABLE, State.NOT_TOLD)
    if reading.state is State.REFUSED:
        assert (reading.value, reading.grams) == (None, None)


def digits(number: Decimal | None) -> Counter[str]:
    return Counter(sign for sign in f"{abs(number or 0):f}" if sign in "123456789")


# --- USB reports


@given(noise, st.sampled_from([3, 4, 255, None]))
def test_any_report_is_read_or_ignored(report: bytes, number: int | None) -> None:
    reading = decode(report, common_layout(number))
    if reading is None:
        return
    body = report if number is None else report[1:]
    assert number is None or report[0] == number
    assert len(body) >= 5
    is_sound(reading)
    if reading.value is not None:
        assert reading.state in WITH_NUMBER
        power = int.from_bytes(body[2:3], "little", signed=True)
        assert abs(reading.value) == Decimal(int.from_bytes(body[3:5], "little")).scaleb(power)


@given(noise | st.binary(max_size=60).map(lambda tail: USUAL_DESCRIPTOR[:30] + tail), noise)
def test_any_descriptor_gives_a_layout_that_reads_any_report(descriptor: bytes, report: bytes) -> None:
    layout = layout_of(descriptor)
    if layout is not None and (reading := decode(report, layout)) is not None:
        is_sound(reading)


@given(st.integers(0, len(USUAL_DESCRIPTOR) - 1), st.integers(0, 255), noise)
def test_a_descriptor_with_one_wrong_byte_gives_a_sound_reading_or_none(place: int, byte: int, report: bytes) -> None:
    wrong = bytearray(USUAL_DESCRIPTOR)
    wrong[place] = byte
    layout = layout_of(bytes(wrong))
    assert layout is None or isinstance(layout, ReportLayout)
    if layout is not None and (reading := decode(report, layout)) is not None:
        is_sound(reading)


@given(words, st.integers(0, 5))
def test_a_truncated_report_is_not_a_reading(word: DisplayedValue, length: int) -> None:
    assert decode(say_report(word, common_layout())[:length], common_layout()) is None


@given(st.lists(st.tuples(gaps, noise | st.just(b"")), max_size=12))
def test_silence_repeats_only_what_was_reported(heard: list[tuple[float, bytes]]) -> None:
    decoder, now, sent = ReportDecoder(), 0.0, set()
    for gap, data in heard:
        now += gap
        if data:
            sent.add(data)
        for reading in decoder.feed(now, data):
            assert reading.raw in sent
            is_sound(reading)


# --- lines


@every_preset
@given(frame=noise | line_like)
def test_any_line_is_read_or_refused(preset: str, frame: bytes) -> None:
    reading = LineReader(PRESETS[preset]).read(frame)
    assert reading.raw == frame
    is_sound(reading)
    if reading.value is not None and preset != "poll-etx-lb-oz":  # that one adds sixteen ounces a pound
        there = Counter(chr(byte) for byte in frame if chr(byte) in "123456789")
        assert digits(reading.value) <= there


@every_preset
@given(frame=st.binary(max_size=96).filter(lambda frame: not any(48 <= byte <= 57 for byte in frame)))
def test_a_line_without_a_digit_has_no_weight(preset: str, frame: bytes) -> None:
    assert LineReader(PRESETS[preset]).read(frame).value is None


@every_preset
@given(word=words, place=st.integers(0, 200), byte=st.integers(0, 255))
def test_a_line_with_one_wrong_byte_is_read_correctly_or_refused(
    preset: str, word: DisplayedValue, place: int, byte: int
) -> None:
    data = bytearray(say(preset, word))
    data[place % len(data)] = byte
    for reading in read_frames(PRESETS[preset], bytes(data)):
        is_sound(reading)


@every_preset
@given(chunks=pieces, gap=gaps)
def test_any_stream_is_decoded_without_an_error(preset: str, chunks: list[bytes], gap: float) -> None:
    decoder, total = LineDecoder(PRESETS[preset]), 0
    for place, chunk in enumerate(chunks):
        total += len(chunk)
        for reading in decoder.feed(place * gap, chunk):
            assert len(reading.raw) <= total
            is_sound(reading)
    assert LineDecoder(PRESETS[preset]).feed(0.0, b"") == []


@every_preset
@given(word=words, cuts=st.lists(st.integers(1, 40), max_size=6))
def test_a_line_split_anywhere_is_read_as_a_whole_one(preset: str, word: DisplayedValue, cuts: list[int]) -> None:
    data = say(preset, word)
    whole = read_frames(PRESETS[preset], data)
    decoder, found, rest = LineDecoder(PRESETS[preset]), [], b"\r\x03" + data
    for cut in [*cuts, len(rest)]:
        found += decoder.feed(0.1, rest[:cut])
        rest = rest[cut:]
    assert [(each.value, each.unit, each.state) for each in found] == [
        (each.value, each.unit, each.state) for each in whole
    ]
    assert [each.value for each in whole] == [word.value]


# --- frames


@given(noise | line_like, st.lists(st.integers(1, 30), max_size=8), st.sampled_from(Ends), st.booleans())
def test_frames_do_not_depend_on_how_the_bytes_are_split(
    data: bytes, cuts: list[int], ends: Ends, joined: bool
) -> None:
    whole = Framer(ends, joined_midway=joined).feed(0.0, data)
    framer, found, rest = Framer(ends, joined_midway=joined), [], data
    for cut in [*cuts, len(data)]:
        found += framer.feed(0.0, rest[:cut])
        rest = rest[cut:]
    assert found == whole


@given(pieces, st.sampled_from(Ends), st.booleans(), gaps)
def test_a_frame_contains_only_received_bytes(chunks: list[bytes], ends: Ends, seven: bool, gap: float) -> None:
    framer, stream = Framer(ends, seven_bits=seven), b""
    for place, chunk in enumerate(chunks):
        stream += bytes(byte & 0x7F for byte in chunk) if seven else chunk
        for frame in framer.feed(place * gap, chunk):
            assert 0 < len(frame) <= LONGEST
            assert frame.strip()
            assert frame in stream
            enders = {STX, ETX} if ends is Ends.ETX else {STX, ETX, CR, LF}
            assert not enders & set(frame)


@given(pieces)
def test_a_line_without_an_end_character_is_never_complete(chunks: list[bytes]) -> None:
    framer = Framer(Ends.LINE)
    enders = bytes([ETX, CR, LF])
    assert [framer.feed(0.0, chunk.translate(None, enders)) for chunk in chunks] == [[] for _ in chunks]


# --- what listens to them


@given(pieces)
def test_listening_suggests_no_protocol_for_noise_and_never_fails(chunks: list[bytes]) -> None:
    listening = Listening()
    for chunk in chunks:
        listening.hear(chunk)
    assert isinstance(listening.text(), str)
    for fit in listening.proposals():
        assert fit.read <= fit.of
        assert any(
            reading.grams is not None
            for reading in read_frames(PRESETS[fit.preset], b"\r" + listening.data, seven_bits=fit.seven_bits)
        )


@given(st.lists(noise, max_size=9), st.lists(noise, max_size=9), st.lists(noise, max_size=9))
def test_no_status_bit_is_learned_from_noise(empty: list[bytes], hand: list[bytes], still: list[bytes]) -> None:
    found = learned(PRESETS["poll-etx"], Trials(empty, hand, still))
    assert found is None or found.flag_is_sure
