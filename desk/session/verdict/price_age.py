"""The age of a price: a list past its last day says so beside the amount, and once for a whole pile."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from desk.rates.quote import Offer
from desk.session.verdict.verdict import Verdict
from desk.session.words.facts import day_in_words


@dataclass(frozen=True, slots=True)
class Age:
    """The age of one price: the last day of its list in short, and in words. Empty where the list is in its days."""

    short: str = ""
    words: str = ""


FRESH = Age()


def age_of(offer: Offer | None, on: date) -> Age:
    """`3 Oct 2026` and `list of 2026-07-12, known until 2026-10-03` when its prices were known to end before `on`."""
    if offer is None or not offer.chart.is_past(on) or offer.chart.until is None:
        return FRESH
    until = offer.chart.until
    day, month, year = day_in_words(until).split()
    words = f"list of {offer.chart.effective.isoformat()}, known until {until.isoformat()}"
    return Age(f"{day} {month[:3]} {year}", words)


def ages_of(last_days: Iterable[date]) -> str:
    """The strip above the bench: one sentence for all lists in use whose last day was before; empty: none."""
    known = _in_words(sorted(last_days))
    return f"Prices known until {known} are in use: compare one with the post's list before you pay." if known else ""


def ages_in_sum(verdicts: Iterable[Verdict], on: date) -> str:
    """What is said beside a sum of postage: which prices in it are past their list's last day; empty: none."""
    charts = [verdict.offer.chart for verdict in verdicts if verdict.offer is not None]
    known = _in_words(sorted({chart.until for chart in charts if chart.until is not None and chart.is_past(on)}))
    return f"Prices known until {known} are in it." if known else ""


def _in_words(days: Iterable[date]) -> str:
    return " and ".join(dict.fromkeys(map(day_in_words, days)))
