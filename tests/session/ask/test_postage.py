"""Questions about postage: what an answer holds, and the sentence for a question that cannot be answered."""

from datetime import date

import pytest

from desk.domain.faults import Refused
from desk.session.ask import postage as ask_post
from desk.session.ask.question import Question

TODAY = date(2026, 7, 15)
OUNCE = {"value": "1.2", "unit": "oz", "division": "0.1"}
ENVELOPE = {"length": "9.5", "width": "4.125", "thickness": "0.05", "unit": "in"}
BOX = {"length": "9", "width": "7", "thickness": "3", "unit": "in"}


@pytest.fixture
def ask(rulebook):
    """Ask one question: `ask("price", service="flat", ...)`."""
    answers = {
        "shape": ask_post.shape,
        "price": ask_post.price,
        "zone": ask_post.zone,
        "stamps": ask_post.stamps,
        "doubt": ask_post.doubt_answer,
        "may-go": ask_post.may_go_answer,
    }
    return lambda what, **fields: answers[what](Question(fields), rulebook, TODAY)


def test_a_shape_with_its_reasons(ask):
    found = ask("shape", size=ENVELOPE, weight=OUNCE, stiff="yes")
    assert (found["shape"], found["pays_as"], found["machinable"]) == ("letter", "letter", "no")
    assert found["reasons"] == ["letter-by-size", "not-machinable"]
    assert "girth_in" not in found


def test_a_parcel_has_its_girth(ask):
    found = ask("shape", size=BOX)
    assert (found["girth_in"], found["length_plus_girth_in"]) == ("20", "29")


def test_a_price_by_its_service(ask):
    # Notice 123, list of 2026-07-12 (one transcription): a stamped letter of 2 oz.
    found = ask("price", service="letter-stamped", weight=OUNCE, size=ENVELOPE)
    assert found == {
        "postage": "1.11",
        "billable": "2",
        "billable_unit": "oz",
        "row_max_oz": "2",
        "chart": "us-2026-07-12",
    }


@pytest.mark.parametrize("where", [{"zone": "5"}, {"from": "55802", "to": "97701"}, {"destination": "DE"}])
@pytest.mark.parametrize(("pounds", "billed"), [("2", "2"), ("2.01", "3")])
def test_auto_prices_exactly_the_given_weight(ask, where, pounds, billed):
    """A weight typed at the end of a row is in that row, with a named service and with `auto` alike."""
    found = ask("price", service="auto", weight={"value": pounds, "unit": "lb"}, size=BOX, **where)
    assert (found["billable"], found["billable_unit"]) == (billed, "lb")
    same = ask("price", service=found["service"], weight={"value": pounds, "unit": "lb"}, size=BOX, **where)
    assert same["postage"] == found["postage"]


def test_auto_is_the_cheapest_service(ask):
    found = ask("price", service="auto", weight=OUNCE, size=ENVELOPE)
    assert (found["service"], found["postage"]) == ("letter-metered", "1.07")


def test_a_zone_may_be_given_or_found(ask):
    by_zone = ask("price", service="ground-retail", weight=OUNCE, size=BOX, zone="6")
    assert by_zone == ask("price", service="ground-retail", weight=OUNCE, size=BOX, **{"from": "55802", "to": "97701"})


def test_a_group_may_be_given_with_its_country_or_alone(ask):
    by_country = ask("price", service="intl-package", weight=OUNCE, destination="DE")
    assert by_country == ask("price", service="intl-package", weight=OUNCE, destination="DE", group="16")
    assert by_country == ask("price", service="intl-package", weight=OUNCE, group="16")


def test_the_date_selects_the_price_list(ask):
    # Notice 123, list headed October 05, 2025, p. 6.
    assert ask("price", service="letter-stamped", weight=OUNCE, date="2025-10-05")["postage"] == "1.07"


@pytest.mark.parametrize(
    ("fields", "reported"),
    [
        ({"service": "ground-retail"}, "is priced by zone: add that field"),
        ({"service": "auto", "weight": {"value": "5", "unit": "lb"}, "size": BOX}, "add zone, or from and to"),
        ({"service": "pigeon"}, "no price list for pigeon is loaded for 2026-07-15"),
        (
            {"service": "ground-commercial", "destination": "DE", "zone": "5"},
            "goes only within the United States, not to DE",
        ),
        ({"service": "letter-stamped", "destination": "DE"}, "goes only within the United States, not to DE"),
        ({"service": "intl-package", "destination": "US", "group": "5"}, "goes only to other countries, not to US"),
        (
            {"service": "priority-flat-large-box-military-retail", "destination": "GU"},
            "only to AA, AE and AP, not to GU",
        ),
        ({"service": "intl-package", "zone": "5"}, "intl-package is priced by group: give group instead of zone"),
        ({"service": "ground-retail", "group": "5"}, "ground-retail is priced by zone: give zone instead of group"),
        # Notice 123, list of July 12, 2026: Germany is in group 16 of first-class packages.
        ({"service": "intl-package", "group": "15", "destination": "DE"}, "DE is in price group 16 of intl-package"),
        ({"service": "auto", "group": "5", "destination": "DE"}, "every service has its own price groups"),
        ({"service": "auto", "zone": "5", "destination": "DE"}, "services to other countries have no zones"),
        ({"service": "letter-stamped", "date": "1999-01-01"}, "no price list for letter-stamped"),
        ({"service": "letter-stamped", "options": 3}, "options: expected an object or a list of names"),
        ({"service": "letter-stamped", "weight": {"value": "4", "unit": "oz"}, "size": ENVELOPE}, "3.5 oz"),
    ],
)
def test_a_price_that_does_not_exist_gives_a_sentence(ask, fields, reported):
    with pytest.raises(Refused) as refused:
        ask("price", **{"weight": OUNCE, **fields})
    assert reported in refused.value.sentence


def test_a_price_with_a_fee_missing_from_the_list_needs_a_check(ask):
    # The July 2026 list has a surcharge for nonmachinable letters to other countries; its amount was not found.
    square = {"length": "6", "width": "6", "thickness": "0.1", "unit": "in"}
    letter = {"service": "intl-letter", "weight": {"value": "1", "unit": "oz"}, "destination": "GB"}
    assert ask("price", size=square, **letter)["codes"] == ["fee-unclear"]
    assert "codes" not in ask("price", size=ENVELOPE, **letter)


def test_a_zone_comes_with_its_edition(ask):
    # National Zone Charts Matrix, April 1, 2024: 558 to 977 is zone 6.
    assert ask("zone", **{"from": "55802", "to": "97701"}) == {
        "zone": "6",
        "edition": "2024-04-01",
        "codes": [],
    }
    unknown = ask("zone", **{"from": "55802", "to": "00001"})
    assert (unknown["zone"], unknown["codes"]) == (None, ["zone-unknown"])


def test_the_best_set_of_stamps_is_chosen(ask):
    found = ask("stamps", postage="1.11", drawer=[["forever", None, 5], ["additional_ounce", None, 5]])
    assert found == {"set": [["forever", None, 1], ["additional_ounce", None, 1]], "overpaid": "0.00"}
    assert ask("stamps", postage="1.11", drawer=[["forever", None, 1]]) == {"set": None, "overpaid": None}
    assert ask("stamps", postage="0.30", drawer=[["face", "0.10", "4"]])["set"] == [["face", "0.10", 3]]


@pytest.mark.parametrize(
    ("postage", "drawer", "reported"),
    [
        ("1.11", [["seashell", None, 5]], "drawer: expected"),
        ("1.11", [["forever", None, -1]], "drawer: expected"),
        ("1.11", [["forever", None, True]], "drawer: expected"),
        ("1000.01", [["forever", None, 1]], "postage: expected an amount from 0.00 up to 1000.00"),
        ("-1", [["forever", None, 1]], "postage: expected an amount"),
    ],
)
def test_stamps_with_an_invalid_count_are_refused(ask, postage, drawer, reported):
    with pytest.raises(Refused, match=reported):
        ask("stamps", postage=postage, drawer=drawer)


@pytest.mark.parametrize(
    ("value", "open_one"),
    [("0.8", "under"), ("1.0", "open_by_rounding"), ("1.1", "open_by_tolerance"), ("1.2", "over")],
)
def test_a_doubt_has_exactly_one_of_four_answers(ask, value, open_one):
    found = ask("doubt", weight={"value": value, "unit": "oz", "division": "0.1"}, limit_oz="1", tolerance_d="1")
    assert [name for name, is_so in found.items() if is_so] == [open_one]


@pytest.mark.parametrize(
    ("fields", "answer", "codes"),
    [
        ({"service": "intl-letter", "destination": "FR", "goods": "no"}, "yes", []),
        ({"service": "intl-letter", "destination": "FR", "goods": "yes"}, "no", ["goods-in-letter-abroad"]),
        ({"service": "intl-package", "destination": "France", "size": BOX, "weight": OUNCE}, "yes", []),
        ({"service": "priority-flat-large-box-military-retail", "destination": "US-AE"}, "yes", []),
        ({"service": "priority-flat-large-box-military-retail", "destination": "US-GU"}, "no", ["military-only"]),
    ],
)
def test_a_piece_may_go_or_the_reasons_are_given(ask, fields, answer, codes):
    asked = {"size": ENVELOPE, "weight": OUNCE, "value_usd": "10.00", **fields}
    assert ask("may-go", **asked) == {"may_go": answer, "codes": codes}


@pytest.mark.parametrize(
    ("rows", "can_be_asked"),
    [
        ([["forever", None, 1]] * 40, True),
        ([["forever", None, 1]] * 41, False),
        ([["forever", None, 0]], True),
        ([["forever", None, 100_000]], True),
        ([["forever", None, 100_001]], False),
        ([["face", "0.00", 1]], False),
        ([["face", "0.01", 1]], True),
        ([["face", "1000.00", 1]], True),
        ([["face", "1000.01", 1]], False),
    ],
)
def test_a_stock_of_stamps_has_limits(ask, rows, can_be_asked):
    if can_be_asked:
        assert "set" in ask("stamps", postage="0.50", drawer=rows)
    else:
        with pytest.raises(Refused, match="drawer: expected"):
            ask("stamps", postage="0.50", drawer=rows)


@pytest.mark.parametrize("field", ["limit_oz", "tolerance_d"])
def test_a_limit_and_tolerance_of_zero_are_allowed_and_less_is_refused(ask, field):
    fields = {"limit_oz": "1", "tolerance_d": "1", "weight": OUNCE}
    assert "under" in ask("doubt", **(fields | {field: "0"}))
    with pytest.raises(Refused, match="not negative"):
        ask("doubt", **(fields | {field: "-0.1"}))


@pytest.mark.parametrize(
    ("where", "asks_for_a_zone"), [({}, True), ({"zone": "5"}, False), ({"destination": "DE"}, False)]
)
def test_only_a_domestic_piece_without_a_zone_is_asked_for_one(ask, where, asks_for_a_zone):
    with pytest.raises(Refused, match="no service can carry it") as refused:
        ask("price", service="auto", weight={"value": "80", "unit": "lb"}, size=BOX, **where)
    assert ("add zone" in refused.value.sentence) is asks_for_a_zone
