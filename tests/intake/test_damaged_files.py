"""Files damaged by spreadsheets, editors and haste: each with the sentence the person reads."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from desk.domain.faults import Unreadable
from desk.domain.places.address import Address
from desk.domain.shop.shop import Shop
from desk.intake.shop.shop_file import read_shop
from desk.intake.weights import read_weights
from tests.intake.tables import SHOP, put, read_list, sentences, xlsx

ORDERS = (
    "order,recipient,country,item,quantity,unit_price\n1001,Ada Finch,US,Notebook,1,12.50\n1002,Bo Reed,DE,Pen,2,3.00\n"
)
WEIGHTS = "order,gross,unit\n1001,4.2,oz\n1002,119,g\n"


def orders(path: Path) -> object:
    return read_list(path)


def weights(path: Path) -> object:
    return read_weights(path, shop=Shop(Address()))


Reader = Callable[[Path], object]

SPOILED: list[tuple[str, Reader, str | bytes, str]] = [
    (
        "order list is empty", orders, "",
        "f: expected a header row and rows below it, but the file is empty",
    ),
    (
        "order list is its header alone", orders, "order,recipient,country,item\n",
        "f: line 1: expected rows below the header, but there are none",
    ),
    (
        "quote left open", orders, ORDERS.replace("Bo Reed", '"Bo Reed'),
        "f: line 3: expected a closing quote; the cell that opens here never ends",
    ),
    (
        "header renamed", orders, ORDERS.replace("country", "cuntry"),
        ('f: line 1, country: expected a column for country; perhaps country = "cuntry" (US, DE). '
        'To use it, put country = "cuntry" under [columns] in a mapping'),
    ),
    (
        "header lost", orders, ORDERS.split("\n", 1)[1],
        "f: line 1: expected a row of column names, such as order, recipient, country, item; this row looks like an order",
    ),
    (
        "first row without a number", orders, ORDERS.replace("1001", ""),
        "f: line 2, order: expected an order number; there is no order above this row",
    ),
    (
        "workbook cut short", orders, xlsx([["order", "recipient", "country", "item"], ["1", "Ada", "US", "Pen"]])[:-300],
        "f: expected an undamaged workbook (XLSX or ODS); open it and save it again",
    ),
    (
        "a picture instead", orders, b"\x89PNG\r\n\x1a\n" + bytes(range(32)) * 9,
        "f: expected a table (CSV, TSV, XLSX or ODS), but this is some other kind of file",
    ),
    (
        "two encodings in one file", orders, (ORDERS + "1003,Zoë Ångström,DE,Öl für Füller,1,1\n").encode() + b"1004,Ren\xe9,FR,x,1,1\n",
        "f: line 5: expected text in one encoding; most of the file is UTF-8, this line is not",
    ),
    (
        "weight without unit", weights, WEIGHTS.replace(",oz", ","),
        "f: line 2, unit: expected a unit: oz, lb, g, kg or lb-oz",
    ),
    (
        "weights without the unit column", weights, "order,gross\n1001,4.2\n",
        "f: line 1, unit: expected a column for unit",
    ),
    (
        "weight of nothing", weights, WEIGHTS.replace("4.2", "0.0"),
        "f: line 2, gross: '0.0' found, expected a number above 0",
    ),
    (
        "ounces written as pounds and ounces", weights, WEIGHTS.replace("4.2,oz", "4.2,lb-oz"),
        "f: line 2, gross: '4.2' found, expected a weight such as 1 lb 3.2 oz",
    ),
    (
        "letters in a weight", weights, WEIGHTS.replace("4.2", "4.Z"),
        "f: line 2, gross: '4.Z' found, expected a number such as 12.50",
    ),
    (
        "shop file with a field of its own", read_shop, SHOP + "[policy]\ncolour = 1\n",
        ("f: line 9, policy.colour: 'colour' found, expected one of currency, letter_postage, parcel_services, "
        "intl_services, parcel_payment, untracked, skip_status, ship_status, stamp_request_phrases, cautious, max_stamps, "
        "scale_division, scale_unit, scale_rounds_up, learn_weights, close_call_from, cover_from, label_weight, insert_cost, insert_weight, label_cost"),
    ),
    (
        "shop file with a table of its own", read_shop, SHOP + "[printers]\nname = 'x'\n",
        ("f: line 8, printers: 'printers' found, expected one of sender, policy, choices, tax_ids, rates, mailers, "
        "products, stamps"),
    ),
    (
        "shop file with a number as a name", read_shop, SHOP.replace('"97201"', "97201"),
        "f: line 6, sender.postal_code: '97201' found, expected text in quotes",
    ),
    (
        "shop file with a quote left open", read_shop, SHOP.replace('"Portland"', '"Portland'),
        "f: line 4: expected valid TOML: Illegal character '\\n'",
    ),
    (
        "mailer named twice", read_shop, SHOP + '[[mailers]]\nname = "A"\nkind = "box"\n' * 2,
        "f: line 12, mailers.2.name: 'A' found, expected a unique name; mailers.1 already has this one",
    ),
    (
        "price finer than a cent", read_shop, SHOP + '[policy]\nlabel_cost = "0.035"\n',
        "f: line 9, policy.label_cost: '0.035' found, expected an amount of USD with at most 2 decimals",
    ),
    (
        "mailers as one table", read_shop, SHOP + '[mailers]\nname = "A"\n',
        'f: line 8, mailers: expected a list, such as ["one", "two"]',
    ),
    (
        "shop file without a sender", read_shop, "[policy]\n",
        "f: sender: expected a value here; it is needed",
    ),
]  # fmt: skip


@pytest.mark.parametrize(
    ("reader", "content", "expected"), [case[1:] for case in SPOILED], ids=[case[0] for case in SPOILED]
)
def test_each_damaged_file_gets_its_sentence(
    tmp_path: Path, reader: Reader, content: str | bytes, expected: str
) -> None:
    with pytest.raises(Unreadable) as caught:
        reader(put(tmp_path, "f", content))
    assert "\n".join(sentences(caught, tmp_path)) == expected


@pytest.mark.parametrize(("reader", "content"), [(orders, ORDERS), (weights, WEIGHTS), (read_shop, SHOP)])
def test_undamaged_files_are_read(tmp_path: Path, reader: Reader, content: str) -> None:
    assert reader(put(tmp_path, "f", content))
