"""Split the open order into packages, and enter what is in each."""

from __future__ import annotations

from collections.abc import Sequence

from desk.domain.severity import Severity
from desk.session.bench.splitting import SplitView, split_by_counts, split_view
from desk.ui.bench.layout import BenchLayout
from desk.ui.bridge import Event
from desk.ui.trade.split_card import SplitCard


class SplittingActs:
    """Packages of the open order."""

    def __init__(self, view: BenchLayout) -> None:
        self._view = view

    def split(self) -> None:
        """Ask how many packages there are and what is in each; another press proposes one more. Saving adds them."""
        view, verdict = self._view, self._view.verdict
        if verdict is None or view.piece is None:
            view.desk.happened.emit(Event("Open a piece first: type its number, or press N.", Severity.LOOK))
            return
        if view.split_card is not None:
            view.split_card.add_package()
            return
        self._show(view.piece, verdict.case.key.order)

    def _show(self, piece: int, order: str) -> None:
        view = self._view
        packages = split_view(view.desk.sitting, piece, 2)
        if packages.most == 1:
            words = f"{order} has only one item. To ship it in two packages, type {order}-2."
            view.desk.happened.emit(Event(words, Severity.LOOK))
            return
        view.put_away_fields()
        card = SplitCard(packages, lambda count: split_view(view.desk.sitting, piece, count))
        card.saved.connect(lambda counts: self._save(card.view, counts))
        view.show_split(card)

    def _save(self, packages: SplitView, counts: Sequence[Sequence[int]]) -> None:
        """Save the split; one that doesn't add up stays open, with the reason in the message line."""
        before = self._view.desk.sitting.store.last_changes
        self._view.desk.do(split_by_counts, packages, counts)
        if self._view.desk.sitting.store.last_changes is not before:
            self._view.put_away_fields()
            self._view.arrive()
