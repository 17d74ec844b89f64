"""A large pile judged again in parts: the same as at once, whatever happens meanwhile."""

from dataclasses import replace
from datetime import timedelta

import pytest

from desk.domain.orders.piece import PieceKey
from desk.domain.shop.shop import Untracked
from desk.session.bench.weigh import weigh
from desk.session.importing.import_orders import import_orders, import_shop
from desk.session.pile.following import full_reading, judged_pieces
from desk.session.pile.mailing_date import post_on
from desk.session.pile.pile import Pile
from desk.session.undo import undo
from tests.session.made import FRANCE, following_pile, order, policy, shop, stock, weighing

NUMBERS = [str(number) for number in range(1, 8)]


@pytest.fixture
def pile(sitting, monkeypatch):
    monkeypatch.setattr(judged_pieces, "AT_ONCE", 5)
    monkeypatch.setattr(full_reading, "PART", 2)
    stock(sitting, [order(number, address=FRANCE) if number == "3" else order(number) for number in NUMBERS])
    made = following_pile(sitting)
    made.reads_in_parts = True
    weigh(sitting, [(PieceKey(number), weighing()) for number in ("5", "2")])
    return made


def finished(pile):
    """Read on until the end; return the ids that changed."""
    while (changed := pile.read_on()) is None:
        assert pile.progress is not None
    return changed


def is_as_read_at_once(pile):
    fresh = Pile(pile.sitting)
    assert list(pile.verdicts) == list(fresh.verdicts)
    assert pile.verdicts == fresh.verdicts
    assert pile.in_turn() == fresh.in_turn()
    assert pile.counts.status == fresh.counts.status
    assert pile.counts.stamps == fresh.counts.stamps
    assert pile.drawer_left == fresh.drawer_left
    return True


def change_shop(pile):
    import_shop(pile.sitting, replace(shop(), policy=replace(policy(), untracked=Untracked.ASKED)))


def test_terms_change_at_once_and_verdicts_when_everything_is_read(pile):
    before = dict(pile.verdicts)
    change_shop(pile)
    assert pile.terms.shop.policy.untracked is Untracked.ASKED
    assert (dict(pile.verdicts), pile.progress) == (before, (0, 21))
    changed = finished(pile)
    assert changed == {number for number in before if pile.verdicts[number] != before[number]} != set()
    assert pile.progress is None
    assert is_as_read_at_once(pile)


@pytest.mark.parametrize("parts", range(13))
def test_a_weight_recorded_during_the_reading_is_used(pile, parts):
    change_shop(pile)
    for _ in range(parts):
        pile.read_on()
    weigh(pile.sitting, [(PieceKey("7"), weighing("2.4"))])
    assert pile.verdicts[7].case.weighing is not None  # at once, not only at the end
    undo(pile.sitting)
    weigh(pile.sitting, [(PieceKey("6"), weighing("3.1"))])
    while pile.progress is not None:
        pile.read_on()
    assert pile.in_turn()[:3] == [5, 2, 6]
    assert is_as_read_at_once(pile)
    assert not pile.memory.stale


def test_removed_pieces_leave_at_once(pile):
    import_orders(pile.sitting, [order("8"), order("9")])
    finished(pile)
    assert len(pile.verdicts) == 9
    undo(pile.sitting)
    assert list(pile.verdicts) == [1, 2, 3, 4, 5, 6, 7]
    finished(pile)
    assert is_as_read_at_once(pile)


def test_another_change_starts_the_reading_again(pile):
    change_shop(pile)
    pile.read_on()
    post_on(pile.sitting, pile.terms.on + timedelta(days=1))
    assert pile.progress == (0, 21)
    finished(pile)
    assert is_as_read_at_once(pile)


def test_papers_and_lists_wait_for_the_complete_reading(pile):
    change_shop(pile)
    pile.read_on()
    batch = pile.batch()
    assert pile.progress is None
    assert batch.verdicts == Pile(pile.sitting).batch().verdicts
    assert pile.read_on()  # what changed is still reported
    assert pile.read_on() is None


def test_a_small_pile_is_read_at_once(pile, monkeypatch):
    monkeypatch.setattr(judged_pieces, "AT_ONCE", 7)
    change_shop(pile)
    assert pile.progress is None
    assert is_as_read_at_once(pile)
