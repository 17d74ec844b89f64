"""The age of a price: a list past its last day says so beside the amount, and once for a whole pile."""

from __future__ import annotations

from datetime import date

from desk.rates.quote import Offer
from desk.session.batch import Batch
from desk.session.fact_words import day_in_words


def age_of(offer: Offer, on: date) -> str:
    """`list of 2025-10-05, known until 2026-01-17` when its prices were known to end before `on`; else empty."""
    chart = offer.chart
    if not chart.is_past(on) or chart.until is None:
        return ""
    return f"list of {chart.effective.isoformat()}, known until {chart.until.isoformat()}"


def ages_of(batch: Batch) -> str:
    """The strip above the bench: one sentence for all lists of the pile that are past their last day; else empty."""
    known = [day_in_words(date.fromisoformat(str(found.facts["until"]))) for found in batch.chart_findings]
    if not known:
        return ""
    return f"Prices known until {' and '.join(known)} are in use: compare one with the post's list before you pay."
