"""The age of a price: a list past its last day says so beside the amount, and once for a whole pile."""

from __future__ import annotations

from datetime import date

from desk.rates.quote import Offer
from desk.session.batch import Batch
from desk.session.sentences import sentence


def age_of(offer: Offer, on: date) -> str:
    """`list of 2025-10-05, known until 2026-01-17` when its prices were known to end before `on`; else empty."""
    chart = offer.chart
    if not chart.is_past(on) or chart.until is None:
        return ""
    return f"list of {chart.effective.isoformat()}, known until {chart.until.isoformat()}"


def ages_of(batch: Batch) -> tuple[str, ...]:
    """The strip above the bench: one sentence for each list of the pile that is past its last day."""
    return tuple(sentence(found) for found in batch.chart_findings)
