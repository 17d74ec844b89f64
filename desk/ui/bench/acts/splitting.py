"""Split the open order into packages, and enter what is in each."""

from __future__ import annotations

from collections.abc import Sequence

from desk.domain.orders.piece import PieceKey
from desk.domain.severity import Severity
from desk.session.bench.another_piece import add_piece
from desk.session.bench.splitting import SplitView, split_by_counts, split_view
from desk.ui.bench.layout import BenchLayout
from desk.ui.bridge import Event
from desk.ui.trade.split_card import SplitCard


class SplittingActs:
    """Packages of the open order."""

    def __init__(self, view: BenchLayout) -> None:
        self._view = view

    def split(self) -> None:
        """Show the contents of each package; an order in one package gets a second, another press adds one more."""
        view, verdict = self._view, self._view.verdict
        if verdict is None or view.piece is None:
            view.desk.happened.emit(Event("Open a piece first: type its number, or press N.", Severity.LOOK))
            return
        key = verdict.case.key
        numbers = [each.case.key.piece for each in view.desk.pile.verdicts.values() if each.case.key.order == key.order]
        if view.split_card is not None or len(numbers) == 1:
            view.desk.do_quietly(add_piece, PieceKey(key.order, max(numbers) + 1))
        self._show()

    def _show(self) -> None:
        view = self._view
        if view.piece is None or (packages := view.desk.do_quietly(split_view, view.piece)) is None:
            return
        view.put_away_fields()
        card = SplitCard(packages)
        card.saved.connect(lambda counts: self._save(packages, counts))
        view.show_split(card)

    def _save(self, packages: SplitView, counts: Sequence[Sequence[int]]) -> None:
        """Save the split; one that doesn't add up stays open, with the reason in the message line."""
        before = self._view.desk.sitting.store.last_changes
        self._view.desk.do(split_by_counts, packages, counts)
        if self._view.desk.sitting.store.last_changes is not before:
            self._view.put_away_fields()
            self._view.arrive()
