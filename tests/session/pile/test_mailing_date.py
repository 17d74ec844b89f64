from __future__ import annotations

from datetime import date

import pytest

from desk.domain.money import Money
from desk.domain.orders.piece import PieceKey
from desk.domain.shop.stamp import StampKind, StampStock
from desk.session import undo
from desk.session.bench.weigh import weigh
from desk.session.papers.stamps_on import put_stamps_on
from desk.session.pile.mailing_date import ShortPostage, post_on, posting_day, short_now, short_on
from desk.session.pile.pile import Pile
from desk.session.sitting import Sitting
from desk.store.tables.hand_overs import hand_over, put_postage_on
from tests.session import made

BEFORE, AFTER = date(2026, 7, 1), date(2026, 7, 12)


def pile_on(sitting: Sitting, on: date) -> Pile:
    sitting.on = on
    made.stock(sitting, [made.order(number) for number in ("1", "2", "3")])
    weigh(sitting, [(PieceKey(number), made.weighing("0.7")) for number in ("1", "2", "3")])
    with sitting.store.act("Put postage on") as tx:
        put_postage_on(tx, [1, 2])
        hand_over(tx, [2])
    return Pile(sitting)


def turn_to(pile: Pile, on: date) -> tuple[ShortPostage, ...]:
    """Choose another day as the window does, and let the pile follow; what is short on it."""
    sitting, verdicts = pile.sitting, pile.verdicts.values()
    post_on(sitting, on, short_on(verdicts, pile.terms, on, short_now(sitting, verdicts)))
    pile.follow(sitting.store.last_changes)
    return short_now(sitting, pile.verdicts.values())


def test_a_stamped_piece_is_short_when_prices_have_risen(sitting: Sitting) -> None:
    # stamped one-ounce letter: 0.78 by the list of 2025-10-05 (Notice 123, one transcription), 0.82 by that of 2026-07-12
    pile = pile_on(sitting, BEFORE)
    assert turn_to(pile, AFTER) == (ShortPostage(PieceKey("1"), Money(4)),)
    assert posting_day(sitting) == pile.terms.on == AFTER


def test_no_piece_is_short_when_prices_have_fallen(sitting: Sitting) -> None:
    assert turn_to(pile_on(sitting, AFTER), BEFORE) == ()


def test_no_piece_is_short_under_the_same_price_list(sitting: Sitting) -> None:
    assert turn_to(pile_on(sitting, AFTER), date(2026, 8, 1)) == ()


def stamped_on(sitting: Sitting, on: date, stamps: tuple[StampStock, ...]) -> Pile:
    """One letter of one ounce with stamps of that drawer on it."""
    sitting.on = on
    made.stock(sitting, [made.order("1")], made.shop(stamps=stamps))
    weigh(sitting, [(PieceKey("1"), made.weighing("0.7"))])
    pile = Pile(sitting)
    put_stamps_on(pile.sitting, pile, list(pile.verdicts))
    pile.read_all()
    return pile


def test_a_forever_stamp_put_on_before_a_price_increase_is_enough_after_it(sitting: Sitting) -> None:
    """DMM 604.1.1: it counts at the one-ounce price of the day it is used."""
    pile = stamped_on(sitting, BEFORE, (StampStock(StampKind.FOREVER, 5),))
    assert turn_to(pile, AFTER) == ()


def test_face_value_stamps_are_short_after_a_price_increase(sitting: Sitting) -> None:
    pile = stamped_on(sitting, BEFORE, (StampStock(StampKind.FACE, 5, Money(40)),))
    assert turn_to(pile, AFTER) == (ShortPostage(PieceKey("1"), Money(2)),)
    (verdict,) = pile.verdicts.values()
    assert verdict.stamps is not None
    assert (verdict.stamps.words(), verdict.stamps.overpaid) == ("2 face 0.40", Money(0))


def test_undo_and_redo_of_a_mailing_date_update_what_is_short(sitting: Sitting) -> None:
    pile = pile_on(sitting, BEFORE)
    turn_to(pile, AFTER)
    assert undo.undo(sitting) == "Mailing date: July 12, 2026"
    pile.follow(sitting.store.last_changes)
    assert (pile.terms.on, short_now(sitting, pile.verdicts.values())) == (BEFORE, ())
    undo.redo(sitting)
    pile.follow(sitting.store.last_changes)
    assert (pile.terms.on, len(short_now(sitting, pile.verdicts.values()))) == (AFTER, 1)


def test_a_short_piece_stays_short_on_a_third_day(sitting: Sitting) -> None:
    pile = pile_on(sitting, BEFORE)
    turn_to(pile, AFTER)
    assert turn_to(pile, date(2026, 8, 1)) == (ShortPostage(PieceKey("1"), Money(4)),)
    assert turn_to(pile, BEFORE) == ()


def test_a_handed_over_piece_is_no_longer_short(sitting: Sitting) -> None:
    pile = pile_on(sitting, BEFORE)
    turn_to(pile, AFTER)
    with sitting.store.act("Hand over") as tx:
        hand_over(tx, [1])
    pile.follow(sitting.store.last_changes)
    assert short_now(sitting, pile.verdicts.values()) == ()


def test_a_future_mailing_date_applies_until_it_has_passed(sitting: Sitting) -> None:
    sitting.on = date(2026, 11, 25)
    post_on(sitting, date(2026, 11, 27))
    days = []
    for day in (26, 27, 28):
        sitting.on = date(2026, 11, day)
        days.append(posting_day(sitting).day)
    assert days == [27, 27, 28]


def test_a_past_mailing_date_applies_only_on_the_day_it_was_chosen(sitting: Sitting) -> None:
    sitting.on = date(2026, 11, 25)
    post_on(sitting, BEFORE)
    assert posting_day(sitting) == BEFORE
    sitting.on = date(2026, 11, 26)
    assert posting_day(sitting) == date(2026, 11, 26)


@pytest.mark.parametrize(
    ("chosen", "today", "counts"),
    [
        (date(2026, 7, 20), date(2026, 7, 15), True),
        (date(2026, 7, 20), date(2026, 7, 20), True),
        (date(2026, 7, 20), date(2026, 7, 21), False),  # the chosen day has passed
        (date(2026, 7, 10), date(2026, 7, 15), True),  # a day in the past counts while it is the day it was chosen
        (date(2026, 7, 10), date(2026, 7, 16), False),
    ],
)
def test_a_chosen_mailing_date_counts_until_it_has_passed(
    sitting: Sitting, chosen: date, today: date, counts: bool
) -> None:
    post_on(sitting, chosen, ())
    sitting.on = today
    assert posting_day(sitting) == (chosen if counts else today)
