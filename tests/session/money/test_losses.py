"""How many packages get lost, of those that left long enough ago."""

from __future__ import annotations

from datetime import timedelta

import pytest

from desk.domain.clock import today
from desk.domain.status import PieceStatus
from desk.session.money.after_mailing import mark_after_mailing
from desk.session.money.losses import LossRate, loss_rate, loss_words
from desk.session.papers.hand_over import hand_pieces_over
from desk.session.papers.stamps_on import put_stamps_on
from desk.session.undo import undo
from tests.session import made


@pytest.fixture
def left(sitting):
    """Two of three packages left today."""
    made.stock(sitting, [made.order(f"100{n}") for n in (1, 2, 3)])
    pile = made.following_pile(sitting)
    for number in (1, 2, 3):
        made.weigh_piece(sitting, number, made.weighing("0.7"))
    put_stamps_on(sitting, pile, [1, 2])
    hand_pieces_over(sitting, pile, [1, 2])
    return sitting


@pytest.mark.parametrize(("days", "sent"), [(14, 0), (15, 2)])
def test_a_package_counts_once_its_loss_could_be_claimed(left, days: int, sent: int) -> None:
    assert loss_rate(left, today(left.clock) + timedelta(days=days)) == LossRate(0, sent)


def test_a_lost_package_counts_at_once_and_not_after_undo(left) -> None:
    mark_after_mailing(left, [1], PieceStatus.LOST, "")
    assert loss_rate(left, today(left.clock)) == LossRate(1, 1)
    assert loss_rate(left, today(left.clock) + timedelta(days=15)) == LossRate(1, 2)
    undo(left)
    assert loss_rate(left, today(left.clock)) == LossRate(0, 0)


def test_a_returned_package_is_not_lost(left) -> None:
    mark_after_mailing(left, [2], PieceStatus.CAME_BACK, "refused")
    assert loss_rate(left, today(left.clock) + timedelta(days=15)) == LossRate(0, 2)


@pytest.mark.parametrize(
    ("lost", "sent", "words"),
    [
        (0, 0, "None of your packages was mailed 15 or more days ago, so your loss rate isn't known yet."),
        (1, 200, "You lost 1 of 200 packages (0.5%; 95% sure: 0.1% to 2.8%)."),  # Wilson: 0.09 to 2.78 %
    ],
)
def test_the_loss_rate_is_described_in_words(lost: int, sent: int, words: str) -> None:
    assert loss_words(LossRate(lost, sent)) == words
