"""The scale's state as a word with its mark, and what to do about trouble, as a sentence."""

from __future__ import annotations

from collections.abc import Mapping

from desk.domain.severity import Severity
from desk.scales.drivers.hid_report import WITH_NUMBER
from desk.scales.pan import Pan
from desk.scales.port import Link, LinkState, Trouble
from desk.scales.reading import Reading, State
from desk.scales.units import DESK_UNITS

NO_SCALE = "No scale. Press T to type a weight."

WORDS: Mapping[Pan, tuple[str, Severity, str]] = {  # word, mark, what to do
    Pan.NO_SIGNAL: ("no signal", Severity.LOOK, "The scale is silent. Turn it on, or press T to type a weight."),
    Pan.EMPTY: ("empty", Severity.NOTE, ""),
    Pan.OFF_ZERO: (
        "not at zero",
        Severity.LOOK,
        "If the scale is empty, press its zero key. If the piece is this light, press T to type its weight.",
    ),
    Pan.LOAD_CHANGING: ("moving", Severity.NOTE, ""),
    Pan.LOAD_SETTLING: ("settling", Severity.NOTE, ""),
    Pan.CAPTURED: ("settled", Severity.FINE, ""),
    Pan.SWAPPED_UNSEEN: ("new weight", Severity.LOOK, ""),
    Pan.BELOW_ZERO: (
        "below zero",
        Severity.LOOK,
        "The scale was zeroed with something on it. Clear it and press its zero key.",
    ),
    Pan.OVER_LIMIT: (
        "too heavy",
        Severity.STOP,
        "This is more than the scale can weigh. Take it off, or press T to type a weight.",
    ),
    Pan.NEEDS_ZERO: ("needs zero", Severity.LOOK, "Clear the scale and press its zero key."),
    Pan.SCALE_FAULT: (
        "fault",
        Severity.STOP,
        "The scale reports a fault. Turn it off and on, or press T to type a weight.",
    ),
}

TROUBLES: Mapping[Trouble, str] = {
    Trouble.ABSENT: "The scale is not connected. Plug it in, or press T to type a weight.",
    Trouble.NO_RIGHTS: "The system doesn't let this program read the scale. Setup > Scale says how to allow it.",
    Trouble.BUSY: "Another program is using the scale. Close it, or press T to type a weight.",
    Trouble.UNPLUGGED: "The scale was unplugged. Plug it in again, or press T to type a weight.",
    Trouble.NOTHING_ARRIVES: (
        "Nothing is coming from the scale: it is off, asleep or on another port. Turn it on and check the cable."
    ),
    Trouble.GARBAGE_ARRIVES: "The scale is sending data we can't read. Choose another speed or format in Setup > Scale.",
    Trouble.PATTERN_OFF: "The pattern for the scale's lines is too slow and was turned off. Choose another in Setup > Scale.",
    Trouble.NOT_SUPPORTED: "This installation can't read that kind of scale. Press T to type a weight.",
}

# What a reading itself says, besides the state of the scale; `{unit}` is the unit shown.
CALIBRATION = "The scale needs calibration. Follow its manual, or press T to type a weight."
WRONG_UNIT = "The scale shows {unit}. Press its unit key until it shows oz, lb, g or kg, or press T to type a weight."
NET = "The scale shows a net weight, and postage needs the gross weight. Clear the scale and press its tare key."
TRAY_UNIT = (
    "The tray was weighed in another unit. Press the scale's unit key, or weigh the tray again in Setup > Scale."
)
TRAY_GONE = "The tray is off the scale. Put it back, or remove it in Setup > Scale."
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
OFF_ZERO_S = 3.0  # an empty scale off zero for longer needs its zero key


def state_words(pan: Pan, reading: Reading, *, has_tray: bool = False) -> tuple[str, Severity]:
    """Return the scale's state as a word and its mark; an unusable unit comes first."""
    if reading.state is State.NEEDS_CALIBRATION:
        return ("not calibrated", Severity.LOOK)
    if (reading.unit and reading.unit not in DESK_UNITS) or (has_tray and _is_in_another_unit(reading)):
        return ("wrong unit", Severity.LOOK)
    return WORDS[pan][:2]


def unit_words(unit: str) -> str:
    """Return a unit as the screen writes it."""
    return UNITS.get(unit, unit)


def fault_words(pan: Pan, lasting_s: float, reading: Reading, *, has_tray: bool = False) -> str:
    """Return what is wrong with the scale or a reading and what to do; empty when nothing is."""
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
    """Return True for a unit without a number: the tray, weighed in another unit, could not be subtracted."""
    return reading.value is None and reading.unit is not None and reading.state in WITH_NUMBER


def trouble_words(link: LinkState | None) -> str:
    """Return the sentence for a missing or faulty connection; empty when it is fine."""
    if link is None or link.link is Link.CLOSED:
        return NO_SCALE
    return TROUBLES.get(link.trouble, "")
