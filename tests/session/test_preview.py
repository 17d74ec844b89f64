from __future__ import annotations

from pathlib import Path

import pytest

from desk.domain.faults import Unreadable
from desk.session.preview import FIRST_ROWS, preview_orders, read_orders_of
from desk.session.verdict import Terms


def written(folder: Path, text: str) -> Path:
    file = folder / "orders.csv"
    file.write_text(text, encoding="utf-8")
    return file


def test_the_first_rows_stand_under_our_names(tmp_path: Path) -> None:
    rows = "".join(f"{number};Card;US;Ada Quist;x\n" for number in range(1, 21))
    found = preview_orders(written(tmp_path, f"order;item;country;recipient;shelf\n{rows}"))
    assert found.columns == ("order", "recipient", "country", "item")
    assert found.rows[0] == ("1", "Ada Quist", "US", "Card")
    assert (len(found.rows), found.count) == (FIRST_ROWS, 20)
    assert (found.delimiter, found.left_out, found.missing, found.faults) == (";", ("shelf",), (), ())


def test_what_is_missing_is_named_and_what_may_be_meant_is_offered(tmp_path: Path) -> None:
    found = preview_orders(written(tmp_path, "order,recipient,country,itm\n1,Ada Quist,US,Card\n"))
    assert (found.missing, found.offered) == (("item",), {"item": "itm"})


def test_a_mapping_settles_it(tmp_path: Path) -> None:
    file = written(tmp_path, "order,recipient,country,itm\n1,Ada Quist,US,Card\n")
    found = preview_orders(file, {"item": "itm"})
    assert (found.missing, found.rows) == ((), (("1", "Ada Quist", "US", "Card"),))
    assert found.headers[-1] == "itm"


def test_two_columns_for_one_field_are_a_fault(tmp_path: Path) -> None:
    found = preview_orders(written(tmp_path, "order,order,recipient,country,item\n1,1,Ada Quist,US,Card\n"))
    assert found.faults


def test_no_table_at_all_is_unreadable(tmp_path: Path) -> None:
    with pytest.raises(Unreadable):
        preview_orders(written(tmp_path, ""))


def test_the_whole_file_by_the_rules_of_the_shop(tmp_path: Path, terms: Terms) -> None:
    file = written(tmp_path, "order,recipient,country,itm\n1,Ada Quist,US,Card\n2,Bo Rand,CA,Card\n")
    taken = read_orders_of(file, terms, {"item": "itm"})
    assert [order.number for order in taken] == ["1", "2"]
    assert read_orders_of(file, terms, {"item": "itm"}, cancelled=lambda: True) == ()
