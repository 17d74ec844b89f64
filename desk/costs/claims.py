"""When a claim for a lost or damaged package can be made."""

from __future__ import annotations

from calendar import monthrange
from dataclasses import dataclass
from datetime import date, timedelta

# At home: DMM 609.1.4, insured mail. Abroad: the Universal Postal Convention takes inquiries for six months from the day
# after mailing. All from memory, so the screen says to check them with the post.
FIRST_AFTER, LAST_AFTER = timedelta(days=15), timedelta(days=60)
MONTHS_ABROAD = 6


@dataclass(frozen=True, slots=True)
class ClaimDays:
    """The first day a loss can be claimed and the last day for any claim, both included."""

    first: date
    last: date

    def is_open(self, on: date) -> bool:
        """Return True when a loss can be claimed on that day."""
        return self.first <= on <= self.last


def claim_days(mailed_on: date, *, abroad: bool = False) -> ClaimDays:
    """Return the days on which an insured package mailed on that day can be claimed as lost."""
    if not abroad:
        return ClaimDays(mailed_on + FIRST_AFTER, mailed_on + LAST_AFTER)
    return ClaimDays(mailed_on + timedelta(days=1), _months_later(mailed_on, MONTHS_ABROAD))


def _months_later(day: date, months: int) -> date:
    """Return the same day of a later month, or that month's last day."""
    year, month = divmod(day.year * 12 + day.month - 1 + months, 12)
    return date(year, month + 1, min(day.day, monthrange(year, month + 1)[1]))
