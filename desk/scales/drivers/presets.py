"""The built-in data formats, named by behavior.

`fixed-fields` follows SMA scale communication protocol SCP-0499; the others are common practice, no source. The meaning
of status bits is from memory and differs between devices: until a person has checked them, only equal readings count.
"""

from __future__ import annotations

from collections.abc import Mapping

from desk.domain.faults import Refused
from desk.scales.drivers.framed_words import read_words
from desk.scales.drivers.framing import Ends
from desk.scales.drivers.lines import NUMBER, UNIT, Bit, LinePattern, read_frames
from desk.scales.reading import Reading, State

_STATE = r"(?P<status>ST|US|OL|QT|SD|S),?\ *(?:(?P<mark>GS|NT|TR|G|N)\ *,)?\ *"
_POUNDS = r"(?P<neg>-)?\ *(?P<lb>\d{1,3})\ *(?i:LBS?)"
_BYTES = r"S?(?P<status>[0-?p-\x7f]{2,3})"
_STATUS_BITS = (
    Bit(1, 0, State.UNDER),
    Bit(1, 1, State.OVER),
    *(Bit(place, bit, State.ERROR) for place in (0, 1) for bit in (2, 3)),  # memory and calibration faults, from memory
    Bit(2, 3, State.ZERO_ERROR),  # from memory
    Bit(0, 0, State.MOVING),
)

_ALL = (
    LinePattern(
        "status-prefixed",
        (
            rf"{_STATE}{NUMBER}(?P<power>E[+-]?\d+)?\ *,?\ *{UNIT}?\ *",
            r"(?P<status>OL)(?:,[ -~]*)?",
        ),
        states={"US": State.MOVING, "SD": State.MOVING, "OL": State.OVER, "QT": State.ERROR},  # QT counts pieces
    ),
    LinePattern(
        "poll-etx",
        (rf"{NUMBER}\ *{UNIT}\ *(?:{_BYTES})?", _BYTES),
        ends=Ends.ETX,
        request=b"W\r",
        bits=_STATUS_BITS,
        flag_is_sure=False,
    ),
    LinePattern(
        "poll-etx-lb-oz",
        (
            rf"{_POUNDS}\ +(?P<oz>\d{{1,2}}(?:\.\d{{1,2}})?)\ *(?i:OZ)\ *(?:{_BYTES})?",
            _BYTES,
        ),
        ends=Ends.ETX,
        request=b"W\r",
        bits=_STATUS_BITS,
        flag_is_sure=False,
    ),
    LinePattern(
        "stable-letter",
        (rf"S\ (?P<status>[SD])\ +{NUMBER}\ +{UNIT}\ *", r"S\ (?P<status>[-+I])\ *"),
        request=b"SI\r\n",
        states={"D": State.MOVING, "I": State.ERROR, "+": State.OVER, "-": State.UNDER},
    ),
    LinePattern(
        "value-unit-mark",
        (rf"\ *{NUMBER}\ *{UNIT}?\ *(?P<motion>[?*])?(?:\ *(?P<mark>GROSS|GR|G|NET|NT|N))?\ *",),
        missing_unit_means_moving=True,
    ),
    LinePattern(
        "fixed-fields",
        (
            rf"(?P<status>[ZOUEIT ])\d(?P<mark>[GNTgn])(?P<motion>[M ])[ -~]\ *{NUMBER}\ *{UNIT}\ *",
            rf"(?P<status>[OUEIT])\d[GNTgn][M ][ -~][ \-.^_]*{UNIT}?\ *",
        ),
        request=b"\nW\r",
        states={
            "O": State.OVER,
            "U": State.UNDER,
            "E": State.ZERO_ERROR,
            "I": State.ZERO_ERROR,
            "T": State.ERROR,
        },
    ),
    LinePattern("framed-words", (), special=read_words),
)

PRESETS: Mapping[str, LinePattern] = {pattern.name: pattern for pattern in _ALL}


def preset(name: str) -> LinePattern:
    """Return the preset with that name. Raises Refused with the known names."""
    if name not in PRESETS:
        raise Refused(f"No data format is called {name!r}. Known formats: {', '.join(PRESETS)}.")
    return PRESETS[name]


def read_lines(preset_id: str, data: bytes, seven_bits: bool = False) -> tuple[Reading, ...]:
    """Return the readings in bytes of that preset; bad frames have the state `refused`. Raises Refused for an unknown
    one.
    """
    return read_frames(preset(preset_id), data, seven_bits=seven_bits)
