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


def test_the_first_rows_are_shown_under_our_field_names(tmp_path: Path) -> None:
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


def test_missing_columns_are_named_and_likely_ones_suggested(tmp_path: Path) -> None:
    found = preview_orders(written(tmp_path, "order,recipient,country,itm\n1,Ada Quist,US,Card\n"))
    assert (found.missing, [(one.ours, one.header) for one in found.suggestions]) == (("item",), [("item", "itm")])


def test_a_mapping_decides_the_columns(tmp_path: Path) -> None:
    file = written(tmp_path, "order,recipient,country,itm\n1,Ada Quist,US,Card\n")
    found = preview_orders(file, {"item": "itm"})
    assert (found.missing, found.rows) == ((), (("1", "Ada Quist", "US", "Card"),))
    assert found.headers[-1] == "itm"


def test_equal_duplicate_columns_are_merged_and_different_ones_are_asked_about(tmp_path: Path) -> None:
    same = preview_orders(written(tmp_path, "order,order,recipient,country,item\n1,1,Ada Quist,US,Card\n"))
    assert (same.missing, same.unsettled) == ((), ())
    other = preview_orders(written(tmp_path, "order,Ship to,Addressee,country,item\n1,Ada Quist,Bo Rand,US,Card\n"))
    assert other.missing == ("recipient",)
    assert [one.header for one in other.unsettled] == ["Ship to", "Addressee"]


def test_a_file_without_a_table_is_unreadable(tmp_path: Path) -> None:
    with pytest.raises(Unreadable):
        preview_orders(written(tmp_path, ""))


def test_the_whole_file_is_read_by_the_rules_of_the_shop(tmp_path: Path, terms: Terms) -> None:
    file = written(tmp_path, "order,recipient,country,itm\n1,Ada Quist,US,Card\n2,Bo Rand,CA,Card\n")
    taken = read_orders_of(file, terms, {"item": "itm"})
    assert [order.number for order in taken] == ["1", "2"]
    assert read_orders_of(file, terms, {"item": "itm"}, Watch(canceled=lambda: True)) == ()


TABLE = "order,recipient,country,item,status\n1,Ada Quist,US,Card,paid\n2,Bo Rand,CA,Card,canceled\n"


def test_a_table_from_the_clipboard_is_read_like_a_file(tmp_path: Path) -> None:
    pasted, file = preview_orders(Pasted(TABLE)), preview_orders(written(tmp_path, TABLE))
    assert (pasted.rows, pasted.columns, pasted.count) == (file.rows, file.columns, 2)
    assert (pasted.path, file.path) == (Path("the clipboard"), tmp_path / "orders.csv")


def test_a_pasted_table_may_be_separated_by_tabs_and_have_its_own_name() -> None:
    found = preview_orders(Pasted(TABLE.replace(",", "\t"), "a list"))
    assert (found.path, found.delimiter, found.rows[1][0]) == (Path("a list"), "\t", "2")


def test_an_empty_clipboard_is_unreadable() -> None:
    with pytest.raises(Unreadable):
        open_table(Pasted(""))


@pytest.mark.parametrize("given", [None, {}, ColumnMapping({})])
def test_no_mapping_equals_an_empty_one(given: ColumnMapping | dict[str, str] | None) -> None:
    assert as_mapping(given) == ColumnMapping({})


def test_a_mapping_is_used_unchanged_and_columns_are_made_into_one() -> None:
    whole = ColumnMapping({"item": "itm"})
    assert as_mapping(whole) is whole
    assert as_mapping({"item": "itm"}) == whole


def test_the_whole_header_is_kept_and_unread_columns_are_listed() -> None:
    found = preview_orders(Pasted(TABLE.replace("status", "shelf")))
    assert found.header == ("order", "recipient", "country", "item", "shelf")
    assert ([one.header for one in found.ignored], found.headers) == (
        ["shelf"],
        ("order", "recipient", "country", "item"),
    )


def test_a_header_without_rows_is_refused_with_its_line() -> None:
    with pytest.raises(Unreadable, match="rows below the header, but there are none") as reported:
        preview_orders(Pasted(TABLE.splitlines()[0] + "\n"))
    assert [(fault.file, fault.line) for fault in reported.value.faults] == [("the clipboard", 1)]


def test_every_required_field_without_a_column_is_missing() -> None:
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
def test_reading_can_be_canceled_before_or_after_the_rows(terms: Terms, asked_before: int) -> None:
    answers = iter([False] * asked_before + [True] * 1000)
    assert read_order_list(Pasted(TABLE), terms, watch=Watch(canceled=lambda: next(answers))) is None


def test_a_bad_row_is_a_finding_of_its_order(terms: Terms) -> None:
    text = "order,recipient,country,item,quantity\n1,Ada Quist,US,Card,1\n2,Bo Rand,CA,Card,many\n"
    first, second = read_orders_of(Pasted(text), terms)
    assert [one.facts["found"] for one in (*first.findings, *second.findings)] == ["many"]


def test_reading_reports_its_progress_to_the_end(terms: Terms) -> None:
    reported: list[tuple[int, int]] = []
    watch = Watch(lambda done, of: reported.append((done, of)))
    assert read_order_list(Pasted(TABLE), terms, watch=watch) is not None
    assert (reported == sorted(reported), reported[-1]) == (True, (WHOLE, WHOLE))
    reported.clear()
    preview_orders(Pasted(TABLE), watch=watch)
    assert (reported == sorted(reported), reported[-1]) == (True, (WHOLE, WHOLE))


def test_a_preview_of_a_list_can_be_canceled() -> None:
    with pytest.raises(Stopped):
        preview_orders(Pasted(TABLE), watch=Watch(canceled=lambda: True))
