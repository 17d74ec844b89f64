"""Every question of the contract. Facts of the trade are checked under tests/standards; here each answer's shape."""

import io
import json
import random

import pytest

from desk.app.ask import ANSWERS, ask

LETTER = {"length": "9.5", "width": "4.125", "thickness": "0.05", "unit": "in"}
PARCEL = {"length": "10", "width": "8", "thickness": "1", "unit": "in"}
OUNCES = {"value": "1.2", "unit": "oz", "division": "0.1"}
DAY = "2026-07-15"


def replies(*questions):
    lines = "".join((line if isinstance(line, str) else json.dumps(line)) + "\n" for line in questions)
    out = io.StringIO()
    assert ask(io.StringIO(lines), out) == 0
    return [json.loads(line) for line in out.getvalue().splitlines()]


def reply(what, **fields):
    (answer,) = replies({"ask": what, **fields})
    return answer


ASKED = [
    ("shape", {"size": LETTER, "weight": OUNCES}, {"shape": "letter", "pays_as": "letter", "machinable": "yes", "reasons": ["letter-by-size"]}),
    ("shape", {"size": LETTER, "weight": OUNCES, "stiff": "yes"}, {"shape": "letter", "pays_as": "letter", "machinable": "no", "reasons": ["letter-by-size", "not-machinable"]}),
    ("shape", {"size": PARCEL, "weight": OUNCES}, {"shape": "parcel", "pays_as": "parcel", "machinable": "", "reasons": ["parcel-by-size"], "girth_in": "18", "length_plus_girth_in": "28"}),
    ("shape", {"size": LETTER}, {"shape": "letter", "pays_as": "letter", "machinable": "yes", "reasons": ["letter-by-size"]}),
    ("price", {"service": "letter-stamped", "weight": OUNCES, "size": LETTER, "date": DAY}, {"postage": "1.11", "billable": "2", "billable_unit": "oz", "row_max_oz": "2", "chart": "us-2026-07-12"}),
    ("price", {"service": "letter-stamped", "weight": OUNCES, "size": LETTER, "date": DAY, "options": ["stiff"]}, {"postage": "1.60", "billable": "2", "billable_unit": "oz", "row_max_oz": "2", "chart": "us-2026-07-12"}),
    ("doubt", {"weight": {"value": "1.0", "unit": "oz", "division": "0.1"}, "limit_oz": "1", "tolerance_d": "1"}, {"under": False, "over": False, "open_by_rounding": True, "open_by_tolerance": False}),
    ("stamps", {"postage": "1.11", "drawer": [["forever", None, 3], ["additional_ounce", None, "3"]], "date": DAY}, {"set": [["forever", None, 1], ["additional_ounce", None, 1]], "overpaid": "0.00"}),
    ("stamps", {"postage": "1.00", "drawer": [["face", "0.60", 1]], "date": DAY}, {"set": None, "overpaid": None}),
    ("stamps", {"postage": "0.50", "drawer": [["face", "0.60", 1]], "date": DAY}, {"set": [["face", "0.60", 1]], "overpaid": "0.10"}),
    ("stamps", {"postage": "0", "drawer": [["face", "0.60", 1]], "date": DAY}, {"set": [], "overpaid": "0.00"}),
    ("form", {"service": "intl-package", "goods_value_usd": "40", "gross": {"value": "500", "unit": "g"}, "destination": "DE", "documents_only": "no"}, {"form": "CN22", "codes": []}),
    ("form", {"service": "", "goods_value_usd": "20", "destination": "Germany"}, {"form": "CN22", "codes": []}),
    ("form", {"destination": "US-AE", "goods_value_usd": "20"}, {"form": "none", "codes": ["form-may-be-needed"]}),
    ("export", {"destination": "CA", "lines": [["482010", "3000"]]}, {"answer": "NOEEI 30.36", "codes": []}),
    ("export", {"destination": "DE", "lines": [["482010", "2500.01"]]}, {"answer": "ITN needed", "codes": ["needs-export-filing"]}),
    ("words", {"text": "gift"}, {"ok": False, "code": "words-too-vague", "text": "gift", "check_digit": None}),
    ("hs", {"text": "4820.10"}, {"ok": True, "code": "", "text": "482010", "check_digit": None}),
    ("s10", {"text": "rr 47312482?us"}, {"ok": True, "code": "", "text": "RR473124829US", "check_digit": "9"}),
    ("s10", {"text": "RR473124828US"}, {"ok": False, "code": "check-digit-wrong", "text": "RR473124828US", "check_digit": "9"}),
    ("s10", {"text": "RR47"}, {"ok": False, "code": "s10-malformed", "text": "RR47", "check_digit": None}),
    ("tracking", {"text": "12"}, {"ok": False, "code": "tracking-malformed", "text": "12", "check_digit": None}),
    ("postal-code", {"country": "gb", "text": "EC1Y 8SY"}, {"ok": True}),
    ("postal-code", {"country": "US", "text": "ABC"}, {"ok": False}),
    ("address-lines", {"recipient": "Max Muster", "address1": "Musterstraße 1", "city": "Berlin", "postal_code": "10115", "country": "Germany"}, {"lines": ["MAX MUSTER", "MUSTERSTRASSE 1", "10115 BERLIN", "GERMANY"]}),
    ("address-lines", {"recipient": "Ada", "address1": "1 Row", "city": "Hagåtña", "postal_code": "96910", "country": "GU"}, {"lines": ["ADA", "1 ROW", "HAGÅTÑA GU  96910"]}),
    ("hid", {"report": "03 04 0B FF 0C 00"}, {"value": "1.2", "unit": "oz", "grams": "34.01942775", "state": "stable", "may_capture": "yes"}),
    ("hid", {"report": "04 04 0B FF 0C 00"}, {"value": None, "unit": None, "grams": None, "state": None, "may_capture": None}),
    ("line", {"preset": "status-prefixed", "bytes": "53542C47532C2B202020312E33302C6F7A0D0A"}, {"readings": [{"value": "1.30", "unit": "oz", "grams": "36.8543800625", "state": "stable"}]}),
]  # fmt: skip


@pytest.mark.parametrize(("what", "fields", "expected"), ASKED)
def test_answers(what, fields, expected):
    assert reply(what, **fields) == expected


def test_every_question_of_the_contract_is_known():
    assert set(ANSWERS) == set(
        "shape price zone stamps doubt may-go form export words hs itn s10 tracking tax-id postal-code address-lines "
        "hid line".split()
    )


def test_the_cheapest_of_all_is_found_and_is_no_media_mail_unless_it_may():
    fields = {"service": "auto", "weight": {"value": "5", "unit": "oz"}, "size": PARCEL, "zone": "5", "date": DAY}
    cheapest = reply("price", **fields)
    assert cheapest["service"] == "ground-commercial"
    assert reply("price", **fields, options=["media"])["service"] == "media"
    for service in ("ground-retail", "priority-retail", "priority-commercial"):
        assert float(reply("price", **{**fields, "service": service})["postage"]) >= float(cheapest["postage"])


def test_the_cheapest_abroad_and_to_an_island():
    fields = {"service": "auto", "weight": {"value": "5", "unit": "oz"}, "size": PARCEL, "date": DAY}
    assert reply("price", **fields, destination="France")["service"] == "intl-package"
    assert reply("price", **fields, destination="PR", **{"from": "55802", "to": "00907"})["service"].startswith(
        "ground-"
    )


def test_the_cheapest_by_two_zip_codes():
    fields = {"service": "auto", "weight": {"value": "5", "unit": "oz"}, "size": PARCEL, "date": DAY}
    zone = reply("zone", **{"from": "55802", "to": "97701"})["zone"]
    by_codes = reply("price", **fields, **{"from": "55802", "to": "97701"})
    assert by_codes == reply("price", **fields, zone=zone)


@pytest.mark.parametrize(("options", "group"), [({"destination": "CA"}, {}), ({}, {"group": "1"})])
def test_a_price_abroad_by_place_or_by_group(options, group):
    answer = reply("price", service="intl-package", weight={"value": "8.1", "unit": "oz"}, date=DAY, **options, **group)
    assert (answer["billable"], answer["chart"]) == ("9", "us-2026-07-12")


def test_a_zone_says_its_edition_and_null_when_unknown():
    assert reply("zone", **{"from": "100", "to": "900"})["zone"] == "8"
    unknown = reply("zone", **{"from": "100", "to": "000"})
    assert (unknown["zone"], unknown["codes"]) == (None, ["zone-unknown"])


def test_may_it_go():
    goods = {"service": "intl-letter", "destination": "FR", "weight": {"value": "20", "unit": "g"}, "size": LETTER}
    assert reply("may-go", **goods, goods="yes") == {"may_go": "no", "codes": ["goods-in-letter-abroad"]}
    assert reply("may-go", **goods, goods="no") == {"may_go": "yes", "codes": []}
    package = {**goods, "service": "intl-package", "size": PARCEL}
    assert reply("may-go", **package, value_usd="400.01")["codes"] == ["over-value"]
    assert "destination-barred" in reply("may-go", **{**package, "destination": "CU"})["codes"]
    assert "destination-suspended" in reply("may-go", **{**package, "destination": "Russia"})["codes"]


def test_tax_numbers_and_filing_numbers():
    assert reply("tax-id", kind="ioss", text="IM3720000224")["ok"] is True
    assert reply("tax-id", kind="ioss", text="IM1")["ok"] is False
    assert reply("itn", text="X20190308366903")["ok"] is True
    assert reply("itn", text="X2")["ok"] is False


def test_a_tracking_number_s_digit_is_found_again():
    whole = reply("tracking", text="9400 1000 0000 0000 0000 0?")["text"]
    assert reply("tracking", text=whole)["ok"] is True
    wrong = whole[:-1] + str((int(whole[-1]) + 1) % 10)
    assert reply("tracking", text=wrong)["code"] == "check-digit-wrong"


WRONG = [
    ("frob", {}, "ask: expected one of shape, price,"),
    ("price", {"service": "rocket", "weight": OUNCES}, "no price list for rocket is loaded for "),
    ("price", {"service": "ground-retail", "weight": OUNCES}, "ground-retail is priced by zone: say which"),
    ("price", {"service": "letter-stamped", "weight": {"value": "9", "unit": "oz"}, "size": LETTER}, "Over its weight limit of 3.5 oz."),
    ("price", {"service": "auto", "weight": {"value": "900", "unit": "lb"}, "size": PARCEL, "zone": "5"}, "no service takes it"),
    ("price", {"service": "letter-stamped", "weight": OUNCES, "options": "stiff"}, "options: expected an object or a list of names"),
    ("price", {"service": "letter-stamped", "weight": {"value": "1e999999999", "unit": "oz"}}, "weight.value: expected a number"),
    ("stamps", {"postage": "1.11", "drawer": [["eternal", None, 3]]}, "drawer: expected [kind, value, count]"),
    ("stamps", {"postage": "1.11", "drawer": [["forever", None, -1]]}, "drawer: expected [kind, value, count]"),
    ("stamps", {"postage": "1.11", "drawer": [["face", "x", 1]]}, "value: expected a number"),
    ("stamps", {"postage": "1e12", "drawer": [["face", "0.60", 1]]}, "postage: expected an amount from 0.00 up to 1000.00"),
    ("stamps", {"postage": "-1", "drawer": []}, "postage: expected an amount from 0.00 up to 1000.00"),
    ("tax-id", {"kind": "zz", "text": "1"}, "kind: expected one of "),
    ("address-lines", {"country": "Atlantis"}, "country: nobody knows 'Atlantis'"),
    ("hid", {"report": "xyz"}, "report: expected bytes in hexadecimal"),
    ("hid", {"report": "03", "report_id": "3"}, "report_id: expected a number or null"),
    ("line", {"preset": "none", "bytes": "00"}, "preset: expected one of status-prefixed"),
    ("words", {}, "text: expected a text"),
]  # fmt: skip


@pytest.mark.parametrize(("what", "fields", "told"), WRONG)
def test_what_cannot_be_answered_is_a_sentence(what, fields, told):
    answer = reply(what, **fields, id="q")
    assert set(answer) == {"id", "error"}
    assert answer["error"].startswith(told)


def test_one_line_each_in_order_with_its_id():
    got = replies(
        {"ask": "words", "text": "gift", "id": 7}, "", "nonsense", "[1]", "[" * 100_000, {"ask": "words", "id": None}
    )
    assert [answer.get("id", "-") for answer in got] == [7, "-", "-", "-", None]
    assert [("error" in answer) for answer in got] == [False, True, True, True, True]


def test_half_a_sign_breaks_nothing():
    (answer,) = replies('{"ask": "words", "text": "\\ud800"}')
    assert answer["ok"] is False


ODD = [
    "",
    None,
    True,
    [],
    {},
    0,
    -1,
    "x",
    "1e12",
    "0",
    "-5",
    "US",
    [[]],
    [[1, 2]],
    "2026-13-01",
    "9999-12-31",
    "é",
    " ",
]
MORE = {
    "zone": ["9", 5],
    "group": ["99"],
    "destination": ["PR", "Atlantis"],
    "options": [["tube"], [None], {"stiff": 3}],
}


def test_no_spoiled_question_breaks_the_run_of_answers():
    chance = random.Random(20260715)
    questions = []
    for _ in range(1500):
        what, fields, _ = chance.choice([*ASKED, *WRONG])
        named = {"ask": what, **fields}
        more = chance.choice(list(MORE))
        named[more] = chance.choice(MORE[more])
        named[chance.choice(list(named))] = chance.choice(ODD)
        questions.append(named)
    got = replies(*questions)
    assert len(got) == 1500
    assert all(isinstance(answer, dict) for answer in got)
    assert sum("error" in answer for answer in got) > 300


def test_numbers_may_be_written_as_numbers():
    fields = {"service": "letter-stamped", "size": LETTER, "date": DAY}
    as_text = reply("price", **fields, weight=OUNCES)
    assert reply("price", **fields, weight={"value": 1.2, "unit": "oz", "division": 0.1}) == as_text
