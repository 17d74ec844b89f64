"""Order lists written in any supported form come back equal; spoiled files end in a sentence, never in a crash."""

from __future__ import annotations

import csv
import io
import random
import tempfile
from pathlib import Path

import pytest
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from desk.domain.faults import Unreadable
from desk.intake.orders import OrdersFile, read_orders
from desk.intake.shop_file import read_shop
from desk.intake.weights import read_weights
from tests.intake.tables import COUNTRIES, SHOP, ods, xlsx
from tests.intake.test_shop_file import FULL

FIELDS = ["order", "recipient", "city", "country", "item", "quantity", "unit_price", "buyer_note"]
ENCODINGS = ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "utf-32", "cp1252"]

# Signs of a cell: what Windows-1252 can hold, with delimiters, quotes and line ends among them.
_SIGNS = st.sampled_from("abcdefghij XYZ019.,;|\t\"'\n#=-éèüßñçåØ€")
_TEXT = st.text(_SIGNS, max_size=12).map(str.strip)
_NAME = _TEXT.map(lambda text: f"N{text}")
_ROW = st.tuples(
    _NAME, _TEXT, st.sampled_from(["US", "DE", "FR", ""]), _NAME, st.integers(1, 99), st.integers(0, 99_999), _TEXT
)


def table(rows: list[tuple[object, ...]]) -> list[list[str]]:
    """The rows as an order list, each its own order."""
    cells = [
        [f"A{number}", name, city, country, item, str(quantity), f"{cents // 100}.{cents % 100:02}", note]
        for number, (name, city, country, item, quantity, cents, note) in enumerate(rows)
    ]  # type: ignore[misc]
    return [FIELDS, *cells]  # type: ignore[list-item]


def told(found: OrdersFile) -> list[list[str]]:
    """The orders as cells again."""
    return [
        [
            order.number,
            order.address.recipient,
            order.address.city,
            order.address.country,
            order.lines[0].item,
            str(order.lines[0].quantity),
            order.lines[0].unit_price.text(),
            order.buyer_note,
        ]
        for order in found.orders
    ]


def read(raw: bytes) -> OrdersFile:
    with tempfile.NamedTemporaryFile() as file:
        file.write(raw)
        file.flush()
        return read_orders(Path(file.name), countries=COUNTRIES, currency="USD")


def written(rows: list[list[str]], delimiter: str, ending: str = "\r\n", quoting: int = csv.QUOTE_MINIMAL) -> str:
    text = io.StringIO(newline="")
    csv.writer(text, delimiter=delimiter, lineterminator=ending, quoting=quoting).writerows(rows)  # type: ignore[arg-type]
    return text.getvalue()


@settings(
    max_examples=80,
    deadline=None,
    phases=[Phase.generate],
    suppress_health_check=[HealthCheck.too_slow],
    derandomize=True,
)
@given(
    rows=st.lists(_ROW, min_size=1, max_size=8),
    delimiter=st.sampled_from(",;\t|"),
    ending=st.sampled_from(["\n", "\r\n", "\r"]),
    quoting=st.sampled_from([csv.QUOTE_MINIMAL, csv.QUOTE_ALL]),
    encoding=st.sampled_from(ENCODINGS),
)
def test_any_list_in_any_form_comes_back_equal(
    rows: list[tuple[object, ...]], delimiter: str, ending: str, quoting: int, encoding: str
) -> None:
    expected = table(rows)
    if ending == "\r":
        quoting = csv.QUOTE_ALL  # the writer leaves a line feed bare when lines end otherwise
    # With so little text and signs drawn by lot no one can tell 8-bit encodings apart: those get their own test.
    plain = (
        expected
        if encoding != "cp1252"
        else [[c.encode("ascii", "ignore").decode().strip() for c in r] for r in expected]
    )
    found = read(written(plain, delimiter, ending, quoting).encode(encoding))
    assert found.delimiter == delimiter
    assert told(found) == plain[1:]


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


@pytest.mark.parametrize("encoding", PEOPLE)
@pytest.mark.parametrize("delimiter", [",", ";", "\t", "|"])
@pytest.mark.parametrize("rows", [3, 30, 300])
def test_lists_in_older_encodings_come_back_equal(encoding: str, delimiter: str, rows: int) -> None:
    pick = random.Random(rows)
    cells = [[f"A{n}", *pick.choice(PEOPLE[encoding]), "DE", "Notebook", "1", "4.50", ""] for n in range(rows)]
    found = read(written([FIELDS, *cells], delimiter).encode(encoding))
    assert told(found) == cells


@settings(max_examples=10, deadline=None, phases=[Phase.generate], derandomize=True)
@given(rows=st.lists(_ROW, min_size=1, max_size=5), make=st.sampled_from([xlsx, ods]))
def test_any_list_in_a_workbook_comes_back_equal(rows: list[tuple[object, ...]], make: object) -> None:
    expected = [[cell.translate({9: " ", 10: " "}) for cell in row] for row in table(rows)]
    expected = [[" ".join(cell.split()) for cell in row] for row in expected]  # ODS folds runs of spaces in its XML
    expected = [[cell.lstrip("=") for cell in row] for row in expected]  # the writer makes a formula of these
    found = read(make(expected))  # type: ignore[operator]
    assert told(found) == [[cell.strip() for cell in row] for row in expected[1:]]


@settings(max_examples=40, deadline=None, phases=[Phase.generate], derandomize=True)
@given(rows=st.lists(_ROW, min_size=1, max_size=5), order=st.permutations(range(len(FIELDS))))
def test_the_order_of_columns_does_not_matter(rows: list[tuple[object, ...]], order: list[int]) -> None:
    expected = table(rows)
    shuffled = [[row[place] for place in order] for row in expected]
    assert told(read(written(shuffled, ",").encode())) == expected[1:]


ORDERS = (
    "order;placed;recipient;address1;city;postal_code;country;item;quantity;unit_price;currency;shipping_paid\n"
    '1001;2026-11-20;"Zoë; Finch";Elm 3;Salem;2134;US;"Note ""A""";2;12,50;USD;$4.50\n;;;;;;;Pen;1;1.234,50;;\n'
    "1002;25 Nov 2026;Jürgen;Straße 5;Köln;50667;Germany;Heft;1;3.00;EUR;0.00\n"
)
WEIGHTS = (
    "order,gross,unit,length,width,thickness,size_unit,stiff\n1001,1 lb 3.2 oz,lb-oz,9,4,1,in,yes\n1002,119,g,,,,,\n"
)


def mutated(raw: bytes, lot: random.Random) -> bytes:
    """The bytes with one to four small damages: a byte changed, dropped, doubled, or a stretch moved."""
    body = bytearray(raw)
    for _ in range(lot.randint(1, 4)):
        place = lot.randrange(len(body) or 1)
        damage = lot.randrange(5)
        if damage == 0 and body:
            body[place] = lot.randrange(256)
        elif damage == 1:
            del body[place : place + lot.randint(1, 9)]
        elif damage == 2:
            body[place:place] = body[place : place + lot.randint(1, 40)]
        elif damage == 3:
            body[place:place] = lot.choice(
                [b'"', b"\n", b";", b"\x00", b",", b"=", b"[", b"1e999", b"\xff\xfe", b"NaN"]
            )
        else:
            body = body[:place] + body[place:][::-1][:50]
    return bytes(body)


def test_five_hundred_damaged_files_end_in_a_sentence_or_a_result(tmp_path: Path) -> None:
    shop = read_shop(_put(tmp_path, SHOP.encode()))
    readers = [
        (ORDERS.encode(), lambda path: read_orders(path, countries=COUNTRIES, currency="USD")),
        (ORDERS.encode("cp1252"), lambda path: read_orders(path, countries=COUNTRIES, currency="USD")),
        (ORDERS.encode("utf-16"), lambda path: read_orders(path, countries=COUNTRIES, currency="USD")),
        (
            xlsx([["order", "recipient", "country", "item"], ["1", "Ada", "US", "Pen"]]),
            lambda path: read_orders(path, countries=COUNTRIES, currency="USD"),
        ),
        (WEIGHTS.encode(), lambda path: read_weights(path, shop=shop)),
        (FULL.encode(), read_shop),
    ]
    lot = random.Random(20261125)
    ends = {"sentence": 0, "result": 0, "silence": 0}
    for turn in range(500):
        raw, reader = readers[turn % len(readers)]
        try:
            reader(_put(tmp_path, mutated(raw, lot)))
            ends["result"] += 1
        except Unreadable as error:
            ends["sentence" if all(fault.expected for fault in error.faults) and error.faults else "silence"] += 1
    assert ends["sentence"] > 100
    assert ends["result"] > 25
    assert ends["silence"] == 0


def _put(folder: Path, raw: bytes) -> Path:
    path = folder / "damaged"
    path.write_bytes(raw)
    return path
