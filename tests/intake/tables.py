"""Shared by the tests of this folder: a small list of countries and ways to write files."""

from __future__ import annotations

import csv
import io
import zipfile
from collections.abc import Sequence
from pathlib import Path
from typing import Any, Literal
from xml.sax.saxutils import escape

import pytest
import xlsxwriter

from desk.domain.faults import Unreadable
from desk.domain.places.country import Countries
from desk.intake.orders.order_list import OrderRules, OrdersFile, read_orders

COUNTRIES = Countries.from_rows(
    [
        {"iso2": "US", "label_name": "UNITED STATES", "names": "USA|United States of America"},
        {"iso2": "PR", "label_name": "PUERTO RICO", "names": ""},
        {"iso2": "GU", "label_name": "GUAM", "names": ""},
        {"iso2": "VI", "label_name": "US VIRGIN ISLANDS", "names": ""},
        {"iso2": "AS", "label_name": "AMERICAN SAMOA", "names": ""},
        {"iso2": "MP", "label_name": "NORTHERN MARIANA ISLANDS", "names": ""},
        {"iso2": "FM", "label_name": "MICRONESIA", "names": ""},
        {"iso2": "MH", "label_name": "MARSHALL ISLANDS", "names": ""},
        {"iso2": "PW", "label_name": "PALAU", "names": ""},
        {"iso2": "DE", "label_name": "GERMANY", "names": ""},
        {"iso2": "FR", "label_name": "FRANCE", "names": ""},
        {"iso2": "GB", "label_name": "GREAT BRITAIN", "names": "United Kingdom"},
    ]
)

SHOP = """\
[sender]
name = "Sorrel Street Bindery"
address1 = "14 Sorrel Street"
city = "Portland"
region = "OR"
postal_code = "97201"
country = "US"
"""


def put(folder: Path, name: str, content: str | bytes) -> Path:
    """Write a file in the folder."""
    path = folder / name
    path.write_bytes(content.encode() if isinstance(content, str) else content)
    return path


def read_list(path: Path, currency: str = "USD", **rules: Any) -> OrdersFile:
    """Return the orders of a file, with the countries of these tests."""
    return read_orders(path, OrderRules(COUNTRIES, currency, **rules))


def sentences(caught: pytest.ExceptionInfo[Unreadable], folder: Path) -> list[str]:
    """Return the faults as the person reads them, without the folder."""
    return [str(fault).removeprefix(f"{folder}/") for fault in caught.value.faults]


def delimited(
    rows: Sequence[Sequence[str]],
    delimiter: str = ",",
    ending: str = "\r\n",
    quoting: Literal[0, 1] = csv.QUOTE_MINIMAL,
) -> str:
    """Write a table as text; with lines that end in a lone carriage return, every cell is quoted.

    The writer leaves a line feed unquoted where lines end otherwise.
    """
    out = io.StringIO(newline="")
    how = csv.QUOTE_ALL if ending == "\r" else quoting
    csv.writer(out, delimiter=delimiter, lineterminator=ending, quoting=how).writerows(rows)
    return out.getvalue()


def xlsx(rows: Sequence[Sequence[object]], first_row: int = 0) -> bytes:
    """Write a workbook with one sheet of these rows."""
    buffer = io.BytesIO()
    as_typed = {"strings_to_formulas": False, "strings_to_urls": False}
    book = xlsxwriter.Workbook(buffer, {"default_date_format": "yyyy-mm-dd", **as_typed})
    sheet = book.add_worksheet()
    for place, row in enumerate(rows, start=first_row):
        sheet.write_row(place, 0, row)
    book.close()
    return buffer.getvalue()


_ODS = (
    '<?xml version="1.0" encoding="UTF-8"?><office:document-content '
    'xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0" '
    'xmlns:table="urn:oasis:names:tc:opendocument:xmlns:table:1.0" '
    'xmlns:text="urn:oasis:names:tc:opendocument:xmlns:text:1.0" office:version="1.2"><office:body>'
    '<office:spreadsheet><table:table table:name="Sheet1">{rows}</table:table></office:spreadsheet>'
    "</office:body></office:document-content>"
)


def ods(rows: Sequence[Sequence[str]]) -> bytes:
    """Write an OpenDocument spreadsheet with one sheet of text cells."""
    cell = '<table:table-cell office:value-type="string"><text:p>{}</text:p></table:table-cell>'
    lines = ("".join(cell.format(escape(text)) for text in row) for row in rows)
    content = _ODS.format(rows="".join(f"<table:table-row>{line}</table:table-row>" for line in lines))
    buffer = io.BytesIO()
    kind = "application/vnd.oasis.opendocument.spreadsheet"
    with zipfile.ZipFile(buffer, "w") as book:
        book.writestr("mimetype", kind)
        book.writestr("content.xml", content)
        book.writestr(
            "META-INF/manifest.xml",
            '<?xml version="1.0"?><manifest:manifest xmlns:manifest="urn:oasis:names:tc:opendocument:xmlns:manifest:1.0">'
            f'<manifest:file-entry manifest:full-path="/" manifest:media-type="{kind}"/></manifest:manifest>',
        )
    return buffer.getvalue()
