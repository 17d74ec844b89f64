"""Ten generated exports, imported like a person would and compared cell by cell with their orders."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest

from desk.domain.finding import Severity
from desk.domain.orders.order import Order
from desk.intake.orders.order_list import OrdersFile, orders_in
from desk.session.importing.preview import accept_all, list_rules, open_table
from tests.intake.exports.sources import SHAPES, Source, orders, share
from tests.intake.tables import COUNTRIES, put

RULES = list_rules(COUNTRIES)
# Fields missing from a format.
MISSING = {
    "capitals run together": {"company", "email", "phone", "note", "discount", "variant"},
    "a workbook in camel case": {"email", "phone", "note", "discount", "variant"},
    "a German ODS": {"email", "phone", "discount", "variant"},
    "a whole address in one cell": {"company", "email", "phone", "discount", "variant"},
    "given on the first row only": {"company", "email", "phone", "discount", "variant"},
    "discount and postage as lines": {"company", "email", "phone", "note", "sku", "variant"},
    "French": {"email", "phone", "variant"},
    "Spanish, no country": {"company", "phone", "note", "discount", "variant"},
    "a share off each line": {"company", "email", "phone", "note", "variant"},
}


def imported(path: Path) -> OrdersFile:
    """Import a list like a person who accepts every suggestion."""
    sheet = open_table(path)
    return orders_in(sheet, replace(RULES, mapping=accept_all(sheet, RULES)))


def cells_of(source: Source, shape: str) -> Iterator[tuple[str, str]]:
    """Return every cell of an order as intended."""
    street = f"{source.house} {source.street}"
    note = source.note.replace("\n", " ") if shape == "a German ODS" else source.note
    discount = sum(map(share, source.lines), Decimal(0)) if shape == "a share off each line" else source.discount
    yield from {
        "number": source.number, "placed": str(source.placed), "recipient": source.name, "company": source.company, "street": street,
        "second": source.second, "city": source.city, "region": source.region, "postal_code": source.postal_code, "country": "US",
        "email": source.email, "phone": source.phone, "note": note, "shipping": f"{source.shipping:.2f}", "discount": f"{discount:.2f}",
    }.items()  # fmt: skip
    for place, line in enumerate(source.lines):
        yield from {
            f"item {place}": line.item, f"sku {place}": line.sku, f"variant {place}": line.variant, f"quantity {place}": str(line.quantity),
            f"price {place}": f"{line.price:.2f}",
        }.items()  # fmt: skip


def cells_read(order: Order) -> Iterator[tuple[str, str]]:
    """Return every cell of an order as imported."""
    address = order.address
    yield from {
        "number": order.number, "placed": str(order.placed), "recipient": address.recipient, "company": address.company,
        "street": address.address1, "second": address.address2, "city": address.city, "region": address.region,
        "postal_code": address.postal_code, "country": address.country, "email": address.email, "phone": address.phone,
        "note": order.buyer_note, "shipping": str(order.shipping_paid.amount), "discount": str(order.discount.amount),
    }.items()  # fmt: skip
    for place, line in enumerate(order.lines):
        yield from {
            f"item {place}": line.item, f"sku {place}": line.sku, f"variant {place}": line.variant, f"quantity {place}": str(line.quantity),
            f"price {place}": str(line.unit_price.amount),
        }.items()  # fmt: skip


def different(shape: str, found: OrdersFile) -> list[tuple[str, str, str, str]]:
    """Return each cell imported differently: order, field, intended, imported."""
    missing, wrong = MISSING.get(shape, set()), []
    read = {order.number: dict(cells_read(order)) for order in found.orders}
    for source in orders():
        for name, meant in cells_of(source, shape):
            if name.split()[0] not in missing and (got := read[source.number].pop(name, "no such cell")) != meant:
                wrong.append((source.number, name, meant, got))
    return wrong


@pytest.mark.parametrize("shape", SHAPES)
def test_every_cell_of_a_generated_export_is_read_as_written(tmp_path: Path, shape: str) -> None:
    found = imported(put(tmp_path, "export", SHAPES[shape]()))
    assert len(found.orders) == len(orders()) == 60
    assert different(shape, found) == []
    assert found.questions == ()


@pytest.mark.parametrize("shape", SHAPES)
def test_a_generated_export_needs_no_check(tmp_path: Path, shape: str) -> None:
    found = imported(put(tmp_path, "export", SHAPES[shape]()))
    reported = {one.code for order in found.orders for one in order.findings if one.severity is not Severity.NOTE}
    assert reported == set()
