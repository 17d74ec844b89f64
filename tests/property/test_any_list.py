"""Any order list, written in any of the forms taken in, comes back equal: delimiters, encodings, workbooks, a paste."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence
from datetime import date
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from desk.domain.order import Order
from desk.intake.orders import OrderRules, orders_in
from desk.intake.sheet import read_sheet, read_sheet_text
from tests.intake.tables import COUNTRIES, ods, put, xlsx

HEADER = (
    "order placed recipient address1 city region postal_code country item sku quantity unit_price shipping_paid "
    "buyer_note"
).split()
RULES = OrderRules(COUNTRIES, "USD")
# Signs a name or note may hold: any script, punctuation, delimiters and quotes; no controls, and no space at the ends.
SIGNS = st.characters(
    min_codepoint=32, max_codepoint=0x9FFF, exclude_categories=("Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp", "Zs")
)
WORDS = st.lists(st.text(SIGNS, min_size=1, max_size=8), min_size=1, max_size=4).map(" ".join)
NOTES = st.one_of(st.just(""), WORDS, st.lists(WORDS, min_size=2, max_size=3).map("\n".join))
CENTS = st.integers(0, 99_999).map(lambda cents: f"{cents / 100:.2f}")
CP1252 = st.text(st.sampled_from("abcdeéüßñøÅŽ€—’ -,;'\""), min_size=1, max_size=12).map(
    lambda text: "x" + text.strip()
)
FORMS = ("csv", "semicolon", "tsv", "bar", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "xlsx", "ods", "paste")
DELIMITERS = {"semicolon": ";", "tsv": "\t", "bar": "|", "paste": "\t"}


@st.composite
def order_rows(
    draw: st.DrawFn, words: st.SearchStrategy[str] = WORDS, notes: st.SearchStrategy[str] = NOTES
) -> list[list[str]]:
    """Rows of orders of one to three lines; what stands once an order stands on its first row."""
    rows = []
    for number in range(1, draw(st.integers(1, 4)) + 1):
        placed = draw(st.dates(date(2000, 1, 1), date(2099, 12, 31))).isoformat()
        where = [draw(words), draw(words), draw(words), draw(words), draw(st.from_regex(r"[0-9]{5}", fullmatch=True))]
        head = [f"A-{number}", placed, *where, draw(st.sampled_from(["US", "DE", "FRANCE", "United Kingdom"]))]
        for place in range(draw(st.integers(1, 3))):
            line = [draw(words), draw(words), str(draw(st.integers(1, 99))), draw(CENTS)]
            once = [draw(CENTS), draw(notes)] if place == 0 else ["", ""]
            rows.append([*(head if place == 0 else ["", *[""] * (len(head) - 1)]), *line, *once])
    return rows


def said(orders: Sequence[Order]) -> list[list[str]]:
    """The orders as the rows they were written in."""
    rows = []
    for order in orders:
        to, code = (
            order.address,
            {"FR": "FRANCE", "GB": "United Kingdom"}.get(order.address.country, order.address.country),
        )
        head = [order.number, str(order.placed), to.recipient, to.address1, to.city, to.region, to.postal_code, code]
        for place, line in enumerate(order.lines):
            goods = [line.item, line.sku, str(line.quantity), line.unit_price.text()]
            once = [order.shipping_paid.text(), order.buyer_note] if place == 0 else ["", ""]
            rows.append([*(head if place == 0 else [""] * len(head)), *goods, *once])
    return rows


def text_of(rows: Sequence[Sequence[str]], delimiter: str = ",") -> str:
    out = io.StringIO(newline="")
    csv.writer(out, delimiter=delimiter).writerows([HEADER, *rows])
    return out.getvalue()


def read_as(form: str, rows: Sequence[Sequence[str]], folder: Path) -> Sequence[Order]:
    if form == "paste":
        return orders_in(read_sheet_text(text_of(rows, "\t")), RULES).orders
    if form in ("xlsx", "ods"):
        raw = (xlsx if form == "xlsx" else ods)([HEADER, *rows])
    else:
        raw = text_of(rows, DELIMITERS.get(form, ",")).encode(form if form.startswith("utf") else "utf-8")
    return orders_in(read_sheet(put(folder, "orders", raw)), RULES).orders


@pytest.mark.parametrize("form", FORMS)
@settings(max_examples=25, suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow])
@given(rows=order_rows())
def test_any_list_comes_back_equal(tmp_path: Path, form: str, rows: list[list[str]]) -> None:
    assert said(read_as(form, rows, tmp_path)) == rows


@settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(rows=order_rows(CP1252, CP1252), delimiter=st.sampled_from(",;\t|"))
def test_western_letters_come_back_equal_when_the_encoding_is_said(
    tmp_path: Path, rows: list[list[str]], delimiter: str
) -> None:
    from desk.intake.reading import Reading

    path = put(tmp_path, "orders", text_of(rows, delimiter).encode("cp1252"))
    assert said(orders_in(read_sheet(path, Reading(encoding="cp1252")), RULES).orders) == rows
