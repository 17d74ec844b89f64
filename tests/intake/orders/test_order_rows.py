"""The rows of one order: what stands once, what stands on each line, and the order that comes of it."""

from __future__ import annotations

import pytest

from desk.domain.money import Money
from desk.intake.columns.headers import Columns
from desk.intake.columns.sheet import Row
from desk.intake.orders.order_rows import (
    LINE_LEVEL,
    ONCE,
    PLACE,
    OrderReader,
    Said,
    Texts,
    is_plain,
    line_of,
    picked_by,
    said_in,
    saying,
)
from desk.intake.table.faults_found import FaultsFound
from tests.intake.tables import COUNTRIES


def said(**fields: str) -> Texts:
    return tuple(Said(**fields))


def columns(*names: str) -> Columns:
    return Columns(names, {name: place for place, name in enumerate(names) if name in PLACE})


@pytest.mark.parametrize(
    ("cells", "expected"),
    [
        (("Ada", "1", "x"), said(order="1", recipient="Ada")),
        (("Ada", "1"), said(order="1", recipient="Ada")),
        (("Ada",), said(recipient="Ada")),
        ((), said()),
        (("Ada", "1", "x", "more", "and more"), said(order="1", recipient="Ada")),
    ],
)
def test_fields_are_picked_by_their_column_however_long_a_row_is(cells: tuple[str, ...], expected: Texts) -> None:
    assert picked_by(columns("recipient", "order", "colour"))(cells) == expected


def test_every_field_has_its_place() -> None:
    names = tuple(reversed(Said._fields))
    assert picked_by(columns(*names))(names) == tuple(Said._fields)
    assert {*ONCE, *LINE_LEVEL, "order"} == set(Said._fields)


ROWS = [
    (4, said(order="1", recipient="Ada", item="Card")),
    (5, said(order="1", city="Bend", item="Book")),
    (6, said(order="1", recipient="Eve", country="US")),
]


def test_the_first_filled_cell_counts() -> None:
    assert said_in(ROWS) == said(order="1", recipient="Ada", city="Bend", country="US", item="Card")


@pytest.mark.parametrize(("field", "line"), [("recipient", 4), ("city", 5), ("country", 6), ("phone", 4)])
def test_the_line_of_a_field_is_where_it_is_first_filled(field: str, line: int) -> None:
    assert line_of(ROWS, field) == line


def test_rows_that_say_nothing_of_an_item_are_no_lines() -> None:
    assert [line for line, _ in saying(ROWS)] == [4, 5]
    assert [line for line, _ in saying([(7, said(order="1")), (8, said(order="1"))])] == [7]


@pytest.mark.parametrize(
    ("later", "plain"),
    [
        (said(item="Book"), True),
        (said(recipient="Ada", item="Book"), True),
        (said(recipient="Eve", item="Book"), False),
        (said(city="Bend", item="Book"), False),
    ],
)
def test_an_order_is_plain_when_its_first_row_says_all(later: Texts, plain: bool) -> None:
    assert is_plain([(1, said(recipient="Ada", item="Card")), (2, later)]) == plain


def reader(*names: str, prefix: str = "") -> OrderReader:
    return OrderReader(COUNTRIES, "USD", prefix, "fair", columns(*names), FaultsFound("a.csv"))


NAMES = ("order", "recipient", "country", "postal_code", "region", "item", "quantity", "unit_price", "currency")


def order(*rows: tuple[str, ...], prefix: str = "") -> tuple[object, list[tuple[int, str, str]]]:
    reading = reader(*NAMES, prefix=prefix)
    found = reading.order("1", [Row(line, cells) for line, cells in enumerate(rows, start=2)])
    return found, [(fault.line, fault.column, fault.found) for fault in reading.faults.faults]


def test_an_order_in_the_shop_s_money_unless_it_says_another() -> None:
    home, _ = order(("1", "Ada", "USA", "97701", "OR", "Card", "2", "6.50", ""))
    away, _ = order(("1", "Ada", "DE", "10115", "", "Card", "2", "6.50", "EUR"), prefix="B-")
    assert (home.lines[0].unit_price, home.lines[0].quantity) == (Money(650), 2)  # type: ignore[attr-defined]
    assert (away.number, away.currency, away.address.country) == ("B-1", "EUR", "DE")  # type: ignore[attr-defined]
    assert away.lines[0].unit_price == Money(650, "EUR")  # type: ignore[attr-defined]


def test_a_place_of_the_post_is_a_state_and_its_zero_comes_back() -> None:
    found, _ = order(("1", "Ada", "PR", "0907", "", "Card", "1", "1", ""))
    address = found.address  # type: ignore[attr-defined]
    assert (address.country, address.region, address.postal_code) == ("US", "PR", "00907")
    assert [one.code for one in found.findings] == ["postal-code-mended"]  # type: ignore[attr-defined]


def test_a_country_nobody_knows_is_kept_as_typed_and_is_no_fault() -> None:
    found, faults = order(("1", "Ada", "Atlantis", "9770", "", "Card", "1", "1", ""))
    assert (found.address.country, found.address.country_typed) == ("", "Atlantis")  # type: ignore[attr-defined]
    assert (found.address.postal_code, faults) == ("9770", [])  # type: ignore[attr-defined]


def test_every_cell_that_cannot_be_read_is_told_at_its_line_and_there_is_no_order() -> None:
    found, faults = order(
        ("1", "Ada", "US", "97701", "OR", "Card", "two", "6.50", ""),
        ("1", "", "", "", "", "Book", "1", "six", ""),
    )
    assert found is None
    assert faults == [(2, "quantity", "two"), (3, "unit_price", "six")]


def test_two_values_of_what_stands_once_are_told_and_two_spellings_are_not() -> None:
    _, faults = order(
        ("1", "Ada", "USA", "97701", "OR", "Card", "1", "1", ""), ("1", "Eve", "US", "", "", "Book", "1", "1", "")
    )
    assert faults == [(3, "recipient", "Eve")]
