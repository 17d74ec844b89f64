from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from desk.domain.faults import Unreadable
from desk.intake.order_headers.mapping_file import ColumnMapping
from desk.session.importing.preview import (
    FIRST_ROWS,
    Pasted,
    as_mapping,
    open_table,
    read_order_list,
    read_orders_of,
)
from desk.session.rulebook import Rulebook
from desk.session.verdict.verdict import Terms
from desk.tables.watch import WHOLE, Stopped, Watch
from tests.session import made
from tests.session.importing.previewed import preview_orders


def written(folder: Path, text: str) -> Path:
    file = folder / "orders.csv"
    file.write_text(text, encoding="utf-8")
    return file


def test_the_first_rows_are_shown_under_our_names(tmp_path: Path) -> None:
    rows = "".join(f"{number};Card;US;Ada Quist;x\n" for number in range(1, 21))
    found = preview_orders(written(tmp_path, f"order;item;country;recipient;shelf\n{rows}"))
    assert found.columns == ("order", "recipient", "country", "item")
    assert found.rows[0] == ("1", "Ada Quist", "US", "Card")
    assert (len(found.rows), found.count) == (FIRST_ROWS, 20)
    assert (found.delimiter, [one.header for one in found.ignored], found.missing, found.faults) == (
        ";",
        ["shelf"],
        (),
        (),
    )


def test_what_is_missing_is_named_and_what_may_be_meant_is_offered(tmp_path: Path) -> None:
    found = preview_orders(written(tmp_path, "order,recipient,country,itm\n1,Ada Quist,US,Card\n"))
    assert (found.missing, [(one.ours, one.header) for one in found.suggestions]) == (("item",), [("item", "itm")])


def test_a_mapping_settles_it(tmp_path: Path) -> None:
    file = written(tmp_path, "order,recipient,country,itm\n1,Ada Quist,US,Card\n")
    found = preview_orders(file, {"item": "itm"})
    assert (found.missing, found.rows) == ((), (("1", "Ada Quist", "US", "Card"),))
    assert found.headers[-1] == "itm"


def test_the_same_column_twice_is_one_and_two_different_ones_are_asked(tmp_path: Path) -> None:
    same = preview_orders(written(tmp_path, "order,order,recipient,country,item\n1,1,Ada Quist,US,Card\n"))
    assert (same.missing, same.unsettled) == ((), ())
    other = preview_orders(written(tmp_path, "order,Ship to,Addressee,country,item\n1,Ada Quist,Bo Rand,US,Card\n"))
    assert other.missing == ("recipient",)
    assert [one.header for one in other.unsettled] == ["Ship to", "Addressee"]


def test_no_table_at_all_is_unreadable(tmp_path: Path) -> None:
    with pytest.raises(Unreadable):
        preview_orders(written(tmp_path, ""))


def test_the_whole_file_by_the_rules_of_the_shop(tmp_path: Path, terms: Terms) -> None:
    file = written(tmp_path, "order,recipient,country,itm\n1,Ada Quist,US,Card\n2,Bo Rand,CA,Card\n")
    taken = read_orders_of(file, terms, {"item": "itm"})
    assert [order.number for order in taken] == ["1", "2"]
    assert read_orders_of(file, terms, {"item": "itm"}, Watch(canceled=lambda: True)) == ()


TABLE = "order,recipient,country,item,status\n1,Ada Quist,US,Card,paid\n2,Bo Rand,CA,Card,canceled\n"


def test_a_table_from_the_clipboard_is_read_as_a_file_is(tmp_path: Path) -> None:
    pasted, file = preview_orders(Pasted(TABLE)), preview_orders(written(tmp_path, TABLE))
    assert (pasted.rows, pasted.columns, pasted.count) == (file.rows, file.columns, 2)
    assert (pasted.path, file.path) == (Path("the clipboard"), tmp_path / "orders.csv")


def test_a_pasted_table_can_have_tabs_and_a_name_of_its_own() -> None:
    found = preview_orders(Pasted(TABLE.replace(",", "\t"), "a list"))
    assert (found.path, found.delimiter, found.rows[1][0]) == (Path("a list"), "\t", "2")


def test_nothing_on_the_clipboard_is_unreadable() -> None:
    with pytest.raises(Unreadable):
        open_table(Pasted(""))


@pytest.mark.parametrize("given", [None, {}, ColumnMapping({})])
def test_no_mapping_is_an_empty_one(given: ColumnMapping | dict[str, str] | None) -> None:
    assert as_mapping(given) == ColumnMapping({})


def test_a_mapping_is_taken_as_it_is_and_columns_become_one() -> None:
    whole = ColumnMapping({"item": "itm"})
    assert as_mapping(whole) is whole
    assert as_mapping({"item": "itm"}) == whole


def test_the_whole_header_is_kept_and_only_unread_columns_left_out() -> None:
    found = preview_orders(Pasted(TABLE.replace("status", "shelf")))
    assert found.header == ("order", "recipient", "country", "item", "shelf")
    assert ([one.header for one in found.ignored], found.headers) == (
        ["shelf"],
        ("order", "recipient", "country", "item"),
    )


def test_a_header_alone_is_no_list_and_says_where_it_ends() -> None:
    with pytest.raises(Unreadable, match="rows below the header, but there are none") as told:
        preview_orders(Pasted(TABLE.splitlines()[0] + "\n"))
    assert [(fault.file, fault.line) for fault in told.value.faults] == [("the clipboard", 1)]


def test_every_needed_field_that_is_not_there_is_missing() -> None:
    found = preview_orders(Pasted("shelf,colour\n1,red\n"))
    assert set(found.missing) >= {"order", "recipient", "country", "item"}
    assert found.columns == ("variant",)  # a color says what is in it, and nothing of what is needed


def test_orders_with_a_status_to_skip_are_left_out_by_name(rulebook: Rulebook) -> None:
    terms = Terms(made.shop(policy=made.policy(skip_status=("canceled",))), rulebook, made.ON)
    found = read_order_list(Pasted(TABLE), terms)
    assert found is not None
    assert ([order.number for order in found.orders], found.left_out) == (["1"], (("2", "canceled"),))


def test_a_shop_that_skips_no_status_imports_all(terms: Terms) -> None:
    terms = replace(terms, shop=made.shop(policy=made.policy(skip_status=())))
    assert [order.number for order in read_orders_of(Pasted(TABLE), terms)] == ["1", "2"]


@pytest.mark.parametrize("asked_before", [0, 1])
def test_canceled_before_or_after_the_rows_are_read(terms: Terms, asked_before: int) -> None:
    answers = iter([False] * asked_before + [True] * 1000)
    assert read_order_list(Pasted(TABLE), terms, watch=Watch(canceled=lambda: next(answers))) is None


def test_a_bad_row_is_a_finding_of_its_order(terms: Terms) -> None:
    text = "order,recipient,country,item,quantity\n1,Ada Quist,US,Card,1\n2,Bo Rand,CA,Card,many\n"
    first, second = read_orders_of(Pasted(text), terms)
    assert [one.facts["found"] for one in (*first.findings, *second.findings)] == ["many"]


def test_reading_reports_its_progress_to_the_end(terms: Terms) -> None:
    told: list[tuple[int, int]] = []
    watch = Watch(lambda done, of: told.append((done, of)))
    assert read_order_list(Pasted(TABLE), terms, watch=watch) is not None
    assert (told == sorted(told), told[-1]) == (True, (WHOLE, WHOLE))
    told.clear()
    preview_orders(Pasted(TABLE), watch=watch)
    assert (told == sorted(told), told[-1]) == (True, (WHOLE, WHOLE))


def test_a_preview_of_a_list_can_be_canceled() -> None:
    with pytest.raises(Stopped):
        preview_orders(Pasted(TABLE), watch=Watch(canceled=lambda: True))
