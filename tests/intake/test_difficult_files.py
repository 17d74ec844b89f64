"""Twenty-four difficult files, each with every cell it must give, or the sentence that refuses it.

Each kind defeated at least one reader of tables when nine ways of reading were measured for this project (25 November
2026): encodings with and without a mark, delimiters inside cells, quotes, preambles.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import pytest

from desk.domain.faults import Unreadable
from desk.intake.columns.sheet import read_sheet
from desk.intake.order_headers.rules import known_order_headers
from tests.intake.tables import put

HEAD = ("order", "recipient", "city", "item")
WESTERN = (
    ("1", "Zoë Müller", "Köln", "Heft"),
    ("2", "José Peña", "Málaga", "Cuaderno"),
    ("3", "Åsa Öberg", "Malmö", "Bok"),
)
CENTRAL = (
    ("1", "Łukasz Wiśniewski", "Łódź", "Zeszyt"),
    ("2", "Jiří Dvořák", "Plzeň", "Sešit"),
    ("3", "Kőszegi", "Győr", "Füzet"),
)
RUSSIAN = (("1", "Иван Петров", "Москва", "Тетрадь"), ("2", "Ольга Смирнова", "Казань", "Книга"))
JAPANESE = (("1", "山田太郎", "東京", "ノート"), ("2", "佐藤花子", "大阪", "ペン"))
PLAIN = (("1", "Ada Finch", "Bend", "Notebook"), ("2", "Bo Reed", "Bath", "Pen"))
LONG = "x" * 1_000_000

Rows = tuple[tuple[str, ...], ...]


def table(rows: Rows, delimiter: str = ",", end: str = "\n", header: tuple[str, ...] = HEAD) -> str:
    return "".join(delimiter.join(row) + end for row in (header, *rows))


@dataclass(frozen=True)
class Nasty:
    raw: bytes
    rows: Rows
    header: tuple[str, ...] = HEAD
    encoding: str = "utf-8"
    delimiter: str = ","


DIFFICULT = {
    "UTF-8 with a mark": Nasty(table(WESTERN).encode("utf-8-sig"), WESTERN, encoding="utf-8-sig"),
    "UTF-16 with a mark, tabs": Nasty(b"\xff\xfe" + table(WESTERN, "\t").encode("utf-16-le"), WESTERN, encoding="utf-16", delimiter="\t"),
    "UTF-16 the other way, no mark": Nasty(table(WESTERN).encode("utf-16-be"), WESTERN, encoding="utf-16-be"),
    "Western": Nasty(table(WESTERN).encode("cp1252"), WESTERN, encoding="cp1252"),
    "Central European": Nasty(table(CENTRAL, ";").encode("cp1250"), CENTRAL, encoding="cp1250", delimiter=";"),
    "Cyrillic": Nasty(table(RUSSIAN, ";").encode("cp1251"), RUSSIAN, encoding="cp1251", delimiter=";"),
    "Japanese": Nasty(table(JAPANESE).encode("cp932"), JAPANESE, encoding="cp932"),
    "semicolons and decimal commas": Nasty(
        table((("1", "Ada", "12,50", "Pen"), ("2", "Bo", "3,00", "Ink")), ";").encode(),
        (("1", "Ada", "12,50", "Pen"), ("2", "Bo", "3,00", "Ink")), delimiter=";"),
    "tabs": Nasty(table((("1", "Finch, Ada", "Bend; OR", "Pen|Ink"),), "\t").encode(), (("1", "Finch, Ada", "Bend; OR", "Pen|Ink"),), delimiter="\t"),
    "bars": Nasty(table((("1", "Finch, Ada", "Bend; OR", "Pen"),), "|").encode(), (("1", "Finch, Ada", "Bend; OR", "Pen"),), delimiter="|"),
    "line ends inside cells": Nasty(
        b'order,recipient,city,item\r\n1,"Ada\r\nFinch",Bend,"Pen\nblue"\r\n2,Bo,Bath,Ink\r\n',
        (("1", "Ada\r\nFinch", "Bend", "Pen\nblue"), ("2", "Bo", "Bath", "Ink"))),
    "everything in quotes": Nasty(
        b'"order","recipient","city","item"\n"1","Finch, ""Ada""","Bend;OR;x;y","Pen;a;b;c"\n"2","Bo;;;;;","Bath","Ink"\n',
        (("1", 'Finch, "Ada"', "Bend;OR;x;y", "Pen;a;b;c"), ("2", "Bo;;;;;", "Bath", "Ink"))),
    "formulas": Nasty(
        b'order,recipient,city,item\n1,=1+1,@SUM(A1),"=HYPERLINK(""x"")"\n2,-2+3,+4,=cmd|x\n',
        (("1", "=1+1", "@SUM(A1)", '=HYPERLINK("x")'), ("2", "-2+3", "+4", "=cmd|x"))),
    "a cell of a megabyte": Nasty(table((("1", "Ada", "Bend", LONG), ("2", "Bo", "Bath", "Ink"))).encode(), (("1", "Ada", "Bend", LONG), ("2", "Bo", "Bath", "Ink"))),
    "NUL inside": Nasty(table(PLAIN * 9).replace("Ada Finch", "Ada\0 Finch").encode(), PLAIN * 9),
    "two headers alike": Nasty(b"order,item,item,city\n1,Pen,blue,Bend\n2,Ink,red,Bath\n", (("1", "Pen", "blue", "Bend"), ("2", "Ink", "red", "Bath")), ("order", "item", "item [2]", "city")),
    "a preamble and blank lines": Nasty(b"All orders of November\n\nPrinted;today\n\n" + table(PLAIN).replace("2,", "\n,,,\n2,").encode(), PLAIN),
    "ragged rows": Nasty(b"order,recipient,city,item\n1,Ada\n2,Bo,Bath,Ink,,\n3\n4,Cy,Bonn,Pen\n", (("1", "Ada"), ("2", "Bo", "Bath", "Ink", "", ""), ("3",), ("4", "Cy", "Bonn", "Pen"))),
    "carriage returns alone": Nasty(table(PLAIN, end="\r").encode(), PLAIN),
    "commas, many semicolons inside": Nasty(
        table((("1", "Ada;b;c;d;e;f", "Bend;;;", "Pen;x;y;z;;"), ("2", "Bo;b;c", "Bath", "Ink;;;;;;"))).encode(),
        (("1", "Ada;b;c;d;e;f", "Bend;;;", "Pen;x;y;z;;"), ("2", "Bo;b;c", "Bath", "Ink;;;;;;"))),
    "one column": Nasty(b"order\n1\n2\n", (("1",), ("2",)), ("order",)),
}  # fmt: skip

REFUSED = {
    "empty": (b"", "f.csv: expected a header row and rows below it, but the file is empty"),
    "a header alone": (b"order,item\n", "f.csv: line 1: expected rows below the header, but there are none"),
    "a quote left open": (
        b'order,item\n1,"Pen\n2,Ink\n3,Nib\n',
        "f.csv: line 2: expected a closing quote; the cell that opens here never ends",
    ),
}


def test_there_are_twenty_four_difficult_files() -> None:
    assert len(DIFFICULT) + len(REFUSED) == 24


@pytest.mark.parametrize("nasty", DIFFICULT.values(), ids=DIFFICULT.keys())
def test_every_cell_of_a_difficult_file_is_read_exactly(tmp_path: Path, nasty: Nasty) -> None:
    sheet = read_sheet(put(tmp_path, "f.csv", nasty.raw), known=known_order_headers)
    assert (sheet.encoding, sheet.delimiter) == (nasty.encoding, nasty.delimiter)
    assert sheet.header == nasty.header
    assert tuple(row.cells for row in sheet.rows) == nasty.rows


@pytest.mark.parametrize(("raw", "expected"), REFUSED.values(), ids=REFUSED.keys())
def test_a_file_that_is_not_a_table_is_refused_with_a_sentence(tmp_path: Path, raw: bytes, expected: str) -> None:
    with pytest.raises(Unreadable) as caught:
        read_sheet(put(tmp_path, "f.csv", raw), known=known_order_headers)
    assert str(caught.value).removeprefix(f"{tmp_path}/") == expected
