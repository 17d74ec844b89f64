"""Mailer, size, service or date changed: only what depends on it is priced again, and undo is one step."""

from dataclasses import replace
from datetime import date

import pytest

from desk.domain.length import Size
from desk.session.pile.bulk_changes import choose_mailer, choose_service
from desk.session.pile.following import judged_pieces
from desk.session.pile.mailing_date import post_on
from desk.session.pile.stored_cases import read_stored
from desk.session.undo import redo, undo
from tests.session.made import order, weigh_piece, weighing

# Three letters of 0.7 oz in an envelope.
pytestmark = pytest.mark.stocked(
    [order(number) for number in "123"], weights={number: weighing("0.7") for number in "123"}
)


@pytest.fixture
def judged_again(monkeypatch):
    """The references of the pieces judged since."""
    seen = []
    real = judged_pieces.judge

    def judge(case, terms):
        seen.append(case.key.reference)
        return real(case, terms)

    monkeypatch.setattr(judged_pieces, "judge", judge)
    return seen


def first_of(pile):
    return next(iter(pile.verdicts))


def prices(pile):
    return [(verdict.offer.service, verdict.money.postage.text()) for verdict in pile.verdicts.values()]


def a_larger_size(sitting, number):
    (stored,) = read_stored(sitting, [number])
    weigh_piece(sitting, number, replace(stored.case.weighing, size=Size.of("12", "9", "0.5", "in")))


CHANGES = {
    "mailer": (lambda sitting, number: choose_mailer(sitting, [number], "Padded"), "ground-retail"),
    "size": (a_larger_size, "flat"),
    "service": (lambda sitting, number: choose_service(sitting, [number], "ground-retail"), "ground-retail"),
}


@pytest.mark.parametrize("change", CHANGES)
def test_only_the_changed_piece_is_priced_again_and_undo_is_one_step(pile, judged_again, change):
    act, service = CHANGES[change]
    before = prices(pile)
    act(pile.sitting, first_of(pile))
    assert judged_again == ["1-1"]
    assert prices(pile)[0][0] == service
    assert prices(pile)[1:] == before[1:]
    undo(pile.sitting)
    assert (prices(pile), judged_again) == (before, ["1-1", "1-1"])
    redo(pile.sitting)
    assert prices(pile)[0][0] == service


def test_another_mailing_date_prices_every_piece_by_the_lists_of_that_day(pile, judged_again):
    """0.82 by the list of 2026-07-12, 0.78 by that of 2025-10-05."""
    assert prices(pile) == [("letter-stamped", "0.82")] * 3
    post_on(pile.sitting, date(2026, 7, 11))
    assert prices(pile) == [("letter-stamped", "0.78")] * 3
    assert judged_again == ["1-1", "2-1", "3-1"]
    post_on(pile.sitting, date(2026, 7, 12))
    assert prices(pile) == [("letter-stamped", "0.82")] * 3


def test_stamps_put_on_one_piece_price_no_other_again(pile, judged_again):
    from desk.session.papers.stamps_on import put_stamps_on

    put_stamps_on(pile.sitting, pile, [first_of(pile)])
    assert judged_again == ["1-1"]
    undo(pile.sitting)
    assert judged_again == ["1-1", "1-1"]
