"""Every published example that can be asked, through the answers of `ask`, each with its source."""

from __future__ import annotations

from datetime import date

import pytest

from desk.session.ask import postage as ask_post
from desk.session.ask.question import Question

TODAY = date(2026, 11, 25)
ASKS = {
    "shape": ask_post.shape,
    "price": ask_post.price,
    "zone": ask_post.zone,
    "stamps": ask_post.stamps,
    "doubt": ask_post.doubt_answer,
    "may-go": ask_post.may_go_answer,
}
LETTER, FLAT, BOX = ("9.5", "4.125", "0.05"), ("12", "9", "0.5"), ("8", "6", "4")
DMM_101 = "DMM 101, updated 2023-07-09, "
LIST_2025 = "Notice 123, list headed October 05, 2025, "
LIST_2026 = "Notice 123, list of 2026-07-12 (one transcription)"
LETTERS_ABROAD = "Postal Bulletin 22523 (2019)"
PACKAGE_PAGE = "First-Class Package International Service page of the post"
MATRIX = "National Zone Charts Matrix, file header 11012018"
HANDBOOK_44 = "NIST Handbook 44 section 2.20 Table 6 (from memory; three points agree with a handbook of 1999)"
OLD, NEW = "2025-10-05", "2026-07-12"


def size(sides, unit="in"):
    return {"size": dict(zip(("length", "width", "thickness"), sides, strict=True)) | {"unit": unit}}


def weight(value, unit="oz", division=None):
    return {"weight": {"value": value, "unit": unit} | ({"division": division} if division else {})}


def answer(rulebook, ask, **fields):
    """Return the named parts of an answer."""
    return ASKS[ask](Question(fields), rulebook, TODAY)


def part(got, expected):
    return {name: got[name] for name in expected}


SHAPES = [
    (("5", "8", "0.009"), "1", {}, ("letter", "letter", "yes"), "DMM 601.1.1, copy updated 2014-05-05"),
    (("8", "5", "0.009"), "1", {}, ("letter", "letter", "yes"), "DMM 601.1.1, copy updated 2014-05-05"),
    (("8", "5", "0.007"), "1", {}, ("letter", "letter", "no"), DMM_101 + "1.1a and 1.2f"),
    (("5.5", "5.5", "0.05"), "0.8", {}, ("letter", "letter", "no"), DMM_101 + "1.2a: aspect ratio 1.0"),
    (("9.5", "4.125", "0.05"), "1", {}, ("letter", "letter", "yes"), DMM_101 + "1.2a: aspect ratio 2.303"),
    (("9", "3.5", "0.05"), "1", {}, ("letter", "letter", "no"), DMM_101 + "1.2a: aspect ratio 2.571"),
    (LETTER, "3.6", {}, ("letter", "flat", ""), DMM_101 + "1.1c"),
    (LETTER, "3.5", {"stiff": "yes"}, ("letter", "letter", "no"), DMM_101 + "1.1.2e"),
    (LETTER, "3.6", {"stiff": "yes"}, ("letter", "parcel", ""), DMM_101 + "2.5, 6.4: no flat, so a parcel"),
    (LETTER, "3.6", {"uneven": "yes"}, ("letter", "parcel", ""), DMM_101 + "2.4, 2.5, 6.4: no flat, so a parcel"),
    (FLAT, "4", {"stiff": "yes"}, ("flat", "parcel", ""), DMM_101 + "2.3, 2.5, 6.4b"),
    (("6.1", "4.25", "0.016"), "1", {"card": "yes"}, ("letter", "letter", "yes"), DMM_101 + "6.2.1, 6.2.2"),
]


@pytest.mark.parametrize(("sides", "ounces", "traits", "expected", "source"), SHAPES)
def test_shapes_are_answered_as_published(rulebook, sides, ounces, traits, expected, source):
    got = answer(rulebook, "shape", **size(sides), **weight(ounces), **traits)
    assert (got["shape"], got["pays_as"], got["machinable"]) == expected, source


@pytest.mark.parametrize(("sides", "ounces", "traits", "expected", "source"), SHAPES)
def test_shapes_in_millimeters_are_answered_as_published(rulebook, sides, ounces, traits, expected, source):
    from decimal import Decimal

    metric = [str(Decimal(side) * Decimal("25.4")) for side in sides]
    got = answer(rulebook, "shape", **size(metric, "mm"), **weight(ounces), **traits)
    assert (got["shape"], got["pays_as"], got["machinable"]) == expected, source


def test_length_plus_girth_of_a_box_equals_the_published_example(rulebook):
    """DMM 101.3.2: longest side, and once round the thickest part; a box of 20 x 6 x 3 has 18 in of girth."""
    got = answer(rulebook, "shape", **size(("20", "6", "3")), **weight("10"))
    assert part(got, ("girth_in", "length_plus_girth_in")) == {"girth_in": "18", "length_plus_girth_in": "38"}


PRICES = [
    ("letter-stamped", "1", LETTER, {}, OLD, "0.78", "1 oz", LIST_2025 + "p. 6"),
    ("letter-stamped", "1.1", LETTER, {}, OLD, "1.07", "2 oz", LIST_2025 + "p. 6"),
    ("letter-stamped", "1.2", LETTER, {}, OLD, "1.07", "2 oz", "DMM 133.1.2, archived 2015-05-31: printed example"),
    ("letter-stamped", "3.4", LETTER, {}, OLD, "1.65", "3.5 oz", LIST_2025 + "p. 6"),
    ("letter-stamped", "3.5", LETTER, {}, OLD, "1.65", "3.5 oz", LIST_2025 + "p. 6"),
    ("letter-stamped", "0.8", ("5.5", "5.5", "0.05"), {}, OLD, "1.27", "1 oz", LIST_2025 + "p. 6 note 1"),
    ("flat", "1", FLAT, {}, OLD, "1.63", "1 oz", LIST_2025 + "p. 6"),
    ("flat", "9.1", FLAT, {}, OLD, "4.14", "10 oz", LIST_2025 + "p. 6"),
    ("flat", "3.6", LETTER, {}, OLD, "2.44", "4 oz", DMM_101 + "1.1c: the flat price for 4 oz; " + LIST_2025 + "p. 6"),
    ("postcard", "0.2", ("6", "4.25", "0.016"), {}, OLD, "0.61", "1 oz", DMM_101 + "6.2.2: limits are inclusive"),
    ("ground-retail", "4.0", BOX, {"zone": "5"}, OLD, "7.80", "4 oz", LIST_2025 + "p. 7"),
    ("ground-commercial", "15.999", BOX, {"zone": "5"}, OLD, "7.07", "15.999 oz", LIST_2025 + "p. 15"),
    ("ground-commercial", "16.0", BOX, {"zone": "5"}, OLD, "8.41", "1 lb", LIST_2025 + "p. 15"),
    ("ground-retail", "32", ("23", "8", "4"), {"zone": "4"}, OLD, "15.80", "2 lb", LIST_2025 + "p. 7 note 3"),
    ("ground-retail", "30", ("22", "22", "22"), {"zone": "8"}, OLD, "263.00", "65 lb",
     LIST_2025 + "p. 7 note 1: over 108 in length plus girth, no fee on top (worked example)"),
    ("ground-retail", "160", ("40", "20", "15"), {"zone": "8"}, OLD, "263.00", "73 lb",
     LIST_2025 + "p. 7 note 1: a side over 30 in and over 2 cu ft add nothing to it (worked example)"),
    ("priority-retail", "16", BOX, {"zone": "4"}, OLD, "11.30", "1 lb", LIST_2025 + "p. 5"),
    ("priority-retail", "19.2", BOX, {"zone": "4"}, OLD, "13.05", "2 lb", "DMM 423.1.1, archived: 1.2 lb is 2 lb"),
    ("priority-commercial", "8", BOX, {"zone": "9"}, OLD, "26.67", "8 oz", LIST_2025 + "p. 11"),
    ("media", "19.2", BOX, {}, OLD, "5.22", "2 lb", LIST_2025 + "p. 9"),
    ("ground-retail", "16", ("18", "14", "8"), {"zone": "4"}, OLD, None, "13 lb", "2016 / 166 = 12.14 (from memory)"),
    ("ground-retail", "16", ("18", "14", "8"), {"zone": "4"}, NEW, None, "15 lb", "2016 / 139 = 14.50 (second-hand)"),
    ("ground-retail", "16", ("14", "10", "4"), {"zone": "4"}, NEW, None, "1 lb", "560 cu in is not over 1728"),
    ("intl-letter", "1.0", LETTER, {"destination": "ZA"}, NEW, "1.75", "1 oz", LIST_2026),
    ("intl-letter", "1.1", LETTER, {"destination": "DE"}, NEW, "3.50", "2 oz", LIST_2026),
    ("intl-letter", "2", LETTER, {"destination": "CA"}, NEW, "2.35", "2 oz", LIST_2026),
    ("intl-letter", "3", LETTER, {"destination": "MX"}, NEW, "3.50", "3 oz", LIST_2026),
    ("intl-letter", "3.5", LETTER, {"destination": "JP"}, NEW, "5.75", "3.5 oz", LIST_2026),
    ("intl-flat", "9", FLAT, {"destination": "GB"}, NEW, "15.75", "9 oz", LIST_2026 + ": the 12 oz row"),
    ("intl-flat", "15.9", FLAT, {"destination": "MX"}, NEW, "15.15", "15.994 oz", LIST_2026),
    ("intl-package", "8.1", BOX, {"destination": "CA"}, NEW, "26.00", "9 oz", LIST_2026),
    ("intl-package", "16.0", BOX, {"destination": "GB"}, NEW, "31.95", "1 lb", LIST_2026 + ": group 20"),
    ("intl-package", "20", BOX, {"destination": "IT"}, NEW, "40.20", "2 lb", LIST_2026 + ": group 9"),
    ("intl-package", "40", BOX, {"destination": "AU"}, NEW, "65.25", "3 lb", LIST_2026 + ": group 12"),
    ("intl-package", "64", BOX, {"destination": "JP"}, NEW, "71.90", "4 lb", LIST_2026 + ": group 17"),
    ("intl-package", "5", BOX, {"destination": "DE"}, NEW, "21.80", "5 oz", LIST_2026 + ": group 16"),
    ("intl-package", "12", BOX, {"destination": "BR"}, NEW, "37.40", "12 oz", LIST_2026 + ": group 13"),
]  # fmt: skip


@pytest.mark.parametrize(("service", "ounces", "sides", "fields", "on", "price", "billable", "source"), PRICES)
def test_prices_are_answered_as_published(rulebook, service, ounces, sides, fields, on, price, billable, source):
    got = answer(rulebook, "price", service=service, date=on, **weight(ounces), **size(sides), **fields)
    assert f"{got['billable']} {got['billable_unit']}" == billable, source
    if price is not None:
        assert got["postage"] == price, source


@pytest.mark.parametrize(("service", "country"), [("intl-package", "SO"), ("intl-priority-flat-envelope", "BO")])
def test_services_missing_from_the_list_are_refused(rulebook, service, country):
    """Notice 123, list of 2026-07-12: no packages to Somalia, no priority mail to Bolivia."""
    from desk.domain.faults import Refused

    with pytest.raises(Refused):
        answer(rulebook, "price", service=service, destination=country, date=NEW, **weight("8"), **size(BOX))
    got = answer(rulebook, "may-go", service=service, destination=country, goods="yes", **weight("8"), **size(BOX))
    assert (got["may_go"], "not-to-that-country" in got["codes"]) == ("no", True)


@pytest.mark.parametrize(
    ("origin", "destination", "expected"),
    [
        ("100", "900", "8"),
        ("100", "606", "5"),
        ("606", "532", "2"),
        ("303", "331", "4"),
        ("380", "064", "5"),  # 6 in the matrix of 2018
        ("605", "205", "5"),  # 4 in the matrix of 2018
        ("96310", "581", "7"),
    ],
)
def test_zones_are_answered_as_published(rulebook, origin, destination, expected):
    got = answer(rulebook, "zone", **{"from": origin, "to": destination})
    assert (got["zone"], "2024" in got["edition"]) == (expected, True), MATRIX


@pytest.mark.parametrize(
    ("postage", "drawer", "expected", "source"),
    [
        ("0.82", [["forever", None, 5]], [["forever", None, 1]], "DMM 604.1.1 (Postal Bulletin 22484)"),
        ("1.31", [["forever", None, 5], ["nonmachinable", None, 2]], [["nonmachinable", None, 1]],
         "operator's news 2016-08-30: covers a letter and the surcharge"),
        ("0.82", [["semipostal", None, 2]], [["semipostal", None, 1]], "DMM 604.1.1: the 1-oz letter price"),
        ("1.11", [["forever", None, 5], ["additional_ounce", None, 5]],
         [["forever", None, 1], ["additional_ounce", None, 1]], "DMM 604.1.1"),
    ],
)  # fmt: skip
def test_stamps_are_chosen_as_published(rulebook, postage, drawer, expected, source):
    got = answer(rulebook, "stamps", postage=postage, drawer=drawer, date="2026-07-12")
    assert (got["set"], got["overpaid"]) == (expected, "0.00"), source


@pytest.mark.parametrize(
    ("divisions", "tolerance"), [("10", "1"), ("500", "1"), ("501", "2"), ("3000", "3"), ("5000", "5")]
)
def test_doubt_begins_at_the_published_tolerance(rulebook, divisions, tolerance):
    """A reading `tolerance` divisions under a limit is in doubt, and one a whole division further is not."""
    from decimal import Decimal

    step = Decimal("0.1")
    reading = Decimal(divisions) * step
    for away, is_open in ((Decimal(tolerance), True), (Decimal(tolerance) + 1, False)):
        limit = reading + away * step
        got = answer(
            rulebook, "doubt", **weight(str(reading), division="0.1"), limit_oz=str(limit), tolerance_d=tolerance
        )
        assert (got["open_by_tolerance"], got["under"]) == (is_open, not is_open), HANDBOOK_44


MAY_GO = [
    ("intl-letter", "0.7", LETTER, {"goods": "yes"}, "goods-in-letter-abroad", "IMM 242.2, archive of 2020-11-02"),
    ("intl-letter", "0.7", LETTER, {"goods": "no"}, "", "IMM 242.1, archive of 2020-11-02"),
    ("intl-flat", "3.5", FLAT, {"goods": "yes"}, "goods-in-letter-abroad", "IMM 242.2; 123.632: a sold print is goods"),
    ("intl-package", "3.5", FLAT, {"goods": "yes"}, "", "IMM 242.2; 123.632"),
    ("intl-letter", "3.5", LETTER, {"goods": "no"}, "", LETTERS_ABROAD),
    ("intl-letter", "3.6", LETTER, {"goods": "no"}, "over-weight", LETTERS_ABROAD),
    ("intl-flat", "3.6", LETTER, {"goods": "no"}, "", LETTERS_ABROAD),
    ("intl-flat", "15.994", FLAT, {"goods": "no"}, "", LETTERS_ABROAD),
    ("intl-flat", "15.995", FLAT, {"goods": "no"}, "over-weight", LETTERS_ABROAD),
    ("intl-package", "8", ("24", "8", "4.1"), {}, "over-size", PACKAGE_PAGE),
    ("intl-package", "8", ("24.5", "6", "2"), {}, "over-size", PACKAGE_PAGE),
    ("intl-package", "8", ("5.9", "4", "1"), {}, "under-size", PACKAGE_PAGE),
    ("intl-package", "8", ("36", "3", "3"), {"tube": "yes"}, "", PACKAGE_PAGE),
    ("intl-package", "8", ("36", "3.1", "3.1"), {"tube": "yes"}, "over-size", PACKAGE_PAGE),
    ("intl-package", "8", ("4", "1.2", "1.2"), {"tube": "yes"}, "under-size", PACKAGE_PAGE),
    ("intl-package", "8", BOX, {"value_usd": "400.00"}, "", "IMM 252.1, archive of 2020-09-08"),
    ("intl-package", "8", BOX, {"value_usd": "400.01"}, "over-value", "IMM 252.1, archive of 2020-09-08"),
]


@pytest.mark.parametrize(("service", "ounces", "sides", "fields", "code", "source"), MAY_GO)
def test_pieces_may_go_as_published(rulebook, service, ounces, sides, fields, code, source):
    got = answer(rulebook, "may-go", service=service, destination="DE", **weight(ounces), **size(sides), **fields)
    assert got == {"may_go": "no" if code else "yes", "codes": [code] if code else []}, source
