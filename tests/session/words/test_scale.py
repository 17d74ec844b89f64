"""The words for a scale: each state, each fault, each unit, and which comes first when several apply."""

from __future__ import annotations

from decimal import Decimal

import pytest

from desk.scales.pan import Pan
from desk.scales.port import Link, LinkState, Trouble
from desk.scales.reading import Reading, State, shown_reading
from desk.scales.units import DESK_UNITS, HID_UNITS
from desk.session.words.scale import (
    CALIBRATION,
    NET,
    NO_SCALE,
    OFF_ZERO_S,
    TRAY_GONE,
    TRAY_UNIT,
    TROUBLES,
    UNITS,
    WORDS,
    WRONG_UNIT,
    fault_words,
    state_words,
    trouble_words,
    unit_words,
)

MARKS = {"fine", "note", "look", "stop"}


def reading(value: str = "4.2", unit: str = "oz", state: State = State.STABLE, *, net: bool = False) -> Reading:
    return shown_reading(Decimal(value), unit, state, b"", net=net)


def test_every_state_of_the_pan_has_a_short_word_and_a_mark() -> None:
    assert set(WORDS) == set(Pan)
    assert {mark for _, mark, _ in WORDS.values()} <= MARKS
    assert max(len(word) for word, _, _ in WORDS.values()) <= 15
    assert len({word for word, _, _ in WORDS.values()}) == len(Pan)


def test_every_fault_has_a_sentence_that_says_what_to_do() -> None:
    assert set(TROUBLES) == set(Trouble) - {Trouble.NONE}
    assert all(words.endswith(".") for words in TROUBLES.values())


@pytest.mark.parametrize("pan", [pan for pan in Pan if WORDS[pan][1] in ("look", "stop")])
def test_a_fault_of_the_pan_says_what_to_do_or_asks(pan: Pan) -> None:
    reported = fault_words(pan, OFF_ZERO_S, reading())
    assert bool(reported) is (pan is not Pan.SWAPPED_UNSEEN)  # that one asks instead


@pytest.mark.parametrize(("lasts", "reported"), [(0.0, False), (2.9, False), (3.0, True)])
def test_an_empty_pan_off_zero_is_given_three_seconds(lasts: float, reported: bool) -> None:
    assert bool(fault_words(Pan.OFF_ZERO, lasts, reading("0.1"))) is reported


@pytest.mark.parametrize("unit", [unit for unit in HID_UNITS if unit not in DESK_UNITS])
def test_each_unsupported_unit_is_named(unit: str) -> None:
    words = fault_words(Pan.CAPTURED, 0, Reading(Decimal(1), unit, State.STABLE))
    assert words == WRONG_UNIT.format(unit=UNITS[unit])


def test_supported_units_are_not_a_fault() -> None:
    assert [fault_words(Pan.CAPTURED, 0, reading(unit=unit)) for unit in sorted(DESK_UNITS)] == [""] * 4


@pytest.mark.parametrize(
    ("pan", "given", "tray", "words"),
    [
        (Pan.NEEDS_ZERO, Reading(None, "carat", State.NEEDS_CALIBRATION), False, CALIBRATION),
        (Pan.BELOW_ZERO, reading("2", "carat"), False, WRONG_UNIT.format(unit="carats")),
        (Pan.BELOW_ZERO, reading("3", net=True), False, NET),
        (Pan.BELOW_ZERO, reading("-3"), True, TRAY_GONE),
        (Pan.BELOW_ZERO, reading("-3"), False, WORDS[Pan.BELOW_ZERO][2]),
        (Pan.CAPTURED, Reading(None, "g", State.STABLE), True, TRAY_UNIT),
        (Pan.OVER_LIMIT, Reading(None, "oz", State.OVER), True, WORDS[Pan.OVER_LIMIT][2]),
    ],
)
def test_of_several_faults_the_one_to_fix_first_is_shown(pan: Pan, given: Reading, tray: bool, words: str) -> None:
    assert fault_words(pan, OFF_ZERO_S, given, has_tray=tray) == words


@pytest.mark.parametrize(
    ("pan", "given", "state"),
    [
        (Pan.EMPTY, Reading(Decimal("1.2"), "tael", State.STABLE), ("wrong unit", "look")),
        (Pan.CAPTURED, reading("170", "carat"), ("wrong unit", "look")),
        (Pan.NEEDS_ZERO, Reading(None, None, State.NEEDS_CALIBRATION), ("not calibrated", "look")),
        (Pan.NEEDS_ZERO, Reading(None, None, State.NEEDS_ZERO), ("needs zero", "look")),
        (Pan.CAPTURED, reading(), ("settled", "fine")),
    ],
)
def test_the_short_state_agrees_with_its_sentence(pan: Pan, given: Reading, state: tuple[str, str]) -> None:
    assert state_words(pan, given) == state
    assert bool(fault_words(pan, 0, given)) is (state[1] == "look")


@pytest.mark.parametrize(
    ("given", "state", "fault"),
    [
        (Reading(None, "g", State.STABLE), "wrong unit", TRAY_UNIT),
        (Reading(None, None, State.MOVING), "moving", ""),  # a scale that sends its status alone while it moves
        (reading(), "moving", ""),
    ],
)
def test_a_tray_weighed_in_another_unit_is_reported_from_a_scale_that_moves(
    given: Reading, state: str, fault: str
) -> None:
    assert state_words(Pan.LOAD_CHANGING, given, has_tray=True)[0] == state
    assert fault_words(Pan.LOAD_CHANGING, 0, given, has_tray=True) == fault


def test_a_unit_is_written_in_words() -> None:
    assert [unit_words(unit) for unit in ("oz", "troy_oz", "carat")] == ["oz", "troy ounces", "carats"]


@pytest.mark.parametrize(
    ("link", "words"),
    [
        (None, NO_SCALE),
        (LinkState(Link.CLOSED), NO_SCALE),
        (LinkState(Link.LIVE), ""),
        (LinkState(Link.OPENING), ""),
        (LinkState(Link.LOST, Trouble.BUSY), TROUBLES[Trouble.BUSY]),
        (LinkState(Link.LIVE, Trouble.GARBAGE_ARRIVES), TROUBLES[Trouble.GARBAGE_ARRIVES]),
    ],
)
def test_a_connection_is_described_in_words(link: LinkState | None, words: str) -> None:
    assert trouble_words(link) == words
