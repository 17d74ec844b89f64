"""Every question of the contract. Facts of the trade are checked under tests/standards; here each answer's shape."""

import io
import json
import random
from datetime import datetime

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
    ("form", {"destination": "US-AE", "goods_value_usd": "20"}, {"form": "CN22", "codes": ["form-may-be-needed"]}),
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
def test_each_question_gets_its_answer(what, fields, expected):
    assert reply(what, **fields) == expected


def test_every_question_of_the_contract_is_known():
    assert set(ANSWERS) == set(
        "shape price zone stamps doubt may-go form export words hs itn s10 tracking tax-id postal-code address-lines "
        "hid line hs-suggest".split()
    )


def test_auto_never_chooses_media_mail_without_the_media_option():
    fields = {"service": "auto", "weight": {"value": "5", "unit": "oz"}, "size": PARCEL, "zone": "5", "date": DAY}
    cheapest = reply("price", **fields)
    assert cheapest["service"] == "ground-commercial"
    assert reply("price", **fields, options=["media"])["service"] == "media"
    for service in ("ground-retail", "priority-retail", "priority-commercial"):
        assert float(reply("price", **{**fields, "service": service})["postage"]) >= float(cheapest["postage"])


def test_auto_prices_parcels_to_other_countries_and_to_us_islands():
    fields = {"service": "auto", "weight": {"value": "5", "unit": "oz"}, "size": PARCEL, "date": DAY}
    assert reply("price", **fields, destination="France")["service"] == "intl-package"
    assert reply("price", **fields, destination="PR", **{"from": "55802", "to": "00907"})["service"].startswith(
        "ground-"
    )


def test_two_zip_codes_give_the_same_cheapest_price_as_their_zone():
    fields = {"service": "auto", "weight": {"value": "5", "unit": "oz"}, "size": PARCEL, "date": DAY}
    zone = reply("zone", **{"from": "55802", "to": "97701"})["zone"]
    by_codes = reply("price", **fields, **{"from": "55802", "to": "97701"})
    assert by_codes == reply("price", **fields, zone=zone)


@pytest.mark.parametrize(("options", "group"), [({"destination": "CA"}, {}), ({}, {"group": "1"})])
def test_a_price_abroad_is_found_by_country_or_by_price_group(options, group):
    answer = reply("price", service="intl-package", weight={"value": "8.1", "unit": "oz"}, date=DAY, **options, **group)
    assert (answer["billable"], answer["chart"]) == ("9", "us-2026-07-12")


def test_a_zone_says_its_edition_and_null_when_unknown():
    assert reply("zone", **{"from": "100", "to": "900"})["zone"] == "8"
    unknown = reply("zone", **{"from": "100", "to": "000"})
    assert (unknown["zone"], unknown["codes"]) == (None, ["zone-unknown"])


def test_goods_may_not_go_abroad_in_a_letter():
    goods = {"service": "intl-letter", "destination": "FR", "weight": {"value": "20", "unit": "g"}, "size": LETTER}
    assert reply("may-go", **goods, goods="yes") == {"may_go": "no", "codes": ["goods-in-letter-abroad"]}
    assert reply("may-go", **goods, goods="no") == {"may_go": "yes", "codes": []}
    package = {**goods, "service": "intl-package", "size": PARCEL}
    assert reply("may-go", **package, value_usd="400.01")["codes"] == ["over-value"]
    assert "destination-barred" in reply("may-go", **{**package, "destination": "CU"})["codes"]
    assert "destination-suspended" in reply("may-go", **{**package, "destination": "Russia"})["codes"]


def test_tax_numbers_and_filing_numbers_are_checked():
    assert reply("tax-id", kind="ioss", text="IM0400000000")["ok"] is True
    assert reply("tax-id", kind="ioss", text="IM1")["ok"] is False
    assert reply("itn", text="X20190308366903")["ok"] is True
    assert reply("itn", text="X2")["ok"] is False


def test_the_check_digit_of_a_tracking_number_is_calculated():
    whole = reply("tracking", text="9400 1000 0000 0000 0000 0?")["text"]
    assert reply("tracking", text=whole)["ok"] is True
    wrong = whole[:-1] + str((int(whole[-1]) + 1) % 10)
    assert reply("tracking", text=wrong)["code"] == "check-digit-wrong"


WRONG = [
    ("frob", {}, "ask: expected one of shape, price,"),
    ("price", {"service": "rocket", "weight": OUNCES}, "no price list for rocket is loaded for "),
    ("price", {"service": "ground-retail", "weight": OUNCES}, "ground-retail is priced by zone: add that field"),
    ("price", {"service": "letter-stamped", "weight": {"value": "9", "unit": "oz"}, "size": LETTER}, "Over the weight limit of 3.5 oz."),
    ("price", {"service": "auto", "weight": {"value": "900", "unit": "lb"}, "size": PARCEL, "zone": "5"}, "no service can carry it"),
    ("price", {"service": "letter-stamped", "weight": OUNCES, "options": "stiff"}, "options: expected an object or a list of names"),
    ("price", {"service": "letter-stamped", "weight": {"value": "1e999999999", "unit": "oz"}}, "weight.value: expected a number"),
    ("stamps", {"postage": "1.11", "drawer": [["eternal", None, 3]]}, "drawer: expected [kind, value, count]"),
    ("stamps", {"postage": "1.11", "drawer": [["forever", None, -1]]}, "drawer: expected [kind, value, count]"),
    ("stamps", {"postage": "1.11", "drawer": [["face", "x", 1]]}, "value: expected a number"),
    ("stamps", {"postage": "1e12", "drawer": [["face", "0.60", 1]]}, "postage: expected an amount from 0.00 up to 1000.00"),
    ("stamps", {"postage": "-1", "drawer": []}, "postage: expected an amount from 0.00 up to 1000.00"),
    ("tax-id", {"kind": "zz", "text": "1"}, "kind: expected one of "),
    ("address-lines", {"country": "Atlantis"}, "country: unknown country 'Atlantis'"),
    ("hid", {"report": "xyz"}, "report: expected bytes in hexadecimal"),
    ("hid", {"report": "03", "report_id": "3"}, "report_id: expected a number or null"),
    ("line", {"preset": "none", "bytes": "00"}, "preset: expected one of status-prefixed"),
    ("words", {}, "text: expected a text"),
]  # fmt: skip


@pytest.mark.parametrize(("what", "fields", "reported"), WRONG)
def test_a_question_without_an_answer_gets_a_sentence(what, fields, reported):
    answer = reply(what, **fields, id="q")
    assert set(answer) == {"id", "error"}
    assert answer["error"].startswith(reported)


def test_answers_are_one_line_each_in_order_with_the_id_of_the_question():
    got = replies(
        {"ask": "words", "text": "gift", "id": 7}, "", "nonsense", "[1]", "[" * 100_000, {"ask": "words", "id": None}
    )
    assert [answer.get("id", "-") for answer in got] == [7, "-", "-", "-", None]
    assert [("error" in answer) for answer in got] == [False, True, True, True, True]


def test_an_incomplete_utf_8_character_does_not_stop_the_next_answers():
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


def test_a_corrupted_question_does_not_stop_the_next_answers():
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


def test_numbers_need_no_quotes():
    fields = {"service": "letter-stamped", "size": LETTER, "date": DAY}
    as_text = reply("price", **fields, weight=OUNCES)
    assert reply("price", **fields, weight={"value": 1.2, "unit": "oz", "division": 0.1}) == as_text


SMALL = {"length": "4", "width": "3", "thickness": "0.01", "unit": "in"}
FLAT = {"length": "12", "width": "9", "thickness": "0.5", "unit": "in"}


@pytest.mark.parametrize(
    ("fields", "pays_as", "machinable"),
    [
        ({"size": SMALL}, "none", ""),
        ({"size": LETTER, "paper": "no"}, "letter", "no"),
        ({"size": LETTER, "paper": "yes"}, "letter", "yes"),
        ({"size": LETTER, "boxed": "yes"}, "letter", "no"),
        ({"size": LETTER, "address_parallel_short": "yes"}, "letter", "no"),
        ({"size": LETTER, "uneven": True}, "letter", "no"),
        ({"size": FLAT}, "flat", ""),
        ({"size": FLAT, "uneven": "yes"}, "parcel", ""),
        ({"size": FLAT, "stiff": "yes"}, "parcel", ""),
        ({"size": FLAT, "boxed": "yes"}, "parcel", ""),
    ],
)
def test_each_option_of_a_shape_changes_its_answer(fields, pays_as, machinable):
    answer = reply("shape", weight=OUNCES, **fields)
    assert (answer["pays_as"], answer["machinable"]) == (pays_as, machinable)
    assert ("girth_in" in answer) == (pays_as == "parcel") == ("length_plus_girth_in" in answer)


def test_a_letter_too_heavy_pays_as_a_flat_and_a_flat_too_heavy_as_a_parcel():
    """3.5 oz and 13 oz (Notice 123, list of 2026-07-12, one transcription)."""
    pays = {
        (kind, ounces): reply("shape", size=size, weight={"value": ounces, "unit": "oz"})["pays_as"]
        for kind, size, ounces in [
            ("letter", LETTER, "3.5"), ("letter", LETTER, "3.51"), ("flat", FLAT, "13"), ("flat", FLAT, "13.1"),
        ]
    }  # fmt: skip
    assert list(pays.values()) == ["letter", "flat", "flat", "parcel"]


def test_a_price_without_a_date_uses_today():
    fields = {"service": "letter-stamped", "weight": OUNCES, "size": LETTER}
    today = datetime.now().astimezone().date().isoformat()
    assert reply("price", **fields) == reply("price", **fields, date=today)
    assert reply("price", **fields, date="2025-11-01")["chart"] == "us-2025-10-05"


@pytest.mark.parametrize(
    ("start", "end"), [("55802", "97701"), ("558", "977"), ("55802-1234", "977"), ("558", "97701")]
)
def test_a_zone_by_zip_codes_or_their_first_three_digits(start, end):
    assert reply("zone", **{"from": start, "to": end}) == reply("zone", **{"from": "558", "to": "977"})


@pytest.mark.parametrize(
    ("value", "answer"),
    [
        ("0.8", "under"),
        ("0.9", "open_by_tolerance"),
        ("1.0", "open_by_rounding"),
        ("1.1", "open_by_tolerance"),
        ("1.2", "over"),
    ],
)
def test_exactly_one_of_the_four_answers_about_a_doubt_is_true(value, answer):
    """Half a division of 0.1 oz is 0.05, a tolerance of one division 0.1; both are counted from the reading."""
    weight = {"value": value, "unit": "oz", "division": "0.1"}
    got = reply("doubt", weight=weight, limit_oz="1", tolerance_d="1")
    assert {name: name == answer for name in ("under", "over", "open_by_rounding", "open_by_tolerance")} == got


@pytest.mark.parametrize(
    ("report", "number", "value"),
    [
        ("03 04 0B FF 0C 00", {}, "1.2"),
        ("03 04 0B FF 0C 00", {"report_id": 3}, "1.2"),
        ("04 04 0B FF 0C 00", {"report_id": 4}, "1.2"),
        ("04 0B FF 0C 00", {"report_id": None}, "1.2"),
        ("03 04 0B FF 0C 00", {"report_id": 4}, None),
        ("03 04 0B FF", {}, None),
    ],
)
def test_a_report_has_the_given_number_or_none(report, number, value):
    answer = reply("hid", report=report, **number)
    assert set(answer) == {"value", "unit", "grams", "state", "may_capture"}
    assert answer["value"] == value


def test_seven_bit_data_is_read_without_the_eighth_bit():
    odd = "53D42C47532C2B202020312E33302C6F7A8D8A"
    (reading,) = reply("line", preset="status-prefixed", bytes=odd, seven_bits="yes")["readings"]
    assert (reading["value"], reading["unit"], reading["state"]) == ("1.30", "oz", "stable")
    assert reply("line", preset="status-prefixed", bytes=odd)["readings"] == []


def test_a_refused_frame_is_a_reading_without_a_weight():
    (reading,) = reply("line", preset="status-prefixed", bytes="5A5A2C47532C2B202020312E33302C6F7A0D0A")["readings"]
    assert reading == {"value": None, "unit": None, "grams": None, "state": "refused"}


def test_the_handbook_names_every_preset():
    reported = reply("line", preset="?", bytes="00")["error"]
    assert reported.removeprefix("preset: expected one of ").split(", ") == [
        "status-prefixed", "poll-etx", "poll-etx-lb-oz", "stable-letter", "value-unit-mark", "fixed-fields",
        "framed-words",
    ]  # fmt: skip


PACKED = ("envelope", "legal", "padded", "small-box", "medium-box", "large-box")
SERVICES = {
    *("letter-stamped letter-metered postcard flat ground-retail ground-commercial priority-retail".split()),
    *("priority-commercial media intl-letter intl-flat intl-package".split()),
    *("ground-cubic-commercial library intl-priority".split()),
    *(f"priority-flat-{what}-{price}" for what in PACKED for price in ("retail", "commercial")),
    *(f"intl-priority-flat-{what}" for what in ("envelope", "small-box", "medium-box", "large-box")),
    "priority-flat-large-box-military-retail",
}


@pytest.mark.parametrize("service", sorted(SERVICES))
def test_every_service_in_the_handbook_has_a_price(service):
    size = {"length": "5.5", "width": "4", "thickness": "0.01", "unit": "in"} if service == "postcard" else LETTER
    size = FLAT if service in ("flat", "intl-flat") or "-flat-" in service else size
    size = PARCEL if service.startswith(("ground", "media", "library", "intl-package", "intl-priority")) else size
    fields = {"options": ["card"] if service == "postcard" else ["media"], "date": DAY, "weight": OUNCES, "size": size}
    keyed = {"group": "1"} if service.startswith("intl-") else {"zone": "5"}
    answer = reply("price", service=service, **fields, **keyed, **({} if "package" in service else {"goods": "no"}))
    assert "error" not in answer, answer
    assert float(answer["postage"]) > 0


def test_every_priced_service_is_in_the_handbook(resources):
    from desk.rates.lists.chart import Charts

    assert set(Charts.read(resources / "charts").services()) == SERVICES
