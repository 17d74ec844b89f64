"""Handed over: only what may go, all or nothing, as one step; and the groups of its sheet."""

from dataclasses import replace

import pytest

from desk.domain.faults import Refused
from desk.domain.money import Money
from desk.domain.orders.piece import PieceKey
from desk.domain.status import PieceStatus
from desk.session.bench.weigh import weigh
from desk.session.contents.hand_over_contents import hand_over_content
from desk.session.importing.import_orders import import_shop
from desk.session.labels.scan import require_match
from desk.session.papers.hand_over import (
    EverythingLeft,
    groups_of,
    hand_everything_over,
    hand_pieces_over,
    stamp_all,
    staying_words,
    to_stamp,
)
from desk.session.papers.stamps_on import put_stamps_on
from desk.session.pile.bulk_changes import set_beside
from desk.session.pile.days_that_left import days_that_left
from desk.session.pile.pile import Pile
from desk.session.undo import next_steps, redo, undo
from desk.session.words.statuses import status_said
from desk.store.tables import hand_overs
from tests.session.made import BOOK, FRANCE, line, order, shop, stock, weighing

# Two letters by stamp, a parcel bought online, a package abroad, one not weighed, one with something to look at.
ORDERS = (
    order("1"),
    order("2"),
    order("3", lines=(line(BOOK),)),
    order("4", address=FRANCE, lines=(line(BOOK),)),
    order("5"),
    order("6", buyer_note="by stamp please"),
)
WEIGHTS = {"1": ("0.7", "A7"), "2": ("0.7", "A7"), "3": ("12", "Padded"), "4": ("12", "Padded"), "6": ("0.7", "A7")}


pytestmark = pytest.mark.stocked(ORDERS, weights={number: weighing(*read) for number, read in WEIGHTS.items()})


def status(pile):
    return {verdict.case.key.order: str(verdict.status) for verdict in pile.verdicts.values()}


def ids(pile, *numbers):
    return [pile.find(number) for number in numbers]


def test_the_pile_of_these_tests_has_every_usual_status(pile):
    assert status(pile) == {
        "1": "ready",
        "2": "ready",
        "3": "ready",
        "4": "ready",
        "5": "to weigh",
        "6": "needs a look",
    }


def test_a_ready_piece_without_stamps_is_handed_over_and_undone(pile):
    hand_pieces_over(pile.sitting, pile, ids(pile, "3", "4"))
    assert (status(pile)["3"], status(pile)["4"]) == ("handed over", "handed over")
    assert next_steps(pile.sitting)[0] == "Handed over: 2 pieces"
    undo(pile.sitting)
    assert (status(pile)["3"], status(pile)["4"]) == ("ready", "ready")
    redo(pile.sitting)
    assert status(pile)["4"] == "handed over"


@pytest.mark.parametrize(("step", "reported"), [("", "Handed over: 1 piece"), ("To the post", "To the post")])
def test_handing_over_has_a_named_step(pile, step, reported):
    hand_pieces_over(pile.sitting, pile, ids(pile, "3"), step)
    assert next_steps(pile.sitting)[0] == reported


@pytest.mark.parametrize(
    ("number", "reported"),
    [
        ("1", "1 is waiting for its stamps. Mark it as stamped first."),
        ("5", "5 has not been weighed. Only what is ready or labeled can be handed over."),
        ("6", "6 needs a check. Only what is ready or labeled can be handed over."),
    ],
)
def test_one_piece_that_cannot_go_stops_the_whole_hand_over(pile, number, reported):
    before, revision = status(pile), pile.sitting.store.revision
    with pytest.raises(Refused) as refused:
        hand_pieces_over(pile.sitting, pile, ids(pile, "3", number))
    assert refused.value.sentence == reported
    assert (status(pile), pile.sitting.store.revision) == (before, revision)


@pytest.mark.parametrize("stand", [PieceStatus.SET_ASIDE, PieceStatus.CAME_BACK, PieceStatus.LOST])
def test_a_piece_set_aside_cannot_be_handed_over(pile, stand):
    set_beside(pile.sitting, ids(pile, "3"), stand)
    with pytest.raises(Refused, match=f"^{status_said('3', stand)}"):
        hand_pieces_over(pile.sitting, pile, ids(pile, "3"))


def test_a_second_hand_over_is_refused(pile):
    hand_pieces_over(pile.sitting, pile, ids(pile, "3"))
    with pytest.raises(Refused, match="3 was handed over"):
        hand_pieces_over(pile.sitting, pile, ids(pile, "3"))


def test_handing_over_no_pieces_is_refused(pile):
    with pytest.raises(Refused, match="There is nothing to hand over"):
        hand_pieces_over(pile.sitting, pile, [])


def test_a_letter_is_handed_over_once_its_stamps_are_on(pile):
    put_stamps_on(pile.sitting, pile, ids(pile, "1"))
    hand_pieces_over(pile.sitting, pile, ids(pile, "1"))
    assert status(pile)["1"] == "handed over"
    undo(pile.sitting)
    assert status(pile)["1"] == "labeled"


def test_pieces_to_stamp_are_the_ready_ones_with_stamps(pile):
    assert to_stamp(pile) == tuple(ids(pile, "1", "2"))
    assert stamp_all(pile.sitting, pile) == 2
    assert (to_stamp(pile), status(pile)["1"], status(pile)["6"]) == ((), "labeled", "needs a look")
    undo(pile.sitting)
    assert to_stamp(pile) == tuple(ids(pile, "1", "2"))


def test_having_no_stamps_to_put_on_is_reported(pile):
    stamp_all(pile.sitting, pile)
    revision = pile.sitting.store.revision
    with pytest.raises(Refused, match="No ready piece is waiting for stamps"):
        stamp_all(pile.sitting, pile)
    assert pile.sitting.store.revision == revision


def test_groups_contain_each_piece_that_can_go_once(pile):
    groups = groups_of(pile)
    assert [group for _, group in groups] == [tuple(ids(pile, "1", "2")), tuple(ids(pile, "3", "4"))]
    assert [heading for heading, _ in groups] == [
        "Collection box or counter",
        "Pickup or drop-off: postage bought online",
    ]


def test_a_handed_over_piece_is_in_no_group(pile):
    hand_pieces_over(pile.sitting, pile, ids(pile, "3"))
    assert ids(pile, "3")[0] not in [number for _, group in groups_of(pile) for number in group]


def test_a_letter_without_enough_stamps_is_not_handed_over(sitting):
    stock(sitting, [order("1")], shop(stamps=()))
    weigh(sitting, [(PieceKey("1"), weighing("0.7"))])
    pile = Pile(sitting)
    with pytest.raises(Refused, match="stamps"):
        hand_pieces_over(sitting, pile, list(pile.verdicts))


# --- everything at once


def test_everything_ready_is_stamped_and_handed_over_in_one_step(pile):
    drawer = pile.terms.shop.stamps
    done = hand_everything_over(pile.sitting, pile)
    assert done == EverythingLeft(4)
    assert status(pile) == {
        "1": "handed over",
        "2": "handed over",
        "3": "handed over",
        "4": "handed over",
        "5": "to weigh",
        "6": "needs a look",
    }
    assert pile.terms.shop.stamps != drawer
    assert next_steps(pile.sitting)[0] == "Everything ready handed over: 4 pieces"
    undo(pile.sitting)
    assert (status(pile)["1"], status(pile)["4"]) == ("ready", "ready")
    assert pile.terms.shop.stamps == drawer


def test_handing_over_everything_is_refused_when_nothing_is_ready(pile):
    hand_everything_over(pile.sitting, pile)
    with pytest.raises(Refused, match=r"^Nothing is ready to hand over\.$"):
        hand_everything_over(pile.sitting, pile)


def test_a_piece_that_must_be_scanned_first_stays_and_is_named(pile):
    require_match(pile.sitting, required=True)
    done = hand_everything_over(pile.sitting, pile)
    assert done == EverythingLeft(2, unmatched=("3", "4"))
    assert staying_words(done) == " Label not matched yet (2 pieces: 3, 4)."
    with pytest.raises(Refused, match=r"Nothing is ready to hand over\. Label not matched yet"):
        hand_everything_over(pile.sitting, pile)


# --- by day


def test_the_sheet_of_a_day_has_its_pieces_at_the_postage_paid_then(pile):
    hand_pieces_over(pile.sitting, pile, ids(pile, "3"))
    (day,) = days_that_left(pile.sitting)
    then = replace(day, postage={"3-1": Money(123)})
    content = hand_over_content(pile.batch(), pile.terms, then)
    assert [row.postage for group in content.groups for row in group.rows] == ["$1.23"]
    assert (content.total, content.notes) == ("1 piece, $1.23", ())
    assert groups_of(pile, then)[0][1] == tuple(ids(pile, "3"))
    assert "3-1" not in [
        row.number for group in hand_over_content(pile.batch(), pile.terms).groups for row in group.rows
    ]


def test_pieces_not_listed_are_counted_by_reason(pile):
    set_beside(pile.sitting, ids(pile, "4"), PieceStatus.SET_ASIDE)
    hand_pieces_over(pile.sitting, pile, ids(pile, "3"))
    notes = hand_over_content(pile.batch(), pile.terms).notes
    assert notes == ("Not listed: 1 not weighed yet, 1 to check, 1 set aside.",)


def test_a_labeled_piece_with_an_incomplete_declaration_is_held_back(pile):
    sitting = pile.sitting
    pieces = ids(pile, "4")
    with sitting.store.act("Label bought") as tx:
        hand_overs.put_postage_on(tx, pieces)
    sitting.announce(sitting.store.last_changes)
    import_shop(sitting, shop(products=(replace(BOOK, origin=""),)))
    assert status(pile)["4"] == "labeled"
    with pytest.raises(Refused, match="4 has a customs issue to fix first: Country of origin missing"):
        hand_pieces_over(sitting, pile, pieces)
    assert hand_everything_over(sitting, pile).at_customs == ("4",)
    assert status(pile)["4"] == "labeled"
    import_shop(sitting, shop())
    hand_pieces_over(sitting, pile, pieces)
    assert status(pile)["4"] == "handed over"


def test_each_reason_for_staying_names_its_pieces():
    left = EverythingLeft(3, unstamped=("F-203", "F-210"), at_customs=("F-206",))
    assert staying_words(left) == (
        " Your stamps don't cover the postage (2 pieces: F-203, F-210). Customs issue to fix (1 piece: F-206)."
    )
