"""The ruler while a weight is still settling: the price steps at the weight shown."""

from __future__ import annotations

from dataclasses import replace

from desk.domain.weight import Shown
from desk.session.bench.bench_view import RulerView, bench_view
from desk.session.pile.packing import Placement
from desk.session.verdict.judge import judge
from desk.session.verdict.verdict import Terms, Verdict


def live_ruler(verdict: Verdict, terms: Terms, shown: Shown, placement: Placement) -> RulerView | None:
    """Return the ruler of a piece at a weight that is not saved."""
    supposed = placement.weighing(shown)
    return bench_view(judge(replace(verdict.case, weighing=supposed), terms), terms).ruler
