"""Check a piece's weight against its contents, by past weighings or else by typed weights."""

from __future__ import annotations

from desk.domain.finding import Code, Fact, Finding, finding
from desk.domain.orders.piece import Weighing
from desk.domain.shop.shop import Shop
from desk.learning.expectation import expect
from desk.learning.explanations import Cause
from desk.learning.verdicts import Fit, WeightVerdict
from desk.learning.weight_check import check_weight
from desk.session.verdict.case import Case, Contents

SOURCE = "learned from your weighings"
NEIGHBORS = frozenset({Cause.SWAPPED, Cause.REPEATED, Cause.TOGETHER})
NAMED = frozenset({Cause.MISSING, Cause.EXTRA})


def weight_findings(case: Case, weighing: Weighing, contents: Contents, shop: Shop) -> list[Finding]:
    """Return the findings about a piece's weight; empty when it fits, or nothing is known."""
    if case.fit is not None and case.fit.fit is not Fit.UNKNOWN:
        return _learned(case.fit, case.weighed_before, weighing, shop)
    if case.pieces_in_order > 1:
        return []
    expected = expect(contents.products, contents.mailer, shop.policy.insert_weight)
    issue = check_weight(weighing.shown, expected) if expected else None
    return [issue] if issue else []


def _learned(fit: WeightVerdict, weighed_before: str, weighing: Weighing, shop: Shop) -> list[Finding]:
    if fit.fit is Fit.OK:
        return []
    cause = fit.causes[0]
    if cause in NEIGHBORS and weighed_before:
        return [finding(Code.SWAPPED_WITH, SOURCE, other=weighed_before, cause=cause.value)]
    shown_g = float(weighing.shown.weight.grams)
    off_g = abs(shown_g - fit.expected.grams)
    facts: dict[str, Fact] = {
        "expected_g": f"{fit.expected.grams:.1f}",
        "shown_g": f"{shown_g:.1f}",
        "unit": weighing.shown.unit.value,
        "cause": cause.value,
        "items": tuple(_name(key, shop) for key in fit.items) if cause in NAMED else (),
    }
    if fit.fit is Fit.LIGHT:
        return [finding(Code.LIGHTER_THAN_CONTENTS, SOURCE, None, **facts, missing_g=f"{off_g:.1f}")]
    return [finding(Code.HEAVIER_THAN_CONTENTS, SOURCE, None, **facts, excess_g=f"{off_g:.1f}")]


def _name(key: str, shop: Shop) -> str:
    """Return the name of the product learned under a key."""
    return next((product.name for product in shop.products if key in (product.sku, product.name)), key)
