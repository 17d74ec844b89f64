"""A list without a needed column is refused in one line a column, which names the column that may be meant."""

from __future__ import annotations

from pathlib import Path

import pytest

from desk.domain.faults import Unreadable
from desk.domain.places.country import Countries
from desk.intake.orders.order_list import OrderRules, read_orders
from tests.intake.tables import put

COUNTRIES = Countries({"US": "UNITED STATES"}, {"united states": "US"})


def refusal(tmp_path: Path, text: str) -> list[str]:
    with pytest.raises(Unreadable) as caught:
        read_orders(put(tmp_path, "list.csv", text), OrderRules(COUNTRIES, "USD"))
    return str(caught.value).replace(f"{tmp_path}/", "").splitlines()


def test_a_whole_address_under_an_unknown_header_is_suggested_in_one_line(tmp_path: Path) -> None:
    text = 'Order,Recipient,Item,Wohin\n1,Ada Finch,Pen,"12 Ink Lane\nBend, OR 97701\nUnited States"\n'
    assert refusal(tmp_path, text) == [
        (
            'list.csv: line 1, country: expected a column for country; perhaps full_address = "Wohin" (12 Ink Lane Bend, OR 97…). '
            'To use it, put full_address = "Wohin" under [columns] in a mapping'
        )
    ]


def test_a_column_of_names_is_suggested_for_the_recipient(tmp_path: Path) -> None:
    (line,) = refusal(tmp_path, "Order,Name,Country,Item\n1,ada77,US,Pen\n2,bo_reed_8,US,Pen\n3,cy4,US,Pen\n")
    assert 'perhaps recipient = "Name" (ada77, bo_reed_8, cy4)' in line


def test_a_column_of_numbers_is_not_suggested_for_the_recipient(tmp_path: Path) -> None:
    (line,) = refusal(tmp_path, "Order,Name,Country,Item\n1,4411,US,Pen\n2,4412,US,Pen\n3,4413,US,Pen\n")
    assert line == "list.csv: line 1, recipient: expected a column for recipient"


def test_a_list_without_a_header_row_is_refused_in_one_line(tmp_path: Path) -> None:
    assert refusal(tmp_path, "1001,Ada Finch,US,Notebook\n1002,Bo Reed,US,Pen\n") == [
        "list.csv: line 1: expected a row of column names, such as order, recipient, country, item; this row looks like an order"
    ]
