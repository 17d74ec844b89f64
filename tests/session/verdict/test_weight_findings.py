"""Findings about a weight: by past weighings where they are enough, else by typed weights, else none."""

from __future__ import annotations

from dataclasses import replace

import pytest

from desk.domain.finding import Code
from desk.learning.explanations import Cause
from desk.learning.parcel import Expected
from desk.learning.verdicts import Fit, WeightVerdict
from desk.session.verdict.case import contents_of
from desk.session.verdict.weight_findings import weight_findings
from tests.session import made

SHOP = made.shop()


def described(fit, causes=(), items=(), before="1000-1", value="0.7"):
    expected = Expected(25.0, 20.0, 30.0, 6.0, 1.0, 2.8, can_judge=fit is not Fit.UNKNOWN)
    case = made.case(value, lines=(made.line(made.CARD, 1),))
    case = replace(case, fit=WeightVerdict(fit, expected, 0.1, causes, items), weighed_before=before)
    return [
        (found.code, found.facts.get("items"), found.facts.get("other"))
        for found in weight_findings(case, case.weighing, contents_of(case, SHOP), SHOP)
    ]


def test_a_learned_ok_overrides_the_check_by_typed_weights():
    assert described(Fit.UNKNOWN, value="0.2") == [(Code.LIGHTER_THAN_CONTENTS, None, None)]
    assert described(Fit.OK, value="0.2") == []


@pytest.mark.parametrize(
    ("fit", "causes", "items", "expected"),
    [
        (Fit.LIGHT, (Cause.MISSING,), ("CD",), (Code.LIGHTER_THAN_CONTENTS, ("Card",), None)),
        (Fit.LIGHT, (Cause.ANYTHING,), (), (Code.LIGHTER_THAN_CONTENTS, (), None)),
        (Fit.HEAVY, (Cause.EXTRA,), ("CD", "NB"), (Code.HEAVIER_THAN_CONTENTS, ("Card", "Book"), None)),
        (Fit.HEAVY, (Cause.PADDING,), ("CD",), (Code.HEAVIER_THAN_CONTENTS, (), None)),
        (Fit.LIGHT, (Cause.SWAPPED,), (), (Code.SWAPPED_WITH, None, "1000-1")),
        (Fit.HEAVY, (Cause.REPEATED,), (), (Code.SWAPPED_WITH, None, "1000-1")),
    ],
)
def test_each_cause_names_what_probably_happened(fit, causes, items, expected):
    assert described(fit, causes, items) == [expected]


def test_without_a_neighbor_no_swap_is_reported():
    assert described(Fit.LIGHT, (Cause.SWAPPED,), (), before="") == [(Code.LIGHTER_THAN_CONTENTS, (), None)]
