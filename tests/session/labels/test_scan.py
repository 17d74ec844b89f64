"""The code of the slip, then the code of the label: match or mismatch."""

import pytest

from desk.domain.faults import Refused
from desk.domain.orders.piece import PieceKey
from desk.session.bench.weigh import weigh
from desk.session.importing.import_orders import import_orders
from desk.session.labels.accept import accept, read_files
from desk.session.labels.scan import match_state, scan_to_match
from desk.store.tables import hand_overs
from tests.session import made
from tests.session.labels.conftest import THREE_PARCELS, parcel

pytestmark = THREE_PARCELS


def test_a_scan_is_a_match_or_a_mismatch_and_is_saved(sitting, pile, file):
    accept(sitting, pile, read_files(sitting, pile, [file]))
    assert scan_to_match(sitting, pile, "1001-1", parcel("1001", 1001).tracking) == "match"
    assert scan_to_match(sitting, pile, "1002-1", parcel("1003", 1003).tracking) == "mismatch"
    assert scan_to_match(sitting, pile, "1003-1", "420 97701 " + parcel("1003", 1003).tracking) == "match"
    state = match_state(sitting, pile)
    assert (state.matched, state.mismatched, state.unscanned) == (("1001-1", "1003-1"), ("1002-1",), ())
    with pytest.raises(Refused, match="No package has the number"):
        scan_to_match(sitting, pile, "9999-1", "1")


def test_a_label_printed_here_matches_by_its_reference(sitting, pile):
    assert scan_to_match(sitting, pile, "1001-1", " 1001-1 ") == "match"
    assert scan_to_match(sitting, pile, "1002-1", "1001-1") == "mismatch"


def test_an_empty_scan_is_a_mismatch_even_for_a_piece_without_a_number(sitting, pile):
    assert scan_to_match(sitting, pile, "1001-1", "") == "mismatch"
    assert match_state(sitting, pile).unscanned == ("1002-1", "1003-1")


def test_only_packages_with_a_bought_label_are_to_be_scanned(sitting, pile):
    import_orders(sitting, [made.order("1004")])
    weigh(sitting, [(PieceKey("1004"), made.weighing("0.7"))])  # a stamped letter
    assert match_state(sitting, pile).unscanned == ("1001-1", "1002-1", "1003-1")


def test_a_package_that_left_is_no_longer_counted(sitting, pile):
    with sitting.store.act("Left") as tx:
        hand_overs.put_postage_on(tx, [1])
        hand_overs.hand_over(tx, [1])
    pile.read_all()
    assert match_state(sitting, pile).unscanned == ("1002-1", "1003-1")


def test_a_stamped_letter_counts_once_it_was_scanned(sitting, pile):
    import_orders(sitting, [made.order("1004")])
    weigh(sitting, [(PieceKey("1004"), made.weighing("0.7"))])
    assert scan_to_match(sitting, pile, "1004-1", "1004-1") == "match"
    assert match_state(sitting, pile).matched == ("1004-1",)
