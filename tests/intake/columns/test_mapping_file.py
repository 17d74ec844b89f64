from __future__ import annotations

from pathlib import Path

import pytest

from desk.domain.faults import Unreadable
from desk.intake.columns.header_words import ORDER_WORDS
from desk.intake.columns.mapping_file import ColumnMapping, read_mapping
from tests.intake.tables import put, sentences


def test_columns_and_prefix(tmp_path: Path) -> None:
    path = put(tmp_path, "m.toml", 'prefix = "B-"\n[columns]\norder = "Ref"\nrecipient = "Who it goes to"\n')
    assert read_mapping(path) == ColumnMapping({"order": "Ref", "recipient": "Who it goes to"}, "B-")


def test_a_prefix_below_the_columns_is_a_prefix_too(tmp_path: Path) -> None:
    path = put(tmp_path, "m.toml", '[columns]\norder = "Ref"\nprefix = "B-"\n')
    assert read_mapping(path) == ColumnMapping({"order": "Ref"}, "B-")


def test_no_prefix_is_none(tmp_path: Path) -> None:
    assert read_mapping(put(tmp_path, "m.toml", '[columns]\nitem = "What"\n')).prefix == ""


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
                "m.toml: line 2, suffix: 'suffix' found, expected nothing but name, prefix and the tables [columns] and [reading]",
                "m.toml: line 4, columns.item: '4' found, expected the header in the file, as text in quotes",
                "m.toml: line 5, columns.order: expected the header in the file, as text in quotes",
                f"m.toml: line 6, columns.buyer: 'buyer' found, expected one of {', '.join(ORDER_WORDS)}",
            ],
        ),
        (
            "[columns\n",
            ["m.toml: line 1: expected TOML as its rules ask, but: Expected ']' at the end of a table declaration"],
        ),
    ],
)
def test_faults_are_all_told(tmp_path: Path, text: str, expected: list[str]) -> None:
    with pytest.raises(Unreadable) as caught:
        read_mapping(put(tmp_path, "m.toml", text))
    assert sentences(caught, tmp_path) == expected
