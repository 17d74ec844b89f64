"""What the scale is doing, in a word with its mark, and what a person can do about trouble, in a sentence."""

from __future__ import annotations

from collections.abc import Mapping

from desk.scales.drivers.hid_report import WITH_NUMBER
from desk.scales.pan import Pan
from desk.scales.port import Link, LinkState, Trouble
from desk.scales.reading import Reading, State
from desk.scales.units import DESK_UNITS

NO_SCALE = "No scale: press T to type a weight."

WORDS: Mapping[Pan, tuple[str, str, str]] = {  # word, mark, what to do
    Pan.NO_SIGNAL: ("no signal", "look", "The scale is silent. Press its on key, or T to type a weight."),
    Pan.EMPTY: ("empty", "note", ""),
    Pan.OFF_ZERO: (
        "not at zero",
        "look",
        "If the pan is empty, press the zero key on the scale. A piece as light as this is typed: T.",
    ),
    Pan.LOAD_CHANGING: ("moving", "note", ""),
    Pan.LOAD_SETTLING: ("settling", "note", ""),
    Pan.CAPTURED: ("settled", "fine", ""),
    Pan.SWAPPED_UNSEEN: ("another weight", "look", ""),
    Pan.BELOW_ZERO: (
        "below zero",
        "look",
        "The scale was zeroed with something on it. Empty the pan and press the zero key on the scale.",
    ),
    Pan.OVER_LIMIT: ("too heavy", "stop", "More than this scale can carry. Take it off; T types a weight."),
    Pan.NEEDS_ZERO: ("asks for zero", "look", "Empty the pan and press the zero key on the scale."),
    Pan.SCALE_FAULT: ("fault", "stop", "The scale tells of a fault. Switch it off and on; T types a weight."),
}

TROUBLES: Mapping[Trouble, str] = {
    Trouble.ABSENT: "The scale is not there. Plug it in, or press T to type a weight.",
    Trouble.NO_RIGHTS: "The system does not let this program read the scale. Setup says how to allow it.",
    Trouble.BUSY: "Another program holds the scale. Close it; until then press T to type a weight.",
    Trouble.UNPLUGGED: "The scale went away. Plug it in again; until then press T to type a weight.",
    Trouble.NOTHING_ARRIVES: (
        "Nothing comes from the scale: it is off, asleep, or on another port. Press its on key and look at the cable."
    ),
    Trouble.RUBBISH_ARRIVES: "What comes from the scale makes no sense. Choose another speed or way of talking in Setup.",
    Trouble.PATTERN_OFF: "The pattern for the scale's lines takes too long and was switched off. Choose another in Setup.",
    Trouble.NOT_SUPPORTED: "This installation cannot read such a scale. Press T to type a weight.",
}

# What a reading itself tells, besides the state of the pan; `{unit}` is what the scale shows.
CALIBRATION = "The scale asks to be calibrated. Do that as its manual says; until then T types a weight."
WRONG_UNIT = "The scale shows {unit}. Press its unit key until it shows oz, lb, g or kg; T types a weight."
NET = (
    "The scale shows a net weight, and postage needs the gross one. Press its tare key with the pan empty, or take it."
)
TRAY_UNIT = "The tray was weighed in another unit. Press the unit key on the scale, or weigh the tray again in Setup."
TRAY_GONE = "Less than the empty tray lies on the scale. Put the tray back, or tell Setup that there is none."
UNITS = {
    "mg": "milligrams",
    "carat": "carats",
    "tael": "taels",
    "grain": "grains",
    "pennyweight": "pennyweights",
    "metric_ton": "tons",
    "short_ton": "short tons",
    "troy_oz": "troy ounces",
}
OFF_ZERO_S = 3.0  # an empty pan that is off for longer needs the zero key


def state_words(pan: Pan, reading: Reading, *, has_tray: bool = False) -> tuple[str, str]:
    """What the scale is doing, in a word, and its mark; a unit no desk uses is told before anything that lies there."""
    if reading.state is State.NEEDS_CALIBRATION:
        return ("not calibrated", "look")
    if (reading.unit and reading.unit not in DESK_UNITS) or (has_tray and _is_in_another_unit(reading)):
        return ("wrong unit", "look")
    return WORDS[pan][:2]


def unit_words(unit: str) -> str:
    """A unit as it is written on the screen."""
    return UNITS.get(unit, unit)


def fault_words(pan: Pan, lasting_s: float, reading: Reading, *, has_tray: bool = False) -> str:
    """The sentence for what is wrong with the pan or a reading, and the way out; empty when nothing is."""
    if reading.state is State.NEEDS_CALIBRATION:
        return CALIBRATION
    if reading.unit and reading.unit not in DESK_UNITS:
        return WRONG_UNIT.format(unit=unit_words(reading.unit))
    if has_tray and _is_in_another_unit(reading):
        return TRAY_UNIT
    if reading.net:
        return NET
    if pan is Pan.OFF_ZERO and lasting_s < OFF_ZERO_S:
        return ""
    if pan is Pan.BELOW_ZERO and has_tray:
        return TRAY_GONE
    return WORDS[pan][2]


def _is_in_another_unit(reading: Reading) -> bool:
    """A unit without a number, though the scale had one: the tray, weighed in another unit, could not be taken off."""
    return reading.value is None and reading.unit is not None and reading.state in WITH_NUMBER


def trouble_words(link: LinkState | None) -> str:
    """The sentence for a connection that is missing or in trouble; empty when it is well."""
    if link is None or link.link is Link.CLOSED:
        return NO_SCALE
    return TROUBLES.get(link.trouble, "")
