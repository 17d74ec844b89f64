"""Any order list is read back equal from every supported format: delimiters, encodings, workbooks, a paste."""

from __future__ import annotations

import csv
import random
from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import Literal

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from desk.domain.orders.order import Order
from desk.intake.columns.reading import NOTHING_CHOSEN, ReadingChoices
from desk.intake.columns.sheet import Sheet, read_sheet, read_sheet_text
from desk.intake.orders.order_list import OrderRules, orders_in
from desk.tables.decoding import EncodingUnsure
from tests.intake.tables import COUNTRIES, delimited, ods, put, xlsx

HEADER = (
    "order placed recipient address1 city region postal_code country item sku quantity unit_price shipping_paid "
    "buyer_note"
).split()
RULES = OrderRules(COUNTRIES, "USD")
# Characters of a name or note: any script, punctuation, delimiters and quotes; no controls, and no space at the ends.
SIGNS = st.characters(
    min_codepoint=32, max_codepoint=0x9FFF, exclude_categories=("Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp", "Zs")
)
WORDS = st.lists(st.text(SIGNS, min_size=1, max_size=8), min_size=1, max_size=4).map(" ".join)
NOTES = st.one_of(st.just(""), WORDS, st.lists(WORDS, min_size=2, max_size=3).map("\n".join))
CENTS = st.integers(0, 99_999).map(lambda cents: f"{cents / 100:.2f}")
ENDINGS = st.sampled_from(["\n", "\r\n", "\r"])
QUOTING: st.SearchStrategy[Literal[0, 1]] = st.sampled_from([csv.QUOTE_MINIMAL, csv.QUOTE_ALL])
FORMS = (
    "csv", "semicolon", "tsv", "bar", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "utf-32", "xlsx", "ods", "paste",
)  # fmt: skip
DELIMITERS = {"semicolon": ";", "tsv": "\t", "bar": "|", "paste": "\t"}
NO_NEW_FOLDER = settings(suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow])
Rows = list[list[str]]


def once_of(encoding: str) -> st.SearchStrategy[str]:
    """Words that an 8-bit encoding holds, with delimiters and quotes among the characters."""
    held = bytes(range(0xA1, 0x100)).decode(encoding, "ignore") + "abcdefgh -,;|'\""
    return st.text(st.sampled_from(held), min_size=1, max_size=12).map(lambda text: "x" + text.strip())


@st.composite
def order_rows(draw: st.DrawFn, words: st.SearchStrategy[str] = WORDS, notes: st.SearchStrategy[str] = NOTES) -> Rows:
    """Rows of orders of one to three lines; values of the order are on its first row."""
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


def ordered_rows(orders: Sequence[Order]) -> Rows:
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


def sheet_rows(sheet: Sheet) -> Rows:
    return ordered_rows(orders_in(sheet, RULES).orders)


def read(folder: Path, raw: bytes, chosen: ReadingChoices = NOTHING_CHOSEN) -> Sheet:
    return read_sheet(put(folder, "orders", raw), chosen)


@pytest.mark.parametrize("form", FORMS)
@settings(NO_NEW_FOLDER, max_examples=25)
@given(rows=order_rows(), ending=ENDINGS, quoting=QUOTING)
def test_any_order_list_is_read_back_equal(
    tmp_path: Path, form: str, rows: Rows, ending: str, quoting: Literal[0, 1]
) -> None:
    table, delimiter = [HEADER, *rows], DELIMITERS.get(form, ",")
    if form in ("xlsx", "ods"):
        assert sheet_rows(read(tmp_path, (xlsx if form == "xlsx" else ods)(table))) == rows
        return
    text = delimited(table, delimiter, ending, quoting)
    encoding = form if form.startswith("utf") else "utf-8"
    sheet = read_sheet_text(text) if form == "paste" else read(tmp_path, text.encode(encoding))
    assert (sheet.delimiter, sheet_rows(sheet)) == (delimiter, rows)


@settings(NO_NEW_FOLDER)
@given(st.data(), st.sampled_from(["cp1252", "cp1250", "cp1251", "cp1253", "cp1254"]), st.sampled_from(",;\t|"))
def test_older_encodings_are_read_back_equal_when_named(
    tmp_path: Path, data: st.DataObject, encoding: str, delimiter: str
) -> None:
    rows = data.draw(order_rows(once_of(encoding), once_of(encoding)))
    raw = delimited([HEADER, *rows], delimiter).encode(encoding)
    assert sheet_rows(read(tmp_path, raw, ReadingChoices(encoding=encoding))) == rows


@settings(NO_NEW_FOLDER, max_examples=40)
@given(rows=order_rows(), order=st.permutations(range(len(HEADER))))
def test_the_order_of_columns_does_not_matter(tmp_path: Path, rows: Rows, order: list[int]) -> None:
    shuffled = [[row[place] for place in order] for row in [HEADER, *rows]]
    assert sheet_rows(read(tmp_path, delimited(shuffled).encode())) == rows


PEOPLE = {
    "cp1252": [
        ("Jürgen Müller", "Köln"),
        ("José García", "Málaga"),
        ("François Lefèvre", "Orléans"),
        ("Zoë Smith", "Ely"),
    ],
    "cp1250": [
        ("Łukasz Wiśniewski", "Łódź"),
        ("Jiří Dvořák", "Plzeň"),
        ("Péter Kőszegi", "Győr"),
        ("Ada Finch", "Brno"),
    ],
    "cp1254": [("Ayşe Yılmaz", "İstanbul"), ("Mehmet Şahin", "Eskişehir"), ("Çağrı Öztürk", "Muğla")],
    "cp1251": [("Иван Петров", "Москва"), ("Ольга Смирнова", "Казань")],
    "cp1253": [("Γιώργος Παπαδόπουλος", "Αθήνα"), ("Ελένη Νικολάου", "Πάτρα")],
    "cp932": [("山田太郎", "東京都千代田区"), ("佐藤花子", "大阪市北区"), ("鈴木一郎", "名古屋市中区")],
    "gb18030": [("王小明", "北京市朝阳区"), ("李华", "上海市浦东新区")],
    "cp949": [("김철수", "서울시 강남구"), ("이영희", "부산시 해운대구")],
}


SURE = ("cp1252", "cp1251")


@pytest.mark.parametrize("encoding", PEOPLE)
@pytest.mark.parametrize("delimiter", [",", ";", "\t", "|"])
@pytest.mark.parametrize("count", [3, 30, 300])
def test_lists_in_older_encodings_are_read_back_equal(
    tmp_path: Path, encoding: str, delimiter: str, count: int
) -> None:
    pick = random.Random(count)
    people = [pick.choice(PEOPLE[encoding]) for _ in range(count)]
    rows = [
        [
            f"A-{number}",
            "2026-11-25",
            name,
            "3 Quire",
            city,
            "",
            "10115",
            "DE",
            "Notebook",
            "NB",
            "1",
            "4.50",
            "0.00",
            "",
        ]
        for number, (name, city) in enumerate(people)
    ]
    raw = delimited([HEADER, *rows], delimiter).encode(encoding)
    try:
        found = read(tmp_path, raw)
    except EncodingUnsure:  # asked, never guessed: the person's answer is read exactly
        assert encoding not in SURE
        found = read(tmp_path, raw, ReadingChoices(encoding=encoding))
    assert sheet_rows(found) == rows
