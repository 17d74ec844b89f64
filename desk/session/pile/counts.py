"""Tally: what is counted over a pile, kept along with every change, so that no screen goes through all pieces for it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from datetime import date
from typing import TypeVar

from desk.domain.money import Money
from desk.domain.stamp import StampKind
from desk.domain.stands import Stand
from desk.session.verdict.verdict import Verdict

T = TypeVar("T")
StampSort = tuple[StampKind, Money | None]


class Tally:
    """Counts over verdicts on a posting date.

    `stands`: how many stand where. `last_days`: of the price lists in use that are past it. `stamps`: how many of each
    are to be put on. What is counted no more has no entry.
    """

    def __init__(self, on: date, verdicts: Iterable[Verdict] = ()) -> None:
        self._on = on
        self.stands: Counter[Stand] = Counter()
        self.last_days: Counter[date] = Counter()
        self.stamps: Counter[StampSort] = Counter()
        for verdict in verdicts:
            self.add(verdict)

    def add(self, verdict: Verdict) -> None:
        """Count a verdict."""
        self._count(verdict, 1)

    def take_away(self, verdict: Verdict) -> None:
        """Count a verdict no more."""
        self._count(verdict, -1)

    def _count(self, verdict: Verdict, by: int) -> None:
        _move(self.stands, verdict.stands, by)
        chosen = verdict.quote.chosen if verdict.quote is not None else None
        if chosen is not None and chosen.chart.until is not None and chosen.chart.is_past(self._on):
            _move(self.last_days, chosen.chart.until, by)
        for sort, number in _stamps_to_put_on(verdict):
            _move(self.stamps, sort, by * number)


def _stamps_to_put_on(verdict: Verdict) -> Iterator[tuple[StampSort, int]]:
    """Its stamps, as long as they are to be put on: not of a piece that is stopped, beside the line, or paid."""
    if verdict.stamps is not None and not verdict.stays_here and not verdict.case.is_paid:
        for kind, value, number in verdict.stamps.stamps:
            yield (kind, value), number


def stamps_to_put_on(verdicts: Iterable[Verdict]) -> Counter[StampSort]:
    """How many stamps of each sort are to be put on."""
    counted: Counter[StampSort] = Counter()
    for verdict in verdicts:
        for sort, number in _stamps_to_put_on(verdict):
            counted[sort] += number
    return counted


def _move(counted: Counter[T], what: T, by: int) -> None:
    counted[what] += by
    if not counted[what]:
        del counted[what]
