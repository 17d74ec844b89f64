"""From PDF to handed over: matched, accepted as one step, laid out in the order weighed, scanned against the slips."""

import pytest

from desk.domain.faults import Refused
from desk.domain.orders.piece import PieceKey
from desk.domain.status import PieceStatus
from desk.session.bench.weigh import weigh
from desk.session.importing.import_orders import import_orders
from desk.session.labels.accept import accept, lay_out_labels, read_files
from desk.session.labels.matching import Sureness, candidates_of
from desk.session.labels.scan import require_match, scan_to_match
from desk.session.papers.hand_over import hand_pieces_over
from desk.session.papers.paper_settings import PaperSettings
from desk.session.pile.bulk_changes import set_beside
from desk.session.undo import undo
from desk.store.tables import hand_overs, pieces
from tests.conftest import ROOT
from tests.paper.bought.made import write_labels_like
from tests.paper.codes import codes_on_pages
from tests.session import made
from tests.session.labels.conftest import ORDERS, THREE_PARCELS, parcel

pytestmark = THREE_PARCELS


FONTS = ROOT / "resources" / "fonts"


def stored(sitting, piece_id):
    with sitting.store.reading() as conn:
        (found,) = pieces.some_pieces(conn, [piece_id])
    return found


def test_labels_are_accepted_as_one_step_that_can_be_undone(sitting, pile, file):
    matches = read_files(sitting, pile, [file])
    assert [one.sureness for one in matches] == [Sureness.MATCHED] * 3
    assert accept(sitting, pile, matches) == 3
    first = pile.find("1001")
    assert pile.verdicts[first].status is PieceStatus.LABELED
    assert stored(sitting, first).tracking == parcel("1001", 1001).tracking
    with pytest.raises(Refused, match="imported before"):
        read_files(sitting, pile, [file])
    undo(sitting)
    assert stored(sitting, first).tracking == ""
    assert len(read_files(sitting, pile, [file])) == 3


def test_they_are_laid_out_in_the_order_of_the_pile(sitting, pile, file, tmp_path):
    matches, out = read_files(sitting, pile, [file]), tmp_path / "labels.pdf"
    became = lay_out_labels(pile, matches, {}, PaperSettings(), out, FONTS)
    assert [(reference, placed.number_on) for reference, placed in became] == [
        (f"{order}-1", "margin") for order in ORDERS
    ]
    assert [
        parcel(order, int(order)).tracking in codes for order, codes in zip(ORDERS, codes_on_pages(out), strict=True)
    ] == [True] * 3


def test_an_uncertain_label_waits_for_the_user(sitting, pile, tmp_path):
    path = tmp_path / "open.pdf"
    path.write_bytes(
        write_labels_like([parcel("", 5, reference=""), parcel("", 6, name="NOBODY KNOWN", reference="")], "plain")
    )
    matches = read_files(sitting, pile, [path])
    assert [one.sureness for one in matches] == [Sureness.SEVERAL, Sureness.NONE]
    with pytest.raises(Refused, match="No label is matched yet"):
        accept(sitting, pile, matches)
    second = pile.find("1002")
    with pytest.raises(Refused, match="Two labels are for the same package"):
        accept(sitting, pile, matches, {0: second, 1: second})
    assert accept(sitting, pile, matches, {0: second}) == 1
    assert pile.verdicts[second].status is PieceStatus.LABELED


def test_a_shop_may_require_scanned_labels_before_hand_over(sitting, pile, file):
    accept(sitting, pile, read_files(sitting, pile, [file]))
    first, second = pile.find("1001"), pile.find("1002")
    require_match(sitting, required=True)
    scan_to_match(sitting, pile, "1001-1", parcel("1001", 1001).tracking)
    with pytest.raises(Refused, match="1002 was not matched"):
        hand_pieces_over(sitting, pile, [first, second])
    hand_pieces_over(sitting, pile, [first])
    require_match(sitting, required=False)
    hand_pieces_over(sitting, pile, [second])
    assert pile.verdicts[second].status is PieceStatus.HANDED_OVER


def test_only_pieces_bought_online_and_still_here_wait_for_a_label(sitting, pile):
    import_orders(sitting, [made.order("1004")])
    weigh(sitting, [(PieceKey("1004"), made.weighing("0.7"))])  # a stamped letter
    set_beside(sitting, [pile.find("1002")], PieceStatus.SET_ASIDE)
    with sitting.store.act("Hand over") as tx:
        hand_overs.put_postage_on(tx, [pile.find("1003")])
        hand_overs.hand_over(tx, [pile.find("1003")])
    pile.read_all()
    assert [one.order for one in candidates_of(pile)] == ["1001"]


def test_waiting_labels_can_be_imported_again_by_themselves(sitting, pile, tmp_path):
    path = tmp_path / "part.pdf"
    path.write_bytes(write_labels_like([parcel("1001", 1), parcel("", 2, reference="", name="NOBODY KNOWN")], "plain"))
    accept(sitting, pile, read_files(sitting, pile, [path]))
    (waiting,) = read_files(sitting, pile, [path])
    assert waiting.label.page == 1
    accept(sitting, pile, [waiting], {0: pile.find("1002")})
    with pytest.raises(Refused, match="imported before"):
        read_files(sitting, pile, [path])
    undo(sitting)
    assert [one.label.page for one in read_files(sitting, pile, [path])] == [1]
    undo(sitting)
    assert len(read_files(sitting, pile, [path])) == 2


def test_labels_that_would_be_refused_are_not_laid_out(sitting, pile, file, tmp_path):
    matches, out = read_files(sitting, pile, [file]), tmp_path / "labels.pdf"
    with pytest.raises(Refused, match="Two labels are for the same package"):
        lay_out_labels(pile, matches, {0: pile.find("1001")}, PaperSettings(), out, FONTS)
    assert not out.exists()


def test_a_package_that_was_handed_over_or_set_aside_gets_no_label(sitting, pile, file):
    matches = read_files(sitting, pile, [file])
    left, beside = pile.find("1001"), pile.find("1002")
    with sitting.store.act("Hand over") as tx:
        hand_overs.put_postage_on(tx, [left])
        hand_overs.hand_over(tx, [left])
    pile.read_all()
    with pytest.raises(Refused, match=r"^1001 was handed over\."):
        accept(sitting, pile, matches, {0: left, 2: pile.find("1003")})
    undo(sitting)
    set_beside(sitting, [beside], PieceStatus.SET_ASIDE)
    pile.read_all()
    with pytest.raises(Refused, match=r"^1002 is set aside"):
        accept(sitting, pile, matches)


def test_a_missing_file_gives_a_sentence_and_nothing_is_stored(sitting, pile, file):
    matches = read_files(sitting, pile, [file])
    file.unlink()
    with pytest.raises(Refused, match=r"bought\.pdf can't be read"):
        accept(sitting, pile, matches)
    assert pile.verdicts[pile.find("1001")].status is PieceStatus.READY
