"""When a claim for a lost or damaged package can be made."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

# DMM 609.1.4, insured domestic mail; both from memory, so the screen says to check them with the post.
FIRST_AFTER, LAST_AFTER = timedelta(days=15), timedelta(days=60)


@dataclass(frozen=True, slots=True)
class ClaimDays:
    """The first day a loss can be claimed and the last day for any claim, both included."""

    first: date
    last: date

    def is_open(self, on: date) -> bool:
        """Return True when a loss can be claimed on that day."""
        return self.first <= on <= self.last


def claim_days(mailed_on: date) -> ClaimDays:
    """Return the days on which an insured domestic package mailed on that day can be claimed as lost."""
    return ClaimDays(mailed_on + FIRST_AFTER, mailed_on + LAST_AFTER)
