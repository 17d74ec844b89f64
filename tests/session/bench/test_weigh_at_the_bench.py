"""Weights, mailers and feel recorded at the bench; copies; another piece of an order."""

from dataclasses import replace
from datetime import UTC, datetime
from decimal import Decimal

import pytest

from desk.domain.faults import Refused
from desk.domain.length import Size
from desk.domain.orders.piece import PieceKey
from desk.domain.weight import Shown, WeightUnit
from desk.session.bench.another_piece import add_piece, next_piece_key
from desk.session.bench.answers import answer_looks
from desk.session.bench.weigh import Copied, copy_weight, describe, record_weight, recorded_at
from desk.session.pile.alike import Alike
from desk.session.pile.packing import Placement
from desk.session.undo import undo
from desk.store.tables import hand_overs, pieces, weighings
from tests.session import made

A7 = Placement("A7")


def oz(value, division="0.1"):
    return Shown(Decimal(value), WeightUnit.OUNCE, Decimal(division))


pytestmark = pytest.mark.stocked([made.order(str(number)) for number in range(1001, 1004)])


def weighing(pile, piece):
    return pile.verdicts[piece].case.weighing


def test_a_weight_is_saved_with_mailer_and_marks(sitting, pile):
    assert record_weight(sitting, 1, oz("0.7"), Placement("A7", stiff=True)) is True
    assert (weighing(pile, 1).shown, weighing(pile, 1).mailer, weighing(pile, 1).stiff) == (oz("0.7"), "A7", True)
    assert recorded_at(sitting, 1) == datetime(2026, 7, 15, 12, 0, tzinfo=UTC)
    assert recorded_at(sitting, 2) is None


def test_the_same_weight_again_is_not_a_new_weighing(sitting, pile):
    record_weight(sitting, 1, oz("0.7"), A7)
    before = sitting.store.revision
    assert record_weight(sitting, 1, oz("0.7"), A7) is False
    assert sitting.store.revision == before


def test_another_weight_later_keeps_the_earlier_one_and_is_reported(sitting, pile):
    record_weight(sitting, 1, oz("0.7"), A7)
    record_weight(sitting, 1, oz("1.4"), A7)
    assert weighing(pile, 1).earlier == oz("0.7")
    assert "weighed-twice" in [found.code for found in pile.verdicts[1].findings]


def test_a_correction_and_a_step_of_difference_are_not_reported(sitting, pile):
    record_weight(sitting, 1, oz("2.6"), A7)
    record_weight(sitting, 1, oz("1.3"), A7, again=False)
    assert weighing(pile, 1).earlier is None
    record_weight(sitting, 1, oz("1.4"), A7)
    assert weighing(pile, 1).earlier is None


def test_a_new_weight_reopens_the_issues_about_the_weight(sitting, pile):
    record_weight(sitting, 1, oz("1.0"), A7)
    answer_looks(sitting, 1, ["too-close-to-call", "size-missing"], number="1001-1")
    describe(sitting, 1, Placement("A7", stiff=True))
    assert pile.verdicts[1].case.answered == {"too-close-to-call", "size-missing"}
    record_weight(sitting, 1, oz("2.0"), A7)
    assert pile.verdicts[1].case.answered == {"size-missing"}
    undo(sitting)
    assert pile.verdicts[1].case.answered == {"too-close-to-call", "size-missing"}


@pytest.mark.parametrize("column", ["postage_on_at", "handed_over_at"])
def test_a_piece_with_its_postage_on_keeps_its_weight(sitting, pile, column):
    from desk.store import schema

    record_weight(sitting, 1, oz("0.7"), A7)
    with sitting.store.act("Stamp") as tx:
        tx.update(schema.pieces, {1: {column: "2026-07-15T12:00:00.000000+00:00"}})
    with pytest.raises(Refused, match="1001 already has its postage on, so its weight can't change"):
        record_weight(sitting, 1, oz("0.9"), A7)
    with pytest.raises(Refused, match="1001"):
        describe(sitting, 1, Placement("Padded"))


def test_weighing_an_unknown_piece_is_a_bug(sitting, pile):
    with pytest.raises(KeyError):
        record_weight(sitting, 99, oz("1"), A7)


def test_a_mailer_can_be_chosen_before_weighing(sitting, pile):
    describe(sitting, 1, Placement("Padded", stiff=True))
    case = pile.verdicts[1].case
    assert (case.mailer_name, case.weighing) == ("Padded", None)


def test_changing_the_mailer_later_keeps_the_weight(sitting, pile):
    record_weight(sitting, 1, oz("0.7"), A7)
    thick = Size.of("7.25", "5.25", "0.5", "in")
    describe(sitting, 1, Placement("A7", thick, uneven=True))
    assert (weighing(pile, 1).shown, weighing(pile, 1).size, weighing(pile, 1).uneven) == (oz("0.7"), thick, True)
    assert undo(sitting) == "Packing saved for 1001"
    assert weighing(pile, 1).size is None


def test_copies_name_their_origin_and_are_undone_in_one_step(sitting, pile):
    record_weight(sitting, 1, oz("0.7"), Placement("A7", uneven=True))
    assert copy_weight(sitting, 1, [2, 3], oz("0.712")) == Copied(2)
    expected = replace(weighing(pile, 1), shown=oz("0.712"), copied_from="1001-1")
    assert [weighing(pile, 2), weighing(pile, 3)] == [expected, expected]
    undo(sitting)
    assert [weighing(pile, 2), weighing(pile, 3)] == [None, None]


def test_copies_use_the_mailer_chosen_for_their_piece(sitting, pile):
    record_weight(sitting, 1, oz("0.7"), A7)
    describe(sitting, 1, Placement("Padded"))
    copy_weight(sitting, 1, [2], oz("0.7"))
    assert weighing(pile, 2).mailer == "Padded"


@pytest.mark.parametrize("pay", ["postage", "handed over"])
def test_pieces_with_postage_on_accept_no_copy_and_are_named(sitting, pile, pay):
    record_weight(sitting, 1, oz("0.7"), A7)
    with sitting.store.act("Pay") as tx:
        if pay == "postage":
            hand_overs.put_postage_on(tx, [2])
        else:
            hand_overs.hand_over(tx, [2])
    pile.read_all()
    assert Alike(pile).with_postage(1) == [2]
    assert copy_weight(sitting, 1, [2, 3], oz("0.7")) == Copied(1, ("1002",))
    assert weighing(pile, 2) is None
    assert weighing(pile, 3).copied_from == "1001-1"
    with pytest.raises(Refused, match=r"^The identical pieces already have their postage on, so their weights stay\.$"):
        copy_weight(sitting, 1, [2], oz("0.7"))


def test_copied_weights_do_not_change_the_expected_weight(sitting, pile):
    """What a copy weighs says nothing about what contents weigh: the same is expected of the others as before."""
    record_weight(sitting, 3, oz("0.1"), A7)
    before = [found for found in pile.verdicts[3].findings if found.code == "lighter-than-contents"]
    record_weight(sitting, 1, oz("5.0"), A7)
    copy_weight(sitting, 1, [2], oz("5.0"))
    pile.read_all()
    assert before
    assert [found for found in pile.verdicts[3].findings if found.code == "lighter-than-contents"] == before


def test_a_piece_without_a_weight_cannot_be_copied(sitting, pile):
    with pytest.raises(Refused, match="no weight yet"):
        copy_weight(sitting, 1, [2], oz("0.7"))


def test_a_copy_that_is_weighed_is_no_longer_a_copy(sitting, pile):
    record_weight(sitting, 1, oz("0.7"), A7)
    copy_weight(sitting, 1, [2], oz("0.7"))
    record_weight(sitting, 2, oz("0.7"), A7)
    assert (weighing(pile, 2).copied_from, weighing(pile, 2).earlier) == ("", None)
    with sitting.store.reading() as conn:
        assert len(weighings.of_piece(conn, 2)) == 2


@pytest.mark.parametrize(
    ("number", "expected"),
    [
        ("1001-2", PieceKey("1001", 2)),
        ("#1001-2", PieceKey("1001", 2)),
        ("1001-3", None),
        ("1001-1", None),
        ("1009-2", None),
        ("1001", None),
        ("1001-x", None),
    ],
)
def test_only_the_next_piece_of_a_known_order_is_created(number, expected):
    assert next_piece_key(number, frozenset({PieceKey("1001"), PieceKey("1002")})) == expected


def test_another_piece_of_an_order_is_created(sitting, pile):
    made_id = add_piece(sitting, PieceKey("1001", 2))
    assert pile.verdicts[made_id].case.key == PieceKey("1001", 2)
    assert pile.verdicts[1].case.pieces_in_order == 2
    assert add_piece(sitting, PieceKey("1009")) is None


@pytest.mark.parametrize(
    ("second", "again", "earlier"),
    [("0.8", True, None), ("0.81", True, "0.7"), ("1.5", True, "0.7"), ("1.5", False, None)],
)
def test_a_weight_that_differs_by_more_than_a_step_keeps_the_one_before(sitting, second, again, earlier):
    """The scale's step is 0.1 oz: one step is the same thing put on again, more is another weight."""
    made.stock(sitting, [made.order("1")])
    record_weight(sitting, 1, made.weighing("0.7").shown, Placement("A7"))
    record_weight(sitting, 1, made.weighing(second).shown, Placement("A7"), again=again)
    with sitting.store.reading() as conn:
        kept = pieces.piece(conn, 1).weighing
    assert kept is not None
    assert str(kept.shown.value) == second
    assert (str(kept.earlier.value) if kept.earlier else None) == earlier
