"""Limits in reading an order list's cells, with a case on either side of each. Common practice, no source."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest

from desk.intake.orders.order_lines import share_of
from desk.intake.orders.order_list import match_columns
from desk.session.importing.preview import list_rules, open_table
from desk.tables.faults_found import FaultsFound
from tests.intake.tables import COUNTRIES, put, read_list

FULL = (
    "recipient first_name last_name company address1 address2 address3 city region country postal_code email phone "
    "shipping_choice status"
).split()


@pytest.mark.parametrize(
    ("field", "most"),
    [
        ("recipient", 200), ("company", 200), ("address1", 100), ("address2", 100), ("address3", 100), ("city", 100),
        ("region", 100), ("postal_code", 40), ("email", 200), ("phone", 60), ("status", 100), ("country", 200),
    ],
)  # fmt: skip
@pytest.mark.parametrize("over", [0, 1])
def test_a_text_may_be_as_long_as_its_field_and_no_longer(tmp_path: Path, field: str, most: int, over: int) -> None:
    names = [name for name in FULL if name not in ("first_name", "last_name")]
    long = {"email": "a@b." + "x" * 600, "phone": "5" * 600, "postal_code": "A1" * 300}.get(field, "w" * 600)
    cells = dict.fromkeys(names, "") | {"recipient": "Ada", "country": "DE", field: long[: most + over]}
    text = f"order,item,{','.join(cells)}\n1,Pen,{','.join(cells.values())}\n"
    (order,) = read_list(put(tmp_path, "a.csv", text)).orders
    found = [one for one in order.findings if one.code == "text-too-long"]
    assert [(one.facts["length"], one.facts["most"]) for one in found] == ([(most + 1, most)] if over else [])


def likely(folder: Path, codes: int, others: int) -> str:
    """Return the suggested country of a list with this many American and other postal codes."""
    zips = [*(f"977{number:02}" for number in range(codes)), *(f"B{number}A 1A1" for number in range(others))]
    rows = "".join(f"{number},Ada,1 Elm Street,Bend,{code},Card\n" for number, code in enumerate(zips))
    sheet = open_table(put(folder, "orders.csv", "order,recipient,address1,city,zip,item\n" + rows))
    return match_columns(sheet, list_rules(COUNTRIES), FaultsFound("x")).likely_country


@pytest.mark.parametrize(("codes", "others", "country"), [(9, 1, "US"), (17, 2, ""), (18, 2, "US"), (19, 1, "US")])
def test_nine_of_ten_postal_codes_suggest_a_country(tmp_path: Path, codes: int, others: int, country: str) -> None:
    assert likely(tmp_path, codes, others) == country


@pytest.mark.parametrize(("right", "wrong", "is_used"), [(1, 1, True), (1, 2, False), (2, 1, True)])
def test_a_likely_total_column_is_used_when_half_of_the_orders_add_up(
    tmp_path: Path, right: int, wrong: int, is_used: bool
) -> None:
    totals = ["5.00"] * right + ["7.77"] * wrong
    rows = "".join(f"{number},Ada,US,Card,1,5.00,{total}\n" for number, total in enumerate(totals))
    orders = read_list(
        put(tmp_path, "a.csv", "order,recipient,country,item,quantity,unit_price,receipt total\n" + rows)
    )
    assert sum("total-differs" in {str(one.code) for one in order.findings} for order in orders.orders) == (
        wrong if is_used else 0
    )


@pytest.mark.parametrize(
    ("amount", "share", "cents"), [(1000, "0.15", 150), (333, "0.5", 167), (1, "0.49", 0), (1, "0.5", 1), (250, "0", 0)]
)
def test_half_a_cent_of_a_discount_is_rounded_up(amount: int, share: str, cents: int) -> None:
    assert share_of(amount, Decimal(share)) == cents


@pytest.mark.parametrize(("length", "shown"), [(80, 80), (81, 80)])
def test_conflicting_values_are_reported_with_eighty_characters_of_each(
    tmp_path: Path, length: int, shown: int
) -> None:
    rows = f"1,Ada,US,Card,{'a' * length}\n1,Ada,US,Pen,{'b' * length}\n"
    (order,) = read_list(put(tmp_path, "a.csv", "order,recipient,country,item,city\n" + rows)).orders
    (found,) = [one for one in order.findings if one.code == "order-two-values"]
    assert (found.facts["used"], found.facts["other"]) == ("a" * shown, "b" * shown)


@pytest.mark.parametrize("field", ["first_name", "last_name"])
@pytest.mark.parametrize("length", [100, 101])
def test_a_part_of_a_name_has_at_most_a_hundred_characters(tmp_path: Path, field: str, length: int) -> None:
    cells = {"first_name": "Ada", "last_name": "Finch"} | {field: "w" * length}
    text = f"order,first_name,last_name,country,item\n1,{cells['first_name']},{cells['last_name']},US,Card\n"
    (order,) = read_list(put(tmp_path, "a.csv", text)).orders
    assert ("text-too-long" in [str(one.code) for one in order.findings]) is (length > 100)
