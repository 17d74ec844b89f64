"""Slip, label, slip, label: which comes next, and the answer to each scan."""

from desk.session.labels.accept import accept, read_files
from desk.session.labels.scan import match_state
from desk.session.labels.scan_turn import ScanTurn
from tests.session.labels.conftest import THREE_PARCELS, parcel

pytestmark = THREE_PARCELS


def test_after_a_slip_and_its_label_the_next_scan_is_a_slip(sitting, pile, file):
    accept(sitting, pile, read_files(sitting, pile, [file]))
    turn = ScanTurn()
    slip = turn.take(sitting, pile, "1001-1")
    assert (slip.mark, slip.words, slip.piece) == ("note", "Slip 1001. Now scan its label.", pile.find("1001"))
    label = turn.take(sitting, pile, parcel("1001", 1001).tracking)
    assert (label.mark, label.words, label.piece) == ("fine", "MATCH 1001", None)
    assert turn.take(sitting, pile, "1002-1").piece == pile.find("1002")


def test_the_label_of_another_package_is_a_mismatch_and_is_saved(sitting, pile, file):
    accept(sitting, pile, read_files(sitting, pile, [file]))
    turn = ScanTurn()
    turn.take(sitting, pile, "1001-1")
    answer = turn.take(sitting, pile, parcel("1002", 1002).tracking)
    assert (answer.mark, answer.words) == ("stop", "MISMATCH 1001: this is another package's label")
    assert match_state(sitting, pile).mismatched == ("1001-1",)


def test_a_label_without_a_slip_before_it_asks_for_the_slip(sitting, pile):
    answer = ScanTurn().take(sitting, pile, parcel("1001", 1001).tracking)
    assert (answer.mark, answer.words) == ("look", "Scan the slip first, then its label.")


def test_another_slip_replaces_the_one_that_waits(sitting, pile):
    turn = ScanTurn()
    turn.take(sitting, pile, "1001-1")
    assert turn.take(sitting, pile, "1002-1").words == "Slip 1002. Now scan its label."
    assert match_state(sitting, pile).mismatched == ()


def test_a_slip_scanned_twice_still_waits_for_its_label(sitting, pile, file):
    """Scanning one slip twice must not count as scanning its label."""
    accept(sitting, pile, read_files(sitting, pile, [file]))
    turn = ScanTurn()
    turn.take(sitting, pile, "1001-1")
    answer = turn.take(sitting, pile, "1001-1")
    assert (answer.mark, answer.words) == ("look", "That is the slip of 1001 again. Scan its label.")
    assert match_state(sitting, pile).matched == ()
    assert turn.take(sitting, pile, parcel("1001", 1001).tracking).words == "MATCH 1001"
