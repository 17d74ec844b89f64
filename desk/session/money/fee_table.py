"""The fees of extra services, and for insurance whether it pays off by the shop's own losses."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from desk.costs.insurance import LossRate, insurance_advice
from desk.domain.money import Money, zero
from desk.rates.extras import INSURANCE, INSURANCE_ABROAD, extras_of_side
from desk.rates.lists.price_list import Extra
from desk.session.verdict.verdict import Terms
from desk.session.words.services import extra_words

INSURED = frozenset({INSURANCE, INSURANCE_ABROAD})
WORTH = {True: "yes", False: "no", None: "can't tell yet"}


@dataclass(frozen=True, slots=True)
class FeeRow:
    """The fee of an extra for goods worth up to a sum; None: whatever they are worth.

    For insurance beyond the included cover, `needed` is the share of packages that must get lost for it to pay off, and
    `worth` whether that is below the shop's own loss rate: yes, no, or not clear from its interval. Empty for others.
    """

    extra: str
    up_to: Money | None
    fee: Money
    needed: float | None = None
    worth: str = ""


def fee_rows(terms: Terms, service: str, rate: LossRate) -> tuple[FeeRow, ...]:
    """Return the fees of what can be bought with a service, by the newest price list; empty for an unknown service."""
    known = next(iter(terms.rulebook.charts.lists.get(service, ())), None)
    if known is None:
        return ()
    cover = known.facts.cover or zero("USD")
    return tuple(_rows(terms, service, abroad=known.facts.abroad, cover=cover, rate=rate))


def _rows(terms: Terms, service: str, *, abroad: bool, cover: Money, rate: LossRate) -> Iterator[FeeRow]:
    for code in extras_of_side(abroad=abroad):
        for extra in terms.rulebook.charts.extra_prices(code, terms.on, service):
            if code not in INSURED:
                yield FeeRow(extra_words(code), None, extra.amount)
            elif extra.value_max is not None and cover < extra.value_max and extra.amount:
                yield _insurance(extra, extra.value_max, cover, rate)


def _insurance(extra: Extra, value: Money, cover: Money, rate: LossRate) -> FeeRow:
    advice = insurance_advice(extra.amount, value, cover, rate)
    worth = "no" if advice.needed_share >= 1 else WORTH[advice.worth_it]
    return FeeRow(extra_words(extra.code), value, extra.amount, advice.needed_share, worth)
