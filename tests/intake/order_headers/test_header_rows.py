"""What is read without asking is never wrong, and most columns need no question."""

from __future__ import annotations

import pytest

from desk.intake.columns.samples import Samples
from desk.intake.order_headers.match import match_order_headers
from desk.intake.order_headers.rules import candidates
from desk.tables.faults_found import FaultsFound
from tests.intake.order_headers.header_rows import HeaderRow, header_rows, judged

ALL = header_rows()
LEAST_RIGHT = 0.85


@pytest.mark.parametrize("row", ALL, ids=lambda row: f"{row.language}: {', '.join(row.header[:3])}")
def test_no_header_is_read_wrongly_without_asking(row: HeaderRow) -> None:
    assert judged(row)[2] == []


@pytest.mark.parametrize("language", ["English", "German", "French", "Spanish", "Mixed"])
def test_most_columns_of_a_language_are_read_without_asking(language: str) -> None:
    found = [judged(row) for row in ALL if row.language == language]
    right, asked = (sum(len(each[at]) for each in found) for at in (0, 1))
    assert right / (right + asked) >= LEAST_RIGHT


def test_the_test_table_has_two_hundred_header_rows_in_four_languages() -> None:
    assert len(ALL) >= 200
    assert {row.language for row in ALL} == {"English", "German", "French", "Spanish", "Mixed"}


@pytest.mark.parametrize(
    ("header", "rows", "order"),
    [
        (("ID", "Recipient"), [("1001", "Ada Finch"), ("1001", ""), ("1002", "Bo Reed")], "ID"),
        (("ID", "Recipient"), [("1001", "Ada Finch"), ("1001", "Bo Reed")], None),  # two buyers with one number
        (("Code", "Recipient"), [("1001", "Ada Finch"), ("1002", "Bo Reed")], None),  # perhaps the product's
        (("Code", "SKU", "Recipient"), [("1001", "NB-1", "Ada Finch"), ("1002", "PT-2", "Bo Reed")], "Code"),
    ],
)
def test_a_plain_number_column_is_the_order_only_where_it_cannot_be_the_product(header, rows, order):
    found = match_order_headers(header, Samples(rows, len(header)), {}, (), FaultsFound("orders.csv"), 1)
    place = found.columns.places.get("order")
    assert (None if place is None else header[place]) == order
    assert order or [offer.ours for offer in found.suggestions if offer.header in ("ID", "Code")] == ["order"]


@pytest.mark.parametrize("header", ["Sale Status", "Order Status", "Sales Status", "Status"])
def test_a_status_column_is_read_so_canceled_orders_are_left_out(header: str) -> None:
    best = candidates(header)[0]
    assert (best.field, best.is_certain) == ("status", True)


def test_a_company_shared_by_many_recipients_is_asked_about_and_different_ones_are_not():
    header = ("Order", "Recipient", "Shipping Company", "Item")
    people = [("1001", "Ada Finch"), ("1002", "Bo Reed"), ("1003", "Cy Bell"), ("1004", "Di Sand")]
    for names, is_asked in (
        (("Quick Courier", "Quick Courier", "Slow Courier", "Slow Courier"), True),  # half as many as recipients
        (("Reed & Sons", "Bell Ltd", "Sand Inc", "Sand Inc"), False),
        (("Reed & Sons", "Reed & Sons", "", ""), False),  # who delivers is named in every row
    ):
        rows = [(*person, name, "Pen") for person, name in zip(people, names, strict=True)]
        found = match_order_headers(header, Samples(rows, len(header)), {}, (), FaultsFound("orders.csv"), 1)
        assert ("company" not in found.columns.places) is is_asked
        assert ([offer.header for offer in found.suggestions] == ["Shipping Company"]) is is_asked


@pytest.mark.parametrize(("cells", "field"), [(("1", "2", "99"), None), (("1", "2", "100"), "sku")])
def test_an_item_number_that_may_count_the_lines_is_not_read_as_the_sku(cells, field):
    header = ("Order", "Recipient", "Item", "Item Number")
    rows = [("1001", "Ada Finch", "Pen", cell) for cell in cells]
    found = match_order_headers(header, Samples(rows, len(header)), {}, (), FaultsFound("orders.csv"), 1)
    assert found.columns.places.get("sku") == (3 if field else None)


@pytest.mark.parametrize(("titles", "is_item"), [(("Mr.", "Mme", "Dr"), False), (("Mr.", "Tray", "Pen"), True)])
def test_a_column_of_titles_such_as_mrs_is_never_the_item(titles, is_item):
    header = ("Order", "Recipient", "Title")
    rows = [("1001", "Ada Finch", title) for title in titles]
    found = match_order_headers(header, Samples(rows, len(header)), {}, (), FaultsFound("orders.csv"), 1)
    assert ("item" in found.columns.places) is is_item


@pytest.mark.parametrize(("cells", "recipient"), [(("Finch", "Reed"), None), (("Ada Finch", "Bo Reed"), "Name")])
def test_a_last_name_next_to_the_full_name_is_not_the_recipient(cells, recipient):
    header = ("Order", "Name", "First Name", "Last Name", "Item")
    rows = [("1001", cells[0], "Ada", "Finch", "Pen"), ("1002", cells[1], "Bo", "Reed", "Pen")]
    places = match_order_headers(
        header, Samples(rows, len(header)), {}, (), FaultsFound("orders.csv"), 1
    ).columns.places
    assert places.get("recipient") == (1 if recipient else None)
    assert recipient or (places["first_name"], places["last_name"]) == (2, 3)


@pytest.mark.parametrize(
    ("cells", "field"),
    [
        (("enviado", "pendiente"), "shipped"),
        (("OR", "ME"), "region"),
        (("Jalisco", "Puebla"), None),  # perhaps a state, perhaps a status we do not know
        (("enviado", "OR"), None),
    ],
)
def test_a_column_called_state_is_decided_by_its_cells_only_where_all_agree(cells, field):
    header = ("Pedido", "Destinatario", "Estado del envío")
    rows = [("1001", "Ada Finch", cells[0]), ("1002", "Bo Reed", cells[1])]
    places = match_order_headers(header, Samples(rows, 3), {}, (), FaultsFound("orders.csv"), 1).columns.places
    assert {name: place for name, place in places.items() if place == 2} == ({field: 2} if field else {})


@pytest.mark.parametrize(
    ("header", "mapped", "field"),
    [
        (("Unit Price", "Disc. %", "Line Total"), {}, "line_discount"),
        (("Unit Price", "Disc. %", "Shipping Cost"), {}, "discount"),
        (("Unit Price", "Disc. %", "Amount"), {}, "line_discount"),
        (("Unit Price", "Discount", "Line Total"), {}, "discount"),  # an amount; the lines show whose it is
        (("Unit Price", "Disc. %", "Line Total"), {"discount": "Disc. %"}, "discount"),
        (("Unit Price", "Disc. %", "Line Total"), {"line_discount": ""}, "discount"),
    ],
)
def test_a_percentage_next_to_a_line_total_is_the_discount_of_the_line(header, mapped, field):
    rows = [("10.00", "10", "9.00"), ("5.00", "0", "5.00")]
    places = match_order_headers(header, Samples(rows, 3), mapped, (), FaultsFound("orders.csv"), 1).columns.places
    assert [name for name, place in places.items() if place == 1] == [field]


def test_a_name_next_to_first_and_last_name_is_not_suggested_as_the_recipient():
    header = ("Order", "Name", "First Name", "Last Name", "Item")
    rows = [("1001", "Finch", "Ada", "Finch", "Pen"), ("1002", "Reed", "Bo", "Reed", "Pen")]
    found = match_order_headers(header, Samples(rows, 5), {}, (), FaultsFound("orders.csv"), 1)
    assert [offer.ours for offer in found.suggestions] == []
    assert {"first_name", "last_name"} <= found.columns.places.keys()


@pytest.mark.parametrize(
    ("header", "field"), [("Unit $", "unit_price"), ("Unit", None), ("Invoice", "order"), ("Bill to", None)]
)
def test_a_header_of_one_word_is_read_only_where_it_is_specific(header, field):
    rows = [("1001", "Ada Finch", "12.50"), ("1002", "Bo Reed", "9.00")]
    columns = ("Number" if field != "order" else "Date", "Recipient", header)
    found = match_order_headers(columns, Samples(rows, 3), {}, (), FaultsFound("orders.csv"), 1)
    assert [name for name, place in found.columns.places.items() if place == 2] == ([field] if field else [])


def test_a_repeated_header_is_not_the_second_address_line():
    header = ("Order", "Recipient", "Address", "Address [2]", "City")
    for second, first_line in (("1 Ink Lane", 2), ("Apt 3", None)):
        rows = [("1001", "Ada Finch", "1 Ink Lane", second, "Bend")]
        found = match_order_headers(header, Samples(rows, 5), {}, (), FaultsFound("orders.csv"), 1)
        assert "address2" not in found.columns.places
        assert found.columns.places.get("address1") == first_line


def test_a_second_item_in_a_row_is_marked_as_goods_when_it_is_ignored():
    header = ("Order", "Recipient", "Item 1", "Item 2", "Qty 2", "Address Note 2")
    rows = [("1001", "Ada Finch", "Pen", "Ink", "2", "")]
    found = match_order_headers(header, Samples(rows, 6), {}, (), FaultsFound("orders.csv"), 1)
    assert [(one.header, one.looks_like) for one in found.ignored] == [
        ("Item 2", "goods"),
        ("Qty 2", "goods"),
        ("Address Note 2", ""),
    ]


@pytest.mark.parametrize(
    ("first", "second", "field"), [("10", "10", "line_discount"), ("10", "", "discount"), ("", "", "line_discount")]
)
def test_a_percentage_only_in_the_first_row_of_an_order_is_for_the_whole_order(first, second, field):
    header = ("Order", "Unit Price", "Disc. %", "Line Total")
    rows = [("1001", "10.00", first, "10.00"), ("1001", "5.00", second, "5.00"), ("1002", "5.00", "10", "4.50")]
    places = match_order_headers(header, Samples(rows, 4), {}, (), FaultsFound("orders.csv"), 1).columns.places
    assert [name for name, place in places.items() if place == 2] == [field]
