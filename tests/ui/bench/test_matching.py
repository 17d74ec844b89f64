"""Scan to match at the bench: slip, label, slip, label, by a barcode reader alone."""

import pytest

from desk.domain.orders.tracking import tracking_number
from desk.session.labels.scan import match_state
from desk.store.tables.hand_overs import match
from tests.ui.bench.conftest import Played

# Made up; the last digit makes the weighted sum a multiple of ten (check digit of 22-digit numbers, Publication 199).
OWN, OTHER = "9400100000000000000013", "9400100000000000000020"


@pytest.fixture
def bench(qtbot, weighed_desk):
    made = Played(qtbot, weighed_desk)
    made.screen.sounds.switch()
    return made


@pytest.fixture
def labeled(bench):
    """Two parcels with the tracking numbers of their labels; the references of both."""
    references = list(match_state(bench.desk.sitting, bench.desk.pile).unscanned[:2])
    with bench.desk.sitting.store.act("Labels") as tx:
        for reference, number in zip(references, (OWN, OTHER), strict=True):
            match(tx, bench.desk.pile.find(reference), number)
    return references


def test_the_invented_numbers_are_valid_tracking_numbers():
    assert (tracking_number(OWN), tracking_number(OTHER)) == (OWN, OTHER)


def number(reference):
    """The number people read for an order's only package."""
    return reference.removesuffix("-1")


def test_slips_and_labels_are_scanned_without_other_keys(bench, labeled):
    first, second = labeled
    bench.press("=")
    for code in (first, OWN):
        bench.open(code)
    line = bench.screen.scan_line
    assert bench.screen.write.figure.figure.number == number(first)
    assert (line.result.text(), line.mark.kind, line.mark.isVisible()) == (f"MATCH {number(first)}", "fine", True)
    for code in (second, OWN):
        bench.open(code)
    assert line.result.text() == f"MISMATCH {number(second)}: this is another package's label"
    assert (line.mark.kind, line.result.role) == ("stop", "stop")
    assert line.edit.hasFocus()
    assert line.state.text().startswith("1 piece matched, 1 mismatched, ")
    bench.escape()
    assert line.isHidden()
    assert bench.screen.hasFocus()


def test_a_label_scanned_with_its_piece_open_is_compared_at_once(bench, labeled):
    first, second = labeled
    bench.open(first)
    bench.open(OWN)
    assert bench.screen.scan_line.result.text() == f"MATCH {number(first)}"
    bench.escape()
    bench.open(second)
    bench.open(OWN)
    assert bench.screen.scan_line.result.text().startswith(f"MISMATCH {number(second)}")


def test_a_tracking_number_typed_as_it_is_printed_is_compared(bench, labeled):
    bench.open(labeled[0])
    bench.open("9400 1000 0000 0000 0000 13")
    assert bench.screen.scan_line.result.text() == f"MATCH {number(labeled[0])}"


def test_a_number_that_is_not_a_tracking_number_is_unknown(bench, labeled):
    bench.open(labeled[0])
    bench.open("9400100000000000000018")
    assert bench.screen.scan_line.isHidden()
    assert bench.screen.find_field.fault.text().startswith("No order 9400100000000000000018 here.")
