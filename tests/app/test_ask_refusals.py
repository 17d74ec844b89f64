"""Questions that make no sense get a sentence each, in time, and the questions after them their answers."""

from __future__ import annotations

import io
import json
import subprocess
import sys
import time
from functools import cache

import pytest

from desk.app import ask as asking
from desk.session.rulebook import read_rulebook
from tests.conftest import ROOT

OUNCE = {"value": "1", "unit": "oz"}
STAMPED = {"ask": "price", "service": "letter-stamped", "weight": OUNCE, "date": "2026-07-15"}


@pytest.fixture(autouse=True)
def one_rulebook(monkeypatch):
    """Read the rulebook once for all questions of this file."""
    monkeypatch.setattr(asking, "read_rulebook", lambda _: _rulebook())


@cache
def _rulebook():
    return read_rulebook(ROOT / "resources")


def answers(*questions: object) -> list[dict[str, object]]:
    lines = [each if isinstance(each, str) else json.dumps(each) for each in questions]
    out = io.StringIO()
    assert asking.ask(io.StringIO("".join(f"{line}\n" for line in lines)), out) == 0
    return [json.loads(line) for line in out.getvalue().splitlines()]


@pytest.mark.parametrize(
    ("question", "output"),
    [
        (STAMPED | {"stif": True}, "stif: unknown field; did you mean stiff?"),
        (STAMPED | {"options": ["stif"]}, "options.stif: unknown field"),
        (STAMPED | {"weight": OUNCE | {"divison": "1"}}, "weight.divison: unknown field"),
        (STAMPED | {"weight": {"value": "1_0", "unit": "oz"}}, "weight.value: expected a number"),
        (STAMPED | {"weight": {"value": "\uff11", "unit": "oz"}}, "weight.value: expected a number"),
        (STAMPED | {"weight": {"value": "-1", "unit": "oz"}}, "not negative"),
        (STAMPED | {"weight": {"value": "10001", "unit": "lb"}}, "at most 10000 lb"),
        (STAMPED | {"date": "20260715"}, "date: expected a date"),
        ({"ask": "zone", "from": "850", "to": "100", "zip": "1"}, "zip: unknown field"),
        (
            {"ask": "form", "goods_value_usd": "-500", "destination": "DE"},
            "goods_value_usd: expected an amount from 0.00 up to",
        ),
        (
            {"ask": "export", "destination": "DE", "lines": [["490199", "-4000"]]},
            "value_usd: expected an amount from 0.00 up to",
        ),
        ({"ask": "form", "goods_value_usd": "5", "destination": "Congo"}, "Congo could be CD or CG"),
        ({"ask": "form", "goods_value_usd": "5", "destination": "Atlantis"}, "unknown country 'Atlantis'"),
        ({"ask": "stamps", "postage": "1.11", "drawer": [["forever", None, "9" * 4400]]}, "drawer: expected"),
        ({"ask": "stamps", "postage": "1.11", "drawer": [["forever", None, 100_001]]}, "drawer: expected"),
        ({"ask": "stamps", "postage": "1.11", "drawer": [["face", "1e12", 1]]}, "value: expected an amount"),
        ({"ask": "stamps", "postage": "1.11", "drawer": [["face", "0", 1]]}, "face value above 0"),
        ({"ask": "stamps", "postage": "1.11", "drawer": [["face", f"0.{n:02}", 9] for n in range(1, 42)]}, "40 kinds"),
        ({"ask": "stamps", "postage": "1.11", "drawer": [["forever", None, 1]], "max_stamps": "1.5"}, "whole number"),
        ({"ask": "shape", "size": {"length": "1e12", "width": "1", "thickness": "1"}}, "sides up to 1000 in"),
        ({"ask": "doubt", "weight": OUNCE, "limit_oz": "-1", "tolerance_d": "1"}, "not negative"),
        ("NaN", "one JSON object"),
        ('{"ask": "doubt", "limit_oz": NaN}', "one JSON object"),
        ("[" * 100_000, "one JSON object"),
        ('{"ask": "words", "text": "' + "a" * 1_000_001 + '"}', "at most 1000000 characters"),
    ],
)
def test_a_nonsense_question_is_refused_and_the_next_one_is_answered(question, output):
    began = time.monotonic()
    refused, answered = answers(question, STAMPED)
    assert output in str(refused["error"])
    assert answered["postage"] == "0.82"
    assert time.monotonic() - began < 3 * 2


@pytest.mark.parametrize(("pounds", "refused"), [("10000", False), ("10000.1", True)])
def test_weights_up_to_ten_thousand_pounds_are_read(pounds, refused):
    (answer,) = answers(STAMPED | {"weight": {"value": pounds, "unit": "lb"}})
    assert ("at most 10000 lb" in str(answer["error"])) is refused


def test_forty_kinds_of_stamps_are_answered_in_time():
    drawer = [["face", f"{n / 100:.2f}", 100_000] for n in range(1, 41)]
    began = time.monotonic()
    (answer,) = answers({"ask": "stamps", "postage": "999.99", "drawer": drawer})
    assert "set" in answer or "error" in answer
    assert time.monotonic() - began < 3 * 2


def test_an_answer_that_takes_too_long_is_canceled(monkeypatch):
    monkeypatch.setattr(asking, "MOST_SECONDS", 0.05)
    monkeypatch.setitem(asking.ANSWERS, "zone", lambda *_: [None for _ in iter(int, 1)])
    slow, answered = answers({"ask": "zone", "from": "1", "to": "2"}, STAMPED)
    assert "no answer within" in str(slow["error"])
    assert answered["postage"] == "0.82"


def test_a_bug_in_one_answer_does_not_stop_the_next_one(monkeypatch):
    monkeypatch.setitem(asking.ANSWERS, "zone", lambda *_: 1 / 0)
    broken, answered = answers({"id": 7, "ask": "zone", "from": "1", "to": "2"}, STAMPED)
    assert (broken["id"], "a bug in the program" in str(broken["error"])) == (7, True)
    assert answered["postage"] == "0.82"


def test_the_refusal_of_a_question_names_its_fields():
    assert set(asking.FIELDS) == set(asking.ANSWERS)


def test_a_closed_output_ends_without_a_traceback():
    program = [sys.executable, "-m", "desk", "ask"]
    lines = (json.dumps(STAMPED) + "\n").encode() * 2000
    with subprocess.Popen(
        program, cwd=ROOT, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE
    ) as run:
        run.stdout.close()
        run.stdout = None
        _, output = run.communicate(lines, timeout=60)
    assert (run.returncode, output) == (74, b"")


@pytest.mark.parametrize(
    ("options", "extras", "total"),
    [
        (["certificate-of-mailing"], [["certificate-of-mailing", "2.45"]], "3.27"),
        ({"certified": True}, [["certified", "5.55"]], "6.37"),
        ({"certified": "no"}, None, None),
    ],
)
def test_extras_are_priced_separately_from_the_postage(options, extras, total):
    """Notice 123, July 12, 2026."""
    (answer,) = answers(STAMPED | {"options": options})
    assert (answer["postage"], answer.get("extras"), answer.get("total")) == ("0.82", extras, total)


def test_insurance_is_priced_by_its_amount_or_the_value_of_the_goods():
    """Notice 123, July 12, 2026: 4.55 up to 300; ground (retail) 10.95 for a pound in zone 5."""
    parcel = {"ask": "price", "service": "ground-retail", "weight": {"value": "1", "unit": "lb"}, "zone": "5"}
    by_amount, by_value, over = answers(
        parcel | {"date": "2026-08-12", "options": {"insurance": "250.00"}},
        parcel | {"date": "2026-08-12", "options": ["insurance"], "value_usd": "300.00"},
        parcel | {"date": "2026-08-12", "options": ["insurance"], "value_usd": "600.01"},
    )
    assert by_amount["extras"] == by_value["extras"] == [["insurance", "4.55"]]
    assert by_amount["total"] == "15.50"
    assert "no price for it" in str(over["error"])


@pytest.mark.parametrize(
    ("question", "codes"),
    [
        ({"service": "ground-commercial", "weight": {"value": "70", "unit": "lb"}}, []),
        ({"service": "ground-commercial", "weight": {"value": "70.1", "unit": "lb"}}, ["over-weight"]),
        ({"service": "ground-cubic-commercial", "weight": {"value": "20", "unit": "lb"}}, []),
        ({"service": "ground-cubic-commercial", "weight": {"value": "20.1", "unit": "lb"}}, ["over-weight"]),
        ({"service": "ground-cubic-commercial", "weight": OUNCE, "options": ["tube"]}, ["no-rolls"]),
        ({"service": "intl-priority", "weight": {"value": "66", "unit": "lb"}, "destination": "CA"}, []),
        ({"service": "intl-priority", "weight": {"value": "66.1", "unit": "lb"}, "destination": "CA"}, ["over-weight"]),
        ({"service": "intl-priority", "weight": OUNCE, "destination": "BO"}, ["not-to-that-country"]),
    ],
)
def test_whether_a_piece_may_go_needs_no_zone(question, codes):
    """DMM 101.3.2 (70 lb) and 283.1.3.1 (20 lb, no rolls); country limits of Notice 123, July 12, 2026."""
    size = {"length": "12", "width": "6", "thickness": "5"}
    (answer,) = answers({"ask": "may-go", "size": size, "date": "2026-11-28"} | question)
    assert (answer["may_go"], answer["codes"]) == ("no" if codes else "yes", codes)
