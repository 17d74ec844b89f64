"""Answers about bytes of scales, for every built-in protocol."""

from __future__ import annotations

import json
from collections.abc import Callable
from decimal import Decimal
from io import StringIO
from typing import Any

import pytest

from desk.app.ask import ask
from desk.scales.drivers.descriptor import common_layout
from desk.scales.drivers.presets import PRESETS
from desk.scales.simulated.speech import DisplayedValue, say, say_report

Ask = Callable[..., dict[str, Any]]


@pytest.fixture
def asked() -> Ask:
    """The answer to one question, over the lines of the command."""

    def one(**fields: Any) -> dict[str, Any]:
        answers = StringIO()
        assert ask(StringIO(json.dumps({"id": 7} | fields) + "\n"), answers) == 0
        (line,) = answers.getvalue().splitlines()
        answer: dict[str, Any] = json.loads(line)
        assert answer.pop("id") == 7
        return answer

    return one


@pytest.mark.parametrize("preset", PRESETS)
@pytest.mark.parametrize(("at_rest", "state"), [(True, "stable"), (False, "moving")])
def test_a_line_of_every_preset_is_answered(asked: Ask, preset: str, at_rest: bool, state: str) -> None:
    frame = say(preset, DisplayedValue(Decimal("1.2"), "oz", at_rest))
    (reading,) = asked(ask="line", preset=preset, bytes=frame.hex())["readings"]
    assert (Decimal(reading["value"]), reading["unit"], reading["state"]) == (Decimal("1.2"), "oz", state)
    assert Decimal(reading["grams"]) == Decimal("34.01942775")  # 1.2 times 28.349523125 (NIST Handbook 44, Appendix C)


@pytest.mark.parametrize("preset", PRESETS)
def test_an_overload_has_no_weight_in_any_preset(asked: Ask, preset: str) -> None:
    frame = say(preset, DisplayedValue(Decimal(0), "oz", over=True))
    (reading,) = asked(ask="line", preset=preset, bytes=frame.hex())["readings"]
    assert (reading["value"], reading["grams"], reading["state"]) == (None, None, "over")


@pytest.mark.parametrize("preset", PRESETS)
def test_seven_bits_with_even_parity_are_read_in_every_preset(asked: Ask, preset: str) -> None:
    frame = bytes(byte | (byte.bit_count() & 1) << 7 for byte in say(preset, DisplayedValue(Decimal("1.2"), "oz")))
    (reading,) = asked(ask="line", preset=preset, bytes=frame.hex(), seven_bits=True)["readings"]
    assert Decimal(reading["value"]) == Decimal("1.2")


@pytest.mark.parametrize("preset", PRESETS)
def test_bytes_without_a_frame_are_no_readings(asked: Ask, preset: str) -> None:
    assert asked(ask="line", preset=preset, bytes="") == {"readings": []}


# The line preset does not matter to `hid`: a report is read the same whichever is set.
@pytest.mark.parametrize("number", [3, 4, None])
@pytest.mark.parametrize(
    ("word", "value", "state", "may"),
    [
        (DisplayedValue(Decimal("1.2"), "oz"), "1.2", "stable", "yes"),
        (DisplayedValue(Decimal("1.2"), "oz", at_rest=False), "1.2", "moving", "no"),
        (DisplayedValue(Decimal("0.0"), "oz"), "0.0", "zero", "no"),
        (DisplayedValue(Decimal("-0.5"), "oz"), "-0.5", "under_zero", "no"),
        (DisplayedValue(Decimal(0), "oz", over=True), None, "over_limit", "no"),
    ],
)
def test_a_report_is_answered_whatever_its_report_number(
    asked: Ask, number: int | None, word: DisplayedValue, value: str | None, state: str, may: str
) -> None:
    report = say_report(word, common_layout(number))
    got = asked(ask="hid", report=report.hex(" "), report_id=number)
    assert (got["value"], got["state"], got["may_capture"]) == (value, state, may)


def test_a_report_of_another_kind_is_null(asked: Ask) -> None:
    assert set(asked(ask="hid", report="01 06 0B").values()) == {None}


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        ({"ask": "hid", "report": "03", "report_id": "x"}, "report_id: expected a number or null"),
        ({"ask": "hid", "report": "03", "report_id": True}, "report_id: expected a number or null"),
        ({"ask": "hid", "report": "zz"}, "report: expected bytes in hexadecimal"),
        ({"ask": "hid"}, "report: expected a text"),
        ({"ask": "line", "preset": "steam", "bytes": ""}, f"preset: expected one of {', '.join(PRESETS)}"),
        ({"ask": "line", "preset": "poll-etx", "bytes": "0"}, "bytes: expected bytes in hexadecimal"),
    ],
)
def test_what_cannot_be_read_is_reported(asked: Ask, fields: dict[str, Any], words: str) -> None:
    assert asked(**fields) == {"error": words}
