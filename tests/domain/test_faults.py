"""Faults: the place, what stood there and what was expected, in one line each."""

import pytest

from desk.domain.faults import Fault, FileFault, Refused, Unreadable


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
def test_one_fault_in_a_line(fault, line):
    assert str(fault) == line


def test_a_cell_with_a_line_break_stays_on_one_line():
    assert "\n" not in str(FileFault("o.csv", 3, "city", "New\nYork", "one line"))


def test_unreadable_carries_every_fault_in_order():
    first, second = FileFault("a.csv", 1, "x", "", "y"), FileFault("b.csv", 2, "x", "", "y")

    unreadable = Unreadable([first, second])

    assert unreadable.faults == (first, second)
    assert unreadable.sentence == f"{first}\n{second}"


def test_refused_says_its_sentence():
    assert Refused("The roll is empty. Put in a new one.").sentence == "The roll is empty. Put in a new one."


@pytest.mark.parametrize("kind", [Refused, Unreadable])
def test_what_may_be_shown_is_one_family(kind):
    assert issubclass(kind, Fault)
    assert not issubclass(kind, ValueError)
