"""How old a price is: a list past its last valid day is pointed out once beside the amount, and once per batch."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from desk.rates.quote import Offer
from desk.session.verdict.verdict import Verdict
from desk.session.words.figures import day_in_words, listed, short_day


@dataclass(frozen=True, slots=True)
class Age:
    """The last valid day of a price's list, short and as a sentence; both empty while the list is valid."""

    short: str = ""
    words: str = ""


FRESH = Age()


def age_of(offer: Offer | None, on: date) -> Age:
    """Return `Oct 3` (with its year in another one) and a sentence when the price's list was valid only until before `on`."""
    if offer is None or not offer.chart.is_old(on):
        return FRESH
    until = offer.chart.last_day
    effective = day_in_words(offer.chart.effective)
    return Age(short_day(until, on), f"price list of {effective}, valid through {day_in_words(until)}")


def ages_of(last_days: Iterable[date]) -> str:
    """Return the warning above the bench: one sentence for all outdated lists in use; empty: none."""
    valid = _days(last_days)
    return f"Some prices may be out of date (valid through {valid}). Check one before you pay." if valid else ""


def ages_in_sum(verdicts: Iterable[Verdict], on: date) -> str:
    """Return the remark beside a sum that includes outdated prices; empty: none."""
    charts = [verdict.offer.chart for verdict in verdicts if verdict.offer is not None]
    valid = _days({chart.last_day for chart in charts if chart.is_old(on)})
    return f"Includes prices that may be out of date (valid through {valid})." if valid else ""


def _days(days: Iterable[date]) -> str:
    return listed([day_in_words(day) for day in sorted(set(days))])
