"""How many of the shop's packages get lost, counted by the store."""

from __future__ import annotations

from datetime import date

from desk.costs.claims import FIRST_AFTER
from desk.costs.insurance import LossRate
from desk.session.sitting import Sitting
from desk.session.words.figures import share_in_words
from desk.store.tables import hand_overs

__all__ = ["LossRate", "loss_rate", "loss_words"]


def loss_rate(sitting: Sitting, on: date) -> LossRate:
    """Return how many packages were lost, of those that left long enough ago for a loss to be claimed."""
    with sitting.store.reading() as conn:
        sent, lost = hand_overs.sent_and_lost(conn, on - FIRST_AFTER)
    return LossRate(lost, sent)


def loss_words(rate: LossRate) -> str:
    """Return how often the shop's packages get lost, with the interval that says how sure it is."""
    if not rate.sent:
        return (
            f"None of your packages was mailed {FIRST_AFTER.days} or more days ago, so your loss rate isn't known yet."
        )
    low, high = (share_in_words(share, 1) for share in rate.interval)
    lost = f"You lost {rate.lost} of {rate.sent} packages ({share_in_words(rate.share, 1)}"
    return f"{lost}; {share_in_words(0.95)} sure: {low} to {high})."
