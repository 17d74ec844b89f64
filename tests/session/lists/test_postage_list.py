"""The list of postage to buy elsewhere: ready pieces, actual weight and size, the address field by field."""

from __future__ import annotations

import csv
import io
from dataclasses import replace
from decimal import Decimal

import pytest

from desk.domain.length import Size
from desk.domain.money import Money
from desk.domain.shop.product import Restriction
from desk.domain.status import PieceStatus
from desk.domain.weight import Weight
from desk.session.contents.tables import write_table
from desk.session.lists import postage_list
from desk.session.pile.batch import judge_batch
from desk.session.verdict.verdict import Terms
from tests.session import made
from tests.session.made import FRANCE, HOME, case

LIGHT = replace(made.CARD, unit_weight=None)  # no weight is known, so none is odd


@pytest.fixture
def terms(rulebook):
    return Terms(made.shop(products=(LIGHT, made.BOOK)), rulebook, made.ON)


def written(columns, rows):
    out = io.StringIO()
    write_table(out, columns, rows)
    return list(csv.DictReader(io.StringIO(out.getvalue())))


def bought(terms, *cases):
    return written(postage_list.COLUMNS, postage_list.postage_rows(judge_batch(cases, terms), terms))


def left(terms, *cases):
    return written(postage_list.LEFT_OUT_COLUMNS, postage_list.left_out_rows(judge_batch(cases, terms)))


def test_ready_pieces_whose_postage_is_bought_elsewhere_are_listed(terms):
    abroad = case("4", "Padded", number="8", address=replace(FRANCE, email="sm@post.example"))
    rows = bought(terms, case(), case("12", "Padded", number="7"), abroad)
    assert [row["reference"] for row in rows] == ["7-1", "8-1"]
    assert [row["customs_reference"] for row in rows] == ["", "8-1"]
    home, france = rows
    assert (home["length_in"], home["width_in"], home["thickness_in"]) == ("10.5", "8", "0.9")
    assert (home["pounds"], home["ounces"], home["service"]) == ("0", "12", "ground-retail")
    address = ("recipient", "company", "address1", "address2", "city", "region", "postal_code", "country")
    assert [home[name] for name in address] == ["Ada Vell", "", "1 Quill Row", "", "Bend", "OR", "97701", "US"]
    assert (france["country"], france["email"], france["phone"]) == ("FR", "sm@post.example", "")
    assert (france["value"], france["currency"], france["hs"]) == ("6.50", "USD", "490900")
    assert france["contents"] == "1 x Letterpress printed card"


@pytest.mark.parametrize(
    ("ounces", "expected"),
    [
        ("12.1", ("0", "12.1")),
        ("15.3", ("0", "15.3")),
        ("17.0", ("1", "1")),
        ("16.4", ("1", "0.4")),
        ("46", ("2", "14")),
    ],
)
def test_the_listed_weight_is_that_on_the_scale(terms, ounces, expected):
    (row,) = bought(terms, case(ounces, "Padded"))
    assert (row["pounds"], row["ounces"], row["dimensional_lb"]) == (*expected, "")


def test_a_label_added_later_is_included_in_the_weight(rulebook):
    terms = Terms(
        made.shop(products=(LIGHT,), policy=made.policy(label_weight=Weight.of("0.2", "oz"))), rulebook, made.ON
    )
    (row,) = bought(terms, case("12.1", "Padded"))
    assert (row["pounds"], row["ounces"]) == ("0", "12.3")


def test_the_dimensional_weight_is_beside_the_actual_one(rulebook):
    """18 x 14 x 8 in is 2016 cubic inches: 2016 / 139 = 14.50, so 15 lb."""
    large = replace(made.PADDED, name="Large", size=Size.of("18", "14", "8", "in"))
    terms = Terms(made.shop(products=(LIGHT,), mailers=(large,)), rulebook, made.ON)
    (row,) = bought(terms, case("40", "Large"))
    assert (row["pounds"], row["ounces"], row["dimensional_lb"]) == ("2", "8", "15")


def test_a_piece_that_needs_a_check_is_left_out_with_the_reason(terms):
    cases = [
        case("12", "Padded", number="1", address=replace(HOME, city="")),
        case(None, number="2"),
        case("12", "Padded", number="3", status="unpaid"),
        case("12", "Padded", number="4"),
        case(number="5"),
        case("12", "", number="6"),
    ]
    assert [row["reference"] for row in bought(terms, *cases)] == ["4-1"]
    rows = left(terms, *cases)
    assert [(row["order"], row["status"]) for row in rows] == [
        ("1", "needs a look"),
        ("2", "to weigh"),
        ("3", "needs a look"),
        ("6", "needs a look"),
    ]
    assert all(row["reason"] for row in rows)
    assert "unpaid" in rows[2]["reason"]


def test_a_piece_whose_issue_was_answered_is_listed(rulebook):
    ink = replace(LIGHT, restricted=(Restriction.FLAMMABLE,))
    terms = Terms(made.shop(products=(ink,)), rulebook, made.ON)
    seen = case("12", "Padded", answered=frozenset({"hazard-surface-only"}))
    assert [row["reference"] for row in bought(terms, seen)] == ["1001-1"]
    assert left(terms, seen) == []


def test_a_piece_set_aside_is_left_out_as_such(terms):
    (row,) = left(terms, case("12", "Padded", beside=PieceStatus.SET_ASIDE))
    assert row["reason"] == "Set aside."


def test_the_value_is_what_the_buyer_paid_for_the_goods(terms):
    lines = (made.line(made.BOOK, 2, 1800),)
    (row,) = bought(terms, case("24", "Padded", lines=lines, discount=Money(600)))
    assert Decimal(row["value"]) == Decimal("30.00")
    assert row["contents"] == "2 x Blank paper book"


def test_the_list_is_saved_completely_and_the_pieces_are_counted(terms, tmp_path):
    file = tmp_path / "list.csv"
    batch = judge_batch([case("12", "Padded", number="7"), case(number="8")], terms)
    assert postage_list.save_postage_list(batch, terms, file) == 1
    with file.open(encoding="utf-8", newline="") as found:
        assert [row["reference"] for row in csv.DictReader(found)] == ["7-1"]


def test_a_ready_stamped_letter_is_on_neither_list(terms):
    assert bought(terms, case()) == left(terms, case()) == []


def test_a_piece_without_a_service_is_left_out_with_its_status(terms):
    (row,) = left(terms, case(None, number="7"))
    assert (row["order"], row["status"], row["service"]) == ("7", "to weigh", "")
