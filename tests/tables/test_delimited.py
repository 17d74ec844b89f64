from __future__ import annotations

import pytest

from desk.domain.faults import Unreadable
from desk.intake.order_headers.rules import known_order_headers
from desk.tables.delimited import choose_delimiter, records, without_separator_line


@pytest.mark.parametrize("delimiter", [",", ";", "\t", "|"])
def test_the_delimiter_is_found(delimiter: str) -> None:
    text = "\n".join(delimiter.join(row) for row in (["order", "item", "note"], ["1", "Book", "x"], ["2", "Pen", "y"]))
    assert choose_delimiter(text, known_order_headers) == delimiter


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        pytest.param("a;b\n1;2,50\n2;3,50\n3;4,50\n", ";", id="decimal comma"),
        pytest.param('a,b\n"x;y;z","1;2"\n"p;q;r","3;4"\n', ",", id="all quoted, semicolons inside"),
        pytest.param("order;country;item;quantity\n1;US;a,b,c,d,e,f,g,h;1\n", ";", id="one row full of commas"),
        pytest.param("Export\n\norder|item|country\n1|Book|US\n", "|", id="preamble"),
        pytest.param("order\n1\n2\n", ",", id="one column"),
        pytest.param("", ",", id="empty"),
        pytest.param("sep=;\na;b\n1,2,3;4\n", ";", id="separator line"),
        pytest.param("order;item\r1;a,b\r2;c\r", ";", id="carriage returns alone"),
        pytest.param("order;item;sku\n1;a\n2\n3;b\n4;c\n", ";", id="ragged"),
    ],
)
def test_the_delimiter_of_difficult_texts_is_found(text: str, expected: str) -> None:
    assert choose_delimiter(text, known_order_headers) == expected


def test_records_know_their_first_line() -> None:
    text = 'order,note\n1,"two\nlines"\n\n2,plain\n'
    assert list(records(text, "a.csv", ",")) == [
        (1, ["order", "note"]),
        (2, ["1", "two\nlines"]),
        (4, []),
        (5, ["2", "plain"]),
    ]


@pytest.mark.parametrize("ending", ["\n", "\r\n", "\r"])
def test_every_line_ending_is_counted(ending: str) -> None:
    text = ending.join(["a,b", "1,2", "3,4"])
    assert [line for line, _ in records(text, "a.csv", ",")] == [1, 2, 3]


def test_quotes_after_a_space_are_read_as_quotes() -> None:
    assert list(records('a, "b, c", "d ""e"""', "a.csv", ",")) == [(1, ["a", "b, c", 'd "e"'])]


def test_a_cell_of_a_megabyte_is_read() -> None:
    long = "x" * 1_000_000
    assert list(records(f"a,b\n1,{long}\n", "a.csv", ","))[1][1] == ["1", long]


@pytest.mark.parametrize(
    ("text", "line", "expected"),
    [
        ('a,b\n1,2\n3,"open\n4,5\n', 3, "a closing quote; the cell that opens here never ends"),
        ('a,b\n"x" y,2\n', 2, "quotes around the whole cell, with quotes inside it doubled"),
        (f"a,b\n1,{'x' * 2_000_001}\n", 2, "cells of at most two million characters"),
    ],
)
def test_an_unclosed_quote_names_the_line_it_begins_on(text: str, line: int, expected: str) -> None:
    with pytest.raises(Unreadable) as caught:
        list(records(text, "a.csv", ","))
    assert str(caught.value) == f"a.csv: line {line}: expected {expected}"


def test_a_delimiter_that_makes_an_endless_cell_is_not_chosen() -> None:
    assert choose_delimiter("order,item\n" + f"1,{'x;' * 100}{'y' * 2_000_001}", known_order_headers) in {
        ",",
        ";",
        "\t",
        "|",
    }


def test_the_separator_line_is_removed_and_the_numbers_kept() -> None:
    assert without_separator_line("sep=;\r\na;b\n") == "\na;b\n"
    assert without_separator_line("a;b\n") == "a;b\n"


def test_the_beginning_of_a_long_text_gives_the_same_delimiter() -> None:
    rows = "".join(f"{n};{'x,' * 4_000}\n" for n in range(100))
    assert choose_delimiter("a;b\n" + rows, known_order_headers) == ";"
    assert choose_delimiter("a" * 500_000 + ";b\n", known_order_headers) in {",", ";", "\t", "|"}
