"""Counts over a pile: pieces by status, outdated price lists, and stamps to put on."""

from collections import Counter
from datetime import date

import pytest

from desk.domain.shop.stamp import StampKind
from desk.domain.status import PieceStatus
from desk.session.bench.answers import answer_looks
from desk.session.importing.import_orders import import_shop
from desk.session.learned.memory import Memory
from desk.session.papers.stamps_on import pile_stamps, put_stamps_on, stamp_totals
from desk.session.pile.batch import Counts, judge_batch, stamps_to_put_on
from desk.session.pile.bulk_changes import set_beside
from desk.session.pile.earlier import past_weighings
from desk.session.pile.pile import Pile
from desk.session.undo import redo, undo
from desk.session.verdict.verdict import Terms
from tests.session.made import BOOK, ON, case, line, order, shop, weigh_piece, weighing

LATE = date(2027, 1, 18)
FOREVER, MORE = (StampKind.FOREVER, None), (StampKind.ADDITIONAL_OUNCE, None)


def judged(rulebook, on, *cases):
    return judge_batch(cases, Terms(shop(), rulebook, on)).verdicts


def test_pieces_are_counted_by_status(rulebook):
    verdicts = judged(
        rulebook, ON, case("0.7", number="1"), case("0.7", number="2", status="unpaid"), case(None, number="3")
    )
    assert Counts(ON, verdicts).status == {PieceStatus.READY: 1, PieceStatus.NEEDS_A_LOOK: 1, PieceStatus.TO_WEIGH: 1}


def test_the_last_days_of_outdated_price_lists_are_counted(rulebook):
    parcel = case("12", "Padded", number="1", lines=(line(BOOK),))
    assert Counts(LATE, judged(rulebook, LATE, parcel, case(number="2"))).last_days == {date(2027, 1, 17): 1}
    assert Counts(ON, judged(rulebook, ON, parcel, case(number="2"))).last_days == {}


def test_stamps_to_put_on_are_counted(rulebook):
    ready, heavy, paid, aside = judged(
        rulebook,
        ON,
        case("0.7", number="1"),
        case("1.5", number="2"),
        case("0.7", number="3", postage_on=True),
        case("0.7", number="4", beside=PieceStatus.SET_ASIDE),
    )
    assert Counts(ON, [ready, heavy, paid, aside]).stamps == {FOREVER: 2, MORE: 1}
    assert stamps_to_put_on([ready, heavy, paid, aside]) == Counter({FOREVER: 2, MORE: 1})


def test_removing_every_piece_leaves_no_counts(rulebook):
    verdicts = judged(rulebook, LATE, case("12", "Padded", number="1", lines=(line(BOOK),)), case("0.7", number="2"))
    counts = Counts(LATE, verdicts)
    for verdict in verdicts:
        counts.take_away(verdict)
    assert (counts.status, counts.last_days, counts.stamps) == ({}, {}, {})


pytestmark = pytest.mark.stocked([order(str(number)) for number in range(1, 9)])


def same(pile):
    """Compare the updated counts with counting everything again."""
    if pile.memory.stale:  # an older weighing was corrected: what was learned is rebuilt in the background
        pile.memory = Memory.rebuild(pile.terms.shop, past_weighings(pile.sitting, pile.terms.shop))
        pile.read_all()
    anew, batch = Pile(pile.sitting), pile.batch()
    assert dict(pile.verdicts) == dict(anew.verdicts)
    assert list(pile.verdicts) == list(anew.verdicts)
    assert pile.in_turn() == anew.in_turn()
    counted = Counts(pile.terms.on, pile.verdicts.values())
    assert (pile.counts.status, pile.counts.stamps) == (counted.status, counted.stamps)
    assert pile.drawer_left == anew.drawer_left
    assert stamp_totals(pile.counts.stamps, pile.drawer_left) == pile_stamps(batch)
    assert pile.last_weighed(3) == [number for number in reversed(pile.in_turn()) if _is_weighed(pile, number)][:3]


def _is_weighed(pile, number):
    return pile.verdicts[number].case.weighing is not None


def test_counts_follow_every_act(pile):
    sitting = pile.sitting
    for piece, ounces in ((3, "0.7"), (1, "1.5"), (5, "1.0"), (8, "0.6"), (2, "2.4"), (3, "1.6"), (4, "0.9")):
        weigh_piece(sitting, piece, weighing(ounces))
        same(pile)
    answer_looks(sitting, 5, ["too-close-to-call"], number="5-1")
    same(pile)
    set_beside(sitting, [1], PieceStatus.SET_ASIDE)
    same(pile)
    put_stamps_on(pile.sitting, pile, [8])
    same(pile)
    for step in (undo, undo, undo, undo, redo, undo, redo, redo):
        step(sitting)
        same(pile)
    import_shop(sitting, shop(stamps=()))
    same(pile)
    assert pile.counts.stamps == {}


def test_a_weighing_updates_only_pieces_whose_stamps_change(pile):
    for piece in range(1, 5):
        weigh_piece(pile.sitting, piece, weighing("0.7"))
    before = dict(pile.verdicts)
    weigh_piece(pile.sitting, 5, weighing("0.7"))
    assert [number for number in before if pile.verdicts[number] is not before[number]] == [5]
