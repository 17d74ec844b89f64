"""Answers about what scales say: `hid` for a USB report, `line` for bytes of a serial scale."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from desk.domain.exact import plain
from desk.domain.faults import Refused
from desk.scales.drivers.hid_report import read_report
from desk.scales.drivers.presets import PRESETS, read_lines
from desk.scales.reading import Reading
from desk.session.ask.question import Answer, Question
from desk.session.rulebook import Rulebook

FIELDS: Mapping[str, tuple[str, ...]] = {"hid": ("report", "report_id"), "line": ("preset", "bytes", "seven_bits")}
MOST_BYTES = 100_000
NOTHING: Answer = {"value": None, "unit": None, "grams": None, "state": None, "may_capture": None}


def hid(question: Question, _rulebook: Rulebook, _today: date) -> Answer:
    """Return the reading in one USB report; every field is null for a report of another kind."""
    number = question.fields.get("report_id", 3)
    if isinstance(number, bool) or not isinstance(number, int | None):
        raise Refused("report_id: expected a number or null")
    reading = read_report(_bytes(question, "report"), number)
    return NOTHING if reading is None else {**_reading(reading), "may_capture": str(reading.may_capture)}


def line(question: Question, _rulebook: Rulebook, _today: date) -> Answer:
    """Return the readings in a run of bytes, decoded with a preset."""
    name = question.text("preset")
    if name not in PRESETS:
        raise Refused(f"preset: expected one of {', '.join(PRESETS)}")
    readings = read_lines(name, _bytes(question, "bytes"), question.flag("seven_bits"))
    return {"readings": [_reading(reading) for reading in readings]}


def _reading(reading: Reading) -> Answer:
    return {
        "value": None if reading.value is None else f"{reading.value:f}",
        "unit": reading.unit,
        "grams": None if reading.grams is None else plain(reading.grams),
        "state": str(reading.state),
    }


def _bytes(question: Question, name: str) -> bytes:
    try:
        return bytes.fromhex(question.text(name))
    except ValueError:
        raise Refused(f"{name}: expected bytes in hexadecimal") from None
