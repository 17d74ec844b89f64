"""Faults: the place, what was found and what was expected, in one line each."""

import pytest

from desk.domain.faults import Fault, FileFault, Refused, Unreadable, fault_lines


@pytest.mark.parametrize(
    ("fault", "line"),
    [
        (FileFault("o.csv", 7, "quantity", "two", "a whole number"),
         "o.csv: line 7, quantity: 'two' found, expected a whole number"),
        (FileFault("o.csv", 0, "", "", "a header row"), "o.csv: expected a header row"),
        (FileFault("o.csv", 1, "", "", "a column for `country`"), "o.csv: line 1: expected a column for `country`"),
        (FileFault("s.toml", 0, "policy.curency", "curency", "a known field"),
         "s.toml: policy.curency: 'curency' found, expected a known field"),
    ],
)  # fmt: skip
def test_a_fault_is_one_line(fault, line):
    assert str(fault) == line


def test_a_cell_with_a_line_break_stays_on_one_line():
    assert "\n" not in str(FileFault("o.csv", 3, "city", "New\nYork", "one line"))


def test_unreadable_contains_every_fault_in_order():
    first, second = FileFault("a.csv", 1, "x", "", "y"), FileFault("b.csv", 2, "x", "", "y")

    unreadable = Unreadable([first, second])

    assert unreadable.faults == (first, second)
    assert unreadable.sentence == f"{first}\n{second}"


def test_refused_contains_its_sentence():
    assert Refused("The roll is empty. Put in a new one.").sentence == "The roll is empty. Put in a new one."


@pytest.mark.parametrize("kind", [Refused, Unreadable])
def test_only_related_units_may_be_mixed(kind):
    assert issubclass(kind, Fault)
    assert not issubclass(kind, ValueError)


def fault(line: int, column: str = "unit", expected: str = "a unit") -> FileFault:
    return FileFault("w.csv", line, column, "x", expected)


@pytest.mark.parametrize(("count", "lines"), [(3, 3), (4, 1)])
def test_more_than_three_similar_faults_are_one_line(count: int, lines: int) -> None:
    reported = fault_lines([fault(number) for number in range(1, count + 1)])
    assert len(reported) == lines
    if lines == 1:
        assert reported == ["w.csv: line 1, unit: 'x' found, expected a unit (and 3 more, in lines 2, 3, 4)"]


@pytest.mark.parametrize(
    ("count", "last"), [(20, "w.csv: line 20, c20: 'x' found, expected a unit"), (21, "and 2 more")]
)
def test_at_most_twenty_lines_are_reported(count: int, last: str) -> None:
    reported = fault_lines([fault(number, f"c{number}") for number in range(1, count + 1)])
    assert len(reported) == 20
    assert reported[-1].startswith(last)
