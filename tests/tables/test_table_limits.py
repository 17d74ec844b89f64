"""Limits in reading files and texts, with a case on either side of each. Common practice, no source."""

from __future__ import annotations

from pathlib import Path

import pytest

from desk.domain.faults import Unreadable
from desk.tables.decoding import _wide, decode
from desk.tables.delimited import choose_delimiter, records
from desk.tables.files import read_bytes
from desk.tables.plausible import _is_plausible, _of_one_language
from desk.tables.workbook_check import SheetCheck


@pytest.mark.parametrize(("over", "is_refused"), [(0, False), (1, True)])
def test_a_file_of_64_mb_is_read_and_one_byte_more_is_not(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, over: int, is_refused: bool
) -> None:
    path = tmp_path / "big.csv"
    with path.open("wb") as file:
        file.truncate(67_108_864 + over)
    monkeypatch.setattr(Path, "read_bytes", lambda _self: b"read")
    if is_refused:
        with pytest.raises(Unreadable, match="at most 64 MB"):
            read_bytes(path)
    else:
        assert read_bytes(path) == b"read"


@pytest.mark.parametrize("letter", ["a", "é"])
@pytest.mark.parametrize(("controls", "is_refused"), [(5, False), (6, True)])
def test_a_text_with_more_than_one_control_character_in_twenty_is_not_a_table(
    letter: str, controls: int, is_refused: bool
) -> None:
    raw = b"\x01" * controls + letter.encode("cp1252" if letter == "é" else "utf-8") * (100 - controls)
    if is_refused:
        with pytest.raises(Unreadable, match="some other kind of file"):
            decode(raw, "a.csv", "cp1252")
    else:
        assert len(decode(raw, "a.csv", "cp1252")[0]) == 100 - controls


@pytest.mark.parametrize(
    ("zeros", "elsewhere", "encoding"),
    [(34, 0, "utf-16-le"), (33, 0, ""), (50, 4, "utf-16-le"), (50, 5, "")],
)
def test_zeros_in_a_third_of_the_odd_bytes_mean_utf_16(zeros: int, elsewhere: int, encoding: str) -> None:
    """Of 100 pairs of bytes; in the other places there are fewer than a tenth as many."""
    pairs = [bytes([0 if place < elsewhere else 65, 0 if place < zeros else 65]) for place in range(100)]
    assert _wide(b"".join(pairs)) == encoding
    assert _wide(b"".join(pair[::-1] for pair in pairs)) == encoding.replace("le", "be")


def refusal(raw: bytes) -> str:
    """Return why these bytes are not read; empty when they are."""
    try:
        decode(raw, "a.csv")
    except Unreadable as fault:
        return str(fault)
    return ""


@pytest.mark.parametrize(("whole", "is_refused"), [(3, False), (4, True)])
def test_a_text_mostly_in_utf_8_is_not_read_as_another(whole: int, is_refused: bool) -> None:
    """More than three letters in UTF-8 for each broken one."""
    raw = ("é" * whole).encode() + b"\nnon\xe9 a\n"
    assert ("most of the file is UTF-8" in refusal(raw)) is is_refused


@pytest.mark.parametrize(("rows_above", "delimiter"), [(19, ";"), (20, ",")])
def test_known_headers_in_the_first_twenty_rows_choose_the_delimiter(rows_above: int, delimiter: str) -> None:
    text = "1,2\n" * rows_above + "order;item\n" + "1,2\n" * 50
    assert choose_delimiter(text, lambda cells: 2 * (list(cells) == ["order", "item"])) == delimiter


@pytest.mark.parametrize(("wrong", "is_plausible"), [(3, True), (4, False)])
def test_three_unusual_words_in_a_hundred_are_accepted(wrong: int, is_plausible: bool) -> None:
    words = ["Müller"] * (100 - wrong) + ["JosŽé"] * wrong
    assert _is_plausible(words, "cp1252") is is_plausible


@pytest.mark.parametrize(("kana", "is_japanese"), [(1, True), (0, False)])
def test_a_tenth_of_kana_means_japanese(kana: int, is_japanese: bool) -> None:
    japanese, other = ("の" * kana + "山" * (10 - kana),), ("Ð",)
    assert (other not in _of_one_language({japanese: "cp932", other: "cp1252"})) is is_japanese
    nearly = ("の" + "山" * 10,)
    assert other in _of_one_language({nearly: "cp932", other: "cp1252"})


@pytest.mark.parametrize(
    ("rows", "columns", "says"),
    [
        (200_000, 1, ""),
        (200_001, 1, "at most 200,000 rows"),
        (1, 1_000, ""),
        (1, 1_001, "at most 1,000 columns"),
        (10_000, 1_000, ""),
        (10_001, 1_000, "at most 10,000,000 cells"),
    ],
)
def test_a_sheet_has_a_maximum_of_rows_and_columns(rows: int, columns: int, says: str) -> None:
    sheet = SheetCheck()
    if says:
        with pytest.raises(Unreadable, match=says):
            sheet.reach(rows, columns, "a.xlsx")
    else:
        sheet.reach(rows, columns, "a.xlsx")
        assert (sheet.rows, sheet.columns) == (rows, columns)


@pytest.mark.parametrize(("lines", "is_read"), [(2_000_000, True), (2_000_001, False)])
def test_a_text_may_have_two_million_lines_including_blank_ones(lines: int, is_read: bool) -> None:
    text = "order,item\n1,Card\n" + "\n" * (lines - 2)
    if is_read:
        assert next(records(text, "list.csv", ",")) == (1, ["order", "item"])
        return
    with pytest.raises(Unreadable, match="at most 2,000,000 lines, but this file has 2,000,001"):
        next(records(text, "list.csv", ","))
