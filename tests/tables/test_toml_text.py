from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest

from desk.domain.faults import Unreadable
from desk.tables.toml_text import KeyPath, key_lines, read_toml
from tests.intake.tables import put, sentences

TEXT = """\
# shop
[sender]
name = "x"

[ choices ] # what the buyer chose
"Standard mail" = ["a"]
'Slow = cheap' = ["b"]

[[mailers]]
name = "A"
[[mailers]]
name = "B"
size.length = 3
[rates]
XDR_USD = {rate = "1", date = 2026-04-21}
"""


@pytest.mark.parametrize(
    ("path", "line"),
    [
        (("sender",), 2),
        (("sender", "name"), 3),
        (("choices", "Standard mail"), 6),
        (("choices", "Slow = cheap"), 7),
        (("choices", "Standard mail", 1), 6),
        (("mailers",), 9),
        (("mailers", 0, "name"), 10),
        (("mailers", 1), 11),
        (("mailers", 1, "name"), 12),
        (("mailers", 1, "size", "length"), 13),
        (("mailers", 1, "tare"), 11),
        (("rates", "XDR_USD", "rate"), 15),
        (("nothing", "here"), 0),
    ],
)
def test_each_key_has_its_line(path: KeyPath, line: int) -> None:
    assert key_lines(TEXT).of(path) == line


def test_numbers_are_exact_and_a_byte_order_mark_does_no_harm(tmp_path: Path) -> None:
    values, lines = read_toml(put(tmp_path, "a.toml", b"\xef\xbb\xbfprice = 4.20\r\ncount = 3\r\n"))
    assert values == {"price": Decimal("4.20"), "count": 3}
    assert str(values["price"]) == "4.20"
    assert lines.of(("count",)) == 2


@pytest.mark.parametrize(
    ("content", "expected"),
    [
        ("a = \n", "a.toml: line 1: expected valid TOML: Invalid value"),
        ("a = 1\na = 2\n", "a.toml: line 2: expected valid TOML: Cannot overwrite a value"),
        ('a = "x', "a.toml: expected valid TOML: Unterminated string"),
        (b"a = '\xe9'\n", "a.toml: expected text in UTF-8"),
        ("a = 2026-02-31\n", "a.toml: line 1: expected valid TOML: Invalid date or datetime"),
        (f"a = {'[' * 20000}", "a.toml: expected TOML with dates and numbers that exist"),
    ],
)
def test_a_file_that_is_not_toml_is_refused_with_a_sentence(
    tmp_path: Path, content: str | bytes, expected: str
) -> None:
    with pytest.raises(Unreadable) as caught:
        read_toml(put(tmp_path, "a.toml", content))
    assert sentences(caught, tmp_path) == [expected]
