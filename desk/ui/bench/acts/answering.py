"""Answers to what the bench asks: checked, stamps or not, set aside or put back."""

from __future__ import annotations

from collections.abc import Callable

from desk.domain.finding import Code
from desk.domain.status import PieceStatus
from desk.session.bench.answers import answer_extra_packing, answer_looks
from desk.session.bench.bench_view import bench_view
from desk.session.pile.bulk_changes import set_beside
from desk.session.sitting import Sitting
from desk.session.verdict.stamp_request import REQUESTED
from desk.ui.bench.layout import BenchLayout

NOT_FOR_YES = frozenset({"no-weight", REQUESTED})  # one needs a weight, the other has its own keys


class AnsweringActs:
    """Answers about the open piece. `checked` is called after each."""

    def __init__(self, view: BenchLayout, checked: Callable[[], None]) -> None:
        self._view, self._checked = view, checked

    def answer(self) -> None:
        """Mark the first open issue as checked; the next press marks the next one."""
        view, verdict = self._view, self._view.verdict
        if verdict is None or view.piece is None:
            return
        codes = bench_view(verdict, view.desk.pile.terms).looks
        codes = tuple(code for code in codes if code not in NOT_FOR_YES)
        if codes:
            view.desk.do(answer_looks, view.piece, codes[:1], number=verdict.case.number)
            self._checked()

    def answer_packing(self) -> None:
        """Mark the piece as heavy because of extra packing."""
        view, verdict = self._view, self._view.verdict
        if verdict is None or view.piece is None:
            return
        if any(issue.code == Code.HEAVIER_THAN_CONTENTS for issue in verdict.findings):
            view.desk.do(answer_extra_packing, view.piece, number=verdict.case.number)
            self._checked()

    def answer_request(self, answer: Callable[[Sitting, int], None]) -> None:
        """Accept or decline a buyer's request for stamps."""
        view, verdict = self._view, self._view.verdict
        if verdict is not None and view.piece is not None and any(one.code == REQUESTED for one in verdict.findings):
            view.desk.do(answer, view.piece)
            self._checked()

    def set_aside(self) -> None:
        """Set the piece aside, or put it back."""
        view, verdict = self._view, self._view.verdict
        if verdict is not None and view.piece is not None:
            view.desk.do(
                set_beside, [view.piece], None if verdict.status is PieceStatus.SET_ASIDE else PieceStatus.SET_ASIDE
            )

    def ask_reason(self) -> None:
        """Open the field for the reason it is set aside."""
        view, verdict = self._view, self._view.verdict
        if verdict is not None:
            view.put_away_fields()
            view.reason_field.open(verdict.case.aside_reason)
            view.reason_field.line.selectAll()

    def reason_typed(self, text: str) -> None:
        """Set the piece aside for the typed reason."""
        view = self._view
        view.reason_field.close_field()
        if view.verdict is not None and view.piece is not None:
            view.desk.do(set_beside, [view.piece], PieceStatus.SET_ASIDE, text)
