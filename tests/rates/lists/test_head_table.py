"""Reading one table of a head file: fields by type, each wrong one reported with its line, unknown ones named."""

from datetime import date
from decimal import Decimal

import pytest

from desk.rates.lists.head_table import HeadTable
from desk.tables.toml_text import parse_toml


def table(text, *path):
    values, keys = parse_toml(text.encode(), "chart.toml")
    for part in path:
        values = values[part]
    return HeadTable("chart.toml", keys, values, [], path)


def reported(head):
    return [(fault.line, fault.column, fault.found) for fault in head.faults]


GOOD = 'name = "letters"\nuntil = 2026-01-17\nlimit = "3.5"\nflat = true\nkinds = ["a", "b"]\n'


def test_fields_of_each_type_are_read():
    head = table(GOOD)
    assert head.text("name") == "letters"
    assert head.day("until") == date(2026, 1, 17)
    assert head.number("limit") == Decimal("3.5")
    assert head.flag("flat", default=False) is True
    assert head.words("kinds", ("a", "b", "c")) == {"a", "b"}
    head.close()
    assert head.faults == []


def test_a_missing_field_has_its_default_and_no_fault():
    head = table("")
    assert (head.text("name", "x"), head.day("until"), head.number("limit")) == ("x", None, None)
    assert head.flag("flat", default=True) is True
    assert head.one_of("key", ("zone", ""), "") == ""
    head.close()
    assert head.faults == []


@pytest.mark.parametrize(
    ("text", "ask", "found"),
    [
        ("a = 3", lambda head: head.text("a"), "3"),
        ('a = "yes"', lambda head: head.flag("a", default=False), "yes"),
        ("a = 1", lambda head: head.flag("a", default=False), "1"),
        ("a = 2026-01-17T00:00:00", lambda head: head.day("a"), "2026-01-17 00:00:00"),
        ('a = "2026-01-17"', lambda head: head.day("a"), "2026-01-17"),
        ("a = 3.5", lambda head: head.number("a"), "3.5"),
        ('a = "0"', lambda head: head.number("a"), "0"),
        ('a = "-1"', lambda head: head.number("a"), "-1"),
        ('a = "1e9"', lambda head: head.number("a"), "1e9"),
        ('a = "1234567890123"', lambda head: head.number("a"), "1234567890123"),
        ('a = "x"', lambda head: head.one_of("a", ("zone", "group"), "zone"), "x"),
        ('a = ["x"]', lambda head: head.words("a", ("b",)), "['x']"),
        ("a = []", lambda head: head.words("a", ("b",)), ""),
        ('a = ""', lambda head: head.needed_text("a"), ""),
        ("a = [1]", lambda head: head.tables("a"), ""),
    ],
)
def test_a_wrong_field_is_reported_once_in_its_line(text, ask, found):
    head = table(f"# a comment\n\n{text}\n")
    ask(head)
    head.close()
    assert reported(head) == [(3, "a", found)]


@pytest.mark.parametrize(
    "ask",
    [lambda head: head.needed_text("a"), lambda head: head.needed_number("a"), lambda head: head.words("a", ("b",))],
)
def test_a_missing_required_field_is_reported_at_the_heading(ask):
    head = table("[services.flat]\nb = 1\n", "services", "flat")
    ask(head)
    assert [fault.line for fault in head.faults] == [1]
    assert {fault.column for fault in head.faults} == {"a"}


def test_a_missing_required_number_becomes_one():
    assert table("").needed_number("a") == 1


def test_an_unexpected_field_is_named_with_the_known_ones():
    head = table('a = "1"\ncolour = "red"\n')
    head.text("a")
    head.close()
    (fault,) = head.faults
    assert (fault.line, fault.column, fault.found, fault.expected) == (2, "colour", "colour", "one of the fields a")


def test_the_line_of_a_field_is_searched_only_in_its_own_table():
    head = table('[one]\nb = 1\n[two]\na = "x"\n', "one")
    assert head.line("b") == 2
    assert head.line("a") == 1  # it is under another heading


def test_each_table_in_an_array_knows_its_lines():
    head = table("a = 1\n[[fees]]\nx = 1\n\n[[fees]]\nx = 2\n")
    assert [(one.line("y"), one.line("x"), one.values) for one in head.tables("fees")] == [
        (2, 3, {"x": 1}),
        (5, 6, {"x": 2}),
    ]
    inline = table("fees = [\n  { x = 1 },\n  { x = 2 },\n]\n")
    assert [one.line("x") for one in inline.tables("fees")] == [1, 1]


def test_named_tables_know_their_lines_and_other_values_are_refused():
    head = table("a = 1\n[services.flat]\nx = 1\n[services]\nletter = 2\n")
    (flat,) = head.named_tables("services").values()
    assert (flat.line("x"), flat.values) == (3, {"x": 1})
    assert [(fault.found, fault.expected) for fault in head.faults] == [("letter", "tables [services.ID]")]
