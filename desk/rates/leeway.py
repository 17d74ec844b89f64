"""Leeway: whether the scale's uncertainty changes price, service or form, and which weight to quote at.

The piece is priced at every weight within its reading's range where an answer can change. Uncertainty that changes
nothing is not reported.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from itertools import pairwise

from desk.domain.exact import short
from desk.domain.finding import Code, Finding, Severity, finding
from desk.domain.form_weight import stretch_needs_form
from desk.domain.money import Money
from desk.domain.weight import Shown, Weight, WeightUnit
from desk.rates.case import QuoteCase
from desk.rates.doubt import Band, band, tolerance_divisions
from desk.rates.rules import PriceRules

_SOURCE = "NIST Handbook 44, section 2.20 Table 6, class III"


_CLOSE_CALL = 50  # minor units: a price difference worth asking a person about (common practice, no source)


@dataclass(frozen=True, slots=True)
class WeightOutcome:
    """What applies to weights up to `weight` and above the previous outcome."""

    weight: Weight
    service: str
    price: int | None  # minor units; None when no service takes it
    form: bool

    def same_as(self, other: WeightOutcome) -> bool:
        """Return True when price, service and form are the same."""
        return (self.service, self.price, self.form) == (other.service, other.price, other.form)


@dataclass(frozen=True, slots=True)
class QuotedWeight:
    """The weight to quote at, and any warnings about it."""

    weight: Weight
    findings: tuple[Finding, ...] = ()


def settle(case: QuoteCase, rules: PriceRules) -> QuotedWeight:
    """Return the weight to quote at: as shown, or the higher-priced end where the reading leaves a difference open."""
    posting = case.posting
    tolerance, up = tolerance_divisions(posting.gross) * rules.tolerance_scale, rules.policy.scale_rounds_up
    wide = band(posting.gross, tolerance, posting.label_weight, rounds_up=up)
    edges = case.limits_between(wide.low, wide.high)
    if not edges:
        return QuotedWeight(posting.weight)
    narrow = band(posting.gross, Decimal(0), posting.label_weight, rounds_up=up)
    by_rounding = outcomes(case, narrow, edges)
    if _differ(by_rounding):
        issue = _finding(Code.TOO_CLOSE_TO_CALL, by_rounding, case, _weighs(by_rounding, rules))
        return QuotedWeight(most_expensive(by_rounding).weight, (issue,))
    by_tolerance = outcomes(case, wide, edges)
    if not _differ(by_tolerance):
        return QuotedWeight(posting.weight)
    weight = most_expensive(by_tolerance).weight if rules.policy.cautious else posting.weight
    return QuotedWeight(weight, (_finding(Code.NEAR_A_STEP, by_tolerance, case),))


def outcomes(case: QuoteCase, ends: Band, edges: Sequence[Weight]) -> list[WeightOutcome]:
    """Return what applies in each stretch of the range; a limit belongs to the stretch below it."""
    points = [edge for edge in edges if ends.leaves_open(edge)]
    return [outcome_at(case, point) for point in (*points, ends.high)]


def most_expensive(among: Sequence[WeightOutcome]) -> WeightOutcome:
    """Return the most expensive outcome; ties go to the heavier, and any price beats none."""
    return max(among, key=lambda each: (each.price if each.price is not None else -1, each.weight))


def outcome_at(case: QuoteCase, weight: Weight) -> WeightOutcome:
    """Return the cheapest service at a weight, its price, and whether documents abroad need a form there."""
    ranked = case.step_at(weight).ranked
    form = case.posting.abroad and case.posting.documents_only and stretch_needs_form(weight)
    if not ranked:
        return WeightOutcome(weight, "", None, form)
    return WeightOutcome(weight, ranked[0].of.service, ranked[0].price.minor, form)


def _differ(among: Sequence[WeightOutcome]) -> bool:
    return any(not each.same_as(among[0]) for each in among[1:])


def _weighs(among: Sequence[WeightOutcome], rules: PriceRules) -> Severity | None:
    """Return a note's severity below the shop's threshold if only the price is open; None: the code's own severity."""
    prices = [each.price for each in among if each.price is not None]
    if len(prices) < len(among) or len({each.form for each in among}) > 1:
        return None
    chosen = rules.policy.close_call_from
    least = _CLOSE_CALL if chosen is None else chosen.minor
    return Severity.NOTE if max(prices) - min(prices) < least else None


def _finding(code: Code, among: Sequence[WeightOutcome], case: QuoteCase, severity: Severity | None = None) -> Finding:
    """Return the finding: both prices, and the limit nearest to the reading where something changes."""
    middle = case.posting.weight.grams
    currency = case.candidates[0].chart.currency
    changes = [low.weight for low, high in pairwise(among) if not low.same_as(high)]
    limit = min(changes, key=lambda weight: abs(weight.grams - middle))
    priced = [each for each in among if each.price is not None]
    low, high = (pick(priced, key=lambda each: each.price or 0, default=among[0]) for pick in (min, max))
    return finding(
        code,
        _SOURCE,
        severity,
        **_limit_facts(limit, case),
        lower=_money(low.price, currency),
        higher=_money(high.price if len(priced) == len(among) else None, currency),
        currency=currency,
        lower_service=low.service,
        higher_service=high.service if len(priced) == len(among) else "",
        form=any(each.form for each in among) and not all(each.form for each in among),
        **_reading(case.posting.gross),
    )


def _limit_facts(limit: Weight, case: QuoteCase) -> dict[str, str]:
    in_grams = any(each.chart.bills_in is WeightUnit.GRAM for each in case.candidates)
    return {"limit": short(limit.grams if in_grams else limit.ounces()), "limit_unit": "g" if in_grams else "oz"}


def _reading(shown: Shown) -> dict[str, str]:
    unit = shown.unit.counted_in.value
    return {"shown": f"{shown.value:f}", "unit": unit, "division": f"{shown.division:f}"}


def _money(minor: int | None, currency: str) -> str:
    return "" if minor is None else Money(minor, currency).text()
