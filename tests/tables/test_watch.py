"""Progress only rises and ends at the end; a canceled reading stops at the next check."""

from __future__ import annotations

import itertools
from pathlib import Path

import pytest

from desk.domain.places.address import Address
from desk.domain.shop.shop import Shop
from desk.intake.columns.sheet import read_sheet, read_sheet_text
from desk.intake.orders.order_list import OrderRules, OrdersFile, orders_in
from desk.intake.shop.product_lists import CatalogRules, ListKind, catalog_in
from desk.tables.watch import EVERY, UNWATCHED, WHOLE, Stopped, Watch
from tests.intake.tables import COUNTRIES, ods, put, xlsx


def test_items_are_yielded_one_by_one_with_a_check_every_thousand() -> None:
    reported: list[tuple[int, int]] = []
    watch = Watch(lambda done, of: reported.append((done, of)))
    assert list(watch.over(range(2500))) == list(range(2500))
    assert reported == [(0, WHOLE), (400, WHOLE), (800, WHOLE), (WHOLE, WHOLE)]


def test_a_part_reports_its_own_share_of_the_progress() -> None:
    reported: list[int] = []
    watch = Watch(lambda done, _of: reported.append(done))
    half = watch.part(500, WHOLE)
    assert list(half.part(0, 200).over([])) == []
    list(half.part(200, WHOLE).over(range(EVERY + 1)))
    assert reported == [600, 600, 999, 1000]


def test_without_items_the_progress_is_complete() -> None:
    reported: list[int] = []
    Watch(lambda done, _of: reported.append(done)).at(0, 0)
    assert reported == [WHOLE]


def test_reading_more_than_the_size_is_full_progress() -> None:
    reported: list[int] = []
    Watch(lambda done, _of: reported.append(done)).at(7, 5)
    assert reported == [WHOLE]


def test_a_canceled_reading_ends_at_the_next_check() -> None:
    seen: list[int] = []
    watch = Watch(canceled=lambda: len(seen) > 0)
    with pytest.raises(Stopped):
        seen.extend(item for item in watch.over(range(5 * EVERY)))
    assert len(seen) == EVERY


def test_by_default_nothing_is_reported() -> None:
    assert list(UNWATCHED.over("abc")) == ["a", "b", "c"]
    UNWATCHED.at(1, 2)


HEAD = ["order", "placed", "recipient", "country", "item", "unit_price"]
NAME = "Zoë Müller"


def rows(count: int) -> list[list[str]]:
    return [HEAD, *([f"A{n}", "2026-11-25", NAME, "US", "Notebook", "4.50"] for n in range(count))]


def text(count: int) -> str:
    return "\n".join(",".join(row) for row in rows(count))


FORMS = {
    "utf-8": lambda count: text(count).encode(),
    "utf-16": lambda count: text(count).encode("utf-16"),
    "cp1252": lambda count: text(count).encode("cp1252"),
    "xlsx": lambda count: xlsx(rows(count)),
    "ods": lambda count: ods(rows(count)),
}


def read_watched(path: Path, watch: Watch) -> OrdersFile:
    sheet = read_sheet(path, watch=watch.part(0, 500))
    return orders_in(sheet, OrderRules(COUNTRIES, "USD"), watch.part(500, WHOLE))


def looks(path: Path) -> list[int]:
    reported: list[int] = []
    assert read_watched(path, Watch(lambda done, _of: reported.append(done))).orders
    return reported


@pytest.mark.parametrize("form", FORMS)
def test_progress_of_a_file_only_rises_and_ends_at_the_end(tmp_path: Path, form: str) -> None:
    reported = looks(put(tmp_path, "orders", FORMS[form](40)))
    assert reported == sorted(reported)
    assert reported[-1] == WHOLE


@pytest.mark.parametrize("form", FORMS)
def test_every_pass_can_be_canceled_every_thousand_rows(tmp_path: Path, form: str) -> None:
    # as different numbers: while another process reads a workbook, how often it is asked depends on the machine
    few, many = (len(set(looks(put(tmp_path, "orders", FORMS[form](count))))) for count in (1000, 5000))
    assert many - few >= 3 * 4  # text or sheet to rows, rows by order, orders; and more for bytes to text


@pytest.mark.parametrize("form", FORMS)
def test_a_reading_ends_at_the_check_that_cancels_it(tmp_path: Path, form: str) -> None:
    path = put(tmp_path, "orders", FORMS[form](1200))
    for turn in range(len(looks(path))):
        asked = itertools.count()
        try:
            read_watched(path, Watch(canceled=lambda asked=asked, turn=turn: next(asked) == turn))
        except Stopped:
            continue
        assert form in ("xlsx", "ods")  # the progress of another process depends on its duration
        assert next(asked) <= turn


def test_reading_a_product_list_reports_progress(tmp_path: Path) -> None:
    goods = "sku,name\n" + "".join(f"S{n},Card {n}\n" for n in range(2500))
    reported: list[int] = []
    watch = Watch(lambda done, _of: reported.append(done))
    sheet = read_sheet_text(goods)
    rules = CatalogRules(Shop(Address()), COUNTRIES)
    assert len(catalog_in(sheet, ListKind.PRODUCTS, rules, watch).records) == 2500
    assert reported == [0, 120, 240, 300, 300, 580, 860, WHOLE]
    with pytest.raises(Stopped):
        catalog_in(sheet, ListKind.PRODUCTS, rules, Watch(canceled=lambda: True))
