from __future__ import annotations

from pathlib import Path

import pytest

from desk.domain.faults import Unreadable
from desk.intake.columns.reading import ReadingChoices
from desk.intake.order_headers.mapping_file import ColumnMapping, mapping_text, read_mapping
from desk.intake.order_headers.rules import ORDER_FIELDS
from tests.intake.tables import put, sentences

WHOLE = """\
name = "Spring fair"
prefix = "B-"
encoding = "cp1250"
delimiter = ";"
sheet = "Orders"
ignore = ["Gate code", "Rank"]
[columns]
recipient = "Who it goes to"
discount = ""
[formats]
placed = "month first"
unit_price = "comma decimals"
discount = "percent, comma decimals"
"""


def test_every_part_of_a_mapping_is_read(tmp_path: Path) -> None:
    mapping = read_mapping(put(tmp_path, "m.toml", WHOLE))
    assert mapping == ColumnMapping(
        {"recipient": "Who it goes to", "discount": ""},
        "B-",
        ReadingChoices("cp1250", ";", "Orders"),
        "Spring fair",
        {"placed": ("month first",), "unit_price": ("comma decimals",), "discount": ("percent", "comma decimals")},
        ("Gate code", "Rank"),
    )
    assert mapping_text(mapping) == WHOLE


def test_a_mapping_without_a_columns_table_is_read(tmp_path: Path) -> None:
    path = put(tmp_path, "m.toml", '[columns]\norder = "Ref"\nprefix = "B-"\nencoding = "cp1252"\nignore = ["x"]\n')
    assert read_mapping(path) == ColumnMapping({"order": "Ref"}, "B-", ReadingChoices("cp1252"), ignore=("x",))


def test_an_older_mapping_with_a_table_of_readings_still_works(tmp_path: Path) -> None:
    path = put(tmp_path, "m.toml", '[columns]\n[reading]\ndates = "day"\ndecimal = ","\nencoding = "cp1250"\n')
    mapping = read_mapping(path)
    assert mapping.reading.encoding == "cp1250"
    assert mapping.formats["placed"] == ("day first",)
    assert mapping.formats["unit_price"] == ("comma decimals",)


def test_sample_cells_are_written_as_comments_of_one_line(tmp_path: Path) -> None:
    mapping = ColumnMapping({"recipient": "Who"})
    text = mapping_text(mapping, {"recipient": "likely: Ada\nFinch\x00"})
    assert text == '[columns]\nrecipient = "Who"  # likely: Ada Finch \n'
    assert read_mapping(put(tmp_path, "m.toml", text)) == mapping


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ('prefix = "B-"\n', ['m.toml: columns: expected a table [columns] with lines like recipient = "Ship to"']),
        (
            "columns = 3\n",
            ['m.toml: line 1, columns: expected a table [columns] with lines like recipient = "Ship to"'],
        ),
        (
            'prefix = 7\nsuffix = "x"\n[columns]\nitem = 4\norder = ""\nbuyer = "Who"\n',
            [
                "m.toml: line 1, prefix: '7' found, expected text in quotes, such as \"B-\"",
                ("m.toml: line 2, suffix: 'suffix' found, expected one of name, prefix, country, encoding, delimiter, sheet, ignore, "
                "or a table [columns] or [formats]"),
                "m.toml: line 4, columns.item: '4' found, expected the header in the file, as text in quotes",
                "m.toml: line 5, columns.order: expected the header in the file, as text in quotes",
                f"m.toml: line 6, columns.buyer: 'buyer' found, expected one of {', '.join(ORDER_FIELDS)}",
            ],
        ),
        (
            '[columns]\n[formats]\nplaced = "year first"\nrecipient = "x"\nunit_price = "percent"\n',
            [
                "m.toml: line 3, formats.placed: 'year first' found, expected \"day first\" or \"month first\"",
                ("m.toml: line 4, formats.recipient: 'recipient' found, expected one of placed, item, unit_price, line_total, "
                "line_discount, shipping_paid, discount, tax, tip, gift_wrap, insurance, total, customs_value"),
                "m.toml: line 5, formats.unit_price: 'percent' found, expected \"point decimals\" or \"comma decimals\"",
            ],
        ),
        ("formats = 3\n[columns]\n", ["m.toml: line 1, formats: '3' found, expected a table [formats] with lines like placed = \"month first\""]),
        ("ignore = 'x'\n[columns]\n", ["m.toml: line 1, ignore: 'x' found, expected a list of headers, such as [\"Gate code\"]"]),
        ("encoding = 'rot13'\n[columns]\n", ["m.toml: line 1, encoding: 'rot13' found, expected the name of an encoding, such as \"cp1250\""]),
        ("delimiter = ':'\n[columns]\n", ["m.toml: line 1, delimiter: ':' found, expected ',' or ';' or '\\t' or '|'"]),
        (
            "[columns\n",
            ["m.toml: line 1: expected valid TOML: Expected ']' at the end of a table declaration"],
        ),
    ],
)  # fmt: skip
def test_every_fault_in_a_mapping_is_reported(tmp_path: Path, text: str, expected: list[str]) -> None:
    with pytest.raises(Unreadable) as caught:
        read_mapping(put(tmp_path, "m.toml", text))
    assert sentences(caught, tmp_path) == expected
