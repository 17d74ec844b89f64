"""The faults of one file: collected as found, reported once each in the order of the file."""

import pytest

from desk.domain.faults import FileFault, Unreadable
from desk.tables.faults_found import SHOWN, FaultsFound, unreadable


def test_without_faults_nothing_is_raised():
    FaultsFound("a.csv").raise_any()


def test_all_are_raised_together_in_the_order_of_the_file():
    faults = FaultsFound("a.csv")
    faults.add(7, "unit_price", "six", "an amount")
    faults.add(0, "", "", "a header row")
    faults.add(2, "country", "", "a column")
    with pytest.raises(Unreadable) as raised:
        faults.raise_any()
    assert [(fault.file, fault.line) for fault in raised.value.faults] == [("a.csv", 0), ("a.csv", 2), ("a.csv", 7)]


def test_faults_of_one_line_keep_their_order_and_appear_once():
    faults = FaultsFound("a.csv")
    for column in ("b", "a", "b"):
        faults.add(3, column, "x", "a number")
    assert [fault.column for fault in faults.in_order()] == ["b", "a"]


@pytest.mark.parametrize("length", [1, SHOWN, SHOWN + 1, 10_000])
def test_a_cell_is_shown_as_far_as_it_fits_on_a_line(length):
    faults = FaultsFound("a.csv")
    faults.add(1, "item", "x" * length, "a text")
    (fault,) = faults.faults
    assert len(fault.found) == min(length, SHOWN)
    assert fault.found.endswith("…") == (length > SHOWN)


def test_one_fault_ends_the_reading_at_once():
    raised = unreadable("a.csv", "a table", line=4, found="%PDF")
    assert list(raised.faults) == [FileFault("a.csv", 4, "", "%PDF", "a table")]
    assert str(raised) == "a.csv: line 4: '%PDF' found, expected a table"
